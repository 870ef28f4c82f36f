// materials/other.h — non-magnetic solids: shafts, plates, sleeves, printed carriers.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>

namespace lodegear {

struct OtherMaterial {
  std::string name;
  std::string description;
  double mu_r = 1.0;                        ///< nearly 1 for all of them
  std::optional<double> resistivity;        ///< Ω·m at 20 °C; none = insulator
  double resistivity_coefficient = 0.0;     ///< 1/K
  double density = 0.0;                     ///< kg/m³
  double thermal_conductivity = 0.0;        ///< W/(m·K)
  std::optional<double> specific_heat;      ///< J/(kg·K)
  std::optional<double> youngs_modulus;     ///< Pa, short-term; a third of it under lasting load
  std::optional<double> thermal_expansion;  ///< 1/K
  std::optional<double> long_term_temperature;  ///< °C, of a loaded part
  std::optional<double> softening_temperature;  ///< °C, glass transition of a plastic
  std::string caution;                          ///< a sentence for the report, may be empty
  std::string source;
  double confidence = 0.0;  ///< 0 to 1
};

}  // namespace lodegear
