// cases/case_text.cpp — the one writer of case files: from a draft to commented text.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/case_text.h"

#include <sstream>

#include "materials/words.h"

namespace lodegear {

namespace {

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

std::string comment_lines(const std::string& comment) {
  std::string text;
  std::istringstream lines(comment);
  for (std::string one; std::getline(lines, one);) text += one.empty() ? "#\n" : "# " + one + "\n";
  return text;
}

std::string gear_table(const CaseDraft& d) {
  const int n = d.sun_pole_pairs + d.ring_pole_pairs;
  return "name = " + toml_text(d.name) + "\n\n[gear]\n" +
         line("sun_pole_pairs", d.sun_pole_pairs, "inner magnet rotor") +
         line("pole_pieces", n, "steel pieces between the rotors: sun + ring pole pairs") +
         line("ring_pole_pairs", d.ring_pole_pairs, "outer magnet rotor") +
         line("stack_length_mm", d.stack_length_mm, "length along the axis") +
         (d.magnet_temperature
              ? line("magnet_temperature_C", *d.magnet_temperature, "of both rotors")
              : "");
}

std::string magnet_lines(const RotorDraft& rotor, const BlockDraft& block) {
  return line("shape", "\"blocks\"", "\"arcs\" and \"spokes\" are the others") +
         line("grade", toml_text(rotor.grade), "'lodegear materials' lists what is known by name") +
         line("width_mm", block.width_mm, "along the circle") +
         line("thickness_mm", block.thickness_mm, "along the radius; magnetised this way") +
         line("clearance_mm", block.clearance_mm, "for glue and plating, on every side") +
         line("seat_radius_mm", block.seat_radius_mm,
              "from the axis to the flat that a block lies on") +
         line("blocks_per_pole", block.blocks_per_pole, "side by side in each pole");
}

std::string magnet_lines(const RotorDraft& rotor, const ArcDraft& arc) {
  return line("shape", "\"arcs\"", "\"blocks\" and \"spokes\" are the others") +
         line("grade", toml_text(rotor.grade), "'lodegear materials' lists what is known by name") +
         line("inner_radius_mm", arc.inner_radius_mm, "one arc a pole, touching its neighbours") +
         line("outer_radius_mm", arc.outer_radius_mm);
}

std::string rotor_tables(const char* rotor, const RotorDraft& draft) {
  std::string text;
  if (draft.active_length_mm > 0.0)
    text += "\n[" + std::string(rotor) + "]\n" +
            line("active_length_mm", draft.active_length_mm, "of the magnets, along the axis");
  text +=
      "\n[" + std::string(rotor) + ".magnets]\n" +
      std::visit([&](const auto& magnets) { return magnet_lines(draft, magnets); }, draft.magnets);
  if (draft.axial_rows > 1) text += line("axial_rows", draft.axial_rows, "one behind the other");
  return text;
}

std::string hub_table(const IronDraft& hub) {
  const bool solid = hub.inner_radius_mm == 0.0;
  return "\n[sun.hub]                     # leave this table out if the hub is not steel\n" +
         line("material", toml_text(hub.material),
              solid ? "solid and round, up to the magnets" : "a round tube, up to the magnets") +
         (solid ? "" : line("inner_radius_mm", hub.inner_radius_mm, "the bore"));
}

std::string modulator_table(const ModulatorDraft& modulator) {
  return "\n[modulator]\n" +
         line("material", toml_text(modulator.material), "sheets, stacked along the axis") +
         line("inner_radius_mm", modulator.inner_radius_mm) +
         line("outer_radius_mm", modulator.outer_radius_mm) +
         line("span_percent", modulator.span_percent, "of the pitch: as much steel as air");
}

std::string back_iron_table(const IronDraft& iron, bool blocks) {
  return "\n[ring.back_iron]              # leave this table out if there is no steel around\n" +
         line("material", toml_text(iron.material),
              blocks ? "a round tube that touches the corners" : "a round tube on the magnets") +
         line("outer_radius_mm", iron.outer_radius_mm);
}

std::string running_table(const CaseDraft& d) {
  return "\n[running]\n" +
         line("held", toml_text(name_of(d.held)), "the member that stands still") +
         line("input", toml_text(name_of(d.input)), "the member that is driven") +
         line("input_speed_rpm", d.input_speed_rpm, "for speeds and frequencies only") +
         line("load_angles_deg", "[0, 45]", "0 = no load: its ripple is the cogging");
}

std::string require_table(const CaseDraft& d) {
  if (!d.wanted_slip_torque && !d.wanted_outer_diameter_mm) return {};
  std::string text = "\n[require]                     # what 'lodegear validate' judges\n";
  if (d.wanted_slip_torque)
    text += line("slip_torque_Nm", *d.wanted_slip_torque, "on the output, on the bench, when warm");
  if (d.wanted_outer_diameter_mm)
    text += line("outer_diameter_mm", *d.wanted_outer_diameter_mm, "of magnets and steel, at most");
  return text;
}

}  // namespace

std::string case_text(const CaseDraft& draft) {
  return comment_lines(draft.comment) + gear_table(draft) + rotor_tables("sun", draft.sun) +
         hub_table(draft.sun.iron) + modulator_table(draft.modulator) +
         rotor_tables("ring", draft.ring) +
         back_iron_table(draft.ring.iron, std::holds_alternative<BlockDraft>(draft.ring.magnets)) +
         running_table(draft) + require_table(draft);
}

}  // namespace lodegear
