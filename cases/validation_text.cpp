// cases/validation_text.cpp — a validation for a person at a screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validation_text.h"

#include <algorithm>
#include <cmath>

#include "cases/effects_text.h"
#include "cases/figures.h"
#include "cases/members.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

using Rows = std::vector<std::vector<std::string>>;
constexpr int line_width = 96;

std::string heading(const std::string& text) { return std::string("\n").append(text).append("\n"); }
std::string watts(double x) { return significant(x, 3) + " W"; }
std::string newtons(double x) { return significant(x, 3) + " N"; }
std::string rpm(double speed) { return rounded_text(to_rpm(std::abs(speed)), 0) + " rpm"; }

std::string verdict_text(const Validation& v) {
  const Judgement* worst = deciding(v);
  std::string text = "Verdict: ";
  if (!worst) return text + "nothing was required.\n";
  text += worst->judged == Judged::pass     ? "everything required is met"
          : worst->judged == Judged::unsure ? "not sure"
                                            : "do not build it like this";
  text +=
      ". Decided by: " + worst->what + ", " + worst->figure + " (wanted: " + worst->wanted + ").";
  std::string all = wrapped(text, "", line_width);
  if (!worst->help.empty()) all += wrapped("What would help: " + worst->help, "", line_width);
  if (const std::string most = most_helpful(v); worst->judged != Judged::pass && !most.empty())
    all += wrapped(most, "", line_width);
  Rows rows = {{"", "", "figure", "wanted"}};
  for (const Judgement& j : v.judgements)
    rows.push_back({name_of(j.judged), j.what, j.figure, j.wanted});
  return all + "\n" + text_table(rows, 2, false);
}

std::string bench(const Validation& v) {
  std::string text = heading("Expected on the bench, magnets as warm as they become");
  text += "  slips at " + torque_text(v.slip_torque.expected) + " on the " +
          name_of(v.drive.output) + ", from " + significant(v.slip_torque.low, 3) + " to " +
          significant(v.slip_torque.high, 3) + "\n";
  if (v.ends)
    text += "  the ends of the stack leave " + percent_text(v.ends->ratio) + " (from " +
            percent_text(v.ends->low) + " to " + percent_text(v.ends->high) +
            ") of the plane model's " + torque_text(plane_torque(v)) + "\n";
  text += "  a load of " + torque_text(v.load) +
          (v.gear.input.service.use.load ? "" : " (0.6 of it)") + " on the " +
          name_of(v.drive.output) + " is taken below\n";
  return text;
}

std::string lengths(const Validation& v) {
  if (v.lengths.empty()) return {};
  Rows rows = {{"stack"}, {"expected"}, {"with sun and ring 10 % longer at each end"}};
  for (const TorqueOfLength& t : v.lengths) {
    rows[0].push_back(mm_text(t.length, 1));
    rows[1].push_back(torque_text(t.torque));
    rows[2].push_back(torque_text(t.with_overhang));
  }
  std::string text =
      heading("Slip torque against the length of the stack") + text_table(rows, 2, true);
  for (const AxialPull& pull : v.axial_pulls)
    text += "  " + mm_text(pull.aside, 1) + " aside the " + name_of(pull.member) + " is drawn " +
            (pull.pull >= 0 ? "back" : "further out") + " with " + newtons(std::abs(pull.pull)) +
            "; putting it in, up to " + newtons(pull.largest) + " (±10 %)\n";
  return text;
}

std::string losses(const Validation& v) {
  Rows rows = {{"", "hysteresis", "eddies", "excess, skin", "together"}};
  for (const PartLoss& part : v.losses)
    rows.push_back({part.loss.part, watts(part.loss.hysteresis), watts(part.loss.eddy),
                    watts(part.loss.surface), watts(part.loss.total())});
  if (v.at_work)
    for (const FrictionLoss& part : v.at_work->friction)
      rows.push_back({part.name, "", "", "", watts(part.power)});
  std::string text = heading("Losses at " + rpm(v.gear.input.running->input_speed) + " of the " +
                             name_of(v.drive.input) + " and this load") +
                     text_table(rows, 2, true);
  if (v.at_work)
    text += "  in " + watts(v.at_work->input_power) + ", out " + watts(v.at_work->output_power) +
            ", efficiency " + percent_text(v.at_work->efficiency) + "\n";
  else
    text += "  the gear cannot carry this load in step\n";
  if (v.no_load)
    text += "  drag with nothing on the output: " + torque_text(v.no_load->total()) + "\n";
  if (v.solid_poles)
    text += "  pole pieces as built " + watts(v.solid_poles->as_built) + "; of solid S235 about " +
            watts(v.solid_poles->solid_estimate) + ", at most " +
            watts(v.solid_poles->solid_bound) + " (skin depth " +
            mm_text(v.solid_poles->skin_depth, 1) + ")\n";
  return text;
}

