// solver/post/mechanics.h — short formulas for bars, rings, shafts and bearings.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>

namespace lodegear {

// ---- beams --------------------------------------------------------------------------------------

/// How a beam is held under a load that is the same all along it.
enum class Ends { supported, clamped, cantilever };

/// Largest deflection of a beam [m]: load q [N/m], length l [m], bending stiffness E I [N·m²].
///   5 q l⁴/(384 EI),  q l⁴/(384 EI),  q l⁴/(8 EI)
/// Infinite without stiffness. Source: Young, Budynas, Roark's Formulas for Stress and Strain, 7th
/// ed. (2002), table 8.1 (here from memory).
double beam_deflection(Ends ends, double load, double length, double bending_stiffness);
/// Largest bending moment [N·m]: q l²/8 in the middle, q l²/12 and q l²/2 where it is held.
double beam_moment(Ends ends, double load, double length);

/// Second moment of area [m⁴]: b h³/12, `height` along the load; π d⁴/64.
double rectangle_second_moment(double width, double height);
double circle_second_moment(double diameter);

// ---- pole pieces --------------------------------------------------------------------------------

/// A rod through a hole of every sheet, or beside the piece, that shares its deflection.
struct CarryingRod {
  double diameter = 0.0;        ///< m
  double youngs_modulus = 0.0;  ///< Pa
};

/// A pole piece as a bar along the axis, pulled radially or tangentially.
struct PoleBar {
  double length = 0.0;          ///< between the ends that hold it, m
  Ends ends = Ends::supported;  ///< cantilever: one end ring only
  double width = 0.0;           ///< across the load, m
  double height = 0.0;          ///< along the load, m
  double youngs_modulus = 0.0;  ///< Pa
  /// Sheets bonded into one bar, or solid. Loose sheets slide on one another and bend like nothing:
  /// then the rod alone carries. What the friction between clamped sheets adds is not counted on.
  bool bonded = true;
  std::optional<CarryingRod> rod;
};
/// E I [N·m²] of what carries; 0 for loose sheets without a rod.
double bending_stiffness(const PoleBar& bar);
/// Under `load` [N per metre of stack], m.
double deflection(const PoleBar& bar, double load);

/// Loose sheets held by their bridges: how far one piece moves radially under `load` [N/m of
/// stack] while its neighbours stay: two webs, clamped at both ends and sheared,
///   x = q s³ / (2 E t³)
/// s: length of a web between two pieces, t: its radial thickness [m]. Thin webs (t well below s).
/// Source: clamped beam with one end displaced, as above (12 EI/s³, I = t³/12 a metre).
double web_deflection(double load, double web_length, double web_thickness, double youngs_modulus);

/// Radial growth of a ring of radius r and thickness t [m] under a pressure p on its inside [Pa]:
/// p r²/(E t), thin rings. With n pieces pulled alike by q, p = n q/(2π r).
double ring_growth(double pressure, double radius, double thickness, double youngs_modulus);

// ---- a member on its bearings -------------------------------------------------------------------

/// Where a member settles that is off centre by `eccentricity` [m] and pulled by `pull` [N], on
/// bearings and carrier of stiffness k [N/m] against a negative magnetic stiffness k_m [N/m]:
///   displacement besides the eccentricity = (pull + k_m e) / (k − k_m).
/// None if k ≤ k_m: then it snaps to one side.
std::optional<double> settled_displacement(double pull, double eccentricity, double stiffness,
                                           double negative_stiffness);

// ---- shafts and keys ----------------------------------------------------------------------------

/// Round shaft; inner diameter 0 = solid.
struct Shaft {
  double diameter = 0.0;
  double inner_diameter = 0.0;
};
/// Largest shear stress [Pa]: 16 T d / (π (d⁴ − d_i⁴)).
double torsion_stress(const Shaft& shaft, double torque);
/// Twist [rad] over a length: T l/(G J), J = π (d⁴ − d_i⁴)/32. Source of both: Roark, as above.
double torsion_twist(const Shaft& shaft, double torque, double length, double shear_modulus);

/// Parallel key, form A (round ends).
struct Key {
  double width = 0.0, height = 0.0;  ///< b × h, m
  double shaft_depth = 0.0;          ///< t1, m
  double length = 0.0;               ///< l, m; carries over l − b
};
/// Pressure on its side in the hub [Pa]: T / ((d/2) (l − b) (h − t1)). Source: common practice
/// (the short check of DIN 6892, from memory).
double key_pressure(const Key& key, double shaft_diameter, double torque);
/// Mean shear in it [Pa]: T / ((d/2) (l − b) b).
double key_shear(const Key& key, double shaft_diameter, double torque);

// ---- bearings -----------------------------------------------------------------------------------

enum class Rolling { balls, rollers };
/// Life that nine in ten bearings reach [turns]: 10⁶ (C/P)^3, rollers ^(10/3). `rating`: dynamic
/// load rating C, `load`: equivalent load P, N. Infinite without load. Source: ISO 281.
double bearing_life(Rolling rolling, double rating, double load);
/// The same in seconds at a speed [rad/s].
double bearing_life_time(Rolling rolling, double rating, double load, double angular_speed);

}  // namespace lodegear
