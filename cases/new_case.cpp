// cases/new_case.cpp — placing blocks around given pole counts and writing the file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/new_case.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "materials/input_error.h"
#include "materials/words.h"

namespace lodegear {

using std::numbers::pi;

namespace {

// A block and its clearance span the angle 2 atan((w/2 + c)/(a − c)) at the distance a of its inner
// face from the axis; the blocks of a circle fit if that is at most their pitch.
//
//        ______ w ______
//       |    block      |
//       |_______________|  ← inner face, distance a from the axis

// Between neighbours 0.05 mm stay free, so that no slit is too thin to be meshed.

double half_width(const NewCaseOptions& o) { return o.block_width_mm / 2 + o.clearance_mm; }
double half_place(const NewCaseOptions& o) { return half_width(o) + 0.025; }

/// Least distance of the inner faces at which `n` blocks fit around the axis.
double least_face_distance(const NewCaseOptions& o, int n) {
  return half_place(o) / std::tan(pi / n) + o.clearance_mm;
}

int blocks_per_pole(const NewCaseOptions& o, int pole_pairs, double face_distance) {
  const double span = 2 * std::atan(half_place(o) / (face_distance - o.clearance_mm));
  return std::min(64, static_cast<int>(std::floor(pi / pole_pairs / span + 1e-9)));
}

/// Millimetres to a twentieth, downwards and upwards.
double down(double mm) { return std::floor(mm * 20 + 1e-6) / 20; }
double up(double mm) { return std::ceil(mm * 20 - 1e-6) / 20; }

struct Radii {
  double modulator_inner = 0.0, modulator_outer = 0.0;
  double sun_seat = 0.0;   ///< inner faces of the sun's blocks
  double ring_face = 0.0;  ///< inner faces of the ring's blocks
};

/// Seat of blocks whose outer corners lie below the inner gap.
double sun_seat(const NewCaseOptions& o, double modulator_inner) {
  const double corner = modulator_inner - o.gap_mm, half = o.block_width_mm / 2;
  return corner <= half ? 0.0
                        : down(std::sqrt(corner * corner - half * half) - o.block_thickness_mm);
}

/// Modulator radius at which the sun's blocks have the seat `seat`.
double modulator_inner_for(const NewCaseOptions& o, double seat) {
  return std::hypot(seat + o.block_thickness_mm, o.block_width_mm / 2) + o.gap_mm;
}

Radii chosen_radii(const NewCaseOptions& o) {
  // Pole pieces somewhat higher than the magnets are thick: less leaks between the rotors past
  // them, more is only weight (common practice, no source).
  const double height = o.block_thickness_mm + 2.0;
  Radii r;
  const double for_ring = least_face_distance(o, 2 * o.ring_pole_pairs) - o.gap_mm;
  const double least_seat =
      std::max(least_face_distance(o, 2 * o.sun_pole_pairs), o.block_thickness_mm + 2.0);
  const double for_sun = modulator_inner_for(o, least_seat + 0.05) + height;
  r.modulator_inner = o.modulator_inner_radius_mm;
  r.modulator_outer = o.modulator_outer_radius_mm;
  if (r.modulator_outer == 0.0)
    r.modulator_outer = r.modulator_inner > 0.0 ? std::max(r.modulator_inner + height, up(for_ring))
                                                : up(std::max(for_ring, for_sun));
  if (r.modulator_inner == 0.0) r.modulator_inner = down(r.modulator_outer - height);
  r.sun_seat = sun_seat(o, r.modulator_inner);
  r.ring_face = up(r.modulator_outer + o.gap_mm);
  return r;
}

// ---- what cannot be -----------------------------------------------------------------------------

std::string mm(double x) { return rounded_text(x, 2) + " mm"; }

void require(bool good, const char* key, const std::string& text, std::vector<Complaint>& all) {
  if (!good) all.push_back({{}, key, text});
}

void require_between(double x, double least, double most, const char* key,
                     std::vector<Complaint>& all) {
  require(x >= least && x <= most, key,
          "is " + number_text(x) + "; it must be from " + number_text(least) + " to " +
              number_text(most) + ".",
          all);
}

void check_options(const NewCaseOptions& o) {
  std::vector<Complaint> all;
  require_between(o.sun_pole_pairs, 1, 200, "sun_pole_pairs", all);
  require_between(o.ring_pole_pairs, 1, 200, "ring_pole_pairs", all);
  require_between(o.block_width_mm, 0.5, 500, "block_width_mm", all);
  require_between(o.block_thickness_mm, 0.5, 500, "block_thickness_mm", all);
  require_between(o.stack_length_mm, 0.5, 5000, "stack_length_mm", all);
  require_between(o.gap_mm, 0.05, 100, "gap_mm", all);
  require_between(o.clearance_mm, 0.0, 10, "clearance_mm", all);
  require_between(o.modulator_inner_radius_mm, 0.0, 5000, "modulator_inner_radius_mm", all);
  require_between(o.modulator_outer_radius_mm, 0.0, 5000, "modulator_outer_radius_mm", all);
  if (!all.empty()) throw InputError(std::move(all));
}

void check_radii(const NewCaseOptions& o, const Radii& r) {
  std::vector<Complaint> all;
  require(r.modulator_outer - r.modulator_inner >= 0.5, "modulator_outer_radius_mm",
          "is " + mm(r.modulator_outer) +
              "; it must lie at least 0.5 mm outside the inner radius " + mm(r.modulator_inner) +
              ".",
          all);
  const double seat = least_face_distance(o, 2 * o.sun_pole_pairs);
  require(r.sun_seat > std::max(1.0, o.clearance_mm) &&
              blocks_per_pole(o, o.sun_pole_pairs, r.sun_seat) >= 1,
          "modulator_inner_radius_mm",
          "is " + mm(r.modulator_inner) + ", too small for " +
              std::to_string(2 * o.sun_pole_pairs) + " blocks of " + mm(o.block_width_mm) + " × " +
              mm(o.block_thickness_mm) + " on the sun; give at least " +
              mm(up(modulator_inner_for(o, std::max(seat, 1.0) + 0.05))) +
              ", narrower blocks or fewer poles.",
          all);
  const double face = least_face_distance(o, 2 * o.ring_pole_pairs);
  require(blocks_per_pole(o, o.ring_pole_pairs, r.ring_face) >= 1, "modulator_outer_radius_mm",
          "is " + mm(r.modulator_outer) + ", too small for " +
              std::to_string(2 * o.ring_pole_pairs) + " blocks of " + mm(o.block_width_mm) +
              " in the ring; give at least " + mm(up(face - o.gap_mm)) +
              ", narrower blocks or fewer poles.",
          all);
  if (!all.empty()) throw InputError(std::move(all));
}

// ---- the text -----------------------------------------------------------------------------------

/// One line: key, value, and a comment in its own column.
std::string line(const std::string& key, const std::string& value, const std::string& comment) {
  std::string text = key + " = " + value;
  if (!comment.empty()) text.append(text.size() < 30 ? 30 - text.size() : 1, ' ') += "# " + comment;
  return text + "\n";
}
std::string line(const char* key, double value, const std::string& comment = {}) {
  return line(key, number_text(value), comment);
}
std::string line(const char* key, int value, const std::string& comment = {}) {
  return line(key, std::to_string(value), comment);
}

/// A text as TOML wants it between double quotes.
std::string toml_text(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    if (c == '"' || c == '\\') safe += '\\';
    safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  }
  return in_quotes(safe);
}

std::string gear_table(const NewCaseOptions& o) {
  const int n = o.sun_pole_pairs + o.ring_pole_pairs;
  return "name = " + toml_text(o.name) + "\n\n[gear]\n" +
         line("sun_pole_pairs", o.sun_pole_pairs, "inner magnet rotor") +
         line("pole_pieces", n, "steel pieces between the rotors: sun + ring pole pairs") +
         line("ring_pole_pairs", o.ring_pole_pairs, "outer magnet rotor") +
         line("stack_length_mm", o.stack_length_mm, "length along the axis");
}

std::string block_lines(const NewCaseOptions& o, const char* seat_comment, double seat,
                        int per_pole) {
  return line("shape", "\"blocks\"", "\"arcs\" and \"spokes\" are the others") +
         line("grade", toml_text(o.grade), "'lodegear materials' lists what is known by name") +
         line("width_mm", o.block_width_mm, "along the circle") +
         line("thickness_mm", o.block_thickness_mm, "along the radius; magnetised this way") +
         line("clearance_mm", o.clearance_mm, "for glue and plating, on every side") +
         line("seat_radius_mm", seat, seat_comment) +
         line("blocks_per_pole", per_pole, "side by side in each pole");
}

std::string sun_tables(const NewCaseOptions& o, const Radii& r) {
  return "\n[sun.magnets]\n" +
         block_lines(o, "from the axis to the flat that a block lies on", r.sun_seat,
                     blocks_per_pole(o, o.sun_pole_pairs, r.sun_seat)) +
         "\n[sun.hub]                     # leave this table out if the hub is not steel\n" +
         line("material", toml_text(o.steel), "solid and round, up to the magnets");
}

std::string modulator_table(const NewCaseOptions& o, const Radii& r) {
  return "\n[modulator]\n" +
         line("material", toml_text(o.sheet), "sheets, stacked along the axis") +
         line("inner_radius_mm", r.modulator_inner) + line("outer_radius_mm", r.modulator_outer) +
         line("span_percent", 50, "of the pitch: as much steel as air");
}

std::string ring_tables(const NewCaseOptions& o, const Radii& r) {
  const double seat = r.ring_face + o.block_thickness_mm;
  const double corner = std::hypot(seat + o.clearance_mm, half_width(o));
  return "\n[ring.magnets]\n" +
         block_lines(o, "from the axis to the flat that a block lies on", seat,
                     blocks_per_pole(o, o.ring_pole_pairs, r.ring_face)) +
         "\n[ring.back_iron]              # leave this table out if there is no steel around\n" +
         line("material", toml_text(o.steel), "a round tube that touches the corners") +
         line("outer_radius_mm", up(corner + o.block_thickness_mm + 0.05));
}

std::string task_tables() {
  return "\n[running]\n" + line("held", "\"ring\"", "the member that stands still") +
         line("input", "\"sun\"", "the member that is driven") +
         line("input_speed_rpm", 1000, "for speeds and frequencies only") +
         line("load_angles_deg", "[0, 45]", "0 = no load: its ripple is the cogging");
}

}  // namespace

std::string new_case_text(const NewCaseOptions& options) {
  check_options(options);
  const Radii radii = chosen_radii(options);
  check_radii(options, radii);
  return "# A case for lodegear. Whatever is left out takes a default, which is listed as assumed "
         "in "
         "the results.\n" +
         gear_table(options) + sun_tables(options, radii) + modulator_table(options, radii) +
         ring_tables(options, radii) + task_tables();
}

}  // namespace lodegear
