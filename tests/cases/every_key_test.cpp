// tests/cases/every_key_test.cpp — that what is documented is accepted, and the reverse.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <regex>
#include <set>

#include "case_texts.h"
#include "materials/toml_file.h"

using namespace lodegear;

namespace {

// Cases that use every key between them.
constexpr const char* arcs_and_bars = R"(name = "every key, first half"
notes = "made up"
[gear]
sun_pole_pairs = 4
pole_pieces = 17
ring_pole_pairs = 13
stack_length_mm = 25
magnet_temperature_C = 60
steel_curve = "guaranteed minimum"
[sun]
initial_angle_deg = 3
active_length_mm = 26
axial_offset_mm = 0.5
[sun.hub]
material = "S235"
inner_radius_mm = 5
outer_radius_mm = 24
[sun.magnets]
grade = "mine"
temperature_C = 50
remanence_percent = 98
axial_rows = 2
shape = "arcs"
pattern = "halbach"
segments_per_pole_pair = 6
pole_centre = "on joint"
stronger_side = "outward"
inner_radius_mm = 24
outer_radius_mm = 30
coverage_percent = 98
[[sun.odd_magnet]]
index = 3
reversed = true
strength_percent = 90
turned_deg = -2
[[sun.odd_magnet]]
index = 4
missing = true
[modulator]
material = "M470-50A"
stacking_factor = 0.95
shape = "bars"
bar_diameter_mm = 5
centre_radius_mm = 34
initial_angle_deg = 1
active_length_mm = 25
axial_offset_mm = 0
[modulator.bridge]
place = "middle"
thickness_mm = 0.5
[ring]
initial_angle_deg = 0
[ring.magnets]
grade = "N42"
pattern = "directions"
directions_deg = [0, 90, 180, 270]
magnets_per_pole_pair = 4
inner_radius_mm = 38
outer_radius_mm = 44
[[ring.odd_magnet]]
index = 0
turned_deg = 1
[ring.back_iron]
material = "flat"
inner_radius_mm = 44
outer_radius_mm = 50
[[sleeve]]
gap = "outer"
inner_radius_mm = 37
outer_radius_mm = 37.4
material = "plastic"
turns_with = "modulator"
[field]
applied_T = 0.01
applied_direction_deg = 30
[slip]
compute = true
turned = "ring"
positions_per_period = 24
last_load_angle_deg = 180
[running]
compute = true
held = "sun"
input = "ring"
input_speed_rpm = -120
load_angles_deg = [0]
positions_per_ripple = 8
full_cycle = true
[mesh]
fineness = 1.5
orders_inner_gap = 120
orders_outer_gap = 120
[output]
keep_fields = "every position"
[materials.mine]
kind = "magnet"
remanence_T = 1.25
mu_rec = 1.06
[materials.flat]
kind = "steel"
mu_r = 800
[materials.plastic]
kind = "other"
mu_r = 1
)";

constexpr const char* blocks_and_sectors = R"([gear]
sun_pole_pairs = 4
pole_pieces = 23
ring_pole_pairs = 19
stack_length_mm = 40
[sun.magnets]
shape = "blocks"
grade = "N42"
width_mm = 9
thickness_mm = 5
clearance_mm = 0.2
seat_radius_mm = 45.7
magnetised_along = "thickness"
turned = false
blocks_per_pole = 3
block_pitch_deg = 14
[modulator]
material = "M140-30S"
rolling_direction = "radial"
inner_radius_mm = 54
outer_radius_mm = 61
span_inner_deg = 8
span_outer_deg = 7
corner_radius_inner_mm = 0.3
corner_radius_outer_mm = 0.4
hole_diameter_mm = 3
hole_centre_radius_mm = 57
[ring.magnets]
shape = "blocks"
grade = "N42"
width_mm = 10
thickness_mm = 5
centre_radius_mm = 64.7
[use]
ambient_C = 25
load_Nm = 3
fan = true
bench_minutes = 20
[[duty]]
minutes = 5
load_Nm = 3
input_speed_rpm = 300
[[duty]]
minutes = 5
load_Nm = 0
input_speed_rpm = 0
[[measured]]
part = "sun magnets"
temperature_C = 45
[[measured]]
path = "sun magnets to modulator"
conductance_W_per_K = 0.3
[overload]
torque_Nm = 8
seconds = 0.2
load_is = "weight"
drive_keeps = "torque"
damping_percent = 3
[build]
sun_carrier = "PLA"
modulator_carrier = "PETG"
ring_carrier = "ASA"
pole_pieces_held = "one end"
pole_pieces_bonded = false
rod_diameter_mm = 3
sheets_stacked = "along the circle"
cutting_factor = 1.3
shaft_diameter_mm = 10
bearing_play_mm = 0.01
run_out_mm = 0.02
roundness_mm = 0.1
magnet_tolerance_mm = 0.04
glue_line_mm = 0.06
input_inertia_kg_m2 = 1e-4
output_inertia_kg_m2 = 1e-3
[[bearing]]
turns = "sun"
sits_in = "housing"
count = 3
bore_mm = 10
load_N = 20
friction = 0.002
seal_drag_mNm = 0
[require]
slip_torque_Nm = 5
safety_factor = 1.4
cogging_percent = 1
efficiency_percent = 80
magnet_margin_percent = 15
clearance_mm = 0.3
magnet_temperature_C = 60
active_mass_kg = 5
outer_diameter_mm = 160
)";

