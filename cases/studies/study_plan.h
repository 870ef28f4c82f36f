// cases/studies/study_plan.h — every design of a study, and the blocks they are worked off in.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/studies/design_run.h"
#include "cases/studies/points.h"
#include "cases/studies/study.h"
#include "materials/catalogue.h"

namespace lodegear {

/// One design: the base case's text with its keys changed.
struct Design {
  std::vector<std::string> cells;  ///< one a column of StudyPlan::columns, as text
  std::string case_text;
};

/// Designs first … first + count − 1 of a study, from 0.
struct BlockRange {
  int first = 0, count = 0;
};

/// A study with its base case. Everything about a design follows from its number, so that any
/// process can work on any block.
class StudyPlan {
 public:
  /// Throws InputError: what is wrong with the base case, and what of the study does not fit it.
  /// `catalogue` must outlive the plan.
  StudyPlan(Study study, const std::string& base_text, const std::string& base_name,
            const Catalogue& catalogue);

  const Study& study() const { return study_; }
  const std::string& base_text() const { return base_text_; }
  /// What the figures, the mesh and the solver are asked for.
  const DesignTask& task() const { return task_; }
  /// What varies: keys, then what is told of magnets by lot.
  const std::vector<std::string>& columns() const { return columns_; }

  int n_designs() const { return study_.designs; }
  int n_blocks() const;
  BlockRange block(int index) const;
  /// Not to be called from several threads at once.
  Design design(int number) const;
  Design base_design() const;
  /// The base case with a value for every key that varies, in their order.
  Design design_of(const std::vector<TomlValue>& values) const;
  /// The value of a key in the base case's file, or null.
  const TomlValue* base_value(const std::string& key) const;

  // A search has no blocks, for nobody knows its designs beforehand.

  /// Fingerprint of all that decides about the outcome of a block: the texts of its cases, what is
  /// asked for, the materials known, the versions of program and libraries.
  std::string input_hash(int block) const;
  /// The same of the base case and its finer mesh.
  std::string base_hash() const;
  /// The base case is solved on a finer mesh too, which tells the error of the mesh; none if the
  /// accuracy is told by each design or no level is left.
  std::optional<DesignTask> finer_task() const;

 private:
  void complain_about_key(const Variation& v, std::size_t i, ReadLog& log);
  void fill_in_base_numbers(ReadLog& log);
  void check_moves(const Variation& v, const std::string& name, ReadLog& log) const;
  void check_lots(ReadLog& log) const;
  void choose_figures(ReadLog& log);
  TomlValue value(int design, std::size_t variation) const;
  Design changed_base(const std::vector<TomlValue>& values, TomlValue& root) const;
  std::string hash_of(const std::string& what, const std::vector<Design>& designs) const;

  Study study_;
  std::string base_text_;
  TomlDocument base_;
  const Catalogue& catalogue_;
  std::string materials_hash_;
  std::vector<Assumed> assumed_;
  DesignTask task_;
  std::vector<std::string> columns_;
  UnitPoints points_;  // none of list and grid
};

}  // namespace lodegear
