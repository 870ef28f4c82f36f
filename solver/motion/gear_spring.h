// solver/motion/gear_spring.h — the gear as a spring between its members: stiffness, wind-up,
// natural frequencies, sudden loads. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <limits>
#include <optional>
#include <vector>

#include "mesh/gear.h"
#include "solver/motion/torque_curve.h"

namespace lodegear {

/// What passes through a gear depends on the load angle alone (its ripple left aside):
///   δ = p_s θ_s + p_r θ_r − n θ_m,   T_member = −factor · τ(δ),   τ = dU/dδ, (theory 15.1, 15.2)
/// with factor p_s, p_r, −n. δ = 0 is at rest; τ rises there. All torques in one unit: N·m, or N·m
/// per metre of stack (inertias then too).
class GearSpring {
 public:
  /// `torque_on`: the torque on `member` at load angle 2π t, t = 0 … 1 (a slip curve, or the means
  /// of running curves). For a coupling `modulator` is 0 and ring = −sun.
  /// The mean of the curve is taken out: a gear at rest does no work in a whole cycle.
  GearSpring(int sun, int modulator, int ring, Member member, const PeriodicCurve& torque_on);
  /// τ = peak_on(member)/|factor| sin δ.
  static GearSpring sine(int sun, int modulator, int ring, Member member, double peak_torque);

  /// The same gear loaded the other way: τ(−δ) with its sign turned.
  GearSpring reversed() const;

  /// Part of a member in δ: p_s, −n, p_r.
  int factor(Member member) const { return factors_[static_cast<std::size_t>(member)]; }
  double tau(double delta) const;        ///< N·m a rad of load angle
  double slope(double delta) const;      ///< dτ/dδ
  double potential(double delta) const;  ///< U, J; 0 at its least, periodic
  double torque(Member member, double delta) const { return -factor(member) * tau(delta); }
  /// Torque for each rad that a member alone is turned: factor² dτ/dδ [N·m/rad].
  double stiffness(Member member, double delta = 0.0) const;

  double peak_tau() const { return peak_.value; }      ///< largest τ
  double lowest_tau() const { return trough_.value; }  ///< the most the other way, negative
  double peak_angle() const;                           ///< δ of the peak, rad, within a turn of 0
  double trough_angle() const;
  double potential_range() const { return range_; }  ///< top of U over its bottom, J

  /// Load angle at which the gear stands still under `tau_load`, on the stable branch through 0;
  /// none beyond the slip torque.
  std::optional<double> wind_up(double tau_load) const;
  /// δ of the crest at which it would topple over under that load; none beyond the slip torque.
  std::optional<double> crest(double tau_load) const;

 private:
  PeriodicCurve curve_;
  std::array<int, 3> factors_;
  Extreme peak_, trough_;
  std::vector<double> tau_, tau_slope_, potential_;  // over a turn of δ
  double range_ = 0.0;
};

inline constexpr double held_fast = std::numeric_limits<double>::infinity();

/// Moments of inertia [kg·m²]; `held_fast` for a member that is held or driven at a fixed speed.
struct Inertias {
  double sun = held_fast, modulator = held_fast, ring = held_fast;
  double of(Member m) const {
    return m == Member::sun ? sun : m == Member::modulator ? modulator : ring;
  }
  double& of(Member m) {
    return m == Member::sun ? sun : m == Member::modulator ? modulator : ring;
  }
};

/// κ = Σ factor²/J over the members: δ″ = κ (τ_load − τ(δ)) without friction.        (theory 15.4)
double mobility(const GearSpring& spring, const Inertias& inertias);

/// Natural frequency of the members against one another about load angle `delta` [Hz]:
///   ω² = κ dτ/dδ; 0 where the gear is not stable.                                   (theory 15.5)
/// With two members free it is their one mode besides turning together. Losses, shafts' own
/// softness and ripple are left out.
double natural_frequency(const GearSpring& spring, const Inertias& inertias, double delta = 0.0);

/// The load as the spring sees it [N·m a rad of δ] when these torques act on the members from
/// outside: Σ (factor T/J) / κ; T/factor of the only member that is free. (theory 15.6)
double load_seen(const GearSpring& spring, const Inertias& inertias,
                 const std::array<double, 3>& torques);

/// The largest load that may come on at once without slip, in the direction of positive τ, after
/// the gear stood at `before` [N·m a rad]; `damping` is the ratio to the critical one at no load.
///   without: ∫ from wind_up(before) to crest(load) of (τ − load) dδ = 0              (theory 15.7)
/// For a sine without damping 0.7246 of the peak. Needs before < peak. For the other direction ask
/// spring.reversed().
double largest_sudden_load(const GearSpring& spring, double before = 0.0, double damping = 0.0);

/// Sliding speed dδ/dt [rad/s, electrical] at the bottom of U below which the gear locks in of
/// itself, without load or losses: √(2 κ (U_max − U_min)); for a sine twice the natural angular
/// frequency. (theory 15.8)
double lock_in_speed(const GearSpring& spring, double kappa);

/// Load [N·m a rad] below which a gear that slips in the direction of the load locks in again,
/// where sliding is damped as δ″ = κ (load − τ) − damping_rate δ′:
///   load = damping_rate/(2π κ) ∮ √(2 κ (U_max − U)) dδ (theory 15.9)
/// First order in the damping: good while the result is below some 0.3 of the peak. For a sine
/// 4/π · damping_rate/ω_0 of the peak.
double lock_in_load(const GearSpring& spring, double kappa, double damping_rate);

}  // namespace lodegear
