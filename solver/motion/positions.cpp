// solver/motion/positions.cpp — the lists of positions a sweep visits.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/positions.h"

#include "materials/constants.h"

namespace lodegear {

std::vector<Position> slip_positions(const PoleCounts& counts, Member turned, int n,
                                     const Position& start) {
  std::vector<Position> positions;
  const double already = load_angle(counts, start);
  for (int i = 0; i < n; ++i) {
    Position p = start;
    const double by = (2 * pi * i / n - already) / electrical_factor(counts, turned);
    (turned == Member::sun ? p.sun : turned == Member::modulator ? p.modulator : p.ring) += by;
    positions.push_back(p);
  }
  return positions;
}

std::vector<Position> running_positions(const PoleCounts& counts, Member held, double delta,
                                        double turn, int n) {
  std::vector<Position> positions;
  for (int i = 0; i < n; ++i)
    positions.push_back(synchronous_position(counts, held, delta, turn * i / n));
  return positions;
}

}  // namespace lodegear
