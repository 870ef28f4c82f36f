// materials/steel.h — a soft magnetic material: its law, its sheet, its losses and where it is
// from. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "materials/bh_curve.h"
#include "materials/loss_data.h"
#include "materials/reluctivity.h"

namespace lodegear {

/// H = (k1 exp(k2 B²) + k3) B; see Reluctivity::exponential.
struct ExponentialLaw {
  double k1 = 0.0;  ///< A/(m·T)
  double k2 = 0.0;  ///< 1/T²
  double k3 = 0.0;  ///< A/(m·T)
};

struct ConstantPermeability {
  double mu_r = 1.0;
};

using SteelLaw = std::variant<ConstantPermeability, ExponentialLaw, BhCurve>;

struct Steel {
  std::string name;
  std::string description;
  SteelLaw law;       ///< typical, of the solid metal or one sheet
  std::string curve;  ///< name of the curve in the catalogue, empty if it has its own law
  double stacking_factor = 1.0;       ///< least steel share of a stack of such sheets
  double thickness = 0.0;             ///< of the sheet, m; 0 = solid metal
  double density = 0.0;               ///< of the sheet, kg/m³
  double resistivity = 0.0;           ///< Ω·m at 20 °C, typical
  double thermal_conductivity = 0.0;  ///< in the plane of the sheet, W/(m·K)
  double specific_heat = 0.0;         ///< J/(kg·K)
  std::optional<double>
      coercivity;                 ///< of solid steel, A/m; a full cycle loses about 4 Hc B per m³
  std::optional<SteelLoss> loss;  ///< none where nothing is known
  std::vector<GuaranteedPoint> guaranteed;          ///< least J at peak fields; may be empty
  std::vector<GuaranteedPoint> rolling_guaranteed;  ///< along the rolling direction, oriented sheet
  std::vector<GuaranteedLoss> guaranteed_loss;      ///< along it, if oriented
  bool grain_oriented = false;  ///< the law is then a cautious one for flux in any direction
  std::string caution;          ///< a sentence for the report, may be empty
  std::string source;
  double confidence = 0.0;  ///< 0 to 1, that the figures are right as stated
};

enum class SteelQuality { typical, guaranteed_minimum };

/// Law for the field solver: a stack with that share of steel (1 = solid), flux in the plane of the
/// sheets. Without guaranteed points both qualities are the same. 0 < stacking_factor ≤ 1.
Reluctivity reluctivity(const Steel& steel, double stacking_factor = 1.0,
                        SteelQuality quality = SteelQuality::typical);

}  // namespace lodegear
