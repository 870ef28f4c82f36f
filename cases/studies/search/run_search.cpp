// cases/studies/search/run_search.cpp — a study whose designs are chosen by what came out of
// others. SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/search/run_search.h"

#include <algorithm>
#include <map>
#include <mutex>

#include "cases/csv_files.h"
#include "cases/studies/design_figures.h"
#include "cases/studies/search/kept_designs.h"
#include "cases/studies/search/one_goal_search.h"
#include "cases/studies/search/search_problem.h"
#include "cases/studies/search/trade_off_search.h"
#include "cases/studies/study_folder.h"
#include "cases/studies/varied_values.h"
#include "cases/text_table.h"
#include "materials/words.h"
#include "materials/write_toml.h"

namespace lodegear {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t most_checked = 5;  // of a front, on the finer mesh

class SearchRun {
 public:
  SearchRun(const StudyPlan& plan, const Catalogue& catalogue, const fs::path& folder,
            const StudyOptions& options)
      : plan_(plan),
        study_(plan.study()),
        options_(options),
        kept_(plan, catalogue, folder, options),
        base_(kept_.outcomes({plan.base_design()}, plan.task()).front()),
        scales_(plan, base_) {}

  SearchTable table() {
    if (base_.state == DesignState::failed && options_.tell)
      options_.tell("The base case itself has no figures to compare with: " + base_.remark);
    const Trail trail = asked_points();
    SearchTable table{{study_record(plan_), study_, {}, base_rows()}, {}, {}, {}, base_cells()};
    const std::vector<std::size_t> rows = fill_rows(trail, table.all.rows);
    std::vector<std::size_t> chosen = front_of(trail);
    if (study_.how == Sampling::optimise && !trail.empty()) {
      chosen.assign(1, best_of(trail));
      if (distance_to_allowed(trail[chosen.front()].value) > 0.0) chosen.clear();
    }
    for (const std::size_t i : chosen) {
      table.chosen.push_back(rows[i]);
      table.case_files.push_back(case_file(table.all.rows[rows[i]], design_at(trail[i].point)));
    }
    if (const auto finer = plan_.finer_task())
      for (const std::size_t i : some_of(chosen))
        table.finer.push_back(solved(table.all.rows[rows[i]], design_at(trail[i].point), *finer));
    return table;
  }

  int solved_so_far() const { return kept_.asked(); }

 private:
  Trail asked_points() {
    SearchOptions options{study_.designs, study_.seed, std::max(options_.threads, 1), {}};
    if (const auto base = base_point(plan_)) options.known.push_back(*base);
    const SearchSpace space = search_space(study_);
    const Evaluate evaluate = [this](const std::vector<SearchPoint>& points) {
      return values_of(points);
    };
    if (study_.how == Sampling::optimise) return one_goal_search(space, options, evaluate);
    return trade_off_search(space, goals_of(*study_.best).size(), options, evaluate);
  }

  Design design_at(const SearchPoint& point) const {
    return plan_.design_of(values_at(study_, point));
  }

  std::vector<PointValue> values_of(const std::vector<SearchPoint>& points) {
    std::vector<Design> worth_it;
    std::vector<FirstGlance> glances;
    for (const SearchPoint& point : points) {
      Design design = design_at(point);
      glances.push_back(glance_at(design));
      if (!glances.back().outcome) worth_it.push_back(std::move(design));
    }
    const std::vector<DesignOutcome> solved = kept_.outcomes(worth_it, plan_.task());
    std::vector<PointValue> values;
    auto next = solved.begin();
    for (const FirstGlance& glance : glances) {
      const bool cheap = glance.outcome.has_value();
      values.push_back(scales_.value(cheap ? *glance.outcome : *next++, glance.off));
      values.back().cheap = cheap;
      show(values.back());
    }
    return values;
  }

  FirstGlance glance_at(const Design& design) {
    return first_glance(plan_, design, KeptDesigns::Borrowed(kept_)->catalogue);
  }
  /// Kept, or told without solving.
  DesignOutcome outcome_of(const Design& design) {
    if (auto left_out = glance_at(design).outcome) return *std::move(left_out);
    return kept_.outcomes({design}, plan_.task()).front();
  }

