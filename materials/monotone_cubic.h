// materials/monotone_cubic.h — slopes for a C¹ piecewise cubic that neither falls nor rises too
// fast. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

namespace lodegear {

/// Slopes dy/dx at the points of a table with x and y strictly rising, for cubic Hermite pieces.
///
/// Inside: the weighted harmonic mean of the two neighbouring chords, which suits curves that bend
/// like an exponential. At the ends: `first` and `last` as given. A piece with chord s has
/// 0 < dy/dx when both its slopes lie in [0, 3 s], and, the same sentence about steepest·x − y,
/// dy/dx < steepest when both lie in [3 s − 2 steepest, steepest]. Each inner slope is moved into
/// these boxes of both its pieces, slightly shrunk. They have no point in common where one chord is
/// steeper than the one before by more than ⅔ of `steepest`; then dy/dx > 0 wins and the second
/// bound is broken in that piece.
/// Sources: Fritsch, Carlson, SIAM J. Numer. Anal. 17 (1980) 238, lemma 2; the mean: Fritsch,
/// Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.
std::vector<double> limited_slopes(const std::vector<double>& x, const std::vector<double>& y,
                                   double steepest, double first, double last);

}  // namespace lodegear
