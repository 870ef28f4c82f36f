// cases/studies/search/search_space.h — points a search may ask for, and which of two is better.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <functional>
#include <vector>

namespace lodegear {

/// One direction of a search.
struct Axis {
  int choices = 0;      ///< 0: any number from 0 to 1; else whole numbers 0 … choices − 1
  bool ordered = true;  ///< neighbouring choices are alike
};
using SearchSpace = std::vector<Axis>;
/// A number for every axis.
using SearchPoint = std::vector<double>;

/// What a point is worth.
struct PointValue {
  std::vector<double> goals;   ///< each is to be small; of the order of 1. Empty if not built
  std::vector<double> misses;  ///< one a limit; 0 or less: kept, else by how much it is missed
  double not_built = 0.0;      ///< 0: there is a solution, else how far from one
  bool cheap = false;          ///< told without work; does not count
};

/// 0 if the point is built and keeps all limits. What is not built is further off than any that is.
double distance_to_allowed(const PointValue& value);
/// One number to be small: the first goal of what is allowed; above all of these the distance of
/// what is not. Deb, Comput. Methods Appl. Mech. Eng. 186 (2000) 311.
double merit(const PointValue& value);
/// Whether `a` is at least as good as `b` in every goal and better in one; what is allowed beats
/// what is not, and of the latter the nearer one.
bool dominates(const PointValue& a, const PointValue& b);

struct AskedPoint {
  SearchPoint point;
  PointValue value;
};
/// All points of a search in an order that does not depend on threads.
using Trail = std::vector<AskedPoint>;

/// The values of points, in their order. Called from several threads at once.
using Evaluate = std::function<std::vector<PointValue>(const std::vector<SearchPoint>&)>;

struct SearchOptions {
  int points =
      100;  ///< asked for at most that are not cheap, and `most_cheap` times as many in all
  std::uint32_t seed = 1;
  int threads = 1;                   ///< of searches that run side by side; changes no bit
  std::vector<SearchPoint> known{};  ///< points that are known to be sensible, asked for first
};

/// So many points are asked for at most, however cheap, for each that may be asked for.
inline constexpr int most_cheap = 20;

/// Latin hypercube over all axes.
std::vector<SearchPoint> first_look(const SearchSpace& space, int n, std::uint32_t seed);
/// How many combinations all choices have; 0 if an axis is continuous, and at most `most` + 1.
long combinations(const SearchSpace& space, long most);
/// Every combination; the last axis changes fastest.
std::vector<SearchPoint> all_combinations(const SearchSpace& space);
/// `point` with one choice exchanged: the next ones of an ordered axis, else every other one.
std::vector<SearchPoint> neighbours(const SearchSpace& space, const SearchPoint& point);

/// As many points of Latin hypercubes until `n` of them were not cheap, and what they are worth;
/// at most `most` points.
Trail looked_at(const SearchSpace& space, int n, int most, std::uint32_t seed,
                const Evaluate& evaluate);
/// Points that are not cheap.
int costly(const Trail& trail);

}  // namespace lodegear
