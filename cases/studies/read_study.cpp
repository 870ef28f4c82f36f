// cases/studies/read_study.cpp — the keys of a study file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/read_study.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <limits>

#include "cases/accuracy.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/varied_values.h"
#include "cases/units.h"
#include "materials/nearest_name.h"
#include "materials/words.h"
#include "mesh/ladder.h"

namespace lodegear {

namespace {

constexpr int most_designs = 1000000;
constexpr int most_of_a_search = 100000;  // each is a file

// ---- what varies --------------------------------------------------------------------------------

bool scalar(const TomlValue& value) {
  return value.kind == TomlKind::boolean || value.kind == TomlKind::integer ||
         (value.kind == TomlKind::real && std::isfinite(value.real)) ||
         value.kind == TomlKind::text;
}

void read_values(TableReader& table, Variation& into) {
  const TomlValue* given = table.value("values");
  if (given->kind != TomlKind::array || given->items.empty() ||
      !std::all_of(given->items.begin(), given->items.end(), scalar)) {
    table.complain("values", "is " + described(*given) +
                                 "; a list of numbers, texts or true and false is wanted.");
    return;
  }
  into.values = given->items;
}

std::vector<std::string> read_texts(TableReader& table, const char* key) {
  std::vector<std::string> all;
  const TomlValue* given = table.value(key);
  if (!given) return all;
  const auto is_text = [](const TomlValue& v) { return v.kind == TomlKind::text; };
  if (given->kind != TomlKind::array ||
      !std::all_of(given->items.begin(), given->items.end(), is_text)) {
    table.complain(key, "is " + described(*given) + "; a list of texts is wanted.");
    return all;
  }
  for (const TomlValue& item : given->items) all.push_back(item.text);
  return all;
}

void read_from_to(TableReader& table, Variation& into) {
  into.spread = Spread::uniform;
  into.from = table.number("from");
  into.to = table.number("to");
  if (into.to <= into.from)
    table.complain("to", "is " + number_text(into.to) + ", not above from = " +
                             number_text(into.from) + "; give the smaller number as from.");
  into.step = table.optional_number("step", Range::positive());
  if (into.step && (into.to - into.from) / *into.step > most_designs)
    table.complain("step", "is so small that there are more than " + std::to_string(most_designs) +
                               " values.");
}

void read_about(TableReader& table, const std::string& way, Variation& into) {
  const double spread = table.number(way, Range::positive());
  const auto about = table.optional_number("about");
  into.relative = !about;
  into.mean = about.value_or(0.0);
  into.spread = way == "plus_minus" ? Spread::uniform : Spread::normal;
  into.deviation = spread;
  into.from = into.mean - spread;
  into.to = into.mean + spread;
}

void refuse_here(TableReader& table, const char* key, bool fits, const std::string& needs) {
  if (!fits && table.value(key)) table.complain(key, "belongs to " + needs + "; leave it out.");
}

Variation read_variation(TableReader& table, Sampling how) {
  Variation v;
  v.key = table.text("key");
  const std::string way =
      table.exactly_one_of({"values", "from", "plus_minus", "standard_deviation"});
  if (way == "values") read_values(table, v);
  if (way == "from") read_from_to(table, v);
  if (way == "plus_minus" || way == "standard_deviation") read_about(table, way, v);
  refuse_here(table, "to", way == "from", "from");
  refuse_here(table, "step", way == "from", "from and to");
  refuse_here(table, "about", way == "plus_minus" || way == "standard_deviation",
              "plus_minus and standard_deviation");
  if (!way.empty() && how == Sampling::list && way != "values")
    table.complain(way, "has no meaning with how = \"list\", which takes values one by one.");
  if (how == Sampling::grid && (v.spread == Spread::normal || (way == "plus_minus")))
    table.complain(way, "has no meaning with how = \"grid\"; give values, or from, to and step.");
  if (how == Sampling::grid && way == "from" && !v.step)
    table.complain("from", "needs a step with how = \"grid\".");
  if (is_search(how) && way == "standard_deviation")
    table.complain(way, "has no meaning in a search; give values, or from and to.");
  v.moves_along = read_texts(table, "moves_along");
  table.finish();
  return v;
}

void check_list(TableReader& root, const Study& study) {
  for (const Variation& v : study.vary)
    if (v.values.size() != study.vary.front().values.size())
      root.complain("how", "is \"list\", but " + v.key + " has " + std::to_string(v.values.size()) +
                               " values and " + study.vary.front().key + " has " +
                               std::to_string(study.vary.front().values.size()) +
                               "; a list needs as many of each.");
}

double grid_size(const Study& study) {
  double n = 1.0;
  for (const Variation& v : study.vary) n *= static_cast<double>(n_values(v));
  return n;
}

void read_designs(TableReader& root, Study& study) {
  if (study.how != Sampling::list && study.how != Sampling::grid) {
    study.designs =
        root.integer("designs", 1, is_search(study.how) ? most_of_a_search : most_designs);
    return;
  }
  if (root.value("designs"))
    root.complain("designs",
                  "is told by the values with how = \"list\" and \"grid\"; leave it "
                  "out.");
  if (study.vary.empty()) return;
  if (study.how == Sampling::list) {
    check_list(root, study);
    study.designs = static_cast<int>(study.vary.front().values.size());
  } else if (grid_size(study) > most_designs) {
    root.complain("how", "is \"grid\", which gives more than " + std::to_string(most_designs) +
                             " designs; take fewer values, or \"sobol\".");
  } else {
    study.designs = static_cast<int>(grid_size(study));
  }
}

void read_vary(TableReader& root, Study& study) {
  for (TableReader& table : root.tables("vary")) {
    Variation v = read_variation(table, study.how);
    const auto same = [&v](const Variation& other) { return other.key == v.key; };
    if (std::any_of(study.vary.begin(), study.vary.end(), same))
      table.complain("key", "is " + in_quotes(v.key) + ", which is varied already.");
    study.vary.push_back(std::move(v));
  }
}

// ---- magnets by lot -----------------------------------------------------------------------------

MagnetLot read_lot(TableReader& table) {
  const Range percent = Range::between(0.0, 100.0);
  MagnetLot lot;
  lot.member = table.choice<Member>("member", {{"sun", Member::sun}, {"ring", Member::ring}});
  lot.strength_deviation =
      table.optional_number("strength_deviation_percent", Range::between(0.0, 50.0)).value_or(0.0) /
      100;
  lot.turned_deviation = from_deg(
      table.optional_number("turned_deviation_deg", Range::between(0.0, 90.0)).value_or(0.0));
  lot.weak_chance = table.optional_number("weak_chance_percent", percent).value_or(0.0) / 100;
  const auto weak = table.optional_number("weak_strength_percent", percent);
  lot.weak_strength = weak.value_or(80.0) / 100;
  lot.reversed_chance =
      table.optional_number("reversed_chance_percent", percent).value_or(0.0) / 100;
  if (lot.strength_deviation == 0.0 && lot.turned_deviation == 0.0 && lot.weak_chance == 0.0 &&
      lot.reversed_chance == 0.0)
    table.complain("", "does not say how magnets differ; give a deviation or a chance.");
  table.finish();
  return lot;
}

void read_lots(TableReader& root, Study& study) {
  for (TableReader& table : root.tables("magnets")) {
    const MagnetLot lot = read_lot(table);
    const auto same = [&lot](const MagnetLot& other) { return other.member == lot.member; };
    if (std::any_of(study.lots.begin(), study.lots.end(), same))
      table.complain("member", "stands in two tables; say all about it in one.");
    study.lots.push_back(lot);
  }
  if (!study.lots.empty() && (study.how == Sampling::list || study.how == Sampling::grid))
    root.complain("magnets",
                  "differ by lot, for which a list or grid has too few designs; take how = "
                  "\"random\", \"latin hypercube\" or \"sobol\".");
  if (!study.lots.empty() && is_search(study.how))
    root.complain("magnets",
                  "differ by lot, so that no design is better than another by itself; "
                  "search without them, then study the best with them.");
}

// ---- figures ------------------------------------------------------------------------------------

void check_figure(TableReader& table, const char* key, const std::string& figure) {
  if (figure.empty() || design_figure(figure)) return;
  const auto near = nearest_names(figure, design_figure_names(), 1);
  table.complain(key, in_quotes(figure) + " is no figure." +
                          (near.empty() ? " They are listed in cases/studies/design_figures.h."
                                        : " Did you mean " + in_quotes(near.front()) + "?"));
}

void read_figures(TableReader& root, Study& study) {
  study.figures = read_texts(root, "figures");
  for (const std::string& figure : study.figures) check_figure(root, "figures", figure);
  for (std::size_t i = 0; i < study.figures.size(); ++i)
    if (std::find(study.figures.begin(), study.figures.begin() + static_cast<long>(i),
                  study.figures[i]) != study.figures.begin() + static_cast<long>(i))
      root.complain("figures", "names " + in_quotes(study.figures[i]) + " twice.");
}

Limit read_limit(TableReader& table) {
  Limit limit;
  limit.figure = table.text("figure");
  check_figure(table, "figure", limit.figure);
  limit.at_least = table.optional_number("at_least");
  limit.at_most = table.optional_number("at_most");
  if (!limit.at_least && !limit.at_most)
    table.complain("", "has no limit; give at_least, at_most or both.");
  table.finish();
  return limit;
}

/// A figure, or a list of them.
void read_goals(TableReader& table, const char* way, std::vector<Goal>& into) {
  const TomlValue* given = table.value(way);
  if (!given) return;
  const auto names = given->kind == TomlKind::text ? std::vector<std::string>{given->text}
                                                   : read_texts(table, way);
  for (const std::string& name : names) {
    check_figure(table, way, name);
    const auto same = [&name](const Goal& goal) { return goal.figure == name; };
    if (std::any_of(into.begin(), into.end(), same))
      table.complain(way, "names " + in_quotes(name) + ", which is a goal already.");
    into.push_back({name, std::string(way) == "maximise"});
  }
}

void read_trade_off(TableReader& table, Best& best) {
  std::vector<Goal> goals;
  read_goals(table, "maximise", goals);
  read_goals(table, "minimise", goals);
  if (goals.size() < 2 || goals.size() > 3) {
    table.complain("", "tells " + std::to_string(goals.size()) +
                           (goals.size() == 1 ? " goal" : " goals") +
                           "; a trade-off is between two or three figures, behind maximise and "
                           "minimise.");
    return;
  }
  best.figure = goals.front().figure;
  best.largest = goals.front().largest;
  best.others.assign(goals.begin() + 1, goals.end());
}

void read_one_goal(TableReader& table, Best& best) {
  const std::string way = table.exactly_one_of({"maximise", "minimise"});
  best.largest = way != "minimise";
  if (way.empty()) return;
  best.figure = table.text(way);
  check_figure(table, way.c_str(), best.figure);
}

void read_best(TableReader& root, Study& study) {
  auto table = root.optional_table("best");
  if (!table) {
    if (is_search(study.how)) root.complain("best", "is missing; a search needs to know its goal.");
    return;
  }
  Best best;
  if (study.how == Sampling::trade_off)
    read_trade_off(*table, best);
  else
    read_one_goal(*table, best);
  for (TableReader& limit : table->tables("limit")) best.limits.push_back(read_limit(limit));
  table->finish();
  study.best = std::move(best);
}

// ---- the whole ----------------------------------------------------------------------------------

void read_fineness(TableReader& root, Study& study) {
  const auto accuracy = root.optional_number(
      "accuracy_percent", Range::between(100 * finest_accuracy, 100 * coarsest_accuracy));
  const auto level = root.optional_number("level", Range::between(0.0, highest_level));
  if (accuracy && level)
    root.complain("level",
                  "cannot stand beside accuracy_percent: either the accuracy decides "
                  "about the mesh or you do.");
  if (accuracy) study.accuracy = *accuracy / 100;
  study.level = level.value_or(study.level);
}

std::uint32_t read_seed(TableReader& root) {
  const double seed = root.number_or("seed", 1, Range::between(0.0, 4294967295.0));
  if (seed != std::floor(seed)) root.complain("seed", "must be a whole number.");
  return std::isfinite(seed) ? static_cast<std::uint32_t>(seed) : 1;
}

/// Where its table stands, for what is found out later.
void note_places(const TomlDocument& document, Study& study) {
  const auto note = [&](const char* key, auto& list) {
    const TomlEntry* entry = document.root.entry(key);
    if (!entry) return;
    for (std::size_t i = 0; i < std::min(list.size(), entry->value.items.size()); ++i)
      list[i].where = place(document.name, entry->value.items[i].at);
  };
  note("vary", study.vary);
  note("magnets", study.lots);
}

Study study_of(const TomlDocument& document) {
  if (document.root.entry("gear") && !document.root.entry("case"))
    throw InputError({{document.name,
                       {},
                       "is a case file; a study file names one by case = \"…\" and says what "
                       "varies."}});
  ReadLog log;
  Study study;
  study.file = document.name;
  TableReader root(document, log);
  study.name = root.text_or("name", std::filesystem::path(document.name).stem().string());
  study.base_path = root.text("case");
  study.how = root.choice_or<Sampling>("how", "sobol",
                                       {{"list", Sampling::list},
                                        {"grid", Sampling::grid},
                                        {"sobol", Sampling::sobol},
                                        {"latin hypercube", Sampling::latin_hypercube},
                                        {"random", Sampling::random},
                                        {"optimise", Sampling::optimise},
                                        {"trade-off", Sampling::trade_off}});
  study.seed = read_seed(root);
  read_vary(root, study);
  read_lots(root, study);
  read_designs(root, study);
  read_figures(root, study);
  read_fineness(root, study);
  refuse_here(root, "designs_per_block", !is_search(study.how),
              "studies whose designs are known beforehand; a search keeps each by itself");
  study.designs_per_block = root.integer_or("designs_per_block", 16, 1, 1000);
  read_best(root, study);
  if (study.vary.empty() && study.lots.empty() && log.complaints.empty())
    root.complain("", "nothing varies; give at least one [[vary]] or [[magnets]].");
  root.finish();
  log.throw_if_wrong();
  note_places(document, study);
  return study;
}

}  // namespace

Study read_study(const std::filesystem::path& path) {
  Study study = study_of(read_toml_file(path));
  std::ifstream file(path, std::ios::binary);
  study.source_text.assign(std::istreambuf_iterator<char>(file), {});
  return study;
}

Study read_study_text(std::string_view text, const std::string& name) {
  Study study = study_of(toml_document(text, name));
  study.source_text = text;
  return study;
}

}  // namespace lodegear
