// solver/waves/sector_waves.cpp — values in n equal sectors as waves around the member, and back.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/sector_waves.h"

#include <cmath>
#include <complex>

#include "materials/constants.h"

namespace lodegear {

SectorWaves::SectorWaves(int n_sectors)
    : cosine_(n_sectors, n_sectors / 2 + 1), sine_(n_sectors, n_sectors / 2 + 1) {
  for (int wave = 0; wave < n_waves(); ++wave)
    for (int j = 0; j < n_sectors; ++j) {
      const double angle = 2 * pi * (wave * j % n_sectors) / n_sectors;
      cosine_(j, wave) = std::cos(angle) / gain(wave);
      sine_(j, wave) = standing(wave) ? 0.0 : std::sin(angle) / gain(wave);
    }
}

SectorWaves::Alias SectorWaves::alias(int order) const {
  const int n = n_sectors(), wave = order % n;
  return 2 * wave <= n ? Alias{wave, false} : Alias{n - wave, true};
}

double SectorWaves::gain(int wave) const {
  return std::sqrt(standing(wave) ? n_sectors() : 0.5 * n_sectors());
}

std::complex<double> SectorWaves::step(int wave) const {
  if (wave == 0) return 1.0;
  if (standing(wave)) return -1.0;
  return std::polar(1.0, 2 * pi * wave / n_sectors());
}

void SectorWaves::to_waves(const Eigen::MatrixXd& x, Eigen::MatrixXcd& z) const {
  z.resize(x.cols(), n_waves());
  if (x.cols() == 0) return;
  const Eigen::MatrixXd real = x.transpose() * cosine_, imag = x.transpose() * sine_;
  z.real() = real;
  z.imag() = -imag;
}

void SectorWaves::to_sectors(const Eigen::MatrixXcd& z, Eigen::MatrixXd& x) const {
  x.resize(n_sectors(), z.rows());
  if (z.rows() == 0) return;
  const Eigen::MatrixXd real = z.real(), imag = z.imag();
  x.noalias() = cosine_ * real.transpose();
  x.noalias() -= sine_ * imag.transpose();
}

}  // namespace lodegear
