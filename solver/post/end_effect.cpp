// solver/post/end_effect.cpp — torque and axial force from the field about the ends.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/end_effect.h"

#include <algorithm>
#include <cmath>

#include "solver/post/end_field.h"

namespace lodegear {

namespace {

// Harmonics of the remanence that are summed. In a gear the working one does the work; in a
// coupling the others carry some of the torque, and in axial pull they carry some in both.
constexpr int gear_torque_multiples = 1;
constexpr int coupling_torque_multiples = 21;
constexpr int pull_multiples = 5;

// The band: see 'End effect' in solver/README.md.
constexpr double band_of_ratio = 0.015;
constexpr double band_of_loss = 0.10;
constexpr double band_of_simplified = 0.02;
constexpr double widest_band = 0.10;

double common_length(const EndEffectInput& input) {
  AxialRange common = magnet_range(input.sun);
  const auto cut = [&common](const AxialRange& other) {
    common = {std::max(common.from, other.from), std::min(common.to, other.to)};
  };
  cut(magnet_range(input.ring));
  if (input.cage) cut(cage_range(*input.cage));
  return std::max(0.0, common.length());
}

/// Torque at a quarter electrical period but for a factor: Σ h sin(hπ/2) E_h (theory 9.5).
double torque_sum(const EndEffectInput& input, const EndGrid& grid) {
  const int last = input.cage ? gear_torque_multiples : coupling_torque_multiples;
  double sum = 0.0;
  for (int h = 1; h <= last; h += 2)
    sum += (h % 4 == 1 ? h : -h) * end_field(input, h, grid).energy.both;
  return sum;
}

void give_strength(EndRotor& rotor) {
  for (const RemanenceHarmonic& b : rotor.remanence)
    if (b.multiple == 1 && (b.radial != 0.0 || b.tangential != 0.0)) return;
  rotor.remanence = {{1, 1.0, 0.0}};
}

EndEffect with_band(EndEffect e, bool simplified) {
  double half = band_of_ratio * e.ratio + band_of_loss * std::abs(1 - e.ratio) +
                (simplified ? band_of_simplified * e.ratio : 0.0);
  half = std::min(half, widest_band * e.ratio);
  e.low = e.ratio - half;
  e.high = e.ratio + half;
  return e;
}

EndRotor with_length(EndRotor rotor, double length) {
  rotor.iron_length += length - rotor.length;
  rotor.length = length;
  rotor.offset = 0.0;
  return rotor;
}

}  // namespace

EndEffect end_effect(const EndEffectInput& given) {
  EndEffectInput input = given;
  give_strength(input.sun);  // the ratio exists for weak magnets and for none
  give_strength(input.ring);
  EndEffect e;
  e.common_length = common_length(input);
  e.effective_length = torque_sum(input, end_grid(input)) / torque_sum(input, plane_grid(input));
  if (e.common_length > 0.0) e.ratio = e.effective_length / e.common_length;
  return with_band(e, input.simplified);
}

EndEffectInput with_stack(EndEffectInput input, double length, double overhang) {
  input.sun = with_length(input.sun, input.cage ? length + 2 * overhang : length);
  input.ring = with_length(input.ring, length + 2 * overhang);
  if (input.cage) {
    input.cage->length = length;
    input.cage->offset = 0.0;
  }
  return input;
}

std::vector<EndEffect> end_effect_against_length(const EndEffectInput& input,
                                                 const std::vector<double>& lengths,
                                                 double overhang) {
  std::vector<EndEffect> curve;
  curve.reserve(lengths.size());
  for (double length : lengths) curve.push_back(end_effect(with_stack(input, length, overhang)));
  return curve;
}

AxialForces axial_forces(const EndEffectInput& input, double load_angle) {
  if (is_mirrored(input)) return {};
  const EndGrid grid = end_grid(input);
  AxialForces force;
  for (int h = 1; h <= pull_multiples; h += 2) {
    const EndField field = end_field(input, h, grid);
    const double cosine = std::cos(h * load_angle);
    force.sun += field.pull_inner.at(cosine);
    force.ring -= field.pull_outer.at(cosine);
  }
  force.modulator = -force.sun - force.ring;
  return force;
}

EndEffectInput displaced(EndEffectInput input, Member member, double offset) {
  if (member == Member::sun) input.sun.offset += offset;
  if (member == Member::ring) input.ring.offset += offset;
  if (member == Member::modulator && input.cage) input.cage->offset += offset;
  return input;
}

std::vector<double> axial_force_curve(const EndEffectInput& input, Member member,
                                      const std::vector<double>& offsets, double load_angle) {
  std::vector<double> curve;
  curve.reserve(offsets.size());
  for (double offset : offsets)
    curve.push_back(axial_forces(displaced(input, member, offset), load_angle).on(member));
  return curve;
}

}  // namespace lodegear
