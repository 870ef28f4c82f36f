// cases/slip_figures.h — slip torque and stiffness from the curves.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "cases/case_result.h"

namespace lodegear {

bool all_converged(const std::vector<CurvePoint>& points);
/// Torque on one member along the curve, N·m.
std::vector<double> torques(const std::vector<CurvePoint>& points, Member m);

/// The member whose curve tells where the peak lies: the modulator, else the one turned.
Member telling_member(const Case& c);

/// None if a position is missing. Over a whole period the curve is refined as a trigonometric
/// polynomial, over a part of one by the parabola through the highest position and its neighbours.
std::optional<SlipTorque> slip_torque(const Case& c, const std::vector<CurvePoint>& curve);

/// Where along a slip curve over a whole period, in periods, the torque on some member is largest
/// or may be, if the curve is known to `open` of its largest torque only. In order along the curve.
std::vector<double> likely_peaks(const Case& c, const std::vector<CurvePoint>& curve, double open);

/// Three positions at even steps, a quarter of the curve's own, about each of those places.
std::vector<Position> positions_about(const Case& c, const PoleCounts& counts,
                                      const std::vector<double>& places);

/// Corrects the peaks by the solved points at positions_about() the places of likely_peaks(): the
/// top of the parabola through them. Returns how far these tops lie above the highest solved point,
/// N·m, by which they may be wrong.
PerMember correct_peaks(const std::vector<CurvePoint>& points, SlipTorque& slip);

/// None if a position is missing or the curve has fewer than two positions.
std::optional<Stiffness> stiffness(const Case& c, const PoleCounts& counts,
                                   const std::vector<CurvePoint>& curve);

/// Mean and weakest torque from the running curve at the load angle of the peak.
void add_mean_and_weakest(const RunningCurve& at_slip, SlipTorque& slip);

/// The initial angles of the case's members.
Position start_position(const Gear& gear);
/// The angle of one member, to be changed.
double& member_angle(Position& position, Member m);

/// Clearances of the gaps in use, inside to outside.
std::vector<GapClearance> gap_clearances(const Gear& gear);

}  // namespace lodegear
