// cases/studies/draws.h — numbers by lot that are the same with every library.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <random>

namespace lodegear {

/// The distributions of the standard library differ from one to the next; its generator and the
/// way it is seeded do not. Each (seed, number, purpose) is a sequence of its own, so that no draw
/// depends on how many were made before for something else.
class Draws {
 public:
  Draws(std::uint32_t seed, std::uint32_t number, std::uint32_t purpose) {
    std::seed_seq mixed{seed, number, purpose};
    generator_.seed(mixed);
  }
  /// Between 0 and 1, never either.
  double part() { return (static_cast<double>(generator_()) + 0.5) / 4294967296.0; }
  /// 0 … n − 1.
  std::size_t below(std::size_t n) {
    return static_cast<std::size_t>(part() * static_cast<double>(n));
  }

 private:
  std::mt19937 generator_;
};

}  // namespace lodegear
