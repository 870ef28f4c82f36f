// tools/drawings/bench_sheet.cpp — from torque and field to what is read on the bench.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/bench_sheet.h"

#include <algorithm>
#include <cmath>

#include "cases/figures.h"
#include "cases/members.h"
#include "cases/slip_figures.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/constants.h"
#include "materials/words.h"
#include "solver/gap/gap_field.h"

namespace lodegear {

namespace {

constexpr int line_width = 92;
// Standard gravity. Source: 3rd CGPM (1901); ISO 80000-3.
constexpr double gravity = 9.80665;

std::string kilograms(double kg) {
  return std::abs(kg) < 1.0 ? significant(1000 * kg, 3) + " g" : significant(kg, 3) + " kg";
}

/// What a kitchen scale does not show is not worth a figure.
std::string cogging_text(const ArmReading& r, double arm) {
  if (!r.cogging) return {};
  const double mass = mass_on_arm(*r.cogging / 2, arm);
  return mass < 1e-3 ? "below ± 1 g" : "± " + kilograms(mass);
}

std::string tests(const Validation& v, double arm) {
  std::vector<std::vector<std::string>> rows = {
      {"arm on", "slips at", "mass on the arm", "from", "to", "cogging"}};
  for (const ArmReading& r : arm_readings(v)) {
    const auto mass = [arm](double torque) { return kilograms(mass_on_arm(torque, arm)); };
    rows.push_back({name_of(r.member), torque_text(r.slip.expected), mass(r.slip.expected),
                    mass(r.slip.low), mass(r.slip.high), cogging_text(r, arm)});
  }
  return text_table(rows, 2, false);
}

std::string field(const Validation& v) {
  std::vector<std::vector<std::string>> rows = {
      {"gap", "at radius", "largest radial", "at angle", "mean of its size"}};
  for (const GapReading& g : gap_readings(v.gear))
    rows.push_back({g.gap, mm_text(g.radius), significant(g.peak, 3) + " T",
                    rounded_text(to_deg(g.angle), 1) + "°", significant(g.mean, 3) + " T"});
  return text_table(rows, 2, false);
}

std::string assembly(const Validation& v) {
  std::string text;
  for (const AxialPull& pull : v.axial_pulls)
    text += "  putting in the " + std::string(name_of(pull.member)) + " along the axis: up to " +
            significant(pull.largest, 2) + " N\n";
  for (const SidePull& pull : v.side_pulls)
    text += "  " + std::string(name_of(pull.member)) +
            ", for each 0.1 mm off centre: " + significant(1e-4 * pull.negative_stiffness, 2) +
            " N to the side\n";
  for (const PartPull& p : v.pulls)
    text += "  worst " + p.part + " of the " + name_of(p.member) + ": " +
            significant(p.pull_off, 2) +
            (p.part == "magnet" ? " N off its seat, " : " N along the radius, ") +
            significant(p.shear, 2) + " N along the circle, through a slip\n";
  return text;
}

constexpr const char* how =
    "Lock two members, put the arm on the third, level, the mass at its end; add mass in small "
    "steps "
    "until it slips. Weigh the arm's own end on a scale, the arm level and loose, and subtract "
    "that. "
    "Take the mean of both directions: their half difference is friction. Let the magnets come to "
    "room temperature first.";
constexpr const char* cautions[] = {
    "At slip the arm whips round and the rotor ratchets: an end stop just below the arm, the mass "
    "some centimetres over a soft floor, nobody in the plane of the arm. Stand beside it, never "
    "under it; goggles.",
    "Better than hanging masses: a spring balance or a scale under the arm, pulled by a screw.",
    "A gear that slips gets hot and may lose strength for good: few slips, by hand, with rests.",
    "Never hang from it a load that may hurt someone when it slips. Local codes and the rules for "
    "machines and for magnetic fields at work apply.",
    "Keep persons with pacemakers and other implants, cards and watches away."};

}  // namespace

double mass_on_arm(double torque, double arm) { return torque / (gravity * arm); }

std::vector<ArmReading> arm_readings(const Validation& v) {
  const SlipTorque& slip = *v.gear.slip_torque;
  const PerMember& plane = slip.weakest ? *slip.weakest : slip.peak;
  const double ends = v.slip_torque.expected / plane_torque(v);
  std::vector<ArmReading> readings;
  for (const Member m : {v.drive.output, v.drive.input, v.drive.held}) {
    const double ratio = of(plane, m) / of(plane, v.drive.output);
    ArmReading reading{
        m,
        {v.slip_torque.expected * ratio, v.slip_torque.low * ratio, v.slip_torque.high * ratio},
        std::nullopt};
    const auto at = static_cast<std::size_t>(m);
    if (const RunningCurve* curve = no_load_curve(v.gear); curve && curve->ripple)
      reading.cogging = ends * (curve->ripple_below ? (*curve->ripple_below)[at]
                                                    : (*curve->ripple)[at].peak_to_peak);
    readings.push_back(reading);
  }
  return readings;
}

std::vector<GapReading> gap_readings(const CaseResult& gear) {
  FieldSolution solution = gear.solver->solve(start_position(gear.input.gear));
  std::vector<GapReading> readings;
  if (!solution.summary.converged) return readings;
  gear.solver->fill_potentials(solution);  // and the orders of the gap that carry no torque
  constexpr int samples = 3600;
  for (std::size_t i = 0; i < solution.gaps.size(); ++i) {
    const GapField& gap = solution.gaps[i];
    GapReading reading;
    reading.gap = solution.gaps.size() == 1 ? "gap" : i == 0 ? "inner gap" : "outer gap";
    reading.radius = (gap.r_inner + gap.r_outer) / 2;
    const FluxHarmonics b = flux_harmonics(gap, reading.radius);
    for (int k = 0; k < samples; ++k) {
      const double angle = 2 * pi * k / samples;
      const double radial = std::abs(flux_density(b, angle)[0]);
      reading.mean += radial / samples;
      if (radial <= reading.peak) continue;
      reading.peak = radial;
      reading.angle = angle;
    }
    readings.push_back(reading);
  }
  return readings;
}

std::string bench_text(const Validation& v, double arm) {
  std::string text = "Bench sheet: " + v.gear.input.name + "\n\n";
  text += "Held " + std::string(name_of(v.drive.held)) + ", input " + name_of(v.drive.input) +
          ", output " + name_of(v.drive.output) + "; arm of " + mm_text(arm, 1) + "\n" +
          tests(v, arm) + "\n";
  text += wrapped(
      "From and to: the band of the ends of the stack and of 10 % for remanence, gaps "
      "and steel as bought, with the magnets as warm as they become in use; cold they "
      "are a few per cent stronger. Cogging: swing about its mean as the unloaded gear "
      "is turned slowly; friction of bearings and seals comes on top and is often "
      "larger.",
      "  ", line_width);
  text += "\nHow\n" + wrapped(how, "  ", line_width);
  text += "\nField in the gap, without load, members at their initial angles\n" + field(v) +
          wrapped(
              "In the middle of the stack; towards its ends the field falls off. A flat probe "
              "averages over its area, and half a millimetre nearer to a magnet shows: "
              "lodegear probe gives the field elsewhere.",
              "  ", line_width);
  text += "\nForces\n" + assembly(v) + "\nCautions\n";
  for (const char* caution : cautions) text += wrapped(caution, "- ", line_width);
  return text;
}

}  // namespace lodegear
