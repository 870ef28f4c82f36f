// materials/read_figures.h — what the readers of steels, magnets and others have in common.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>

#include "materials/read_material.h"

namespace lodegear {

inline const Range share = Range::between(0.0, 1.0);

/// What every material says about itself.
template <class Material>
void read_about(TableReader& table, Material& m, const std::string& name, MaterialPlace place) {
  m.name = name;
  m.description = table.optional_text("description").value_or("");
  m.caution = table.optional_text("caution").value_or("");
  if (place == MaterialPlace::data_file) {
    if (table.text("name") != name)
      table.complain("name", "must be the name of the file, \"" + name + "\".");
    m.source = table.text("source");
    m.confidence = table.number("confidence", share);
  } else {
    m.source = table.optional_text("source").value_or("given in the case");
    m.confidence = table.optional_number("confidence", share).value_or(1.0);
  }
}

/// A figure that data files must give and inline materials may leave to a usual value.
inline double figure(TableReader& table, const char* key, MaterialPlace place, double usual,
                     Range range) {
  return place == MaterialPlace::data_file ? table.number(key, range)
                                           : table.number_or(key, usual, range);
}

inline std::optional<double> scaled(std::optional<double> value, double unit) {
  return value ? std::optional(*value * unit) : std::nullopt;
}

}  // namespace lodegear
