// solver/post/end_grid.cpp — grading of the lines towards edges.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/end_grid.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"

namespace lodegear {

namespace {

constexpr int cells_between_radii = 10;
constexpr int cells_between_ends = 20;
constexpr int cells_to_far = 14;
constexpr int cells_to_axis = 7;
constexpr double first_step = 0.2;    // of the thinnest gap or magnet
constexpr double empty_around = 2.0;  // of the outermost radius
constexpr double same_place = 1e-9;   // m; far below what can be made

/// Growth q of n steps h, hq, hq² … that fill a length; 1 where n even steps are finer than h.
double growth(double length, double h, int n) {
  if (n * h >= length) return 1.0;
  double low = 1.0, high = 2.0;
  const auto filled = [&](double q) { return h * (std::pow(q, n) - 1) / (q - 1); };
  while (filled(high) < length) high *= 2;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (filled(middle) < length ? low : high) = middle;
  }
  return (low + high) / 2;
}

/// Distances from the fine end of n graded steps; the last is the whole length.
std::vector<double> graded(double length, double h, int n) {
  const double q = growth(length, h, n);
  double step = q == 1.0 ? length / n : h, at = 0.0;
  std::vector<double> distances;
  for (int i = 0; i < n; ++i, step *= q) distances.push_back(at += step);
  for (double& d : distances) d *= length / at;
  return distances;
}

void add_fine_at_start(std::vector<double>& lines, double to, double h, int n) {
  const double from = lines.back();
  for (double d : graded(to - from, h, n)) lines.push_back(from + d);
  lines.back() = to;
}

void add_fine_at_end(std::vector<double>& lines, double to, double h, int n) {
  const std::vector<double> d = graded(to - lines.back(), h, n);
  for (std::size_t i = d.size() - 1; i-- > 0;) lines.push_back(to - d[i]);
  lines.push_back(to);
}

void add_fine_at_both(std::vector<double>& lines, double to, double h, int n) {
  add_fine_at_start(lines, (lines.back() + to) / 2, h, n / 2);
  add_fine_at_end(lines, to, h, n / 2);
}

std::vector<double> distinct(std::vector<double> marks) {
  std::sort(marks.begin(), marks.end());
  marks.erase(std::unique(marks.begin(), marks.end(),
                          [](double a, double b) { return b - a < same_place; }),
              marks.end());
  return marks;
}

std::vector<double> radii(const EndEffectInput& input) {
  std::vector<double> marks;
  const auto add = [&marks](const RadialExtent& e) {
    marks.push_back(e.inner);
    marks.push_back(e.outer);
  };
  for (const EndRotor* rotor : {&input.sun, &input.ring}) {
    add(rotor->magnets);
    if (rotor->iron) add(*rotor->iron);
  }
  if (input.cage) add(input.cage->pieces);
  return distinct(marks);
}

std::vector<double> ends(const EndEffectInput& input) {
  std::vector<double> marks;
  const auto add = [&marks](const AxialRange& range) {
    marks.push_back(range.from);
    marks.push_back(range.to);
  };
  for (const EndRotor* rotor : {&input.sun, &input.ring}) {
    add(magnet_range(*rotor));
    if (rotor->iron) add(iron_range(*rotor));
  }
  if (input.cage) add(cage_range(*input.cage));
  return distinct(marks);
}

/// Step at an edge: the field there changes over the gaps, the magnets or the poles, whichever are
/// least.
double edge_step(const EndEffectInput& input) {
  const RadialExtent sun = input.sun.magnets, ring = input.ring.magnets;
  double least = std::min(sun.outer - sun.inner, ring.outer - ring.inner);
  least = std::min(least, ring.inner * pi / input.ring.pole_pairs / 4);
  if (!input.cage) return first_step * std::min(least, ring.inner - sun.outer);
  const RadialExtent pieces = input.cage->pieces;
  return first_step * std::min({least, pieces.inner - sun.outer, ring.inner - pieces.outer});
}

std::vector<double> radial_lines(const EndEffectInput& input) {
  const double h = edge_step(input);
  const std::vector<double> marks = radii(input);
  std::vector<double> lines{0.0};
  if (marks.front() >= same_place) add_fine_at_end(lines, marks.front(), h, cells_to_axis);
  for (std::size_t i = 1; i < marks.size(); ++i)
    add_fine_at_both(lines, marks[i], h, cells_between_radii);
  add_fine_at_start(lines, marks.back() * (1 + empty_around), h, cells_to_far);
  return lines;
}

std::vector<double> axial_lines(const EndEffectInput& input) {
  const double h = edge_step(input), far = empty_around * radii(input).back();
  std::vector<double> marks = ends(input), lines;
  if (is_mirrored(input)) {
    marks.erase(marks.begin(), marks.begin() + static_cast<std::ptrdiff_t>(marks.size() / 2));
    lines = {0.0};
    add_fine_at_end(lines, marks.front(), h, cells_between_ends / 2);
  } else {
    lines = {marks.front() - far};
    add_fine_at_end(lines, marks.front(), h, cells_to_far);
  }
  for (std::size_t i = 1; i < marks.size(); ++i)
    add_fine_at_both(lines, marks[i], h, cells_between_ends);
  add_fine_at_start(lines, marks.back() + far, h, cells_to_far);
  return lines;
}

}  // namespace

AxialRange magnet_range(const EndRotor& rotor) {
  return {rotor.offset - rotor.length / 2, rotor.offset + rotor.length / 2};
}
AxialRange iron_range(const EndRotor& rotor) {
  return {rotor.offset - rotor.iron_length / 2, rotor.offset + rotor.iron_length / 2};
}
AxialRange cage_range(const EndCage& cage) {
  return {cage.offset - cage.length / 2, cage.offset + cage.length / 2};
}

bool is_mirrored(const EndEffectInput& input) {
  return input.sun.offset == 0.0 && input.ring.offset == 0.0 &&
         (!input.cage || input.cage->offset == 0.0);
}

EndGrid end_grid(const EndEffectInput& input) {
  return {radial_lines(input), axial_lines(input), false};
}
EndGrid plane_grid(const EndEffectInput& input) { return {radial_lines(input), {-0.5, 0.5}, true}; }

}  // namespace lodegear
