// cases/studies/study_plan.cpp — every design of a study, and the blocks they are worked off in.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/study_plan.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "cases/csv_files.h"
#include "cases/read_case.h"
#include "cases/sha256.h"
#include "cases/studies/changed_case.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/magnet_lots.h"
#include "cases/studies/varied_values.h"
#include "cases/versions.h"
#include "materials/words.h"
#include "materials/write_toml.h"
#include "mesh/ladder.h"
#include "mesh/magnet_patterns.h"

namespace lodegear {

namespace {

/// Raised when the same input would be worked out in another way.
constexpr const char* block_kind = "lodegear study block 1";

std::string vary_name(std::size_t i, const char* key) { return "vary" + index_text(i) + "." + key; }

std::string cell_text(const TomlValue& value) {
  if (value.kind == TomlKind::text) return value.text;
  return is_number(value) ? cell(number_of(value)) : toml_value_text(value);
}

std::optional<double> number_in(const std::string& text) {
  double x = 0.0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), x);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return x;
}

UnitPoints points_of(const Study& study) {
  const int n = study.designs, d = static_cast<int>(study.vary.size());
  switch (study.how) {
    case Sampling::sobol:
      return sobol_points(n, d, study.seed);
    case Sampling::latin_hypercube:
      return latin_hypercube(n, d, study.seed);
    case Sampling::random:
      return random_points(n, d, study.seed);
    case Sampling::list:
    case Sampling::grid:
    case Sampling::optimise:
    case Sampling::trade_off:
      break;
  }
  return {};
}

}  // namespace

// ---- the study and its base case ----------------------------------------------------------------

StudyPlan::StudyPlan(Study study, const std::string& base_text, const std::string& base_name,
                     const Catalogue& catalogue)
    : study_(std::move(study)),
      base_text_(base_text),
      base_(toml_document(base_text, base_name)),
      catalogue_(catalogue),
      materials_hash_(sha256(catalogue.contents())) {
  assumed_ = read_case_text(base_text, base_name, catalogue).assumed;
  ReadLog log;
  for (std::size_t i = 0; i < study_.vary.size(); ++i) complain_about_key(study_.vary[i], i, log);
  fill_in_base_numbers(log);
  check_lots(log);
  choose_figures(log);
  log.throw_if_wrong();
  for (const Variation& v : study_.vary) columns_.push_back(v.key);
  for (const MagnetLot& lot : study_.lots)
    for (const std::string& column : lot_columns(lot)) columns_.push_back(column);
  points_ = points_of(study_);
}

/// A key that the base case does not have may be a slip of the pen; then every design would fail.
void StudyPlan::complain_about_key(const Variation& v, std::size_t i, ReadLog& log) {
  const auto complain = [&](const char* key, const std::string& text) {
    log.complaints.push_back({v.where, vary_name(i, key), in_quotes(v.key) + " " + text});
  };
  TomlDocument changed = base_;
  const TomlValue* there = value_of_key(base_.root, v.key);
  const TomlValue sample = v.spread == Spread::listed ? v.values.front() : number_value(v.from);
  if (const std::string wrong = set_key(changed.root, v.key, sample); !wrong.empty())
    return complain("key", wrong);
  if (there && (there->kind == TomlKind::table || there->kind == TomlKind::array))
    return complain("key", "is " + described(*there) +
                               " in the base case; a key with a single value is wanted.");
  if (!there && !v.relative) try {
      read_case_text(toml_text(changed.root), study_.file, catalogue_);
    } catch (const InputError& error) {
      for (const Complaint& c : error.complaints())
        if (c.key == v.key || v.key.starts_with(c.key + ".")) return complain("key", c.text);
    }
  check_moves(v, vary_name(i, "moves_along"), log);
}

void StudyPlan::check_moves(const Variation& v, const std::string& name, ReadLog& log) const {
  if (v.moves_along.empty()) return;
  const auto complain = [&](const std::string& text) {
    log.complaints.push_back({v.where, name, text});
  };
  const TomlValue* base = value_of_key(base_.root, v.key);
  if (!base || !is_number(*base))
    return complain("needs the number of " + v.key + " in the base case, from which it is moved.");
  if (v.spread == Spread::listed && !std::all_of(v.values.begin(), v.values.end(), is_number))
    return complain("needs numbers as values.");
  for (const std::string& key : v.moves_along) {
    const TomlValue* value = value_of_key(base_.root, key);
    if (!value || !is_number(*value))
      complain(in_quotes(key) + " is no number in the base case, which could be moved.");
    for (const Variation& other : study_.vary)
      if (other.key == key) complain(in_quotes(key) + " is varied on its own account.");
  }
}

/// What stands from the base case's number: the file's, or the default it takes.
void StudyPlan::fill_in_base_numbers(ReadLog& log) {
  for (std::size_t i = 0; i < study_.vary.size(); ++i) {
    Variation& v = study_.vary[i];
    if (!v.relative) continue;
    const TomlValue* there = value_of_key(base_.root, v.key);
    std::optional<double> base;
    if (there && is_number(*there)) base = number_of(*there);
    for (const Assumed& a : assumed_)
      if (!there && a.key == v.key) base = number_in(a.value);
    if (!base) {
      log.complaints.push_back({v.where, vary_name(i, "about"),
                                "is missing; the base case has no number for " + v.key +
                                    " about which it could spread."});
      continue;
    }
    v.mean += *base;
    v.from += *base;
    v.to += *base;
  }
}

