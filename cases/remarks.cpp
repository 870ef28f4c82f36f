// cases/remarks.cpp — cautions about a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/remarks.h"

#include <algorithm>
#include <numeric>

#include "cases/axial.h"
#include "cases/figures.h"
#include "cases/units.h"
#include "materials/words.h"
#include "mesh/check_gear.h"
#include "mesh/magnet_patterns.h"

namespace lodegear {

namespace {

using Sentences = std::vector<std::string>;

// ---- magnets ------------------------------------------------------------------------------------

void add_special_orders(const std::optional<MagnetRotor>& rotor, const char* name, Sentences& all) {
  if (!rotor) return;
  const int n = n_magnets(*rotor);
  int special = 0;
  for (int i = 0; i < n; ++i) special += is_special_order(*rotor, i) ? 1 : 0;
  if (special == 0) return;
  if (std::holds_alternative<ContinuousHalbach>(rotor->pattern))
    all.push_back(std::string(name) +
                  ": a continuous Halbach ring is magnetised as a whole: a special order.");
  else
    all.push_back(
        std::string(name) + ": " + std::to_string(special) + " of " + std::to_string(n) +
        " magnets are magnetised along no axis of their body: special orders, not stock.");
}

void add_odd_magnets(const std::optional<MagnetRotor>& rotor, const char* name, Sentences& all) {
  if (!rotor || rotor->odd_magnets.empty()) return;
  all.push_back(std::string(name) + ": " + std::to_string(rotor->odd_magnets.size()) +
                " magnets are not as the pattern wants; ripple and side pull repeat once a turn.");
}

void add_warm_magnets(const Case& c, Sentences& all) {
  for (const auto& [label, magnet] : c.magnets) {
    const auto limit = magnet.material.working_temperature;
    if (limit && magnet.temperature > *limit)
      all.push_back(label + ": the grade is sold for at most " + number_text(*limit) +
                    " °C; expect lasting loss of remanence, which is not in these figures.");
  }
}

// ---- materials ----------------------------------------------------------------------------------

/// Below this confidence a material's figures are called doubtful.
constexpr double doubtful = 0.7;

template <class Material>
void add_material(const Material& material, Sentences& all) {
  if (!material.caution.empty()) all.push_back(material.name + ": " + material.caution);
  if (material.confidence < doubtful)
    all.push_back(material.name + ": its figures are doubtful (confidence " +
                  number_text(material.confidence) + "; source: " + material.source +
                  "). Measure, or replace them by a supplier's.");
}

void add_materials(const Case& c, Sentences& all) {
  for (const auto& [label, magnet] : c.magnets) add_material(magnet.material, all);
  for (const auto& [label, steel] : c.steels) {
    add_material(steel.material, all);
    if (c.steel_curve == SteelQuality::guaranteed_minimum && steel.material.guaranteed.empty())
      all.push_back(steel.grade +
                    ": nobody guarantees a minimum for it; its typical curve was used.");
  }
  for (const auto& [label, other] : c.others) add_material(other, all);
}

void add_grain_oriented(const Case& c, Sentences& all) {
  for (const auto& [label, steel] : c.steels)
    if (steel.material.grain_oriented && steel.material.caution.empty())
      all.push_back(steel.grade +
                    ": grain-oriented sheet. The field was computed with one cautious curve for "
                    "every direction; in pole pieces with the rolling direction along the radius "
                    "it does better, in hubs and back irons it does not.");
  if (c.rolling_direction && *c.rolling_direction != RollingDirection::radial)
    all.push_back(
        "modulator: turn the sheets so that the rolling direction lies along the radius of each "
        "pole piece, where most of its flux goes.");
}

// ---- the machine --------------------------------------------------------------------------------

/// Below this a gap needs better than lathe and printer tolerances (common practice, no source).
constexpr double tight_clearance = 0.3e-3;

void add_clearance(const Gear& gear, Gap gap, const char* name, Sentences& all) {
  const GapClearance clearance = gap_clearance(gear, gap);
  const double least = std::min(clearance.running_inner, clearance.running_outer);
  if (least > 0.0 && least < tight_clearance)
    all.push_back(std::string(name) + " gap: the running clearance is " + mm_text(least) +
                  "; run-out, glue and warm growth must fit into it.");
}

void add_clearances(const Gear& gear, Sentences& all) {
  if (gear.sun && gear.modulator) add_clearance(gear, Gap::inner, "inner", all);
  if (gear.modulator && gear.ring) add_clearance(gear, Gap::outer, "outer", all);
}

/// A turn that maps the gear onto itself, or onto itself with north and south exchanged, leaves no
/// net force. There is one if 2 p_s and n have a common divisor.
void add_side_pull(const Gear& gear, Sentences& all) {
  if (!gear.sun || !gear.modulator || !gear.ring) return;
  const int p = gear.sun->pole_pairs, n = gear.modulator->pole_pieces;
  if (std::gcd(2 * p, n) == 1)
    all.push_back(std::to_string(n) + " pole pieces and " + std::to_string(2 * p) +
                  " sun poles have no common divisor: the members pull each other sideways, and "
                  "the bearings must carry it.");
}

void add_coupling(const Gear& gear, Sentences& all) {
  if (gear.sun && gear.ring && !gear.modulator && gear.sun->pole_pairs != gear.ring->pole_pairs)
    all.push_back("sun and ring have " + std::to_string(gear.sun->pole_pairs) + " and " +
                  std::to_string(gear.ring->pole_pairs) +
                  " pole pairs: without a modulator they hold no lasting torque.");
}

void add_overhang(const Gear& gear, Sentences& all) {
  if (has_overhang(gear))
    all.push_back("the members end at different places along the axis; torques are those of the " +
                  mm_text(common_extent(gear).length()) + " they have in common.");
}

void add_sleeves(const Case& c, Sentences& all) {
  for (const Sleeve& sleeve : c.gear.sleeves) {
    const auto found = c.others.find(sleeve.material);
    if (found == c.others.end() || !found->second.resistivity || !found->second.caution.empty())
      continue;
    all.push_back("the sleeve of " + sleeve.material +
                  " conducts: eddy currents in it brake and warm at speed, which these figures of "
                  "a field at rest do not hold.");
  }
}

}  // namespace

std::vector<std::string> remarks(const Case& c) {
  Sentences all;
  add_special_orders(c.gear.sun, "sun", all);
  add_special_orders(c.gear.ring, "ring", all);
  add_odd_magnets(c.gear.sun, "sun", all);
  add_odd_magnets(c.gear.ring, "ring", all);
  add_warm_magnets(c, all);
  add_materials(c, all);
  add_grain_oriented(c, all);
  add_clearances(c.gear, all);
  add_side_pull(c.gear, all);
  add_coupling(c.gear, all);
  add_overhang(c.gear, all);
  add_sleeves(c, all);
  return all;
}

}  // namespace lodegear