std::string map(const Validation& v) {
  if (v.map.points.empty()) return {};
  Rows rows = {{"load \\ speed"}};
  for (const double speed : v.map.input_speeds) rows[0].push_back(rpm(speed));
  for (std::size_t i = 1; i < v.map.loads.size(); ++i) {
    rows.push_back({torque_text(v.map.loads[i])});
    for (const auto& point : v.map.points[i])
      rows.back().push_back(point ? percent_text(point->efficiency) : "slips");
  }
  return heading("Efficiency") + text_table(rows, 2, true);
}

std::string minutes(double seconds) {
  return seconds < 60 ? rounded_text(seconds, 0) + " s" : rounded_text(seconds / 60, 0) + " min";
}

// The network's inputs, which [[measured]] may replace.
std::string paths(const GearTemperatures& t) {
  std::string list;
  for (const HeatFlow& flow : t.flows)
    list += (list.empty() ? "heat's ways: " : "; ") + flow.name + " " +
            significant(flow.conductance, 2) + " W/K";
  return list.empty() ? list : wrapped(list, "  ", line_width);
}

std::string heat(const Validation& v) {
  const GearTemperatures& t = v.temperatures;
  const std::string bench_time =
      "after " + rounded_text(v.gear.input.service.use.bench_time / 60, 0) + " min";
  Rows rows = {{"", bench_time, "for ever"}};
  if (v.duty) rows[0].insert(rows[0].end(), {"coolest in the duty", "hottest"});
  for (std::size_t i = 0; i < t.names.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    rows.push_back({t.names[i], celsius_text(after_bench(v)[at]), celsius_text(t.steady[at])});
    if (v.duty)
      for (const Eigen::VectorXd* moment : {&v.duty->coolest, &v.duty->hottest})
        rows.back().push_back(celsius_text((*moment)[at]));
  }
  std::string text =
      heading("Temperatures (room " + celsius_text(v.gear.input.service.use.ambient) +
              "; films are known to ±30 %)") +
      text_table(rows, 2, true);
  if (v.highest_speed)
    text += v.highest_speed->reached
                ? "  at this load the " + std::string(name_of(v.drive.input)) + " may turn at " +
                      rpm(v.highest_speed->input_speed) + " for ever\n"
                : "  heat does not limit the speed below " +
                      rpm(4 * v.gear.input.running->input_speed) + "\n";
  const SlippingHeat& slip = v.slipping_heat;
  text += "  slipping with the input at speed it loses about " + watts(slip.loss) + ": " +
          (slip.limit ? slip.limit->limit.reason + " is passed after " + minutes(slip.limit->time)
                      : std::string("no limit is passed within a day")) +
          "\n";
  return text + paths(t);
}

std::string magnets(const Validation& v) {
  Rows rows = {{"", "at", "in use", "through a slip", "beyond the knee", "1 % is lost at"}};
  for (const MagnetHealth& m : v.magnets) {
    std::vector<std::string> row = {std::string(name_of(m.member)) + ", " + m.grade,
                                    celsius_text(m.temperature)};
    if (m.in_use && m.slipping) {
      row.push_back(percent_text(m.in_use->margin));
      row.push_back(percent_text(m.slipping->margin));
      row.push_back(percent_text(m.slipping->volume_lost));
    } else {
      row.insert(row.end(), {"", "", "knee not known"});
    }
    row.push_back(!m.safe           ? ""
                  : m.safe->none    ? "this already"
                  : m.safe->highest ? celsius_text(*m.safe->highest)
                  : m.safe->lowest  ? celsius_text(*m.safe->lowest) + " and colder"
                                    : "no temperature");
    rows.push_back(row);
  }
  return heading("Magnets: distance from the knee at the worst corner (below 0 % some is lost)") +
         text_table(rows, 2, true) + "  after one slip the gear slips at " +
         percent_text(v.torque_after_slip) + " of its torque\n";
}

std::string pulls(const Validation& v) {
  Rows rows = {{"", "mass", "pull", "shear", "of it by turning"}};
  for (const PartPull& p : v.pulls)
    rows.push_back({std::string("worst ") + p.part + " of the " + name_of(p.member),
                    significant(1e3 * p.mass, 3) + " g", newtons(p.pull_off), newtons(p.shear),
                    newtons(p.centrifugal)});
  std::string text = heading("What glue, pockets and bars must hold, each, through a slip") +
                     text_table(rows, 2, true);
  Rows sides = {{"", "on centre", "for each 0.1 mm off centre"}};
  for (const SidePull& p : v.side_pulls)
    sides.push_back({name_of(p.member), newtons(p.centred), newtons(1e-4 * p.negative_stiffness)});
  return text + heading("Side pull on bearings and carriers, which must be 3 to 5 times as stiff") +
         text_table(sides, 2, true);
}

std::string motion(const Validation& v) {
  if (!v.motion) return {};
  const MotionFigures& m = *v.motion;
  const std::string out = name_of(v.drive.output);
  Rows rows = {
      {"twist of the " + out + " at the load", rounded_text(to_deg(m.wind_up), 2) + "°"},
      {"stiffness at the " + out, significant(from_deg(m.stiffness), 3) + " N·m/°"},
      {"natural frequency, at no load", significant(m.frequency, 3) + " Hz"},
      {"load that may come on at once", torque_text(m.sudden_load)},
      {"locks in again, unloaded, below a slip of", rpm(m.lock_in_speed) + " of the " + out}};
  return heading("Motion, with inertias of " + significant(m.input_inertia, 3) + " and " +
                 significant(m.output_inertia, 3) + " kg·m² (input, output), without damping") +
         text_table(rows, 2, false);
}