void StudyPlan::check_lots(ReadLog& log) const {
  for (const MagnetLot& lot : study_.lots) {
    const std::string member = name_of(lot.member);
    const auto complain = [&](const std::string& text) {
      log.complaints.push_back({lot.where, "magnets", "of the " + member + " " + text});
    };
    if (!value_of_key(base_.root, member + ".magnets"))
      complain("cannot differ: the base case has none.");
    if (value_of_key(base_.root, member + ".odd_magnet"))
      complain("are already told apart in the base case by odd_magnet; either there or here.");
  }
}

void StudyPlan::choose_figures(ReadLog& log) {
  const Case base = read_case_text(base_text_, base_.name, catalogue_);
  task_.figures = study_.figures.empty() ? usual_figures(base) : study_.figures;
  const auto want = [this](const std::string& name) {
    if (std::find(task_.figures.begin(), task_.figures.end(), name) == task_.figures.end())
      task_.figures.push_back(name);
  };
  if (study_.best) {
    want(study_.best->figure);
    for (const Goal& goal : study_.best->others) want(goal.figure);
    for (const Limit& limit : study_.best->limits) want(limit.figure);
  }
  const std::string error_name = "slip_torque_error_percent";
  if (study_.accuracy && base.slip) want(error_name);
  task_.level = study_.level;
  task_.accuracy = study_.accuracy;
  for (const std::string& name : task_.figures) {
    std::string why = why_no_figure(*design_figure(name), base);
    if (name == error_name && !study_.accuracy) why = "needs accuracy_percent.";
    if (!why.empty()) log.complaints.push_back({study_.file, "figures", name + " " + why});
  }
}

// ---- designs ------------------------------------------------------------------------------------

TomlValue StudyPlan::value(int design, std::size_t variation) const {
  const Variation& v = study_.vary[variation];
  const auto number = static_cast<std::size_t>(design);
  if (study_.how == Sampling::list) return value_at(v, number);
  if (study_.how != Sampling::grid) return value_at(v, points_[number][variation]);
  std::size_t later = 1;  // the last key changes fastest
  for (std::size_t i = variation + 1; i < study_.vary.size(); ++i)
    later *= n_values(study_.vary[i]);
  return value_at(v, number / later % n_values(v));
}

const TomlValue* StudyPlan::base_value(const std::string& key) const {
  return value_of_key(base_.root, key);
}

Design StudyPlan::base_design() const { return {{}, toml_text(base_.root)}; }

Design StudyPlan::design_of(const std::vector<TomlValue>& values) const {
  TomlValue root;
  return changed_base(values, root);
}

Design StudyPlan::changed_base(const std::vector<TomlValue>& values, TomlValue& root) const {
  Design design;
  root = base_.root;
  for (std::size_t i = 0; i < study_.vary.size(); ++i) {
    const Variation& v = study_.vary[i];
    const TomlValue& changed = values[i];
    set_key(root, v.key, changed);
    design.cells.push_back(cell_text(changed));
    for (const std::string& key : v.moves_along) {
      const double by = number_of(changed) - number_of(*value_of_key(base_.root, v.key));
      set_key(root, key, number_value(number_of(*value_of_key(base_.root, key)) + by));
    }
  }
  design.case_text = toml_text(root);
  return design;
}

Design StudyPlan::design(int number) const {
  std::vector<TomlValue> values;
  for (std::size_t i = 0; i < study_.vary.size(); ++i) values.push_back(value(number, i));
  TomlValue root;
  Design design = changed_base(values, root);
  if (study_.lots.empty()) return design;
  for (const MagnetLot& lot : study_.lots) {
    int count = 0;
    try {
      const Gear gear = read_case_text(design.case_text, "design", catalogue_).gear;
      const auto& rotor = lot.member == Member::sun ? gear.sun : gear.ring;
      if (rotor) count = n_magnets(*rotor);
    } catch (const InputError&) {  // told when the design is run
    }
    const auto magnets = drawn_magnets(lot, count, study_.seed, number);
    for (const double x : lot_values(magnets)) design.cells.push_back(cell(x));
    add_odd_magnets(root, lot, magnets);
  }
  design.case_text = toml_text(root);
  return design;
}

// ---- blocks -------------------------------------------------------------------------------------

int StudyPlan::n_blocks() const {
  if (is_search(study_.how)) return 0;
  return (study_.designs + study_.designs_per_block - 1) / study_.designs_per_block;
}

BlockRange StudyPlan::block(int index) const {
  const int first = index * study_.designs_per_block;
  return {first, std::min(study_.designs_per_block, study_.designs - first)};
}

std::optional<DesignTask> StudyPlan::finer_task() const {
  if (task_.accuracy || task_.level >= highest_level) return std::nullopt;
  DesignTask finer = task_;
  finer.level = std::min(task_.level + 1.5, highest_level);
  finer.whole_curves = true;
  return finer;
}

std::string StudyPlan::hash_of(const std::string& what, const std::vector<Design>& designs) const {
  std::string all = std::string(block_kind) + "\n" + what + "\n" + lodegear_version() + "\n";
  for (const auto& [name, version] : library_versions()) all += name + " " + version + "\n";
  all += materials_hash_ + "\n";
  for (const std::string& figure : task_.figures) all += figure + "\n";
  all += task_.accuracy ? "accuracy " + number_text(*task_.accuracy)
                        : "level " + number_text(task_.level);
  for (const Design& design : designs) {
    all += "\n" + std::to_string(design.case_text.size()) + "\n" + design.case_text;
    for (const std::string& text : design.cells) all += "\n" + text;
  }
  return sha256(all);
}

std::string StudyPlan::input_hash(int index) const {
  const BlockRange range = block(index);
  std::vector<Design> designs;
  for (int i = 0; i < range.count; ++i) designs.push_back(design(range.first + i));
  return hash_of("designs from " + std::to_string(range.first), designs);
}

std::string StudyPlan::base_hash() const { return hash_of("base", {base_design()}); }

}  // namespace lodegear
