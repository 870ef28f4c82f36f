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

std::string torque_text(double x) { return significant(x, 4) + " N·m"; }
std::string degrees_text(double rad) { return rounded_text(to_deg(rad), 1) + "°"; }
std::string mm_text(double m) { return rounded_text(to_mm(m), 2) + " mm"; }

std::string heading(const std::string& text) { return "\n" + text + "\n"; }

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
    const bool same = ratio.input_over_output > 0;
    std::string mark;
    if (result.input.running && result.input.running->held == ratio.held) mark = "<- this case";
    rows.push_back({std::string(name_of(ratio.held)) + " held",
                    std::string(name_of(ratio.input)) + " turns " +
                        rounded_text(std::abs(ratio.input_over_output), 4) +
                        " times per turn of the " + name_of(ratio.output),
                    same ? "same direction" : "opposite direction", mark});
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
    rows.push_back({std::string("on the ") + name_of(m), torque_text(of(slip.peak, m))});
    if (slip.mean) rows.back().push_back(torque_text(of(*slip.mean, m)));
    if (slip.weakest) rows.back().push_back(torque_text(of(*slip.weakest, m)));
  }
  std::string text = heading(std::string("Slip torque (") + torque_caution + ")");
  text += text_table(rows, 2, true);
  text += "  " + std::string(slip.peak_reached ? "peak at load angle " : "still rising at ") +
          degrees_text(slip.load_angle) + " electrical\n";
  return text;
}

std::string stiffness(const CaseResult& result) {
  if (!result.stiffness) return {};
  Rows rows;
  for (Member m : members_inside_out) {
    if (!has(result.input.gear, m)) continue;
    const double per_degree = from_deg(of(result.stiffness->per_turn, m));
    rows.push_back({std::string("turning the ") + name_of(m), significant(per_degree, 4),
                    "N·m per degree of its own"});
  }
  return heading("Stiffness at no load, the other members held") + text_table(rows, 2, false);
}

std::string percent_text(double percent) {
  return percent < 1e-4 ? "below 0.0001 %" : significant(percent, 2) + " %";
}

void add_ripple_rows(const CaseResult& result, const RunningCurve& curve, const std::string& name,
                     Rows& rows) {
  rows.push_back({name});
  for (Member m : members_inside_out) {
    if (!has(result.input.gear, m)) continue;
    if (!curve.ripple) {
      rows.back().push_back("no figure: a position is missing");
      return;
    }
    const double size = (*curve.ripple)[static_cast<std::size_t>(m)].peak_to_peak;
    const auto percent = percent_of_slip(result, m, size);
    rows.back().push_back(percent && *percent < 1e-4
                              ? "below 0.0001 %"
                              : torque_text(size) +
                                    (percent ? " = " + percent_text(*percent) : ""));
  }
}

std::string ripple(const CaseResult& result) {
  if (result.running_curves.empty() && !result.at_slip) return {};
  Rows rows = {{""}};
  for (Member m : members_inside_out)
    if (has(result.input.gear, m)) rows[0].push_back(std::string("on the ") + name_of(m));
  for (const RunningCurve& curve : result.running_curves)
    add_ripple_rows(result, curve,
                    &curve == no_load_curve(result) ? "cogging (no load)" : condition_text(curve),
                    rows);
  if (result.at_slip)
    add_ripple_rows(result, *result.at_slip, "at slip, " + degrees_text(result.at_slip->load_angle),
                    rows);
  const RunningCurve& any = result.at_slip ? *result.at_slip : result.running_curves.front();
  return heading("Torque ripple peak to peak, and in per cent of the slip torque on that member") +
         text_table(rows, 2, true) + "  repeats " + std::to_string(any.ripples_per_turn) +
         " times while the sun passes the modulator once\n";
}

std::string single_position(const CaseResult& result) {
  if (result.input.slip || result.input.running || result.slip_curve.empty()) return {};
  const CurvePoint& point = result.slip_curve.front();
  if (!point.summary.converged) return {};
  Rows rows;
  for (Member m : members_inside_out)
    if (has(result.input.gear, m))
      rows.push_back({std::string("on the ") + name_of(m), torque_text(of(point.torque, m))});
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
    const std::string running = has_sleeve(result.input.gear, name)
                                    ? "to run free " + mm_text(gap.running_inner) + " below and " +
                                          mm_text(gap.running_outer) + " above what stands in it"
                                    : "to run free " + mm_text(gap.running_inner);
    rows.push_back({name, "magnetic " + mm_text(gap.magnetic) + ",", running});
  }
  return heading("Gaps") + text_table(rows, 2, false);
}

std::string assumed(const Case& c) {
  if (c.assumed.empty()) return {};
  std::string list;
  for (const Assumed& a : c.assumed) list += (list.empty() ? "" : ", ") + a.key + " = " + a.value;
  return heading("Assumed, because the case file does not say") + wrapped(list, "  ", line_width);
}

std::string cautions(const CaseResult& result) {
  std::string text = heading("Mind");
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
  return how.exit_code == 0 ? std::string() : "\n" + wrapped(how.text, "ATTENTION: ", line_width);
}

}  // namespace

std::string summary_text(const CaseResult& result) {
  return title(result) + trouble(result) + ratios(result) + single_position(result) + slip(result) +
         stiffness(result) + ripple(result) + clearances(result) + assumed(result.input) +
         cautions(result);
}

}  // namespace lodegear
