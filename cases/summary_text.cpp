// cases/summary_text.cpp — what came out, for a person at a screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/summary_text.h"

#include <cmath>

#include "cases/figures.h"
#include "cases/members.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

using Rows = std::vector<std::vector<std::string>>;

constexpr int line_width = 96;

/// Two digits in N·m, mN·m or µN·m: ripple may be anything down to nothing.
std::string small_torque_text(double x) {
  if (x >= 0.1) return significant(x, 2) + " N·m";
  return x >= 1e-4 ? significant(x * 1e3, 2) + " mN·m" : significant(x * 1e6, 2) + " µN·m";
}
std::string degrees_text(double rad) { return rounded_text(to_deg(rad), 1) + "°"; }

std::string heading(const std::string& text) { return std::string("\n").append(text).append("\n"); }

std::string title(const CaseResult& result) {
  const Case& c = result.input;
  std::string text = c.name + ": " + kind_of_machine(c.gear) + " " + pole_text(c.gear);
  if (c.gear.sun && c.gear.modulator && c.gear.ring)
    text += " (sun pole pairs / pole pieces / ring pole pairs)";
  text += ", " + mm_text(result.stack_length) + " long\n";
  if (!c.notes.empty()) text += wrapped(c.notes, "", line_width);
  return text;
}

std::string ratios(const CaseResult& result) {
  if (!result.speed_ratios) return {};
  Rows rows;
  for (const SpeedRatio& ratio : *result.speed_ratios) {
    const bool here = result.input.running && result.input.running->held == ratio.held;
    rows.push_back({std::string(name_of(ratio.held)) + (here ? " held, as here" : " held"),
                    std::string(name_of(ratio.input)) + " turns " +
                        rounded_text(std::abs(ratio.input_over_output), 4) +
                        " times per turn of the " + name_of(ratio.output),
                    ratio.input_over_output > 0 ? "the same way" : "the opposite way"});
  }
  return heading("Speed ratio") + text_table(rows, 2, false);
}

std::string slip(const CaseResult& result) {
  if (!result.slip_torque) return {};
  const SlipTorque& slip = *result.slip_torque;
  Rows rows = {{"", "peak"}};
  if (slip.mean) rows[0].insert(rows[0].end(), {"mean", "weakest position"});
  for (Member m : members_inside_out) {
    if (!has(result.input.gear, m)) continue;
    rows.push_back({std::string("on the ") + name_of(m), torque_text(of(slip.peak, m), 4)});
    if (slip.mean) rows.back().push_back(torque_text(of(*slip.mean, m), 4));
    if (slip.weakest) rows.back().push_back(torque_text(of(*slip.weakest, m), 4));
  }
  std::string text = heading(std::string("Slip torque (") + torque_caution + ")");
  text += text_table(rows, 2, true);
  text += "  " + std::string(slip.peak_reached ? "peak at load angle " : "still rising at ") +
          degrees_text(slip.load_angle) + " electrical\n";
  if (slip.error && !result.rungs.empty())
    text += "  computed to within " + percent_text(result.rungs.back().slip_error, 2) +
            " (estimated, of the plane model)\n";
  return text;
}

std::string stiffness(const CaseResult& result) {
  if (!result.stiffness) return {};
  Rows rows;
  for (Member m : members_inside_out) {
    if (!has(result.input.gear, m)) continue;
    const double per_degree = from_deg(of(result.stiffness->per_turn, m));
    rows.push_back(
        {std::string("turning the ") + name_of(m), significant(per_degree, 4) + " N·m/°"});
  }
  return heading(
             "Stiffness at no load: torque per degree that one member is turned, the others held") +
         text_table(rows, 2, true);
}

/// "0.12 mN·m", "0.0013 %"; what is smaller than a millionth of the slip torque is not told apart
/// from nothing.
std::vector<std::string> ripple_cells(double size, std::optional<double> percent) {
  if (percent && *percent < 1e-4) return {"", "< 0.0001 %"};
  return {small_torque_text(size), percent ? significant(*percent, 2) + " %" : std::string()};
}

std::vector<std::string> ripple_row(const CaseResult& result, const RunningCurve& curve,
                                    const std::string& name) {
  std::vector<std::string> row = {name};
  for (Member m : members_inside_out) {
    if (!has(result.input.gear, m)) continue;
    if (!curve.ripple) return {name, "no figure", "(hole)"};
    const double size = curve.ripple_below
                            ? of(*curve.ripple_below, m)
                            : (*curve.ripple)[static_cast<std::size_t>(m)].peak_to_peak;
    if (curve.ripple_below) {
      const double ppm = 1e4 * percent_of_slip(result, m, size).value_or(0.0);
      row.insert(row.end(), {"", "below " + significant(ppm, 2) + " ppm"});
      continue;
    }
    for (const std::string& text : ripple_cells(size, percent_of_slip(result, m, size)))
      row.push_back(text);
  }
  return row;
}

