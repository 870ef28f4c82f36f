// materials/magnet.h — a permanent magnet material: recoil line, temperature, knee.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>

#include "materials/constants.h"

namespace lodegear {

/// Values at 20 °C. Coefficients are averages from 20 °C to the working temperature.
struct MagnetMaterial {
  std::string name;
  std::string description;
  double remanence_min = 0.0;                  ///< T
  double remanence_max = 0.0;                  ///< T
  double remanence_coefficient = 0.0;          ///< α, 1/K, negative
  double mu_rec = 1.05;                        ///< relative recoil permeability
  std::optional<double> coercivity;            ///< HcB, least, A/m
  std::optional<double> intrinsic_coercivity;  ///< HcJ, least, A/m; none: the knee is not known
  double intrinsic_coefficient = 0.0;          ///< β of HcJ, 1/K; positive for ferrite
  std::optional<double> resistivity;           ///< Ω·m; none = insulator
  double density = 0.0;                        ///< kg/m³
  double thermal_conductivity = 0.0;           ///< W/(m·K)
  double specific_heat = 0.0;                  ///< J/(kg·K)
  std::optional<double> working_temperature;   ///< °C, as sold; says little inside a gear
  std::string caution;                         ///< a sentence for the report, may be empty
  std::string source;
  double confidence = 0.0;  ///< 0 to 1
};

/// Squareness: the knee lies at this share of HcJ. Typical of sintered magnets (engineering
/// judgement, no source); 0.90 is cautious.
inline constexpr double usual_squareness = 0.95;

/// Mean of the grade's least and greatest remanence [T], at 20 °C.
double typical_remanence(const MagnetMaterial& magnet);

/// Br(T) = Br (1 + α (T − 20)) of the typical remanence [T], T in °C; not below 0.
double remanence(const MagnetMaterial& magnet, double celsius);

/// HcJ(T) = HcJ (1 + β (T − 20)) [A/m] up to the working temperature. Above it the straight line
/// would soon cross zero while real magnets flatten, so HcJ exp(b (T − 20)) goes on from there with
/// b such that both agree at the working temperature.
std::optional<double> intrinsic_coercivity(const MagnetMaterial& magnet, double celsius);

/// Where lasting loss begins: h = −H > 0 along the easy axis and the flux density there.
struct Knee {
  double h;  ///< A/m
  double b;  ///< T; negative = safe in the whole second quadrant
};

/// The point where J has fallen 5 % of Br below the recoil line; h = squareness·HcJ(T).
std::optional<Knee> knee(const MagnetMaterial& magnet, double celsius,
                         double squareness = usual_squareness);

/// Polarisation along the easy axis under the demagnetising field h = −H ≥ 0 [A/m → T]:
///
///   J = Br − χ µ0 h − E exp(K (h − HcJ)),  χ = µrec − 1,  E = Br − χ µ0 HcJ,
///   K = ln(0.05 Br/E)/(hk − HcJ)
///
/// so that J(HcJ) = 0 and the knee is where knee() says. Not below −Br. Without HcJ the recoil
/// line. An exponential knee of this kind: Ruoho, Dlala, Arkkio, IEEE Trans. Magn. 43 (2007) 3899
/// (from memory); the definition of the knee is this project's own.
double polarisation(const MagnetMaterial& magnet, double h, double celsius,
                    double squareness = usual_squareness);

/// HcB(T): the h at which B = J − µ0 h is zero [A/m].
double normal_coercivity(const MagnetMaterial& magnet, double celsius,
                         double squareness = usual_squareness);

}  // namespace lodegear
