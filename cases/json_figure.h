// cases/json_figure.h — how a figure stands in a JSON file: value, unit, origin.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace lodegear {

inline nlohmann::ordered_json figure(double value, const char* unit, const std::string& how) {
  return {{"value", value}, {"unit", unit}, {"how", how}};
}
/// null where it is not known.
inline nlohmann::ordered_json figure(std::optional<double> value, const char* unit,
                                     const std::string& how) {
  return value ? figure(*value, unit, how) : nlohmann::ordered_json(nullptr);
}

}  // namespace lodegear
