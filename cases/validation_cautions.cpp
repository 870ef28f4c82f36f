// cases/validation_cautions.cpp — what a person must be told about a gear that was judged.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validation_cautions.h"

#include <cmath>

#include "cases/members.h"
#include "cases/thermal_of_case.h"
#include "materials/constants.h"
#include "materials/words.h"
#include "mesh/member_limits.h"
#include "solver/post/iron_loss.h"

namespace lodegear {

namespace {

/// On the axis of a dipole B = B_r V/(2π r³). Source: Jackson, Classical Electrodynamics, §5.6.
std::string distance_for_implants(const Validation& v) {
  const Case& c = v.gear.input;
  double largest = 0.0, all = 0.0;  // T·m³
  for (const PartMass& part : v.masses) {
    if (part.part != "magnet") continue;
    const MagnetRotor& rotor = rotor_of(c.gear, part.member);
    const double moments =
        remanence(c.magnets.at(rotor.magnet).material, 20.0) * part.volume;  // of all rows
    largest = std::max(largest, moments / rotor.axial_rows);
    all += moments * part.count;
  }
  const auto reaches = [](double moment) { return std::cbrt(moment / (2 * pi * 0.5e-3)); };
  return "0.5 mT, the limit for people with implants (ICNIRP 2009), is reached " +
         rounded_text(100 * reaches(largest), 0) +
         " cm from a single magnet; all magnets of this "
         "gear side by side, all pointing one way, would reach it at " +
         rounded_text(100 * reaches(all), 0) + " cm; assembled, less.";
}

}  // namespace

std::vector<std::string> cautions_of(const Validation& v) {
  const Case& c = v.gear.input;
  std::vector<std::string> all;
  for (const PartLoss& part : v.losses)
    for (const std::string& caution : part.cautions) all.push_back(part.loss.part + ": " + caution);
  if (c.service.build.bearings.empty()) all.emplace_back(assumed_bearings);
  const Build& build = c.service.build;
  for (const Member m : members_inside_out)
    if (build.carriers[static_cast<std::size_t>(m)].resistivity)
      all.push_back(
          std::string("The carrier of the ") + name_of(m) + " (" +
          build.carrier_names[static_cast<std::size_t>(m)] +
          ") conducts: end plates nearer to the stack's ends than a pole pitch, and bars between "
          "pole pieces, carry currents that a plane model does not see and that are not "
          "counted.");
  if (!build.bonded && build.rod_diameter <= 0.0)
    all.emplace_back(
        "Loose sheets without rods carry nothing along the axis: the carrier's slots must hold "
        "every pole piece over its whole length; no bending is counted in the clearances.");
  if (const auto& slip = v.slip; slip && slip->motion.slips && !slip->motion.locks_after)
    all.emplace_back(
        "Once it slips at this speed and load it slips on after the overload is gone: the input "
        "must be stopped, or slowed, before it locks in again.");
  if (!v.ends)
    all.emplace_back(
        "No estimate of the end effect fits this gear; 60 to 95 % of the plane torque was "
        "taken.");
  const auto& g = *c.gear.modulator;
  const WrongStacking wrong = wrong_stacking(
      c.service.build.sheets_stacked, g.stacking_factor, g.outer_radius - g.inner_radius,
      pi * (g.inner_radius + g.outer_radius) / (2 * g.pole_pieces));
  if (!wrong.caution.empty()) all.push_back(wrong.caution);
  all.push_back(distance_for_implants(v));
  return all;
}

}  // namespace lodegear
