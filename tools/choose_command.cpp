// tools/choose_command.cpp — `lodegear choose`: which pole counts?
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "case_options.h"
#include "cases/accuracy.h"
#include "cases/choosing/choose_text.h"
#include "cases/choosing/read_stock.h"
#include "cases/read_case.h"
#include "cases/staged_files.h"
#include "cases/write_error.h"
#include "commands.h"
#include "exit_codes.h"
#include "materials/words.h"

namespace lodegear {

namespace {

struct ChooseRequest {
  Wish wish;
  CaseOptions options;
  std::filesystem::path stock, csv, out;
  std::string tolerance, turning = "either", by, why, name;
  std::vector<std::string> held;
  int rows = 8, write = 0;
  bool force = false;
};

constexpr const char* help =
    R"(Which pole counts? Lists all that give the ratio and can be built in the envelope, for each member
that may be held, with a computed slip torque for each, magnet mass and cost, cogging, side pull and
number of magnets, the best first, with reasons; and writes a case file of any row to go on with.
Magnets are arcs made to measure, or blocks of a stock:

  [[block]]             # one entry for equal blocks
  width_mm = 20         # either of these two may lie along the axis
  length_mm = 10
  thickness_mm = 5      # magnetised this way
  grade = "N42"
  price = 0.80          # of one; all blocks have one or none
  count = 200           # how many there are; left out: enough

A ratio of 6.2 within 3 % for 60 N·m of slip torque; 10 to one the opposite way; 4.75 without side
pull; and the second row of it as a case file:
  lodegear choose --ratio 6.2 --tolerance 3% --torque 60 --diameter 120 --length 40
  lodegear choose --ratio 10 --direction reversed --diameter 120 --length 40
  lodegear choose --ratio 4.75 --balanced --diameter 120 --length 40 --csv rows.csv
  lodegear choose --ratio 4.75 --balanced --diameter 120 --length 40 --write 2 --out my_gear.toml

Rows are ordered by torque per cost of magnets where prices are known, else per kg of them where a
torque is wished, else per volume; --by magnets, cost, torque (per volume), ratio (nearness) or cogging
(least) asks for another order. Rows that do not hold the wished torque or may cog strongly come later;
side pull, cogging and every magnet to set count a little against a row, as it then says.

Exit codes: 0 good, 1 no row holds the wished torque, 2 the input is wrong or nothing fits, 4 cannot
write, 130 stopped by Ctrl-C.)";

template <class Value>
Value word(const std::string& text, const char* option,
           std::initializer_list<std::pair<const char*, Value>> choices) {
  std::vector<std::string> words;
  for (const auto& [name, value] : choices) {
    if (text == name) return value;
    words.emplace_back(name);
  }
  throw InputError(
      {{{}, option, "is " + in_quotes(text) + "; it must be " + listed(words, " or ") + "."}});
}

/// The words of the command line as a wish.
Wish wish_of(const ChooseRequest& request, const Catalogue& catalogue) {
  Wish wish = request.wish;
  wish.turning = word<Turning>(
      request.turning, "--direction",
      {{"same", Turning::same}, {"reversed", Turning::reversed}, {"either", Turning::either}});
  if (!request.by.empty())
    wish.by = word<Order>(request.by, "--by",
                          {{"magnets", Order::magnets},
                           {"cost", Order::cost},
                           {"torque", Order::torque},
                           {"ratio", Order::ratio},
                           {"cogging", Order::cogging}});
  for (const std::string& held : request.held)
    wish.held.push_back(word<Member>(
        held, "--held",
        {{"modulator", Member::modulator}, {"ring", Member::ring}, {"sun", Member::sun}}));
  if (!request.tolerance.empty())
    wish.tolerance = part_from_text(request.tolerance, "--tolerance", 0.0, 50.0, "of the ratio");
  if (!request.stock.empty()) wish.stock = read_stock(request.stock, catalogue);
  return wish;
}

void check_files(const ChooseRequest& request) {
  if ((request.write > 0) == request.out.empty())
    throw InputError(request.write > 0 ? "--write needs --out FILE for the case."
                                       : "--out needs --write ROW: which row?");
  if (!request.name.empty() && request.write == 0)
    throw InputError("--name is what the case of --write ROW is called.");
  if (!request.out.empty() && std::filesystem::exists(request.out))
    throw WriteError(request.out, "exists and is left as it is. Choose another name.");
  if (!request.csv.empty()) check_new_file(request.csv, request.force);
}

std::string case_of_row(const ChooseRequest& request, const Choice& choice, const Wish& wish) {
  const auto n = static_cast<std::size_t>(request.write);
  if (n > choice.rows.size())
    throw InputError({{{},
                       "--write",
                       "is " + std::to_string(n) + "; there are " +
                           std::to_string(choice.rows.size()) + " rows."}});
  CaseDraft draft = draft_of(choice.rows[n - 1], wish);
  if (!request.name.empty()) draft.name = request.name;
  return case_text(draft);
}

int run(const ChooseRequest& request) {
  check_files(request);
  const Catalogue catalogue = catalogue_with(request.options.materials);
  const Wish wish = wish_of(request, catalogue);
  check_wish(wish, catalogue);
  std::optional<PoleCounts> asked;
  if (!request.why.empty()) asked = counts_from_text(request.why, "--why");

  Choice choice;
  with_progress(request.options,
                [&](const RunOptions& options) { choice = choose(wish, catalogue, options); });
  const std::string text = request.write > 0 ? case_of_row(request, choice, wish) : "";
  if (!request.csv.empty()) write_whole_file(request.csv, choice_csv(choice, wish));
  if (!text.empty()) write_whole_file(request.out, text);

  std::cout << choice_text(choice, wish, static_cast<std::size_t>(request.rows));
  if (asked) std::cout << "\nAsked for\n" << standing(choice, *asked, wish);
  if (!request.csv.empty()) std::cout << "\nAll rows written to " << request.csv.string() << ".\n";
  if (!text.empty())
    std::cout << "\nRow " << request.write << " written to " << request.out.string()
              << ". Next: lodegear validate " << request.out.string() << "\n";
  return wish.torque && !choice.rows.front().holds_torque ? exit_requirement_fails : exit_good;
}

void add_wish_options(CLI::App& command, ChooseRequest& request) {
  Wish& w = request.wish;
  const auto number = [&](const char* name, auto& value, const char* what, const char* unit) {
    return command.add_option(name, value, what)->type_name(unit);
  };
  number("--ratio", w.ratio, "Turns of the faster shaft for one of the slower", "R")->required();
  number("--tolerance", request.tolerance, "How far the ratio may be off: 2%", "PER CENT");
  number("--direction", request.turning, "same, reversed or either", "WORD")->capture_default_str();
  number("--held", request.held, "modulator, ring, sun; several may be given. Else any", "MEMBER");
  number("--diameter", w.diameter_mm, "Outer diameter of the whole", "MM")->required();
  number("--length", w.length_mm, "Length of the stack; with blocks at most", "MM")->required();
  number("--torque", w.torque, "Slip torque wanted on the output, on the bench", "NM");
  number("--gap", w.gap_mm, "Air gap on both sides of the pole pieces", "MM")
      ->capture_default_str();
  number("--bore", w.bore_mm, "Bore of the hub; 0 = solid", "MM")->capture_default_str();
  number("--speed", w.speed_rpm, "Of the faster shaft, for frequencies", "RPM")
      ->capture_default_str();
  command.add_flag("--balanced", w.balanced, "Only gears without side pull");
  number("--narrowest-piece", w.narrowest_piece_mm, "Narrowest pole piece", "MM")
      ->capture_default_str();
  number("--narrowest-magnet", w.narrowest_magnet_mm, "Narrowest arc", "MM")->capture_default_str();
  number("--grade", w.grade, "Magnet grade of arcs", "NAME")->capture_default_str();
  number("--magnet-temperature", w.magnet_temperature, "Of both rotors", "C")
      ->capture_default_str();
  number("--sheet", w.sheet, "Sheet of the pole pieces", "NAME")->capture_default_str();
  number("--steel", w.steel, "Steel of hub and back iron", "NAME")->capture_default_str();
  number("--stock", request.stock, "Blocks that can be had, instead of arcs", ".toml");
}

void add_output_options(CLI::App& command, ChooseRequest& request) {
  const auto option = [&](const char* name, auto& value, const char* what, const char* unit) {
    return command.add_option(name, value, what)->type_name(unit);
  };
  option("--by", request.by, "Order: magnets, cost, torque, ratio or cogging; see below", "WORD");
  option("--rows", request.rows, "Rows on the screen", "N")
      ->check(between(1, 1000))
      ->capture_default_str();
  option("--why", request.why, "Tell where this gear stands or why it was left out", "P/N/P");
  option("--csv", request.csv, "Write all rows as a table", "FILE");
  command.add_flag("--force", request.force, "Replace that table if there is one");
  option("--write", request.write, "Write this row as a case file; needs --out", "ROW")
      ->check(between(1, 100000));
  option("-o,--out", request.out, "The case file, never overwritten", "FILE");
  option("--name", request.name, "What the case is called in its results", "TEXT");
  add_run_options(command, request.options,
                  "Gears computed at the same time; else one a processor");
}

}  // namespace

Command add_choose(CLI::App& app) {
  const auto request = std::make_shared<ChooseRequest>();
  CLI::App* choose = app.add_subcommand("choose", "Which pole counts? Computed, ranked, explained");
  choose->footer(help);
  add_wish_options(*choose, *request);
  add_output_options(*choose, *request);
  return [request] { return run(*request); };
}

}  // namespace lodegear
