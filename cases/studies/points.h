// cases/studies/points.h — the only door to Boost: where in the unit cube the designs lie.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <vector>

namespace lodegear {

// Each returns `n` points of `dimensions` numbers strictly between 0 and 1.
using UnitPoints = std::vector<std::vector<double>>;

/// Independent uniform draws. More points leave the first ones as they are.
UnitPoints random_points(int n, int dimensions, std::uint32_t seed);

/// In every direction each of n equal intervals holds one point, at random in it; the intervals of
/// different directions are paired at random. McKay, Beckman, Conover, Technometrics 21 (1979) 239.
UnitPoints latin_hypercube(int n, int dimensions, std::uint32_t seed);

/// The sequence of Sobol (Bratley and Fox, ACM Trans. Math. Softw. 14 (1988) 88) without its point
/// at 0; unless seed is 0, shifted at random modulo 1 (Cranley and Patterson, SIAM J. Numer. Anal.
/// 13 (1976) 904). More points leave the first ones as they are.
UnitPoints sobol_points(int n, int dimensions, std::uint32_t seed);
/// So many dimensions the tables of the sequence have.
inline constexpr int most_sobol_dimensions = 3667;

/// x with Φ(x) = u of the standard normal distribution, 0 < u < 1.
double normal_quantile(double u);

}  // namespace lodegear
