// tools/report/figures_of_json.cpp — every figure of a JSON file as rows of a table.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/figures_of_json.h"

#include <algorithm>
#include <cmath>

#include "tools/report/html.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

bool is_figure(const Json& json) {
  return json.is_object() && json.contains("value") && json.contains("unit");
}

std::string words(std::string key) {
  std::replace(key.begin(), key.end(), '_', ' ');
  return key;
}

/// What an entry of a list calls itself: its texts up to the first figure.
std::string own_name(const Json& entry, std::size_t number) {
  std::string name;
  if (entry.is_object())
    for (const auto& [key, value] : entry.items()) {
      if (!value.is_string()) break;
      name += (name.empty() ? "" : " ") + value.get<std::string>();
    }
  return name.empty() ? std::to_string(number + 1) : name;
}

void gather(const Json& json, const std::string& way, std::vector<std::vector<std::string>>& rows) {
  if (is_figure(json)) {
    if (const std::string text = figure_text(json); !text.empty()) rows.push_back({way, text});
    return;
  }
  const std::string before = way.empty() ? "" : way + ", ";
  if (json.is_object())
    for (const auto& [key, value] : json.items()) gather(value, before + words(key), rows);
  if (json.is_array())
    for (std::size_t i = 0; i < json.size(); ++i)
      gather(json[i], before + own_name(json[i], i), rows);
}

}  // namespace

std::string figure_text(const Json& figure) {
  if (!is_figure(figure) || !figure["value"].is_number()) return {};
  const std::string unit = figure.value("unit", std::string());
  const double value = figure["value"].get<double>();
  if (unit == "m" && std::abs(value) < 1.0) return number_for_person(1e3 * value) + " mm";
  if (unit == "A/m") return number_for_person(1e-3 * value) + " kA/m";
  return number_for_person(value) + (unit == "1" ? "" : " " + unit);
}

std::vector<std::vector<std::string>> figure_rows(const Json& json) {
  std::vector<std::vector<std::string>> rows;
  gather(json, "", rows);
  return rows;
}

}  // namespace lodegear
