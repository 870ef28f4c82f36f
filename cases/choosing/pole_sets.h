// cases/choosing/pole_sets.h — pole counts that give a ratio, and what the counts alone tell.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cases/choosing/wish.h"
#include "solver/motion/kinematics.h"

namespace lodegear {

/// p_s/n/p_r with one member held.
struct PoleSet {
  PoleCounts counts;
  SpeedRatio drive;
  /// |ratio| over the wished one, less 1.
  double off(const Wish& wish) const;
};

/// "4/23/19"
std::string counts_text(const PoleCounts& counts);
/// Throws InputError that names `option` if the text is not p_s/n/p_r with n = p_s + p_r.
PoleCounts counts_from_text(const std::string& text, const std::string& option);

// ---- what the counts alone tell -----------------------------------------------------------------
//
// Turn the cross-section by a = 2πk/n: the pole pieces lie as before. The sun does too, north and
// south exchanged or not, if a = πm/p_s, i.e. if n divides 2 p_s k; the ring, with p_r = n − p_s,
// then moves on by 2p_r k/n = 2k − m poles and exchanges north and south exactly if the sun does.
// So the whole field repeats, up to its sign, s = gcd(2p_s, n) times a turn, in every position of
// the members. With s > 1:
//  - a net side pull, which does not change with the field's sign, would have to equal itself
//    turned by 2π/s: it is zero, on every member. With s = 1 two neighbouring orders of the field
//    lie next to one another (2p_s i + n j = 1 has a solution), and they pull.
//  - s poles at a time stand alike before the pole pieces and cog together, LCM(2p_s, n) =
//    2p_s n/s times a turn. The factor 2p n/LCM(2p, n) = gcd(2p, n) by which the
//    trade judges cogging (common practice, no source) is this same s, for both rotors:
//    gcd(2p_r, n) = gcd(2n − 2p_s, n).
// Hence no gear has both the least cogging, factor 1, and a balanced pull; 2 is next best.

/// s: how often the cross-section repeats in a turn; also the cogging factor of both rotors.
int repeats(const PoleCounts& counts);
inline bool balanced(const PoleCounts& counts) { return repeats(counts) > 1; }
/// LCM(2p, n): coggings in a turn of that rotor against the modulator.
int coggings_per_turn(const PoleCounts& counts, Member rotor);

/// Fundamental frequencies at which the flux density changes in the parts, Hz.
struct FluxFrequencies {
  double pole_pieces = 0.0;  ///< p_s |ω_s − ω_m|/2π = p_r |ω_r − ω_m|/2π
  double sun = 0.0;   ///< n |ω_s − ω_m|/2π: pole pieces and the ring's poles pass together
  double ring = 0.0;  ///< n |ω_r − ω_m|/2π
};
FluxFrequencies flux_frequencies(const PoleSet& set, double input_speed_rpm);

// ---- which come into question -------------------------------------------------------------------

/// Poles beyond this are nowhere buildable.
inline constexpr int most_pole_pairs = 200;

/// Why a set does not answer the wish by its counts alone; empty if it does. More poles on the sun
/// than on the ring are left out: the ratios are the same, with the finer poles where there is
/// least room.
std::string why_not(const PoleSet& set, const Wish& wish);

/// All that do, for each held member, from few poles to many.
std::vector<PoleSet> pole_sets(const Wish& wish);

/// A pole count with each of its three held members.
std::vector<PoleSet> all_drives_of(const PoleCounts& counts);

}  // namespace lodegear
