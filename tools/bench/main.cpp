// tools/bench/main.cpp — one measurement a process; tools/bench/run calls it for each.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <stdexcept>

#include "cases/text_table.h"
#include "materials/constants.h"
#include "tools/bench/gears.h"
#include "tools/bench/machine.h"
#include "tools/bench/reference.h"
#include "tools/bench/rows.h"
#include "tools/bench/table.h"

using namespace lodegear;
using namespace lodegear::bench;

namespace {

constexpr const char* usage =
    R"(usage: lodegear_bench [--quick] PATH ROW    measures a row, prints lines of CSV
       lodegear_bench [--quick] --list      "PATH ROW" of all there are
       lodegear_bench --header              names of the columns
       lodegear_bench --table FILE.csv      columns that line up; ratios
       lodegear_bench --machine             processor, versions
       lodegear_bench --try GEAR FINENESS K_INNER K_OUTER [POSITIONS]
                                            errors and times of a resolution
       lodegear_bench --write-references    the refined solutions anew (see references.json)
)";

std::vector<Row> all_rows() {
  std::vector<Row> all;
  for (const auto& some : {start_up_rows, position_rows, design_rows, growth_rows, ripple_rows})
    for (Row& row : some()) all.push_back(std::move(row));
  return all;
}

void list(bool quick) {
  for (const Row& row : all_rows())
    for (const NamedPath& path : paths()) {
      if (quick && !row.in_quick) continue;
      if (!row.for_every_path && path.name != paths().front().name) continue;
      std::cout << path.name << " " << row.name << "\n";
    }
}

NamedPath path_named(const std::string& name) {
  for (const NamedPath& path : paths())
    if (path.name == name) return path;
  throw std::invalid_argument("there is no path " + name);
}

void measure(const std::string& path, const std::string& name, bool quick) {
  for (const Row& row : all_rows())
    if (row.name == name) {
      for (const Record& record : row.measure({path_named(path), quick}))
        std::cout << csv_line(record) << std::endl;
      return;
    }
  throw std::invalid_argument("there is no row " + name);
}

/// For finding the coarsest resolution that keeps an accuracy.
void try_resolution(const std::vector<std::string>& words) {
  const Case c = bench_case(words.at(0));
  const Reference reference(words.at(0));
  const Resolution resolution = rung_with_orders(c.gear, std::stod(words.at(1)),
                                                 std::stoi(words.at(2)), std::stoi(words.at(3)));
  const int n = words.size() > 4 ? std::stoi(words[4]) : 24;
  for (const NamedPath& path : paths()) {
    const SetUp prepared = set_up(c, resolution, path.options);
    SolverState state;
    std::vector<PerMember> all;
    double worst = 0.0;
    const std::vector<Position> curve = slip_curve_positions(c, n);
    const Cost cost = cost_of([&] {
      for (const Position& p : curve) all.push_back(torques(prepared.solver->solve(p, state)));
    });
    for (std::size_t i = 0; i < all.size(); ++i)
      worst = std::max(worst, reference.error(all[i], 2 * pi * static_cast<double>(i) / n));
    std::cout << path.name << ": " << prepared.solver->n_unknowns() << " unknowns, slip torque "
              << significant(100 * reference.slip_error(peaks(curves_of(all))), 3)
              << " %, worst position " << significant(100 * worst, 3) << " %, between them "
              << significant(100 * reference.error(curves_of(all)), 3) << " %; mesh "
              << significant(prepared.meshes.cpu, 3) << " s, set-up "
              << significant(prepared.condensing.cpu, 3) << " s, position "
              << significant(cost.cpu / n, 3) << " s\n";
  }
}

int run(std::vector<std::string> words) {
  const bool quick = !words.empty() && words.front() == "--quick";
  if (quick) words.erase(words.begin());
  const std::string first = words.empty() ? std::string() : words.front();
  if (first == "--list")
    list(quick);
  else if (first == "--header")
    std::cout << csv_header() << "\n";
  else if (first == "--table" && words.size() == 2)
    std::cout << table_of(words[1]);
  else if (first == "--machine")
    std::cout << machine_text();
  else if (first == "--write-references")
    write_references(2);
  else if (first == "--try" && words.size() >= 5)
    try_resolution({words.begin() + 1, words.end()});
  else if (words.size() == 2)
    measure(words[0], words[1], quick);
  else
    throw std::invalid_argument(usage);
  return EXIT_SUCCESS;
}

// The threads that BLAS starts when it is loaded wait busily for a while, and CPU time would count
// them: a process that was started with them starts itself again without.
void leave_out_waiting_threads(char** argv) {
  if (getenv("OPENBLAS_NUM_THREADS")) return;
  setenv("OPENBLAS_NUM_THREADS", "1", 1);
  execv("/proc/self/exe", argv);
}

}  // namespace

int main(int argc, char** argv) try {
  leave_out_waiting_threads(argv);
  return run({argv + 1, argv + argc});
} catch (const std::exception& error) {
  std::cerr << error.what() << std::endl;
  return EXIT_FAILURE;
}