  void show(const PointValue& value) {
    const std::lock_guard lock(showing_);
    asked_ += !value.cheap;
    if (study_.how == Sampling::optimise && distance_to_allowed(value) == 0.0)
      best_ = std::min(best_.value_or(merit(value)), merit(value));
    if (!options_.progress) return;
    StudyProgress progress{asked_, std::min(kept_.found(), asked_), study_.designs, {}};
    if (best_) progress.best = "best " + best_figure() + " ";
    options_.progress(progress);
  }

  std::string best_figure() const {
    const auto at =
        std::find(plan_.task().figures.begin(), plan_.task().figures.end(), study_.best->figure);
    const auto base = base_.figures[static_cast<std::size_t>(at - plan_.task().figures.begin())];
    const double unit = base && std::abs(*base) > 1e-9 ? std::abs(*base) : 1.0;
    return significant(std::abs(*best_) * unit, 4) + " " + design_figure(study_.best->figure)->unit;
  }

  /// Different designs, each once; for every point of the trail the place of its row.
  std::vector<std::size_t> fill_rows(const Trail& trail, std::vector<DesignRow>& rows) {
    std::map<std::string, std::size_t> place;
    std::vector<std::size_t> places;
    for (const AskedPoint& asked : trail) {
      Design design = design_at(asked.point);
      const auto [at, fresh] = place.emplace(design.case_text, rows.size());
      places.push_back(at->second);
      if (!fresh) continue;
      rows.push_back({static_cast<int>(rows.size()) + 1, design.cells, outcome_of(design)});
    }
    return places;
  }

  DesignRow solved(const DesignRow& row, const Design& design, const DesignTask& task) {
    return {row.number, row.cells, kept_.outcomes({design}, task).front()};
  }

  std::vector<DesignRow> base_rows() {
    std::vector<DesignRow> rows{{0, {}, base_}};
    if (const auto finer = plan_.finer_task())
      rows.push_back({1, {}, kept_.outcomes({plan_.base_design()}, *finer).front()});
    return rows;
  }

  std::vector<std::string> base_cells() const {
    std::vector<std::string> cells;
    for (const Variation& v : study_.vary) {
      const TomlValue* value = plan_.base_value(v.key);
      cells.push_back(!value                          ? "-"
                      : is_number(*value)             ? cell(number_of(*value))
                      : value->kind == TomlKind::text ? value->text
                                                      : toml_value_text(*value));
    }
    return cells;
  }

  std::pair<std::string, std::string> case_file(const DesignRow& row, const Design& design) const {
    const bool best = study_.how == Sampling::optimise;
    const std::string number = std::to_string(row.number);
    const std::string name = best ? search_files::best : search_files::of_front + number + ".toml";
    return {name, "# " + name + " — design " + number + " of the search \"" + study_.name +
                      "\", a case like any other\n" + design.case_text};
  }

  /// Of many evenly, both ends among them.
  static std::vector<std::size_t> some_of(const std::vector<std::size_t>& all) {
    if (all.size() <= most_checked) return all;
    std::vector<std::size_t> some;
    for (std::size_t i = 0; i < most_checked; ++i)
      some.push_back(all[i * (all.size() - 1) / (most_checked - 1)]);
    return some;
  }

  const StudyPlan& plan_;
  const Study& study_;
  const StudyOptions& options_;
  KeptDesigns kept_;
  const DesignOutcome base_;
  const Scales scales_;
  std::mutex showing_;  // what follows
  int asked_ = 0;
  std::optional<double> best_;
};

}  // namespace

SearchOutcome run_search(const StudyPlan& plan, const Catalogue& catalogue, const fs::path& folder,
                         const StudyOptions& options) {
  if (options.shard)
    throw InputError({{{},
                       "--shard",
                       "does not go with a search, in which each design depends on others; "
                       "--threads shares the work on one machine."}});
  const StudyRecord record = study_record(plan);
  const FolderLock lock = settled_folder(folder, plan, record, options);
  SearchOutcome outcome;
  try {
    SearchRun run(plan, catalogue, folder, options);
    outcome.table = run.table();
    outcome.solved = run.solved_so_far();
  } catch (const DesignStopped&) {
    return outcome;
  }
  outcome.finished = true;
  outcome.written = write_search_results(folder, outcome.table);
  return outcome;
}

}  // namespace lodegear
