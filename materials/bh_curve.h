// materials/bh_curve.h — a checked table of H and B, with a straight start and a saturated end.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "materials/constants.h"

namespace lodegear {

struct BhPoint {
  double h;  ///< A/m
  double b;  ///< T
};

/// Least polarisation at one field, as standards guarantee it.
struct GuaranteedPoint {
  double h;  ///< A/m
  double j;  ///< T
};

/// Highest polarisation a table may show [T]: pure iron has 2.158 T at room temperature
/// (from memory; only cobalt-iron alloys have more, up to about 2.4 T).
inline constexpr double highest_polarisation = 2.16;

/// What is wrong with a table of H and B, one sentence each; empty if nothing is.
///
/// Finite values; H and B strictly rising from (0, 0), which may be left out; at least three more
/// points; the polarisation J = B − µ0 H never falling by more than rounding to two decimals and
/// never above `most_polarisation`; the reluctivity H/B rising (within 1 %) after its minimum;
/// relative permeability below 2e6. A measured table that breaks one of these holds a slip of units
/// or of typing, or describes a material we have no model for.
std::vector<std::string> bh_table_faults(const std::vector<BhPoint>& table,
                                         double most_polarisation = highest_polarisation);

/// The law of a soft material as points (0, 0), (H1, B1), … with J never falling and a last chord
/// of slope µ0 (within 5 %).
///
/// Start: the S-shaped foot of a measured curve, where H/B falls, is replaced by the straight line
/// to the point of largest B/H, because Newton's iteration wants H/B to rise; the flux density is
/// too high there by a few hundredths of a tesla at fields that drive nothing in a gear with gaps.
/// End: a table that stops before saturation is carried on by the law of approach J = Js (1 − a/H)
/// through its last two points, Js held below the given limit, until its slope is within 2 % of µ0.
/// Source of the law: Bozorth, Ferromagnetism (1951), chapter 11.
class BhCurve {
 public:
  /// Throws InputError with all faults of the table.
  explicit BhCurve(std::vector<BhPoint> table, double most_polarisation = highest_polarisation);

  const std::vector<BhPoint>& points() const { return points_; }
  /// Last point that was given [T]; beyond it the curve is extrapolated.
  double last_given_b() const { return last_given_b_; }
  /// Whether the table ended before saturation and was carried on.
  bool carried_on() const { return points_.back().b > last_given_b_; }
  /// Polarisation J = B − µ0 H at the field H [A/m → T], by the interpolation the solver uses.
  double polarisation(double h) const;

 private:
  std::vector<BhPoint> points_;
  double last_given_b_ = 0.0;
  double most_polarisation_ = highest_polarisation;
  friend BhCurve guaranteed_minimum(const BhCurve&, const std::vector<GuaranteedPoint>&);
  friend BhCurve stacked(const BhCurve& steel, double stacking_factor);
};

/// The worst delivery that still keeps the guaranteed values: the same saturation, J lowered by
/// what the typical curve has above each guaranteed point; in between linear in ln H; nothing below
/// 500 A/m; beyond the last guaranteed point constant up to twice its field, fading (linear in
/// ln H) to nothing at ten times its field. At the guaranteed fields the result is the smaller of
/// the typical and the guaranteed J. Engineering judgement, no source. Throws InputError if so much
/// is taken away that J would fall.
BhCurve guaranteed_minimum(const BhCurve& typical, const std::vector<GuaranteedPoint>& guaranteed);

/// Sheets stacked along the axis, flux in their plane: sheets and coating lie in parallel, so
/// B̄ = f B(H) + (1 − f) µ0 H, exactly at the points of the table. f from just above 0 to 1.
BhCurve stacked(const BhCurve& steel, double stacking_factor);

/// Flux density in the sheets themselves, for losses: (B̄ − (1 − f) µ0 H)/f [T].
double steel_flux_density(double mean_b, double h, double stacking_factor);

}  // namespace lodegear
