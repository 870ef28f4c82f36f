// cases/read_gear.cpp — the gear as a whole: pole counts, members, sleeves, applied field.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/read_gear.h"

#include <cmath>

#include "cases/units.h"

namespace lodegear {

namespace {

constexpr int most_pole_pairs = 200;
constexpr int most_pole_pieces = 400;

struct CountsInFile {
  int sun = 1, modulator = 1, ring = 1;
};

/// A count that a member of the gear needs; a count without its member is refused.
std::optional<int> read_count(TableReader& gear, const char* key, bool member_there,
                              const char* member, int most) {
  if (!member_there) {
    refuse(gear, {key},
           "belongs to a " + std::string(member) + ", but there is no table [" + member + "].");
    return std::nullopt;
  }
  return gear.optional_integer(key, 1, most);
}

/// The third count from the other two; complains where that leaves nothing.
int third_count(TableReader& gear, const char* key, int value, int most, const std::string& how) {
  if (value < 1 || value > most)
    gear.complain(key, "would be " + how + " = " + std::to_string(value) +
                           "; it must be from 1 to " + std::to_string(most) + ".");
  else
    gear.assume(key, std::to_string(value));
  return std::max(1, value);
}

std::string sum_text(int a, const char* sign, int b) {
  return std::to_string(a) + sign + std::to_string(b);
}

CountsInFile counts_of_three(TableReader& gear, std::optional<int> sun, std::optional<int> pieces,
                             std::optional<int> ring) {
  CountsInFile c{sun.value_or(1), pieces.value_or(2), ring.value_or(1)};
  const int known = sun.has_value() + pieces.has_value() + ring.has_value();
  if (known < 2) {
    gear.complain("",
                  "needs two of sun_pole_pairs, pole_pieces and ring_pole_pairs; the third follows "
                  "from pole_pieces = sun_pole_pairs + ring_pole_pairs.");
  } else if (!pieces) {
    c.modulator = third_count(gear, "pole_pieces", c.sun + c.ring, most_pole_pieces,
                              sum_text(c.sun, " + ", c.ring));
  } else if (!ring) {
    c.ring = third_count(gear, "ring_pole_pairs", c.modulator - c.sun, most_pole_pairs,
                         sum_text(c.modulator, " - ", c.sun));
  } else if (!sun) {
    c.sun = third_count(gear, "sun_pole_pairs", c.modulator - c.ring, most_pole_pairs,
                        sum_text(c.modulator, " - ", c.ring));
  } else if (c.modulator != c.sun + c.ring) {
    gear.complain("pole_pieces", "is " + std::to_string(c.modulator) + ", but " +
                                     std::to_string(c.sun) + " sun and " + std::to_string(c.ring) +
                                     " ring pole pairs need " + sum_text(c.sun, " + ", c.ring) +
                                     " = " + std::to_string(c.sun + c.ring) +
                                     " pole pieces; change one of the three.");
  }
  return c;
}

/// For a gear of one or two members: each member present needs its own count.
int own_count(TableReader& gear, const char* key, bool member_there, std::optional<int> given,
              int most) {
  if (member_there && !given) gear.integer(key, 1, most);  // complains that it is missing
  return given.value_or(1);
}

CountsInFile read_counts(TableReader& gear, const TableReader& root, const ReadLog& log) {
  const std::size_t n_complaints = log.complaints.size();
  const bool sun = root.has("sun"), modulator = root.has("modulator"), ring = root.has("ring");
  const auto p_s = read_count(gear, "sun_pole_pairs", sun, "sun", most_pole_pairs);
  const auto n = read_count(gear, "pole_pieces", modulator, "modulator", most_pole_pieces);
  const auto p_r = read_count(gear, "ring_pole_pairs", ring, "ring", most_pole_pairs);
  const bool well_read = log.complaints.size() == n_complaints;
  if (sun && modulator && ring && well_read) return counts_of_three(gear, p_s, n, p_r);
  if (sun && modulator && ring) return {};
  return {own_count(gear, "sun_pole_pairs", sun, p_s, most_pole_pairs),
          own_count(gear, "pole_pieces", modulator, n, most_pole_pieces),
          own_count(gear, "ring_pole_pairs", ring, p_r, most_pole_pairs)};
}

Sleeve read_sleeve(TableReader& table, const TableReader& root) {
  Sleeve sleeve;
  sleeve.gap = table.choice<Gap>("gap", {{"inner", Gap::inner}, {"outer", Gap::outer}});
  sleeve.inner_radius = from_mm(table.number("inner_radius_mm", length_range));
  sleeve.outer_radius = from_mm(table.number("outer_radius_mm", length_range));
  sleeve.material = table.text("material");
  sleeve.turns_with = table.choice_or<TurnsWith>("turns_with", "housing",
                                                 {{"housing", TurnsWith::housing},
                                                  {"sun", TurnsWith::sun},
                                                  {"modulator", TurnsWith::modulator},
                                                  {"ring", TurnsWith::ring}});
  const char* member = sleeve.turns_with == TurnsWith::sun         ? "sun"
                       : sleeve.turns_with == TurnsWith::modulator ? "modulator"
                       : sleeve.turns_with == TurnsWith::ring      ? "ring"
                                                                   : nullptr;
  if (member && !root.has(member))
    table.complain("turns_with", "is \"" + std::string(member) + "\", but there is no table [" +
                                     member + "]; \"housing\" stands still.");
  table.finish();
  return sleeve;
}

Eigen::Vector2d read_applied_field(TableReader& root) {
  std::optional<TableReader> table = root.optional_table("field");
  if (!table) return Eigen::Vector2d::Zero();
  const double size = table->number_or("applied_T", 0.0, Range::between(-10.0, 10.0));
  const double angle = from_deg(table->number_or("applied_direction_deg", 0.0, angle_range));
  table->finish();
  return size * Eigen::Vector2d(std::cos(angle), std::sin(angle));
}

void read_members(TableReader& root, const CountsInFile& counts, const CommonValues& common,
                  GearInFile& into) {
  if (auto table = root.optional_table("sun")) {
    const RotorInFile sun = read_rotor(*table, Member::sun, counts.sun, common);
    into.gear.sun = sun.rotor;
    into.sun_temperature = sun.temperature;
    into.sun_remanence = sun.remanence;
  }
  if (auto table = root.optional_table("modulator")) {
    const ModulatorInFile modulator = read_modulator(*table, counts.modulator, common);
    into.gear.modulator = modulator.modulator;
    into.stacking_factor = modulator.stacking_factor;
    into.rolling_direction = modulator.rolling_direction;
  }
  if (auto table = root.optional_table("ring")) {
    const RotorInFile ring = read_rotor(*table, Member::ring, counts.ring, common);
    into.gear.ring = ring.rotor;
    into.ring_temperature = ring.temperature;
    into.ring_remanence = ring.remanence;
  }
}

}  // namespace

void refuse(TableReader& table, std::initializer_list<std::string_view> keys,
            const std::string& text) {
  for (const std::string_view key : keys) {
    table.at_most_one_of({key});  // so that it is not also reported as unknown
    if (table.has(key)) table.complain(key, text);
  }
}

GearInFile read_gear(TableReader& root, const ReadLog& log) {
  GearInFile result;
  TableReader gear = root.table("gear");
  CommonValues common;
  const CountsInFile counts = read_counts(gear, root, log);
  common.stack_length = gear.number("stack_length_mm", length_range);
  common.temperature = gear.number_or("magnet_temperature_C", 20.0, Range::between(-200.0, 400.0));
  result.steel_curve =
      gear.choice_or<SteelQuality>("steel_curve", "typical",
                                   {{"typical", SteelQuality::typical},
                                    {"guaranteed minimum", SteelQuality::guaranteed_minimum}});
  gear.finish();
  if (root.has("gear") && !root.has("sun") && !root.has("modulator") && !root.has("ring"))
    root.complain("", "has no member; give tables [sun], [modulator] and [ring], or some of them.");
  read_members(root, counts, common, result);
  for (TableReader& table : root.tables("sleeve"))
    result.gear.sleeves.push_back(read_sleeve(table, root));
  result.applied_field = read_applied_field(root);
  return result;
}

}  // namespace lodegear
