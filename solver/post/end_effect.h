// solver/post/end_effect.h — how far a stack of finite length falls below the plane model.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "mesh/gear.h"
#include "solver/post/end_effect_input.h"

namespace lodegear {

// An estimate from section 9 of the theory: ideal iron, linear magnets, the working harmonic of
// both rotors, a quarter electrical period from rest. Nothing in it is fitted. All lengths must be
// positive, radii must rise from sun to ring, and pole pairs must work together, as they do in what
// `end_effect_input` returns for a gear that has been checked.

/// Torque of the finite stack against T′, the plane model's torque per metre.
struct EndEffect {
  double common_length = 0.0;     ///< m, what all members share along the axis; 0 if nothing
  double effective_length = 0.0;  ///< m, torque of the stack over T′
  double ratio = 0.0;             ///< effective_length / common_length; above 1 with overhang
  double low = 0.0;               ///< band of the ratio, at most ±10 % of it
  double high = 0.0;
};
/// Some hundredths of a second.
EndEffect end_effect(const EndEffectInput& input);

/// The same machine with all members `length` long and centred; magnets and iron of sun and ring
/// stand out by `overhang` at each end (of a coupling those of the ring only), m.
EndEffectInput with_stack(EndEffectInput input, double length, double overhang);
/// end_effect of with_stack for each length: the curve of torque against stack length.
std::vector<EndEffect> end_effect_against_length(const EndEffectInput& input,
                                                 const std::vector<double>& lengths,
                                                 double overhang);

/// Axial force on each member, N, positive along +z; they sum to zero. From the strengths in
/// `input.*.remanence`.
struct AxialForces {
  double sun = 0.0;
  double modulator = 0.0;
  double ring = 0.0;
  double on(Member m) const {
    return m == Member::sun ? sun : m == Member::modulator ? modulator : ring;
  }
};
/// load_angle: electrical, rad; 0 at rest, where the members hold each other the strongest. Rough:
/// see 'Limits' there. About a quarter of a second.
AxialForces axial_forces(const EndEffectInput& input, double load_angle);

/// The same with one member (its iron with it) displaced by `offset` from where it stands, m.
EndEffectInput displaced(EndEffectInput input, Member member, double offset);
/// Axial force on `member`, N, at each displacement: it pulls back where it has the other sign.
/// Over displacements up to the length of the stack this is the force of putting a member in.
std::vector<double> axial_force_curve(const EndEffectInput& input, Member member,
                                      const std::vector<double>& offsets, double load_angle);

}  // namespace lodegear
