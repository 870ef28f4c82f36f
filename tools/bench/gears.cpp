// tools/bench/gears.cpp — example cases as they are, with other steel, and varied.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/gears.h"

#include <random>

#include "cases/read_case.h"
#include "mesh/check_gear.h"

namespace lodegear::bench {

namespace {

Case example(const std::string& name) {
  return read_case(LODEGEAR_SOURCE_DIR "/cases/" + name + "/case.toml");
}

Case with_steel(Case c, const SteelLaw& law) {
  for (auto& [label, steel] : c.steels) steel.material.law = law;
  return c;
}

/// Factors from 0.8 to 1.2. Not std::uniform_real_distribution, whose numbers differ between
/// standard libraries.
class Factors {
 public:
  Factors(std::uint64_t seed, int number)
      : random_(seed + 1000003 * static_cast<std::uint64_t>(number)) {}
  double next() { return 0.8 + 0.4 * static_cast<double>(random_() >> 11) * 0x1p-53; }

 private:
  std::mt19937_64 random_;
};

/// Moves a band to start at `inner` and makes it `factor` times as thick; returns its outer radius.
template <class Band>
double rebuilt(Band& band, double inner, double factor) {
  const double thickness = factor * (band.outer_radius - band.inner_radius);
  band.inner_radius = inner;
  band.outer_radius = inner + thickness;
  return band.outer_radius;
}

void vary(Gear& gear, Factors& factors) {
  const double inner_gap = gear.modulator->inner_radius - gear.sun->outer_radius;
  const double outer_gap = gear.ring->inner_radius - gear.modulator->outer_radius;
  double r = rebuilt(*gear.sun, gear.sun->inner_radius, factors.next());
  r = rebuilt(*gear.modulator, r + inner_gap, factors.next());
  rebuilt(*gear.ring, r + outer_gap, factors.next());
  auto& piece = std::get<SectorPole>(gear.modulator->shape);
  piece.span_inner *= factors.next();
  piece.span_outer *= factors.next();
}

}  // namespace

Case bench_case(const std::string& name) {
  if (name == "standard_exponential")  // k1, k2, k3 as in peer_fem.py
    return with_steel(example("standard"), ExponentialLaw{3.5, 2.14, 95.0});
  if (name == "standard_linear") return with_steel(example("standard"), ConstantPermeability{1000});
  return example(name);
}

Case varied_case(const Case& c, std::uint64_t seed, int number) {
  Factors factors(seed, number);
  while (true) {
    Case varied = c;
    vary(varied.gear, factors);
    if (check_gear(varied.gear).empty()) return varied;
  }
}

}  // namespace lodegear::bench