std::string pull_in(const SlipInTime& slip, double speed, const char* input) {
  if (speed <= 0.0) return "at no speed";
  return (speed >= slip.highest ? "at " : "below ") + rpm(speed) + " of the " + input +
         (speed >= slip.highest ? " still" : "");
}

std::string range_text(const TorqueRange& range) {
  return "from " + significant(range.least, 3) + " to " + torque_text(range.most);
}

std::string slip(const Validation& v) {
  if (!v.slip) return {};
  const SlipInTime& s = *v.slip;
  const OverloadMotion& m = s.motion;
  const std::string out = name_of(v.drive.output), in = name_of(v.drive.input);
  Rows rows;
  rows.push_back({"the " + out + " standing, poles pass",
                  significant(s.standing_frequency, 3) + " times a second"});
  if (!m.slips) {
    rows.push_back({"this overload", "does not make it slip"});
  } else {
    if (m.ratchet_frequency)
      rows.push_back(
          {"in this overload", significant(*m.ratchet_frequency, 3) + " times a second"});
    rows.push_back({"torque on the " + out + " meanwhile", range_text(m.on_output)});
    if (m.mean_torque)
      rows.push_back({"of which is left, on average", torque_text(*m.mean_torque)});
    rows.push_back({"torque on the " + in + " meanwhile", range_text(m.on_input)});
    rows.push_back({"back at the load of " + torque_text(v.load),
                    m.locks_after && *m.locks_after < 1e-3 ? "locks in at once"
                    : m.locks_after ? "locks in after " + significant(*m.locks_after, 2) + " s"
                    : m.complete    ? "slips on (followed for " + significant(m.followed, 2) + " s)"
                                    : "not known: too many steps"});
  }
  rows.push_back(
      {"from rest under the load it locks in", pull_in(s, s.pull_in_loaded, in.c_str())});
  rows.push_back({"from rest without a load", pull_in(s, s.pull_in_unloaded, in.c_str())});
  const std::string title = "Slip: " + torque_text(s.asked.overload) +
                            (s.asked.brakes ? " of a brake" : " of a weight") + " on the " + out +
                            " for " + significant(m.duration, 2) + " s, the drive keeps its " +
                            (std::isinf(s.asked.input_inertia) ? "speed" : "torque") +
                            ", damping " + percent_text(s.damping, 2) + " of critical";
  return heading(title) + text_table(rows, 2, false);
}

std::string clearances(const Validation& v) {
  Rows rows = {{"", "drawn", "likely", "worst case", "most is taken by"}};
  for (const ClearanceBudget& gap : v.clearances) {
    const std::vector<GapLoss> ranked = gap.ranked();
    std::string most;
    for (std::size_t i = 0; i < std::min<std::size_t>(2, ranked.size()); ++i)
      most += (i > 0 ? ", " : "") + ranked[i].name + " " + mm_text(ranked[i].value);
    rows.push_back({gap.name, mm_text(gap.nominal), mm_text(gap.likely()),
                    gap.may_rub() ? "rubs" : mm_text(gap.worst_case()), most});
  }
  return heading("Clearance") + text_table(rows, 2, false);
}

std::string cautions(const Validation& v) {
  std::string text = heading("Cautions");
  for (const std::string& caution : v.cautions) text += wrapped(caution, "  - ", line_width);
  for (const std::string& remark : v.gear.remarks) text += wrapped(remark, "  - ", line_width);
  for (const char* always : validation_cautions) text += wrapped(always, "  - ", line_width);
  return text;
}

std::string assumed(const Validation& v) {
  std::string list;
  for (const Assumed& a : v.gear.input.service.assumed)
    list += (list.empty() ? "" : ", ") + a.key + " = " + a.value;
  list += "; and of the gear itself " + std::to_string(v.gear.input.assumed.size()) +
          " more that `lodegear sweep` lists";
  return heading("Assumed, because the case file does not say") + wrapped(list, "  ", line_width);
}

}  // namespace

std::string validation_text(const Validation& v) {
  const Gear& g = v.gear.input.gear;
  std::string text = v.gear.input.name + ": " + kind_of_machine(g) + " " + pole_text(g) + ", " +
                     mm_text(v.gear.stack_length, 1) + " long, " + mm_text(v.outer_diameter, 1) +
                     " across, " + significant(v.active_mass, 3) + " kg of magnets and steel\n\n";
  return text + verdict_text(v) + bench(v) + effects_text(v) + lengths(v) + losses(v) + map(v) +
         heat(v) + magnets(v) + pulls(v) + clearances(v) + motion(v) + slip(v) + assumed(v) +
         cautions(v);
}

int exit_code(const Validation& validation) {
  const Judgement* worst = deciding(validation);
  if (!worst || worst->judged == Judged::pass) return 0;
  return worst->judged == Judged::fail ? 1 : 5;
}

}  // namespace lodegear
