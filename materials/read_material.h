// materials/read_material.h — a material from a table: one of the data files, or inline in a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>

#include "materials/magnet.h"
#include "materials/other.h"
#include "materials/steel.h"
#include "materials/table_reader.h"

namespace lodegear {

// All keys of a material. Complaints go to the reader's log; the caller checks it. The functions
// call finish() themselves.
//
// Both          name                       (data files only; equal to the file's name)
//               description, caution       text, optional
//               source                     where the figures are from; required in data files and
//                                          for an inline B–H table
//               confidence                 0 to 1, required in data files

/// A curve of the catalogue by name; if there is none it complains to the reader, about the key.
using CurveLookup =
    std::function<BhCurve(TableReader& reader, const std::string& key, const std::string& name)>;

/// Data files need every physical figure; an inline material may leave out what the field does not
/// need, and the value taken is listed as assumed.
enum class MaterialPlace { data_file, inline_table };

/// Steel. Exactly one of the first four:
///   curve = "NO-B"                     a curve of the catalogue
///   bh_table = [[H, B], …]             A/m and T, typical, from (0, 0) on; see bh_table_faults
///   exponential_law = [k1, k2, k3]     H = (k1 exp(k2 B²) + k3) B, A/m and T
///   mu_r                               constant relative permeability, 1 to 1e6
///   most_polarisation_T                limit for bh_table, 2.16 unless it is a cobalt alloy
///   thickness_mm                       of the sheet; 0 = solid
///   stacking_factor                    0.5 to 1
///   density_kg_m3, resistivity_uOhm_m, thermal_conductivity_W_mK, specific_heat_J_kgK
///   coercivity_A_m                     optional
///   guaranteed_J = [[H, J], …]         A/m and T, least polarisation at peak fields, optional
///   grain_oriented                     true or false, optional
///   guaranteed_loss = [[B, f, p], …]   T, Hz, W/kg, most loss at sinusoidal flux, optional
///   rolling_guaranteed_J = [[H, J], …] the same as guaranteed_J along the rolling direction of
///                                      oriented sheet, for information, optional
///   [loss] kh, alpha, kc, ke, source, confidence   see loss_data.h, optional
Steel read_steel(TableReader& table, const std::string& name, MaterialPlace place,
                 const CurveLookup& curve_of);

/// Magnet:
///   remanence_T = 1.30 or [1.28, 1.32]       at 20 °C
///   mu_rec                                   1 to 2
///   remanence_coefficient_percent_K          negative
///   coercivity_kA_m                          HcB, least, optional
///   intrinsic_coercivity_kA_m                HcJ, least, optional inline (the knee is then
///   unknown) intrinsic_coefficient_percent_K          with it resistivity_uOhm_m left out =
///   insulator density_kg_m3, thermal_conductivity_W_mK, specific_heat_J_kgK working_temperature_C
///   optional inline
/// Inline, a sheet that gives the straight line by its coercivity instead of µ_rec is understood:
/// with remanence_T and coercivity_kA_m alone, mu_rec = Br/(µ0 HcB).
MagnetMaterial read_magnet(TableReader& table, const std::string& name, MaterialPlace place);

/// Non-magnetic solid:
///   mu_r                                     0.99 to 2
///   resistivity_uOhm_m                       left out = insulator
///   resistivity_coefficient_1_K
///   density_kg_m3, thermal_conductivity_W_mK, specific_heat_J_kgK
///   youngs_modulus_GPa, thermal_expansion_um_mK, long_term_temperature_C, softening_temperature_C
OtherMaterial read_other(TableReader& table, const std::string& name, MaterialPlace place);

/// A file of curves/: name, description, bh_table, source, confidence.
BhCurve read_curve(TableReader& table, const std::string& name);

}  // namespace lodegear
