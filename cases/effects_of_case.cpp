// cases/effects_of_case.cpp — which small changes of a case help most.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/effects_of_case.h"

#include <algorithm>
#include <cmath>

#include "cases/axial.h"
#include "cases/ends_of_case.h"
#include "cases/run_case.h"
#include "cases/thermal_of_case.h"
#include "mesh/ladder.h"

namespace lodegear {

namespace {

constexpr double level_of_effects = 0.0;

/// What the ends leave times the length: the slip torque is proportional to it, the plane field
/// kept.
double effective_length(const Case& c) {
  const auto ends = ends_input(c);
  return common_extent(c.gear).length() * (ends ? end_effect(*ends).ratio : 1.0);
}

class Effects {
 public:
  Effects(Validation& v, const MarginAhead& ahead, const RunOptions& options)
      : v_(v), ahead_(ahead), options_(options), case_(v.gear.input) {
    case_.service.use.load = v.load;  // whatever the torque becomes
    coarse_ = resolution_for(case_.gear, level_of_effects, false);
    nudges_ = nudges_of(case_);
  }

  void add() {
    add_torque();
    if (const Judgement* worst = deciding(v_)) add_margin(*worst);
    for (InputEffect& effect : v_.effects) turn_to_the_good(effect);
    const bool known = !v_.effects_on.empty();
    std::stable_sort(v_.effects.begin(), v_.effects.end(), [known](const auto& a, const auto& b) {
      return known && a.margin.has_value() != b.margin.has_value() ? a.margin.has_value()
                                                                   : gain(a) > gain(b);
    });
  }

 private:
  void add_torque() {
    const Member output = v_.drive.output;
    const double peak = v_.gear.slip_torque->load_angle;
    const FigureOfCase bench = [&](const Case& c) {
      return torque_at(c, coarse_, output, peak) * effective_length(c) /
             common_extent(c.gear).length();
    };
    std::vector<Nudge> in_field, along;
    for (const Nudge& nudge : nudges_) (nudge.in_field ? in_field : along).push_back(nudge);
    const double base = bench(case_), length = effective_length(case_);
    const auto of_field = slopes(case_, in_field, base, bench, options_);
    const auto of_length = slopes(case_, along, length, effective_length, options_);
    std::size_t field = 0, axial = 0;
    for (const Nudge& nudge : nudges_) {
      const FoundSlope& found = nudge.in_field ? of_field[field++] : of_length[axial++];
      v_.effects.push_back(effect(nudge, found, nudge.in_field ? base : length));
    }
  }

  static InputEffect effect(const Nudge& nudge, const FoundSlope& found, double base) {
    InputEffect effect;
    effect.input = nudge.input;
    effect.unit = nudge.unit;
    effect.now = nudge.now * nudge.shown;
    effect.step = nudge.step * nudge.shown;
    effect.why_none = found.why_none;
    if (!found.why_none.empty()) return effect;
    effect.torque = Slope{found.slope / base, found.open / base};
    if (nudge.percent) effect.torque_percent = effect.torque->part * nudge.now / nudge.step;
    return effect;
  }

  void add_margin(const Judgement& worst) {
    if (worst.kind == Wanted::torque) {
      // Torque over what is wanted: it moves by as large a part.
      v_.effects_on = worst.what;
      for (InputEffect& e : v_.effects)
        if (e.torque)
          e.margin =
              Slope{(1 + worst.margin) * e.torque->part, (1 + worst.margin) * e.torque->open};
      return;
    }
    if (worst.kind == Wanted::magnets && knee_unknown(worst)) {
      v_.why_torque_only = "Of " + worst.what + " nothing is known without a coercivity.";
      return;
    }
    if (worst.kind == Wanted::cogging) {
      v_.why_torque_only =
          "Small changes of cogging are not computed: it takes finer meshes than these; a "
          "study does it.";
      return;
    }
    add_margin(worst, margin_figure(worst));
  }

  void add_margin(const Judgement& worst, const FigureOfCase& margin) try {
    const auto found = slopes(case_, nudges_, margin(case_), margin, options_);
    v_.effects_on = worst.what;
    for (std::size_t i = 0; i < nudges_.size(); ++i)
      if (found[i].why_none.empty() && (nudges_[i].given || worst.kind != Wanted::losses))
        v_.effects[i].margin = Slope{found[i].slope, found[i].open};
  } catch (const std::exception& error) {
    v_.why_torque_only = std::string("Of ") + worst.what + " it is not known: " + error.what();
  }

  FigureOfCase margin_figure(const Judgement& worst) {
    const Requirements& require = case_.service.require;
    switch (worst.kind) {
      case Wanted::clearance:
        return [&, gap = gap_named(worst.what)](const Case& c) {
          const GapClearance now = gap_clearance(c.gear, gap);
          return std::min(now.running_inner, now.running_outer) / require.clearance;
        };
      case Wanted::mass:
        return [&](const Case& c) {
          double mass = 0.0;
          for (const PartMass& part : active_masses(bare_result(c, prepared_case(c, coarse_))))
            mass += part.count * part.one;
          return 1 - mass / *require.active_mass;
        };
      case Wanted::diameter:
        return [&](const Case& c) { return 1 - outer_diameter(c.gear) / *require.outer_diameter; };
      default:
        return [&, worst](const Case& c) { return ahead_(c, worst, coarse_); };
    }
  }

  bool knee_unknown(const Judgement& worst) const {
    return std::any_of(v_.magnets.begin(), v_.magnets.end(), [&](const MagnetHealth& m) {
      return !m.slipping && worst.what.find(name_of(m.member)) == 0;
    });
  }

  Gap gap_named(const std::string& what) const {
    const bool inner = what.find(v_.clearances.front().name) != std::string::npos;
    return inner ? Gap::inner : Gap::outer;
  }

  /// What a step gives: of the requirement that decides where it is known, else of the torque.
  static double gain(const InputEffect& e) {
    return e.margin ? e.margin->part : e.torque ? e.torque->part : -HUGE_VAL;
  }

  static void turn_to_the_good(InputEffect& e) {
    if (!e.torque || gain(e) > 0) return;
    if (e.margin && e.margin->part == 0.0 && e.torque->part >= 0) return;
    e.step = -e.step;
    e.torque->part = -e.torque->part;
    if (e.margin) e.margin->part = -e.margin->part;
  }

  Validation& v_;
  const MarginAhead& ahead_;
  const RunOptions& options_;
  Case case_;
  Resolution coarse_;
  std::vector<Nudge> nudges_;
};

}  // namespace

void add_input_effects(Validation& validation, const MarginAhead& ahead,
                       const RunOptions& options) {
  Effects(validation, ahead, options).add();
}

}  // namespace lodegear
