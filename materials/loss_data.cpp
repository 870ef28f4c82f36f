// materials/loss_data.cpp — what a sheet loses per kilogram when its flux changes.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/loss_data.h"

#include <cmath>

#include "materials/constants.h"

namespace lodegear {

double specific_loss(const SteelLoss& loss, double f, double peak_b) {
  return loss.kh * f * std::pow(peak_b, loss.alpha) + loss.kc * f * f * peak_b * peak_b +
         loss.ke * std::pow(f * peak_b, 1.5);
}

double classical_eddy_coefficient(double thickness, double resistivity, double density) {
  return pi * pi * thickness * thickness / (6.0 * resistivity * density);
}

}  // namespace lodegear
