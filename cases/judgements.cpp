// cases/judgements.cpp — the requirements of a case against what came out.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/judgements.h"

#include <algorithm>
#include <cmath>

#include "cases/figures.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

/// `figure` must be at least `least`.
Judgement at_least(std::string what, const Band& figure, double least) {
  Judgement j;
  j.what = std::move(what);
  j.margin = least > 0.0 ? figure.expected / least - 1 : 1.0;
  j.judged = figure.low >= least        ? Judged::pass
             : figure.expected >= least ? Judged::unsure
                                        : Judged::fail;
  return j;
}
Judgement at_most(std::string what, const Band& figure, double most) {
  Judgement j;
  j.what = std::move(what);
  j.margin = most > 0.0 ? 1 - figure.expected / most : -1.0;
  j.judged = figure.high <= most       ? Judged::pass
             : figure.expected <= most ? Judged::unsure
                                       : Judged::fail;
  return j;
}
Band exactly(double x) { return {x, x, x}; }

Judgement words(Judgement j, std::string figure, std::string wanted, const std::string& help) {
  j.figure = std::move(figure);
  j.wanted = std::move(wanted);
  if (j.judged != Judged::pass) j.help = help;
  return j;
}

std::string banded(const Band& band) {
  return torque_text(band.expected) + ", from " + significant(band.low, 3) + " to " +
         significant(band.high, 3);
}

// What raises torque most: torque grows with the stack as L − c or steeper, with remanence twice.
std::string more_torque(const Validation& v, double wanted) {
  const double more = wanted / v.slip_torque.expected - 1;
  std::string text = "A stack longer by " + percent_text(std::max(more, 0.0)) +
                     " or a little less would do it; smaller gaps and a stronger magnet help, too.";
  if (v.ends && v.ends->ratio < 0.8)
    text += " The ends cost " + percent_text(1 - v.ends->ratio) +
            ": magnets longer than the pole pieces win part of it back.";
  return text;
}

void judge_torque(const Validation& v, std::vector<Judgement>& all) {
  const Requirements& require = v.gear.input.service.require;
  const std::string on = std::string("on the ") + name_of(v.drive.output);
  if (require.slip_torque)
    all.push_back(words(at_least("slip torque " + on, v.slip_torque, *require.slip_torque),
                        banded(v.slip_torque), "at least " + torque_text(*require.slip_torque),
                        more_torque(v, *require.slip_torque)));
  if (!v.gear.input.service.use.load) return;  // the load follows from the slip torque then
  const Band factor{v.slip_torque.expected / v.load, v.slip_torque.low / v.load,
                    v.slip_torque.high / v.load};
  all.push_back(words(at_least("slip torque over load", factor, require.safety_factor),
                      significant(factor.expected, 3) + ", from " + significant(factor.low, 3) +
                          " to " + significant(factor.high, 3),
                      "at least " + significant(require.safety_factor, 3),
                      more_torque(v, require.safety_factor * v.load)));
}

void judge_smoothness(const Validation& v, std::vector<Judgement>& all) {
  const Requirements& require = v.gear.input.service.require;
  const RunningCurve* curve = no_load_curve(v.gear);
  if (!require.cogging || !curve || !curve->ripple) return;
  const Member m = v.drive.output;
  const double slip = of(v.gear.slip_torque->peak, m);
  const double size = curve->ripple_below
                          ? of(*curve->ripple_below, m)
                          : (*curve->ripple)[static_cast<std::size_t>(m)].peak_to_peak;
  const double error = curve->ripple_error ? of(*curve->ripple_error, m) : 0.0;
  const Band cogging{size / slip, std::max(0.0, size - error) / slip, (size + error) / slip};
  all.push_back(
      words(at_most(std::string("cogging on the ") + name_of(m), cogging, *require.cogging),
            percent_text(cogging.expected) + " of slip torque",
            "at most " + percent_text(*require.cogging),
            "Pole counts whose LCM(2p_s, n) is larger cog less."));
}

void judge_efficiency(const Validation& v, std::vector<Judgement>& all) {
  const Requirements& require = v.gear.input.service.require;
  if (!require.efficiency) return;
  if (!v.at_work) {
    Judgement j;
    j.what = "efficiency";
    j.judged = Judged::fail;
    j.margin = -1;
    all.push_back(words(j, "none: the load is more than it carries",
                        "at least " + percent_text(*require.efficiency), "A smaller load."));
    return;
  }
  // Losses are known to −30/+60 % at best (hobby-cut steel, seals; engineering judgement).
  const double lost = 1 - v.at_work->efficiency;
  const Band band{v.at_work->efficiency, 1 - 1.6 * lost, 1 - 0.7 * lost};
  const bool friction = v.at_work->friction_loss > v.at_work->magnetic_loss;
  all.push_back(words(at_least("efficiency at the load", band, *require.efficiency),
                      percent_text(band.expected) + ", from " + percent_text(band.low) + " to " +
                          percent_text(band.high),
                      "at least " + percent_text(*require.efficiency),
                      friction ? "Friction is most of the loss: bearings without rubbing seals."
                               : "Magnetic loss is most of it: see which part in the table."));
}

