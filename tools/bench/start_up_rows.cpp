// tools/bench/start_up_rows.cpp — what it costs to start the program and do nothing.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <array>
#include <stdexcept>

#include "tools/bench/rows.h"

extern char** environ;  // NOLINT: POSIX wants it declared here

namespace lodegear::bench {

namespace {

double seconds(const timeval& t) {
  return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
}

/// CPU seconds of `lodegear --version`.
double one_start() {
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  std::string program = LODEGEAR_PROGRAM, option = "--version";
  std::array<char*, 3> arguments = {program.data(), option.data(), nullptr};
  pid_t child = 0;
  const int failed =
      posix_spawn(&child, program.c_str(), &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  int status = 0;
  rusage usage{};
  if (failed || wait4(child, &status, 0, &usage) != child || status != 0)
    throw std::runtime_error("cannot run " + program);
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

std::vector<Record> start_up_records(const Setting& setting) {
  std::vector<double> cpu, wall;
  for (int i = 0; i < (setting.quick ? 5 : 21); ++i)
    wall.push_back(cost_of([&] { cpu.push_back(one_start()); }).wall);
  Record record;
  record.row = "start of the program";
  record.values = cpu;
  record.unit = "CPU s";
  record.with_peak = false;  // that of a process which is over
  record.note = "lodegear --version; in no other row";
  Record second = record;
  second.values = wall;
  second.unit = "wall s";
  return {record, second};
}

}  // namespace

std::vector<Row> start_up_rows() { return {{"start-up", true, false, start_up_records}}; }

}  // namespace lodegear::bench