std::string ripple_note(const CaseResult& result, const RunningCurve& curve) {
  if (curve.ripple_below)
    return "  a bound: ripple of so high an order is not followed harmonic by harmonic\n";
  if (!curve.ripple_error || result.rungs.empty()) return {};
  return "  each computed to within " + percent_text(result.rungs.back().ripple_error, 2) +
         " of the slip torque (estimated)\n";
}

std::string ripple(const CaseResult& result) {
  if (result.running_curves.empty() && !result.at_slip) return {};
  Rows rows = {{""}};
  for (Member m : members_inside_out)
    if (has(result.input.gear, m)) rows[0].insert(rows[0].end(), {name_of(m), ""});
  for (const RunningCurve& curve : result.running_curves)
    rows.push_back(
        ripple_row(result, curve,
                   &curve == no_load_curve(result) ? "no load (cogging)" : condition_text(curve)));
  if (result.at_slip)
    rows.push_back(ripple_row(result, *result.at_slip,
                              "at slip, " + degrees_text(result.at_slip->load_angle)));
  const RunningCurve& any = result.at_slip ? *result.at_slip : result.running_curves.front();
  return heading("Torque ripple, peak to peak; per cent of the slip torque on the same member") +
         text_table(rows, 2, true) + ripple_note(result, any) + "  repeats " +
         std::to_string(any.ripples_per_turn) +
         " times in each turn of the sun relative to the modulator\n";
}

std::string single_position(const CaseResult& result) {
  if (result.input.slip || result.input.running || result.slip_curve.empty()) return {};
  const CurvePoint& point = result.slip_curve.front();
  if (!point.summary.converged) return {};
  Rows rows;
  for (Member m : members_inside_out)
    if (has(result.input.gear, m))
      rows.push_back({std::string("on the ") + name_of(m), torque_text(of(point.torque, m), 4)});
  return heading(std::string("Torque at the initial angles (") + torque_caution + ")") +
         text_table(rows, 2, true);
}

std::string gap_name(const Gear& gear, std::size_t i) {
  if (gear.sun && gear.ring && !gear.modulator) return "gap";
  if (!gear.sun) return "outer gap";
  return i == 0 ? "inner gap" : "outer gap";
}

bool has_sleeve(const Gear& gear, const std::string& gap) {
  for (const Sleeve& sleeve : gear.sleeves)
    if (gap == "gap" || (sleeve.gap == Gap::inner) == (gap == "inner gap")) return true;
  return false;
}

std::string clearances(const CaseResult& result) {
  if (result.clearances.empty()) return {};
  Rows rows;
  for (std::size_t i = 0; i < result.clearances.size(); ++i) {
    const GapClearance& gap = result.clearances[i];
    const std::string name = gap_name(result.input.gear, i);
    std::string running = "running clearance " + mm_text(gap.running_inner);
    if (has_sleeve(result.input.gear, name))
      running += " inside and " + mm_text(gap.running_outer) + " outside the sleeve";
    rows.push_back({name, "magnetic gap " + mm_text(gap.magnetic), running});
  }
  return heading("Gaps") + text_table(rows, 2, false);
}

/// Defaults that say how the work is done rather than what is built, or that leave something out.
bool goes_without_saying(const Assumed& a) {
  for (const char* beginning : {"slip.", "running.", "mesh.", "output."})
    if (a.key.rfind(beginning, 0) == 0) return true;
  for (const char* ending : {"axial_rows", "initial_angle_deg", "active_length_mm", "_K", "_kg_m3",
                             "_mK", "_kgK", "_uOhm_m", "magnets.temperature_C"})
    if (a.key.ends_with(ending)) return true;
  return a.value == "0" || a.value == "false";
}

std::string assumed(const Case& c) {
  std::vector<std::string> told;
  for (const Assumed& a : c.assumed)
    if (!goes_without_saying(a)) told.push_back(a.key + " = " + a.value);
  const std::size_t others = c.assumed.size() - told.size();
  if (others > 0) told.push_back(std::to_string(others) + " more that summary.json lists");
  if (told.empty()) return {};
  return heading("Assumed, because the case file does not say") +
         wrapped(listed(told, " and "), "  ", line_width);
}

std::string cautions(const CaseResult& result) {
  std::string text = heading("Cautions");
  for (const std::string& remark : result.remarks) text += wrapped(remark, "  - ", line_width);
  const char* always[] = {
      "These are figures of a plane model: short stacks deliver less, the more so the shorter.",
      "Strong magnets crush fingers, harm pacemakers and shatter: jigs, gloves, glasses.",
      "A magnetic gear slips when overloaded: never for hoisting, or for holding a load that must "
      "not fall.",
      "Turning parts need guards; local codes for machines apply."};
  for (const char* caution : always) text += wrapped(caution, "  - ", line_width);
  return text;
}

std::string trouble(const CaseResult& result) {
  const Verdict how = verdict(result);
  return how.exit_code == 0 ? std::string() : heading(wrapped(how.text, "ATTENTION: ", line_width));
}

}  // namespace

std::string summary_text(const CaseResult& result) {
  return title(result) + trouble(result) + ratios(result) + single_position(result) + slip(result) +
         stiffness(result) + ripple(result) + clearances(result) + assumed(result.input) +
         cautions(result);
}

}  // namespace lodegear
