// cases/result_file.h — everything that came out of a case as one HDF5 file.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/case_result.h"

namespace lodegear {

/// The layout below; raised whenever a reader of the old one would be misled.
inline constexpr int result_file_layout = 1;

/// The bytes of result.h5. SI units throughout: rad, m, N·m, N, T, Wb/m. Rows of /…/angles and
/// /…/torque are sun, modulator, ring; of an absent member the numbers are NaN, and so are torques
/// and pulls of a position that did not converge. cases/RESULT_FILES.md explains it at length.
///
///   / @format "lodegear result"  @layout 1  @case  @stack_length
///   /input                 text of the case file, @file_name @sha256
///   /versions              @lodegear and one attribute a library
///   /meshes/<member>/      nodes N×2, triangles T×6, region T, regions_{kind,material,part} R
///   texts,
///                          regions_index R, @sectors
///   /slip_curve/           load_angle P, angles P×3, torque P×3, pull_on_sun P×2, pull_on_ring
///   P×2,
///                          converged P, iterations P, residual P, @peak_error_<member>
///   /running_curves/<i>/   the same, @purpose @load_angle @ripples_per_turn @full_cycle, and
///                          spectrum_<member> (amplitudes) with @mean @peak_to_peak
///                          @peak_to_peak_error or @peak_to_peak_below
///   /fields/<i>/           @sun @modulator @ring (angles), a_<member> N (A at its nodes),
///                          gap_<j>/{at_inner, at_outer} 2K, @r_inner @r_outer
std::string result_file(const CaseResult& result);

}  // namespace lodegear
