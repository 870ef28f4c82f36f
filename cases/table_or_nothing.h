// cases/table_or_nothing.h — a table of a case file that may be missing: then all its defaults
// hold. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

#include "materials/table_reader.h"

namespace lodegear {

/// The table `key` of `root`, or an empty one in its place that is read in the same way.
class TableOrNothing {
 public:
  TableOrNothing(TableReader& root, const char* key, ReadLog& log)
      : given_(root.optional_table(key)), stand_in_(nothing_, log, root.dotted(key)) {}
  TableReader& reader() { return given_ ? *given_ : stand_in_; }

 private:
  TomlDocument nothing_;
  std::optional<TableReader> given_;
  TableReader stand_in_;
};

}  // namespace lodegear
