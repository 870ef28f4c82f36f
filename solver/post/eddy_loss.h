// solver/post/eddy_loss.h — eddy currents in magnets, cans and other solid conductors.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "solver/post/flux_loci.h"

namespace lodegear {

/// Solid conductors of one member, all of one material. Their currents are taken to flow along the
/// axis, closing at the ends, and to be too weak to change the field (resistance-limited).
struct Conductor {
  std::vector<int> regions;  ///< of the member's mesh, see regions_of
  /// false: each region is a body insulated from all others. true: all regions together are one
  /// ring, closed around the axis and insulated at its ends.
  bool closed_ring = false;
  double resistivity = 0.0;  ///< Ω·m at its temperature
  double row_length = 0.0;   ///< m along the axis, of one piece between insulated ends
  double overhang = 0.0;     ///< closed rings: what stands out at each end of row_length, m
  double mu_r = 1.0;         ///< for the skin depth
  /// dθ/dφ of the conductor less that of the member in whose mesh it lies: a can that rests or
  /// turns with another member: see slip_of. Closed rings only.
  double slip = 0.0;
};

/// Conductor::slip of a sleeve in the mesh of `mesh_of`; the housing rests as the held member does.
double slip_of(const LossCycle& cycle, TurnsWith turns_with, Member mesh_of);

/// ρ(T) = ρ20 (1 + coefficient (T − 20)), T in °C.
double resistivity_at(double resistivity_20, double coefficient, double celsius);

/// Loss in one body. Width is tangential, height radial, both of the rectangle with the same second
/// moments of area.
struct BodyLoss {
  int region = 0;
  double width = 0.0, height = 0.0;  ///< m
  double without_ends = 0.0;         ///< W per metre of stack, as in an endless body
  double end_factor = 1.0;
};

/// Means over the cycle, per metre of active length. Of the whole member.
struct EddyLoss {
  double without_ends = 0.0;     ///< W/m
  double loss = 0.0;             ///< W/m, end factors applied; times the active length it is W
  std::vector<BodyLoss> bodies;  ///< those that stand for all (MemberHistory::copies); or the ring
  double frequency = 0.0;        ///< Hz, root mean square, weighted by loss
  double order = 0.0;            ///< closed rings: spatial order, weighted likewise
  double skin_depth = 0.0;       ///< m, at that frequency
  /// Field of the currents over the field that drives them, about: (size/δ)²/4 of the larger side
  /// of a body, µ0 ω t r/(2 p ρ) of a thin ring. Well below 1, or the loss is over-estimated.
  double reaction = 0.0;
};

/// Above this reaction a warning is due: the loss may be a tenth too high, or much more.
inline constexpr double large_reaction = 0.3;

/// Loss at dφ/dt = `phase_speed` [rad/s]:
///
///   J = −(Ȧ − ⟨Ȧ⟩)/ρ,   P′ = (1/ρ) ∫ mean_t (Ȧ − ⟨Ȧ⟩)² dS                         (theory 8.6)
///
/// ⟨⟩ over each insulated body (or the whole ring): it carries no net current. Ends:
/// plate_end_factor of width and row_length for bodies, cylinder_end_factor of `order` for rings.
/// Throws std::invalid_argument for a conductor without regions, resistivity or length.
EddyLoss eddy_loss(const MemberHistory& history, const Conductor& conductor, double phase_speed);

}  // namespace lodegear
