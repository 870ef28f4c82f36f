// solver/post/end_effect_input.cpp — a gear reduced to what its ends need.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/end_effect_input.h"

#include <algorithm>
#include <cmath>

#include "materials/constants.h"
#include "mesh/magnet_patterns.h"

namespace lodegear {

namespace {

constexpr int largest_multiple = 21;  // what any figure of the end effect sums up to
constexpr int points_a_magnet = 64;

/// Part of its share of the circle that a magnet fills.
double filled_part(const MagnetRotor& rotor) {
  const double share = 2 * pi / n_magnets(rotor);
  if (const auto* arcs = std::get_if<ArcMagnets>(&rotor.shape)) return arcs->coverage;
  if (const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape))
    return std::min(1.0, blocks->width / (blocks->centre_radius * share));
  // Spokes send their flux out through wedges that fill the pole.
  return 1.0;
}

RadialExtent magnet_band(const MagnetRotor& rotor) {
  if (const auto* blocks = std::get_if<BlockMagnets>(&rotor.shape))
    return {blocks->centre_radius - blocks->thickness / 2,
            blocks->centre_radius + blocks->thickness / 2};
  return body_extent(rotor);
}

/// Fourier integrals over all magnets by the midpoint rule.
std::vector<RemanenceHarmonic> harmonics(const MagnetRotor& rotor, double remanence) {
  std::vector<RemanenceHarmonic> list;
  for (int h = 1; h <= largest_multiple; h += 2) list.push_back({h, 0.0, 0.0});
  if (std::holds_alternative<SpokeMagnets>(rotor.shape)) {
    for (RemanenceHarmonic& one : list)  // a pole of even strength, in place of the wedge
      one.radial = 4 * remanence / (pi * one.multiple) * (one.multiple % 4 == 1 ? 1.0 : -1.0);
    return list;
  }
  const int n = n_magnets(rotor);
  const double width = filled_part(rotor) * 2 * pi / n, step = width / points_a_magnet;
  for (int i = 0; i < n; ++i) {
    const double centre = magnet_centre_angle(rotor, i);
    const Magnetisation law = magnetisation(rotor, i);
    for (int k = 0; k < points_a_magnet; ++k) {
      const double t = centre - width / 2 + (k + 0.5) * step;
      const Eigen::Vector2d out(std::cos(t), std::sin(t)), along(-out.y(), out.x());
      const Eigen::Vector2d b = remanence * law.at(out) * step / pi;
      for (RemanenceHarmonic& one : list) {
        const double angle = one.multiple * rotor.pole_pairs * t;
        one.radial += b.dot(out) * std::cos(angle);
        one.tangential += b.dot(along) * std::sin(angle);
      }
    }
  }
  return list;
}

EndRotor end_rotor(const MagnetRotor& rotor, MagnetStrength strength) {
  EndRotor r;
  r.pole_pairs = rotor.pole_pairs;
  r.magnets = magnet_band(rotor);
  r.remanence = harmonics(rotor, strength.remanence);
  r.recoil_permeability = strength.recoil_permeability;
  r.length = r.iron_length = rotor.active_length;
  r.offset = rotor.axial_offset;
  if (!rotor.iron) return r;
  // Iron between the magnets is left out.
  const bool hub = rotor.iron->inner_radius < r.magnets.inner;
  const RadialExtent iron = hub ? RadialExtent{rotor.iron->inner_radius,
                                               std::min(rotor.iron->outer_radius, r.magnets.inner)}
                                : RadialExtent{std::max(rotor.iron->inner_radius, r.magnets.outer),
                                               rotor.iron->outer_radius};
  if (iron.outer > iron.inner) r.iron = iron;
  return r;
}

double cover_of(const Modulator& modulator) {
  const double pitch = 2 * pi / modulator.pole_pieces;
  if (const auto* bar = std::get_if<RoundBar>(&modulator.shape))  // a sector of the same area
    return pi * bar->diameter / (4 * pitch * bar->centre_radius);
  const auto& sector = std::get<SectorPole>(modulator.shape);
  return (sector.span_inner + sector.span_outer) / (2 * pitch);
}

EndCage end_cage(const Modulator& modulator) {
  return {modulator.pole_pieces, body_extent(modulator), cover_of(modulator),
          modulator.active_length, modulator.axial_offset};
}

bool is_simplified(const MagnetRotor& rotor) {
  return !std::holds_alternative<ArcMagnets>(rotor.shape);
}
bool is_simplified(const Modulator& modulator) {
  return std::holds_alternative<RoundBar>(modulator.shape) || modulator.bridge.has_value();
}

bool carries_mean_torque(const Gear& gear) {
  const int sun = gear.sun->pole_pairs, ring = gear.ring->pole_pairs;
  return gear.modulator ? gear.modulator->pole_pieces == sun + ring : sun == ring;
}

}  // namespace

std::optional<EndEffectInput> end_effect_input(const Gear& gear, MagnetStrength sun,
                                               MagnetStrength ring) {
  if (!gear.sun || !gear.ring || !carries_mean_torque(gear)) return std::nullopt;
  EndEffectInput input;
  input.sun = end_rotor(*gear.sun, sun);
  input.ring = end_rotor(*gear.ring, ring);
  input.simplified = is_simplified(*gear.sun) || is_simplified(*gear.ring);
  if (gear.modulator) {
    input.cage = end_cage(*gear.modulator);
    input.simplified = input.simplified || is_simplified(*gear.modulator);
  }
  return input;
}

}  // namespace lodegear
