// cases/read_tasks.cpp — [slip], [running], [mesh] and [output].
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/read_tasks.h"

#include <optional>

#include "cases/accuracy.h"
#include "cases/table_or_nothing.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

bool has_all(const Gear& gear) { return gear.sun && gear.modulator && gear.ring; }

bool is_coupling(const Gear& gear) {
  return gear.sun && gear.ring && !gear.modulator && gear.sun->pole_pairs == gear.ring->pole_pairs;
}

bool has(const Gear& gear, Member member) {
  return member == Member::sun         ? gear.sun.has_value()
         : member == Member::modulator ? gear.modulator.has_value()
                                       : gear.ring.has_value();
}

Member read_member(TableReader& table, const char* key, Member if_missing, const Gear& gear) {
  const Member member = table.choice_or<Member>(
      key, name_of(if_missing),
      {{"sun", Member::sun}, {"modulator", Member::modulator}, {"ring", Member::ring}});
  if (table.has(key) && !has(gear, member))
    table.complain(key, "is \"" + std::string(name_of(member)) + "\", but there is no table [" +
                            name_of(member) + "].");
  return member;
}

SlipTask read_slip(TableReader& table, const Gear& gear) {
  SlipTask task;
  const Member first = gear.sun ? Member::sun : gear.modulator ? Member::modulator : Member::ring;
  task.turned = read_member(table, "turned", first, gear);
  if (const auto given = table.optional_integer("positions_per_period", 8, 100000))
    task.positions_per_period = *given;
  task.last_load_angle =
      from_deg(table.number_or("last_load_angle_deg", 360.0, Range::between(90.0, 3600.0)));
  return task;
}

std::vector<double> read_load_angles(TableReader& table) {
  std::vector<double> angles{0.0, from_deg(45.0)};
  if (const auto given = table.optional_numbers("load_angles_deg", Range::between(-360.0, 360.0))) {
    angles.clear();
    for (const double degrees : *given) angles.push_back(from_deg(degrees));
    if (angles.size() > 1000)
      table.complain("load_angles_deg",
                     "has " + std::to_string(angles.size()) +
                         " angles; at most 1000 running curves can be asked for.");
  } else {
    table.assume("load_angles_deg", "[0, 45]");
  }
  return angles;
}

bool has_odd_magnets(const Gear& gear) {
  return (gear.sun && !gear.sun->odd_magnets.empty()) ||
         (gear.ring && !gear.ring->odd_magnets.empty());
}

RunningTask read_running(TableReader& table, const Gear& gear) {
  RunningTask task;
  task.held = read_member(table, "held", Member::ring, gear);
  task.input =
      read_member(table, "input", task.held == Member::sun ? Member::modulator : Member::sun, gear);
  if (task.input == task.held)
    table.complain("input", "is \"" + std::string(name_of(task.input)) +
                                "\", the member that is held; it must be one of the other two.");
  task.input_speed =
      from_rpm(table.number_or("input_speed_rpm", 1000.0, Range::between(-1e6, 1e6)));
  task.load_angles = read_load_angles(table);
  if (const auto given = table.optional_integer("positions_per_ripple", 4, 100000))
    task.positions_per_ripple = *given;
  task.full_cycle = table.flag_or("full_cycle", has_odd_magnets(gear));
  return task;
}

void read_mesh(TableReader& table, Resolution& resolution, Accuracy& accuracy) {
  const auto asked = table.optional_number(
      "accuracy_percent", Range::between(100 * finest_accuracy, 100 * coarsest_accuracy));
  const bool by_hand =
      table.has("fineness") || table.has("orders_inner_gap") || table.has("orders_outer_gap");
  if (asked && by_hand)
    table.complain("accuracy_percent",
                   "cannot stand beside fineness and orders: either the accuracy decides about "
                   "the mesh or you do.");
  if (asked) accuracy = {*asked / 100, true};
  if (!asked && !by_hand) {
    accuracy.part = usual_accuracy;
    table.assume("accuracy_percent", number_text(100 * usual_accuracy));
  }
  if (!by_hand) {
    for (const char* key : {"fineness", "orders_inner_gap", "orders_outer_gap"})
      table.optional_number(key);
    return;
  }
  resolution.fineness = table.number_or("fineness", 1.0, Range::between(0.25, 8.0));
  resolution.orders_inner_gap = table.integer_or("orders_inner_gap", 0, 0, 2000);
  resolution.orders_outer_gap = table.integer_or("orders_outer_gap", 0, 0, 2000);
}

void read_output(TableReader& table, OutputTask& output) {
  output.keep_fields =
      table.choice_or<KeptFields>("keep_fields", "first position",
                                  {{"none", KeptFields::none},
                                   {"first position", KeptFields::first_position},
                                   {"every position", KeptFields::every_position}});
}

/// Reads the task's keys and keeps the task, and the list of its defaults, only if it is wanted.
template <class Task, class Read>
std::optional<Task> read_if_wanted(TableReader& table, ReadLog& log, bool possible,
                                   const char* needs, Read read) {
  const bool wanted = table.flag_or("compute", possible);
  if (wanted && !possible) table.complain("compute", needs);
  const std::size_t n_assumed = log.assumed.size();
  std::optional<Task> task = read(table);
  table.finish();
  if (wanted) return task;
  log.assumed.resize(n_assumed);
  return std::nullopt;
}

}  // namespace

void read_tasks(TableReader& root, ReadLog& log, Case& into) {
  const Gear& gear = into.gear;
  TableOrNothing slip(root, "slip", log), running(root, "running", log);
  TableOrNothing mesh(root, "mesh", log), output(root, "output", log);
  into.slip = read_if_wanted<SlipTask>(
      slip.reader(), log, has_all(gear) || is_coupling(gear),
      "is true, but slip needs [sun], [modulator] and [ring], or a sun and a ring of equal pole "
      "pairs.",
      [&](TableReader& table) { return read_slip(table, gear); });
  into.running = read_if_wanted<RunningTask>(
      running.reader(), log, has_all(gear),
      "is true, but running in step needs all of [sun], [modulator] and [ring].",
      [&](TableReader& table) { return read_running(table, gear); });
  read_mesh(mesh.reader(), into.resolution, into.accuracy);
  if (into.accuracy.asked && !into.slip)
    mesh.reader().complain("accuracy_percent",
                           "needs a slip curve, by which the error is judged; this case has none.");
  mesh.reader().finish();
  read_output(output.reader(), into.output);
  output.reader().finish();
}

}  // namespace lodegear
