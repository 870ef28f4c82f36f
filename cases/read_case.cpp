// cases/read_case.cpp — reading a case file in order: gear, tasks, materials, and whether it fits.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/read_case.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <fstream>
#include <iterator>
#include <utility>

#include "cases/axial.h"
#include "cases/key_place.h"
#include "cases/read_gear.h"
#include "cases/read_tasks.h"
#include "cases/resolve_materials.h"
#include "cases/units.h"
#include "materials/words.h"
#include "mesh/check_gear.h"

namespace lodegear {

namespace {

/// Line and column at the end of "file:line:column", zeros if there are none.
std::array<int, 2> line_and_column(const std::string& where) {
  std::array<int, 2> numbers{};
  std::size_t end = where.size();
  for (int i : {1, 0}) {
    const std::size_t colon = end == 0 ? std::string::npos : where.rfind(':', end - 1);
    if (colon == std::string::npos) break;
    std::from_chars(where.data() + colon + 1, where.data() + end,
                    numbers[static_cast<std::size_t>(i)]);
    end = colon;
  }
  return numbers;
}

void sort_by_place(std::vector<Complaint>& complaints) {
  std::stable_sort(complaints.begin(), complaints.end(), [](const auto& a, const auto& b) {
    return line_and_column(a.where) < line_and_column(b.where);
  });
}

/// Place of a key, or of the one that was given in its stead.
std::string place_of(const TomlDocument& document, const std::string& key) {
  constexpr std::pair<std::string_view, std::string_view> stand_ins[] = {
      {"centre_radius_mm", "seat_radius_mm"},
      {"span_inner_deg", "span_percent"},
      {"span_outer_deg", "span_percent"}};
  for (const auto& [name, stand_in] : stand_ins) {
    if (!key.ends_with(name)) continue;
    const std::string table = key.substr(0, key.size() - name.size());
    if (!has_key(document, key) && has_key(document, table + std::string(stand_in)))
      return key_place(document, table + std::string(stand_in));
  }
  return key_place(document, key);
}

void append_geometry(const Gear& gear, const TomlDocument& document, ReadLog& log) {
  for (Complaint complaint : check_gear(gear)) {
    complaint.where = place_of(document, complaint.key);
    log.complaints.push_back(std::move(complaint));
  }
}

void append_overlap(const Gear& gear, const TomlDocument& document, ReadLog& log) {
  const AxialExtent common = common_extent(gear);
  if (common.length() > 0.0) return;
  const std::string key = gear.sun ? "sun.axial_offset_mm" : "modulator.axial_offset_mm";
  log.complaints.push_back({key_place(document, key), key,
                            "and the lengths leave the members nothing in common along the axis: " +
                                rounded_text(to_mm(-common.length()), 3) +
                                " mm lie between them."});
}

/// A field from outside cannot come in through iron without a surface to leave.
void append_applied_field(const Case& c, const TomlDocument& document, ReadLog& log) {
  const auto& ring = c.gear.ring;
  if (c.applied_field.isZero() || !ring || !ring->iron || ring->iron->material != ideal_iron_name)
    return;
  const std::string key = "field.applied_T";
  log.complaints.push_back({key_place(document, key), key,
                            "cannot be combined with a back iron of ideal iron, which keeps every "
                            "outer field out; give the back iron a material."});
}

/// The folder's name for "my_gear/case.toml", else the file's own.
std::string name_from(const std::filesystem::path& path) {
  if (path.filename() != "case.toml") return path.stem().string();
  const std::string folder =
      std::filesystem::weakly_canonical(path).parent_path().filename().string();
  return folder.empty() ? "case" : folder;
}

Case case_of(const TomlDocument& document, const std::string& default_name,
             const Catalogue& catalogue) {
  ReadLog log;
  Case result;
  TableReader root(document, log);
  result.name = root.text_or("name", default_name);
  result.notes = root.optional_text("notes").value_or("");
  const GearInFile in_file = read_gear(root, log);
  result.gear = in_file.gear;
  result.applied_field = in_file.applied_field;
  result.steel_curve = in_file.steel_curve;
  result.rolling_direction = in_file.rolling_direction;
  read_tasks(root, log, result);
  result.service = read_service(root, log);
  const bool numbers_are_right = log.complaints.empty();
  resolve_materials(root, document, in_file, catalogue, log, result);
  root.finish();
  if (numbers_are_right) {
    append_geometry(result.gear, document, log);
    append_overlap(result.gear, document, log);
    append_applied_field(result, document, log);
  }
  sort_by_place(log.complaints);
  log.throw_if_wrong();
  result.assumed = std::move(log.assumed);
  return result;
}

}  // namespace

Case read_case(const std::filesystem::path& path, const Catalogue& catalogue) {
  Case result = case_of(read_toml_file(path), name_from(path), catalogue);
  std::ifstream file(path, std::ios::binary);
  result.source_text.assign(std::istreambuf_iterator<char>(file), {});
  result.path = path;
  return result;
}

Case read_case_text(std::string_view text, const std::string& name, const Catalogue& catalogue) {
  Case result = case_of(toml_document(text, name), name_from(name), catalogue);
  result.source_text = text;
  return result;
}

}  // namespace lodegear
