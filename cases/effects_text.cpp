// cases/effects_text.cpp — what small changes do, for a person at a screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/effects_text.h"

#include <cmath>

#include "cases/figures.h"
#include "cases/text_table.h"

namespace lodegear {

namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr int line_width = 96;

std::string signed_percent(double part) {
  if (std::abs(part) < 5e-6) return "0 %";
  return (part < 0 ? "−" : "+") + percent_text(std::abs(part), 2);
}

std::string step_text(const InputEffect& e) {
  return (e.step < 0 ? "−" : "+") + significant(std::abs(e.step), 2) + " " +
         (e.unit == "°C"  ? "K"
          : e.unit == "%" ? "points"
                          : e.unit);
}

std::string slope_text(const std::optional<Slope>& slope) {
  if (!slope) return "";
  return signed_percent(slope->part) +
         (slope->open > 0.3 * std::abs(slope->part) && slope->open > 5e-4
              ? " ±" + percent_text(slope->open, 1)
              : "");
}

}  // namespace

std::string effects_text(const Validation& v) {
  if (v.effects.empty()) return {};
  Rows rows = {{"", "now", "step", "slip torque", "for each 1 %"}};
  const bool more = !v.effects_on.empty() && v.effects_on.find("slip torque") != 0;
  if (more) rows[0].push_back(v.effects_on);
  std::string none;
  for (const InputEffect& e : v.effects) {
    if (!e.why_none.empty()) {
      none += wrapped(e.input + ": " + e.why_none, "  - ", line_width);
      continue;
    }
    rows.push_back({e.input, significant(e.now, 3) + " " + e.unit, step_text(e),
                    slope_text(e.torque),
                    e.torque_percent ? signed_percent(*e.torque_percent / 100) : ""});
    if (more) rows.back().push_back(slope_text(e.margin));
  }
  std::string text = "\nWhat a small change does, the rest kept as drawn; what helps most first\n";
  text += text_table(rows, 2, true) + none;
  if (more) text += "  last column: how far it moves from its limit, of what is wanted\n";
  text += "  ± where it is not small: meshes, and the bend of the curve\n";
  if (!v.why_torque_only.empty()) text += wrapped(v.why_torque_only, "  ", line_width);
  return text;
}

/// The three that help most, for the verdict.
std::string most_helpful(const Validation& v) {
  std::string text;
  int n = 0;
  for (const InputEffect& e : v.effects) {
    const auto& gain = v.effects_on.empty() ? e.torque : e.margin;
    if (!gain || gain->part <= gain->open || ++n > 3) break;
    text += (n > 1 ? ", " : "") + e.input + " " + step_text(e) + " (" + signed_percent(gain->part) +
            ")";
  }
  return text.empty()
             ? text
             : "Computed, by step: " + text + (v.effects_on.empty() ? ", of slip torque." : ".");
}

}  // namespace lodegear