constexpr const char* spokes = R"([gear]
sun_pole_pairs = 4
pole_pieces = 17
ring_pole_pairs = 13
stack_length_mm = 25
[sun.magnets]
shape = "spokes"
grade = "N42"
inner_radius_mm = 12
outer_radius_mm = 30
width_mm = 5
wedge_material = "S235"
[modulator]
material = "M470-50A"
inner_radius_mm = 31
outer_radius_mm = 37
span_percent = 45
[ring.magnets]
grade = "N42"
inner_radius_mm = 38
outer_radius_mm = 44
[mesh]
accuracy_percent = 0.2
)";

void collect_keys(const TomlValue& value, std::set<std::string>& keys) {
  for (const TomlValue& item : value.items) collect_keys(item, keys);
  for (const TomlEntry& entry : value.entries) {
    const bool tables = entry.value.kind == TomlKind::table ||
                        (entry.value.kind == TomlKind::array && !entry.value.items.empty() &&
                         entry.value.items.front().kind == TomlKind::table);
    if (!tables) keys.insert(entry.key);
    collect_keys(entry.value, keys);
  }
}

std::set<std::string> used_keys() {
  std::set<std::string> keys;
  for (const char* text : {arcs_and_bars, blocks_and_sectors, spokes})
    collect_keys(toml_document(text, "case").root, keys);
  return keys;
}

/// What stands where a key stands in the lists of read_gear.h and read_tasks.h, and after the
/// table's name in case.h.
std::set<std::string> documented_keys() {
  std::set<std::string> keys;
  const auto add = [&keys](const std::string& text, const std::regex& pattern) {
    for (std::sregex_iterator it(text.begin(), text.end(), pattern), end; it != end; ++it) {
      std::string list = (*it)[1];
      const std::regex word("[A-Za-z_0-9]+");
      for (std::sregex_iterator w(list.begin(), list.end(), word); w != end; ++w)
        keys.insert(w->str());
    }
  };
  const std::regex listed(
      "\n//(?:   |     )([a-z]+(?:_[A-Za-z0-9]+)*(?:, [a-z_]+)*)(?=  |\n|, | →)");
  for (const char* file :
       {"cases/read_gear.h", "cases/read_tasks.h", "cases/resolve_materials.h", "cases/service.h"})
    add(file_text(file), listed);
  add(file_text("cases/case.h"), std::regex("/// (?:slip|running|output)\\.([a-z_A-Z]+)(?= =|:)"));
  return keys;
}

}  // namespace

TEST_CASE("every key: cases that use all of them are accepted", "[cases][every_key]") {
  for (const char* text : {arcs_and_bars, blocks_and_sectors, spokes}) {
    const Outcome result = outcome(text);
    INFO(result.message());
    CHECK(result.read.has_value());
  }
}

TEST_CASE("every key: what the headers document is what these cases use", "[cases][every_key]") {
  const std::set<std::string> used = used_keys(), documented = documented_keys();
  // Keys of materials are documented in read_material.h; name and notes beside their fields.
  const std::set<std::string> elsewhere{"name", "notes", "remanence_T", "mu_rec", "mu_r"};
  for (const std::string& key : used)
    if (!elsewhere.count(key)) {
      INFO(key << " is used but not documented");
      CHECK(documented.count(key));
    }
  for (const std::string& key : documented) {
    INFO(key << " is documented but not used");
    CHECK(used.count(key));
  }
}
