// cases/accuracy.h — how far off the figures are, told from coarser rungs of the ladder.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/case_result.h"

namespace lodegear {

// A figure is known on rungs half a level apart, and its error halves or so from one to the next
// (mesh/ladder.h): on the average. Meshes differ by more than their fineness, so a single
// difference may be small by accident, and much too large as well.
//
// A bar is therefore made of three differences, each halved once more than the one before:
//   |F(x−½) − F(x)| + |F(x−1) − F(x−½)| / 2 + |F(x−1½) − F(x−1)| / 4.
// For slip torque they are root mean squares over `bar_positions` positions around the peak; for
// ripple the range of the difference of two curves, by which peak to peak can differ at most, and
// to their sum the last harmonic that the positions tell is added. The factors before them were
// measured on gears by lot (DEVELOPERS.md) so that true errors lie inside and the bars are not much
// longer. Below `lowest_level` errors do not yet fall as they should.

inline constexpr double bar_over_differences = 1.25;
inline constexpr double ripple_bar_over_differences = 1.5;
inline constexpr int bar_positions = 7;
inline constexpr int bar_rungs = 4;  ///< half a level apart
inline constexpr double lowest_level = 1.0;
/// No bar of slip torque is shorter, as a part of it: finer differences were never checked.
inline constexpr double shortest_bar = 3e-5;
/// Added to bars of ripple, as a part of the slip torque: orders that every rung compared cuts off
/// show in no difference.
inline constexpr double ripple_cut_off = 5e-5;

/// Accuracy taken where neither it nor the mesh is given: part of the slip torque.
inline constexpr double usual_accuracy = 1e-3;
inline constexpr double finest_accuracy = 1e-5, coarsest_accuracy = 0.1;

/// "0.1%", "0.1 %" or "0.1", per cent, as a part of one, from `least` to `most` per cent of
/// `what`. Throws InputError that names `key`.
double part_from_text(const std::string& text, const std::string& key, double least, double most,
                      const std::string& what);
/// The same of an accuracy.
double accuracy_from_text(const std::string& text, const std::string& key);

/// Overrules what the case says about accuracy and mesh. Throws InputError that names `key` if the
/// text is none or the case has no slip curve by which to judge.
void ask_accuracy(Case& c, const std::string& text, const std::string& key);

/// Level to begin with for an accuracy: measured, so that most gears need no second one.
double first_level(double accuracy);
/// Level to go on with after `level` gave `error` instead of `accuracy`.
double next_level(double level, double error, double accuracy);

/// Which points of a slip curve over a whole period are compared: evenly chosen within 45° of the
/// load angle of the peak.
std::vector<std::size_t> points_to_compare(const std::vector<CurvePoint>& slip_curve,
                                           double load_angle);

/// Error bars of the slip torque on each member, N·m, from the same positions on `bar_rungs` rungs,
/// the finest first.
PerMember slip_torque_bar(const std::vector<std::vector<CurvePoint>>& rungs);

/// Error bar of the peak-to-peak ripple on each member, N·m, from the same running curve on
/// `bar_rungs` rungs, the finest first.
PerMember ripple_bar(const std::vector<std::vector<CurvePoint>>& rungs);

/// What the positions of a slip curve over one period leave open, as a part of its largest torque:
/// the harmonics in the upper third of those they resolve, root of the sum of squares.
double interpolation_error(const std::vector<CurvePoint>& slip_curve, Member m);

/// An even number of positions, at least `least`, such that cogging, which comes `coggings` times
/// in a period of the slip curve, is either resolved or folds back into the upper third of the
/// harmonics, where interpolation_error sees it.
int telling_positions(int coggings, int least);

/// Upper bound of the ripple (peak to peak) as a part of the slip torque where K is too small to
/// follow it. Ripple of order N = LCM(2p_s, n) needs two orders of the field with k + k' = N that
/// both cross the same gap, each with e^(−k g/r) of its size: it falls as e^(−N g/r). The factor
/// before it is three times the largest one found in gears by lot (DEVELOPERS.md).
double ripple_bound(const Gear& gear);

}  // namespace lodegear
