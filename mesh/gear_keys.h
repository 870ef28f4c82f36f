// mesh/gear_keys.h — the case-file entries that a complaint about a gear may name.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "mesh/gear.h"

namespace lodegear {

// The one table of dotted names; the reader of case files fills the same entries from the same
// names.
struct GearKeys {
  static constexpr const char* pole_pieces = "gear.pole_pieces";
  // after "sun." or "ring."
  static constexpr const char* inner_radius = "magnets.inner_radius_mm";
  static constexpr const char* outer_radius = "magnets.outer_radius_mm";
  static constexpr const char* coverage = "magnets.coverage_percent";
  static constexpr const char* width = "magnets.width_mm";
  static constexpr const char* thickness = "magnets.thickness_mm";
  static constexpr const char* centre_radius = "magnets.centre_radius_mm";
  static constexpr const char* clearance = "magnets.clearance_mm";
  static constexpr const char* blocks_per_pole = "magnets.blocks_per_pole";
  static constexpr const char* block_pitch = "magnets.block_pitch_deg";
  static constexpr const char* pattern = "magnets.pattern";
  static constexpr const char* segments = "magnets.segments_per_pole_pair";
  static constexpr const char* directions = "magnets.directions_deg";
  static constexpr const char* magnets_per_pole_pair = "magnets.magnets_per_pole_pair";
  static constexpr const char* odd_magnet = "odd_magnet";  // [1].index
  // [modulator]
  static constexpr const char* pole_inner_radius = "modulator.inner_radius_mm";
  static constexpr const char* pole_outer_radius = "modulator.outer_radius_mm";
  static constexpr const char* span_inner = "modulator.span_inner_deg";
  static constexpr const char* span_outer = "modulator.span_outer_deg";
  static constexpr const char* corner_inner = "modulator.corner_radius_inner_mm";
  static constexpr const char* corner_outer = "modulator.corner_radius_outer_mm";
  static constexpr const char* hole_diameter = "modulator.hole_diameter_mm";
  static constexpr const char* bar_diameter = "modulator.bar_diameter_mm";
  static constexpr const char* bar_centre_radius = "modulator.centre_radius_mm";
  static constexpr const char* bridge_thickness = "modulator.bridge.thickness_mm";
  static constexpr const char* stacking_factor = "modulator.stacking_factor";
};

/// "sun.magnets.width_mm"
inline std::string rotor_key(Member rotor, const std::string& key) {
  return std::string(name_of(rotor)) + "." + key;
}
/// "gear.sun_pole_pairs"
inline std::string pole_pairs_key(Member rotor) {
  return std::string("gear.") + name_of(rotor) + "_pole_pairs";
}
/// "sun.hub.outer_radius_mm", "ring.back_iron.inner_radius_mm"
inline std::string iron_key(Member rotor, const std::string& end) {
  return rotor_key(rotor, (rotor == Member::sun ? "hub." : "back_iron.") + end + "_radius_mm");
}
/// "sleeve[1].inner_radius_mm"; people count from one.
inline std::string sleeve_key(std::size_t index, const std::string& key) {
  return "sleeve[" + std::to_string(index + 1) + "]." + key;
}

}  // namespace lodegear
