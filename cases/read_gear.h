// cases/read_gear.h — the tables of a case file that describe the gear.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>

#include "cases/case.h"
#include "cases/units.h"

namespace lodegear {

// ---- the keys, and what they fill in mesh/gear.h ------------------------------------------------
//
// [gear]
//   sun_pole_pairs         → sun.pole_pairs, 1 to 200
//   ring_pole_pairs        → ring.pole_pairs, 1 to 200
//   pole_pieces            → modulator.pole_pieces, 1 to 400. With all three members it is
//                            sun_pole_pairs + ring_pole_pairs, and one count may be left out
//   stack_length_mm        active length of every member that gives none of its own
//   magnet_temperature_C   of every rotor that gives none of its own, −200 to 400. Default 20
//   steel_curve            "typical" | "guaranteed minimum". Default "typical"
//
// A member is part of the gear if its table is there: [sun], [modulator], [ring], any of them
// alone, two or three.
//
// [sun] [modulator] [ring]
//   initial_angle_deg      → initial_angle: turns the whole member counter-clockwise. At 0 the
//                            centre of a pole with outward remanence, or the centre of a pole
//                            piece, lies on +x. Default 0
//   active_length_mm       → active_length, along the axis. Default gear.stack_length_mm
//   axial_offset_mm        → axial_offset of the middle of the stack. Default 0
//
// [sun.magnets] [ring.magnets]
//   grade                  → magnet: a magnet of the catalogue or of [materials]
//   temperature_C          Default gear.magnet_temperature_C
//   remanence_percent      of what the grade gives, 1 to 150: a batch that was measured, or varied
//                          in a study. Default 100
//   axial_rows             → axial_rows: magnets in a row along the axis, 1 to 1000. Default 1
//   shape                  → shape: "arcs" | "blocks" | "spokes". Default "arcs"
//   pattern                → pattern: "alternating parallel" | "alternating radial" | "halbach" |
//                            "continuous halbach" | "directions". Default "alternating parallel".
//                            Not with spokes: they point in turn along the circle
//   with pattern "halbach":
//     segments_per_pole_pair   2 to 64. Default 4
//     pole_centre              "on segment" | "on joint". Default "on segment"
//   with "halbach" and "continuous halbach":
//     stronger_side            "outward" | "inward". Default: towards the modulator
//   with "directions":
//     directions_deg           a list: each magnet's remanence from its local outward radius,
//                              counter-clockwise; the list starts again when it is used up
//     magnets_per_pole_pair    1 to 64. Default: the length of the list
//   with shape "arcs" and "spokes":
//     inner_radius_mm, outer_radius_mm   → inner_radius, outer_radius of the magnets
//   with "arcs":
//     coverage_percent         → ArcMagnets::coverage, above 0 up to 100. Default 100
//   with "blocks" (BlockMagnets):
//     width_mm, thickness_mm   → width (along the circle), thickness (along the radius), while the
//                              block is not turned in its pocket
//     centre_radius_mm         → centre_radius; or, instead of it, with blocks that are not turned,
//     seat_radius_mm           distance from the axis to the flat the block lies on: its inner
//                              face on the sun, its outer face on the ring
//     clearance_mm             → clearance for glue and plating on every side. Default 0.1
//     magnetised_along         → axis: "thickness" | "width". Default "thickness"
//     turned                   → turned_to_pattern: true = the body of each block is turned in its
//                              pocket until its own axis points as the pattern wants. Default: true
//                              for "halbach", "directions" and blocks magnetised along their width
//     blocks_per_pole          → blocks_per_pole side by side, 1 to 64, alternating only. Default 1
//     block_pitch_deg          → block_pitch between blocks of one pole. Default: evenly spread
//   with "spokes" (SpokeMagnets):
//     width_mm                 → width of a magnet along the circle
//     wedge_material           → wedge_steel between the magnets
//
// [[sun.odd_magnet]] [[ring.odd_magnet]]   one magnet that differs
//   index                  → index: from 0 at the magnet on (or next after) +x, counter-clockwise
//   missing                → missing = true: air in its place
//   reversed               true: points the other way
//   strength_percent       → strength, 0 to 200, of its remanence. Default 100
//   turned_deg             → turned: added to its direction. Default 0
//
// [sun.hub]                → sun.iron; without the table there is no steel inside the magnets
//   material
//   outer_radius_mm        Default: where the magnets begin
//   inner_radius_mm        Default 0: solid
// [ring.back_iron]         → ring.iron; without the table there is no steel around the magnets
//   material
//   inner_radius_mm        Default: where the magnets end
//   outer_radius_mm
//
// [modulator]
//   material               → material
//   stacking_factor        → stacking_factor: steel's share of the stack, 0.3 to 1. Default: the
//                            material's own
//   rolling_direction      "radial" | "tangential" | "mixed": how the sheets lie in a pole piece.
//                          To be given for grain-oriented sheet, has no meaning for others
//   shape                  → shape: "sectors" | "bars". Default "sectors"
//   with "sectors" (SectorPole):
//     inner_radius_mm, outer_radius_mm
//     span_percent             both spans, of the pitch of the pole pieces. Default 50; instead:
//     span_inner_deg           → span_inner, at the inner radius
//     span_outer_deg           → span_outer, at the outer radius
//     corner_radius_inner_mm   → corner_inner. Default 0: sharp
//     corner_radius_outer_mm   → corner_outer. Default 0
//     hole_diameter_mm         → hole: a tie rod's, on the centre line. Default: no hole
//     hole_centre_radius_mm    Default: half-way
//   with "bars" (RoundBar):
//     bar_diameter_mm          → diameter
//     centre_radius_mm         → centre_radius
// [modulator.bridge]       → bridge of the pole pieces' own steel; without the table there is none
//   place                  "inner" | "middle" | "outer"
//   thickness_mm
//
// [[sleeve]]               → sleeves: a can, sleeve or printed wall, magnetically linear
//   gap                    "inner" | "outer"
//   inner_radius_mm, outer_radius_mm
//   material               of the catalogue or of [materials], or "air"
//   turns_with             "sun" | "modulator" | "ring" | "housing". Default "housing"
//
// [field]                  a uniform field from outside, for tests against textbooks
//   applied_T              flux density far away, −10 to 10. Default 0
//   applied_direction_deg  Default 0: along +x

/// What those tables hold. Materials are still the names that the file gives.
struct GearInFile {
  Gear gear;
  double sun_temperature = 20.0;          ///< of the magnets, °C
  double ring_temperature = 20.0;         ///< °C
  double sun_remanence = 1.0;             ///< part of the grade's
  double ring_remanence = 1.0;            ///< part of the grade's
  std::optional<double> stacking_factor;  ///< of the modulator, if it was given
  std::optional<RollingDirection> rolling_direction;
  SteelQuality steel_curve = SteelQuality::typical;
  Eigen::Vector2d applied_field = Eigen::Vector2d::Zero();  ///< T
};

/// Reads [gear], [sun], [modulator], [ring], [[sleeve]] and [field]. What is wrong goes to `log`,
/// which is that of `root`.
GearInFile read_gear(TableReader& root, const ReadLog& log);

/// What a member takes from [gear].
struct CommonValues {
  double stack_length = 0.0;  ///< mm
  double temperature = 20.0;  ///< °C
};

/// What every member has: initial_angle_deg, active_length_mm, axial_offset_mm.
template <class Part>
void read_placement(TableReader& table, const CommonValues& common, Part& part) {
  part.initial_angle = from_deg(table.number_or("initial_angle_deg", 0.0, angle_range));
  part.active_length =
      from_mm(table.number_or("active_length_mm", common.stack_length, length_range));
  part.axial_offset =
      from_mm(table.number_or("axial_offset_mm", 0.0, Range::between(-10000.0, 10000.0)));
}

/// A rotor and the temperature of its magnets.
struct RotorInFile {
  MagnetRotor rotor;
  double temperature = 20.0;  ///< °C
  double remanence = 1.0;     ///< part of the grade's
};
/// [sun] or [ring] but for the pole pairs, which must be known.
RotorInFile read_rotor(TableReader& table, Member member, int pole_pairs,
                       const CommonValues& common);
/// [sun.magnets] or [ring.magnets] into `rotor`, without temperature.
void read_magnets(TableReader& table, Member member, MagnetRotor& rotor);

struct ModulatorInFile {
  Modulator modulator;
  std::optional<double> stacking_factor;
  std::optional<RollingDirection> rolling_direction;
};
/// [modulator] but for the number of pole pieces, which must be known.
ModulatorInFile read_modulator(TableReader& table, int pole_pieces, const CommonValues& common);

/// Complains about each of the keys that is there and does not belong with what was chosen.
void refuse(TableReader& table, std::initializer_list<std::string_view> keys,
            const std::string& text);

}  // namespace lodegear
