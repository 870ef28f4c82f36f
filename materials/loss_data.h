// materials/loss_data.h — what a sheet loses per kilogram when its flux changes.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace lodegear {

/// Coefficients of  p = kh f B^alpha + kc f² B² + ke f^1.5 B^1.5  [W/kg], f in Hz, B the peak in T
/// of a sinusoidal flux. The three terms are hysteresis, classical eddy currents and excess loss.
/// Trust between 0.2 and 1.7 T and below 400 Hz; sheet cut by hobby means loses 1.3 to 2 times as
/// much (engineering judgement, no source). Source of the split: Bertotti, IEEE Trans. Magn. 24
/// (1988) 621.
struct SteelLoss {
  double kh = 0.0;     ///< W/(kg·Hz·T^alpha)
  double alpha = 2.0;  ///< 1
  double kc = 0.0;     ///< W/(kg·Hz²·T²)
  double ke = 0.0;     ///< W/(kg·Hz^1.5·T^1.5)
  std::string source;
  double confidence = 0.0;  ///< 0 to 1
};

/// Most loss of a grade at one flux density and frequency, as standards guarantee it.
struct GuaranteedLoss {
  double peak_b;     ///< T
  double frequency;  ///< Hz
  double loss;       ///< W/kg
};

/// Loss under a sinusoidal flux of peak B [T] at f [Hz], W/kg.
double specific_loss(const SteelLoss& loss, double f, double peak_b);

/// kc of a sheet: π² d²/(6 ρ ρm), sheet thickness d [m], resistivity ρ [Ω·m], density ρm [kg/m³];
/// right while d is less than twice the skin depth. Source: Lammeraner, Štafl, Eddy Currents
/// (1966), thin plate (from memory).
double classical_eddy_coefficient(double thickness, double resistivity, double density);

}  // namespace lodegear
