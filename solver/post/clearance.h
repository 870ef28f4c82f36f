// solver/post/clearance.h — how much of a running clearance is left when everything adds up.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "mesh/check_gear.h"
#include "mesh/gear.h"

namespace lodegear {

/// Something that takes from a clearance.
struct GapLoss {
  std::string name;      ///< "bearing play, sun"
  double value = 0.0;    ///< m off the radius; a tolerance: its largest size; negative = gives room
  std::string origin;    ///< where the figure comes from, for a person
  bool certain = false;  ///< always there in full (growth, deflection); else it may be smaller
};

/// A gap, or its part on one side of a sleeve, and all that takes from it.
struct ClearanceBudget {
  std::string name;
  double nominal = 0.0;  ///< m
  std::vector<GapLoss> losses;

  double worst_case() const;  ///< m left if every loss takes its full value at one spot
  /// What is certain in full, the rest as the root of the sum of squares: independent errors rarely
  /// all point the same way. Not a guarantee.
  double likely() const;
  bool may_rub() const { return worst_case() <= 0.0; }
  bool likely_rubs() const { return likely() <= 0.0; }
  /// Largest losses first.
  std::vector<GapLoss> ranked() const;
};

/// Smallest worst case of several budgets, m; none if there are no budgets.
const ClearanceBudget* tightest(const std::vector<ClearanceBudget>& budgets);

// ---- what takes from a clearance ----------------------------------------------------------------

enum class Making { machined, printed };
/// The usual list for one member, m off the radius (engineering judgement and common practice, no
/// source): bearing play 0.02 mm, run-out 0.03 mm, roundness 0.02 mm machined or 0.3 mm printed;
/// for a member with magnets also block tolerance 0.05 mm, plating 0.02 mm, glue 0.1 mm. Every one
/// is a starting value to be replaced by what was bought and measured.
std::vector<GapLoss> usual_tolerances(Member member, Making making);

/// How much the clearance between a surface at `radius_inner` within one at `radius_outer` [m]
/// closes when they warm by these amounts [K], with expansions [1/K]:
///   α_i r_i ΔT_i − α_o r_o ΔT_o
GapLoss thermal_growth(double radius_inner, double expansion_inner, double warming_inner,
                       double radius_outer, double expansion_outer, double warming_outer);

/// How far the middle of a flat face of width w stands back behind its corners on the circle of
/// radius r [m]: r − √(r² − w²/4). The running clearance of a gear is counted from the corners; the
/// mean magnetic gap is larger by about two thirds of this.
double flat_face_sagitta(double radius, double width);

// ---- of a gear ----------------------------------------------------------------------------------

/// What each member brings along; `sleeves` for cans and walls, whoever they turn with.
struct ClearanceInput {
  std::vector<GapLoss> sun, modulator, ring, sleeves;
  const std::vector<GapLoss>& of(Member m) const {
    return m == Member::sun ? sun : m == Member::modulator ? modulator : ring;
  }
};
/// One budget for each clear part of each gap, from inside to outside, with the losses of both its
/// sides. A sleeve that turns with a member has that member's losses besides its own; between the
/// two nothing runs, and no budget is listed. Nominal are the corners that come nearest, as in
/// gap_clearance. Needs a gear that passed check_gear.
std::vector<ClearanceBudget> clearance_budgets(const Gear& gear, const ClearanceInput& input);

}  // namespace lodegear