void judge_heat(const Validation& v, std::vector<Judgement>& all) {
  const GearTemperatures& t = v.temperatures;
  if (t.margin) {
    // With a duty cycle that is what must be borne, not the load for ever.
    const double margin = v.duty ? v.duty->margin.value_or(*t.margin) : *t.margin;
    const Eigen::VectorXd& celsius = v.duty ? v.duty->hottest : t.steady;
    const double rise_error = 0.3;  // films ±30 % (theory 13)
    Judgement j;
    j.what = v.duty ? "temperature, in the duty cycle" : "temperature, for ever";
    const double hottest = std::max(v.gear.input.service.use.ambient, celsius.maxCoeff());
    const double rise = hottest - v.gear.input.service.use.ambient;
    j.margin = margin / std::max(1.0, margin + rise);
    j.judged = margin < 0                   ? Judged::fail
               : margin < rise_error * rise ? Judged::unsure
                                            : Judged::pass;
    std::string help = "Less loss, a fan, metal carriers, or rest between runs.";
    if (t.first_limit && !v.duty)
      help += " From cold the limit is reached after " + rounded_text(t.first_limit->time / 60, 0) +
              " minutes.";
    all.push_back(words(
        j,
        celsius_text(hottest) + " at most; " + rounded_text(margin, 0) + " K to the nearest limit",
        "below its limits (" + (v.duty ? v.duty->nearest_limit : t.nearest_limit) + ")", help));
  }
  const auto& wanted = v.gear.input.service.require.magnet_temperature;
  if (!wanted) return;
  for (const MagnetHealth& m : v.magnets)
    all.push_back(words(at_most(std::string(name_of(m.member)) + " magnets' temperature",
                                exactly(m.temperature), *wanted),
                        celsius_text(m.temperature), "at most " + celsius_text(*wanted),
                        "Less loss, a fan, or rest between runs."));
}

void judge_magnets(const Validation& v, std::vector<Judgement>& all) {
  const double wanted = v.gear.input.service.require.magnet_margin;
  for (const MagnetHealth& m : v.magnets) {
    const std::string what = std::string(name_of(m.member)) + " magnets through a slip";
    if (!m.slipping) {
      Judgement j;
      j.what = what;
      j.judged = Judged::unsure;
      all.push_back(words(j, m.grade + ": its coercivity is not known",
                          percent_text(wanted) + " from the knee", "Give intrinsic_coercivity."));
      continue;
    }
    Judgement j;
    j.what = what;
    j.margin = m.slipping->margin - wanted;
    // Sharp corners always come near; what counts is the volume.
    j.judged = m.slipping->volume_lost > 0.01 ? Judged::fail
               : m.slipping->margin < wanted  ? Judged::unsure
                                              : Judged::pass;
    std::string figure = percent_text(m.slipping->margin) + " from the knee at the worst corner, " +
                         percent_text(m.slipping->volume_lost) + " of the volume beyond it";
    std::string help = "A grade with a higher HcJ";
    if (m.coercivity_needed)
      help += " (" + significant(*m.coercivity_needed / 1e3, 3) +
              " kA/m at 20 °C keeps every corner 10 % away)";
    help += ", thicker magnets, or cooler ones.";
    all.push_back(
        words(j, figure, percent_text(wanted) + " from the knee, no more than 1 % beyond", help));
  }
}

void judge_mass(const Validation& v, std::vector<Judgement>& all) {
  const Requirements& require = v.gear.input.service.require;
  if (require.active_mass)
    all.push_back(
        words(at_most("mass of magnets and steel", exactly(v.active_mass), *require.active_mass),
              significant(v.active_mass, 3) + " kg",
              "at most " + significant(*require.active_mass, 3) + " kg",
              "Thinner irons, or the next point at better use of the magnets."));
}

void judge_diameter(const Validation& v, std::vector<Judgement>& all) {
  const Requirements& require = v.gear.input.service.require;
  if (require.outer_diameter)
    all.push_back(
        words(at_most("outer diameter", exactly(v.outer_diameter), *require.outer_diameter),
              mm_text(v.outer_diameter, 1), "at most " + mm_text(*require.outer_diameter, 1),
              "Scale the drawing: torque goes with the square of the radius."));
}

void judge_clearance(const Validation& v, std::vector<Judgement>& all) {
  const double wanted = v.gear.input.service.require.clearance;
  for (const ClearanceBudget& gap : v.clearances) {
    const Band left{gap.likely(), gap.worst_case(), gap.nominal};
    const std::vector<GapLoss> ranked = gap.ranked();
    std::string help = "A larger gap";
    if (!ranked.empty()) help += ", or less " + ranked.front().name;
    all.push_back(
        words(at_least("clearance, " + gap.name, left, wanted),
              mm_text(left.low, 2) + " in the worst case, " + mm_text(left.expected, 2) + " likely",
              "at least " + mm_text(wanted, 2), help + "."));
  }
}

// A load that comes on at once overshoots; it must not slip then either.
void judge_sudden_load(const Validation& v, std::vector<Judgement>& all) {
  if (!v.motion || !v.gear.input.service.use.load) return;
  const double spread = v.slip_torque.expected > 0 ? v.slip_torque.low / v.slip_torque.expected : 1;
  const Band bears{v.motion->sudden_load, v.motion->sudden_load * spread, v.motion->sudden_load};
  all.push_back(words(at_least("load that may come on at once", bears, v.load),
                      torque_text(bears.expected) + ", undamped",
                      "at least the load, " + torque_text(v.load),
                      "Bring the load on slowly, or more slip torque."));
}

}  // namespace

std::vector<Judgement> judgements(const Validation& validation) {
  std::vector<Judgement> all;
  const auto add = [&](auto judge, Wanted kind) {
    const std::size_t before = all.size();
    judge(validation, all);
    for (std::size_t i = before; i < all.size(); ++i) all[i].kind = kind;
  };
  add(judge_torque, Wanted::torque);
  add(judge_smoothness, Wanted::cogging);
  add(judge_efficiency, Wanted::losses);
  add(judge_heat, Wanted::losses);
  add(judge_magnets, Wanted::magnets);
  add(judge_clearance, Wanted::clearance);
  add(judge_sudden_load, Wanted::torque);
  add(judge_mass, Wanted::mass);
  add(judge_diameter, Wanted::diameter);
  return all;
}

}  // namespace lodegear
