// cases/studies/design_run.cpp — one design of a study, from the text of its case to its figures.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/design_run.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cases/figures.h"
#include "cases/read_case.h"
#include "cases/run_case.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/quick_slip.h"
#include "materials/words.h"
#include "mesh/ladder.h"

namespace lodegear {

namespace {

bool any_needs(const DesignTask& task, bool DesignFigure::*need) {
  return std::any_of(task.figures.begin(), task.figures.end(),
                     [need](const std::string& name) { return design_figure(name)->*need; });
}

/// The case with nothing to compute but what the figures need.
Case stripped(Case c, const DesignTask& task) {
  c.output.keep_fields = KeptFields::none;
  if (!any_needs(task, &DesignFigure::needs_slip)) c.slip.reset();
  if (!any_needs(task, &DesignFigure::needs_running)) c.running.reset();
  if (task.accuracy && c.slip) {
    c.accuracy = {task.accuracy, true};
    return c;
  }
  const int order = ripple_order(c.gear);
  c.accuracy = {};
  c.resolution =
      resolution_for(c.gear, task.level, c.running && order > 0 && order <= highest_ripple_order);
  return c;
}

/// Without an accuracy nothing says where ripple is too fine for the mesh.
void mark_unfollowed_ripple(CaseResult& result) {
  if (ripple_order(result.input.gear) <= highest_ripple_order) return;
  for (RunningCurve& curve : result.running_curves)
    if (!curve.ripple_below && !curve.full_cycle) curve.ripple_below.emplace();
}

/// Whether five positions about the peak tell all that is wanted.
bool few_positions_do(const Case& c, const DesignTask& task) {
  if (!c.slip || c.running || task.accuracy || task.whole_curves) return false;
  return std::none_of(task.figures.begin(), task.figures.end(),
                      [](const std::string& name) { return design_figure(name)->needs_curve; });
}

CaseResult outcome_of(const Case& c, const DesignTask& task, const RunOptions& options) {
  if (few_positions_do(c, task)) {
    options.progress("meshes", 0, 0);
    if (auto quick = quick_slip(c, prepared_case(c, options.kept), options))
      return *std::move(quick);
  }
  return run_case(c, options);
}

std::string without_line_ends(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

/// Complaints without their places, which are lines of a file nobody sees.
std::string reason(const InputError& error) {
  std::vector<std::string> texts;
  for (const Complaint& complaint : error.complaints())
    texts.push_back(to_string({{}, complaint.key, complaint.text}));
  constexpr std::size_t most = 3;
  const std::size_t left_out = texts.size() > most ? texts.size() - most : 0;
  texts.resize(std::min(texts.size(), most));
  std::string text;
  for (const std::string& one : texts) text += (text.empty() ? "" : " ") + one;
  if (left_out > 0) text += " And " + std::to_string(left_out) + " more.";
  return without_line_ends(text);
}

DesignOutcome failed(const DesignTask& task, const std::string& why) {
  return {DesignState::failed, std::vector<std::optional<double>>(task.figures.size()), why};
}

DesignOutcome read_off(CaseResult& result, const DesignTask& task) {
  if (!task.accuracy) mark_unfollowed_ripple(result);
  const Verdict how = verdict(result);
  if (how.exit_code == 3) return failed(task, how.text);
  DesignOutcome outcome;
  if (how.exit_code != 0) {
    outcome.state = DesignState::unsure;
    outcome.remark = how.text;
  }
  std::vector<std::string> missing;
  for (const std::string& name : task.figures) {
    const DesignFigure& figure = *design_figure(name);
    auto value = figure.value(result, figure.member.value_or(Member::modulator));
    if (value && !std::isfinite(*value)) value.reset();
    outcome.figures.push_back(value);
    if (!value) missing.push_back(name);
  }
  if (missing.empty()) return outcome;
  outcome.state = DesignState::unsure;
  outcome.remark += (outcome.remark.empty() ? "" : " ") + std::string("Not known: ") +
                    listed(missing, " and ") + ".";
  return outcome;
}

}  // namespace

const char* name_of(DesignState state) {
  return state == DesignState::good ? "good" : state == DesignState::unsure ? "unsure" : "failed";
}

DesignOutcome run_design(const std::string& case_text, const DesignTask& task,
                         const Catalogue& catalogue, const std::function<bool()>& stop_asked,
                         KeptParts* kept) try {
  const Case c = read_case_text(case_text, "design", catalogue);
  for (const std::string& name : task.figures)
    if (const std::string why = why_no_figure(*design_figure(name), c); !why.empty())
      return failed(task, name + " " + why);
  RunOptions options;
  options.kept = kept;
  options.progress = [&stop_asked](const std::string&, int, int) {
    if (stop_asked && stop_asked()) throw DesignStopped();
  };
  const Case asked = stripped(c, task);
  CaseResult result = outcome_of(asked, task, options);
  return read_off(result, task);
} catch (const InputError& error) {
  return failed(task, reason(error));
} catch (const std::runtime_error& error) {
  return failed(task, without_line_ends(error.what()));
}

}  // namespace lodegear
