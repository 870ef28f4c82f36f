// solver/post/iron_loss.h — hysteresis, eddy and excess loss of steel, element by element.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "materials/steel.h"
#include "solver/post/flux_loci.h"

namespace lodegear {

/// Stacked sheets in the plane of the flux: pole pieces, back iron or hub of one steel.
struct SheetStack {
  std::vector<int> regions;  ///< of the member's mesh, see regions_of
  Steel steel;               ///< thickness > 0
  double stacking_factor = 1.0;
  /// Times the whole loss: edges of narrow pieces are damaged by cutting. 1.3 to 2 for hobby-cut
  /// pole pieces, 1 for annealed ones (engineering judgement, no source).
  double cutting_factor = 1.0;
};

/// Where the loss of a steel without measured split comes from.
enum class HysteresisSource {
  loss_data,   ///< kh, alpha, ke of SteelLoss
  coercivity,  ///< 4 Hc B a cycle, no excess loss
  unknown,     ///< neither: hysteresis and excess are not computed and count 0
};

/// Loss data are trusted up to here, T (engineering judgement, no source).
inline constexpr double trusted_b = 1.7;

/// Means over the cycle, W per metre of active length, of the whole member.
struct IronLoss {
  double hysteresis = 0.0;
  double classical = 0.0;  ///< eddy currents in single sheets
  double excess = 0.0;
  double total() const { return hysteresis + classical + excess; }
  HysteresisSource source = HysteresisSource::unknown;

  double mass = 0.0;  ///< kg/m, of the steel alone
  /// T, at the worst quadrature point; at sharp corners it grows with every refinement of the mesh.
  double largest_b = 0.0;
  /// Share of the loss at points whose peak B is beyond trusted_b.
  double beyond_trust = 0.0;
  double frequency = 0.0;  ///< Hz, root mean square of Ḃ over that of the changing part of B
  /// m, at that frequency and the chord permeability of the mean B²; 0 = resistivity not known
  double skin_depth = 0.0;
  /// Sheets thicker than two skin depths: the classical term is then too high.
  bool thick = false;
  /// W/m³ of the body, by triangle of MemberHistory::triangles.
  std::vector<std::pair<int, double>> density;
};

/// Loss at dφ/dt = `phase_speed` [rad/s] of every loop the flux runs through, no term fitted to
/// sine waves alone:
///
///   classical   d²/(12 ρ ρm) ⟨|Ḃ|²⟩,         excess   ke/8.763 ⟨|Ḃ|^1.5⟩              (theory 8.3)
///   hysteresis  kh f B_m^alpha × loop_factor × (1 + (rotation_factor − 1) b_minor/B_m)   (8.4)
///
/// in W/kg with B = (B̄ − (1 − s) µ0 H)/s in the steel of a stack with steel share s   (theory 8.5).
/// B at six points a triangle. The classical term of a steel without sheet thickness
/// or resistivity is that of its loss data, kc/(2π²) ⟨|Ḃ|²⟩. Throws std::invalid_argument without
/// regions or density or where neither is known.
IronLoss iron_loss(const MemberHistory& history, const SheetStack& stack, double phase_speed);

/// Hysteresis alone, of solid steel (W/m).
IronLoss solid_hysteresis(const MemberHistory& history, const std::vector<int>& regions,
                          const Steel& steel, double phase_speed);

/// What it means that sheets are stacked along another axis than the gear's.
struct WrongStacking {
  double equivalent_gap = 0.0;  ///< m of air in the path of the flux that crosses the sheets
  std::string caution;          ///< a sentence; empty if the sheets lie as they should
};
/// `radial_thickness` and `width` of a pole piece, m.
WrongStacking wrong_stacking(SheetsStacked stacked, double stacking_factor, double radial_thickness,
                             double width);

}  // namespace lodegear
