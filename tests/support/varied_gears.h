// tests/support/varied_gears.h — gears of every kind by lot, as case files.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <sstream>
#include <string>

#include "materials/constants.h"

namespace lodegear {

/// The same numbers with every library: the distributions of the standard differ, its generator
/// does not.
class Lot {
 public:
  Lot(std::uint32_t seed, std::uint32_t number) {
    std::seed_seq mixed{seed, number};
    generator_.seed(mixed);
  }
  double between(double least, double most) {
    return least + (most - least) * (static_cast<double>(generator_()) / 4294967296.0);
  }
  int whole(int least, int most) {
    return least + static_cast<int>(std::floor(between(0.0, most - least + 1.0)));
  }
  bool in(double part) { return between(0.0, 1.0) < part; }

 private:
  std::mt19937 generator_;
};

/// Case file of gear `number` of a seed: pole counts, gaps, radii, patterns, arcs or blocks with
/// gaps between them, hub, back iron, corners and bridges as the lot falls. Invented, and within
/// what people build: 2 to 5 pole pairs in the sun, 8 to 18 in the ring, gaps of 0.6 to 2 mm.
inline std::string varied_gear(std::uint32_t seed, int number) {
  Lot lot(seed, static_cast<std::uint32_t>(number));
  const int sun = lot.whole(2, 5), ring = lot.whole(2 * sun + 1, 4 * sun + 3);
  const double scale = lot.between(0.7, 1.6);
  const double sun_outer = 30.0 * scale, sun_thick = lot.between(4.0, 8.0) * scale;
  const double inner_gap = lot.between(0.6, 2.0), outer_gap = lot.between(0.6, 2.0);
  const double piece = lot.between(4.0, 8.0) * scale, ring_thick = lot.between(3.5, 6.5) * scale;
  const double modulator = sun_outer + inner_gap, modulator_outer = modulator + piece;
  const double ring_inner = modulator_outer + outer_gap;
  std::ostringstream text;
  text.imbue(std::locale::classic());
  text << "name = \"gear " << number << " of seed " << seed
       << "\"\n[gear]\nsun_pole_pairs = " << sun << "\nring_pole_pairs = " << ring
       << "\nstack_length_mm = 30\n";
  const auto magnets = [&](const char* member, int pairs, double inner, double outer) {
    const double thick = outer - inner, pitch = pi / pairs;
    text << "[" << member << ".magnets]\ngrade = \"N42\"\n";
    if (lot.in(0.25)) {  // blocks, as wide as their corners allow
      const double room =
          (member[0] == 's' ? inner : inner + 0.3 * thick) * 2 * std::tan(pitch / 2);
      const double width = std::min(lot.between(0.7, 0.9) * room, 3.0 * thick);
      const double half = width / 2 + 0.1;
      // Of the sun the outer corners, of the ring the inner faces lie on the magnet band's edge.
      const double centre = member[0] == 's'
                                ? std::sqrt(outer * outer - half * half) - thick / 2 - 0.1
                                : inner + thick / 2 + 0.1;
      text << "shape = \"blocks\"\nwidth_mm = " << width << "\nthickness_mm = " << thick
           << "\ncentre_radius_mm = " << centre << "\n";
      return member[0] == 's' ? centre - thick / 2 - 0.2
                              : std::hypot(centre + thick / 2 + 0.1, half) + 0.1;
    }
    text << "inner_radius_mm = " << inner << "\nouter_radius_mm = " << outer << "\n";
    switch (lot.whole(0, 3)) {
      case 0:
        text << "pattern = \"alternating radial\"\ncoverage_percent = " << lot.whole(75, 100);
        break;
      case 1:
        text << "pattern = \"alternating parallel\"\ncoverage_percent = " << lot.whole(75, 100);
        break;
      case 2:
        text << "pattern = \"halbach\"\nsegments_per_pole_pair = 4";
        break;
      default:
        text << "pattern = \"halbach\"\nsegments_per_pole_pair = " << (pairs < 6 ? 6 : 4);
        if (lot.in(0.5)) text << "\npole_centre = \"on joint\"";
    }
    text << "\n";
    return member[0] == 's' ? inner : outer;
  };
  const double hub = magnets("sun", sun, sun_outer - sun_thick, sun_outer);
  if (lot.in(0.6)) text << "[sun.hub]\nmaterial = \"S235\"\nouter_radius_mm = " << hub << "\n";
  text << "[modulator]\nmaterial = \"" << (lot.in(0.5) ? "M400-50A" : "M470-50A")
       << "\"\ninner_radius_mm = " << modulator << "\nouter_radius_mm = " << modulator_outer
       << "\nspan_percent = " << lot.whole(42, 58) << "\n";
  if (lot.in(0.25)) text << "corner_radius_outer_mm = 0.5\n";
  const int bridge = lot.whole(0, 8);
  // Between few and wide pole pieces a thin bridge takes Newton some hundred steps from a cold
  // start: a matter of patience, not of accuracy.
  if (bridge < 3 && sun + ring >= 12)
    text << "[modulator.bridge]\nplace = \""
         << (bridge == 0   ? "inner"
             : bridge == 1 ? "middle"
                           : "outer")
         << "\"\nthickness_mm = " << lot.between(0.5, 0.9) << "\n";
  const double iron = magnets("ring", ring, ring_inner, ring_inner + ring_thick);
  if (lot.in(0.6))
    text << "[ring.back_iron]\nmaterial = \"S235\"\ninner_radius_mm = " << iron
         << "\nouter_radius_mm = " << iron + lot.between(3.0, 7.0) * scale << "\n";
  return text.str();
}

}  // namespace lodegear
