// solver/waves/sector_waves.h — values in n equal sectors as waves around the member, and back.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <complex>

namespace lodegear {

/// The discrete Fourier transform over n sectors, for real values x_j:
///   z_ν = s_ν Σ_j x_j e^{−2πi νj/n},   ν = 0 … ⌊n/2⌋,
/// s_ν = √(2/n), but 1/√n for the *standing* waves ν = 0 and n/2, which are real. So scaled it is
/// orthonormal: Σ_j x_j y_j = Σ_ν Re(z̄_ν w_ν), and energies stay energies.         (theory 7.2)
class SectorWaves {
 public:
  explicit SectorWaves(int n_sectors);

  int n_sectors() const { return static_cast<int>(cosine_.rows()); }
  int n_waves() const { return static_cast<int>(cosine_.cols()); }
  bool standing(int wave) const { return wave == 0 || 2 * wave == n_sectors(); }
  /// Wave that order k of a circle belongs to, and whether as it is (k ≡ ν) or conjugate (k ≡ −ν).
  struct Alias {
    int wave = 0;
    bool conjugate = false;
  };
  Alias alias(int order) const;
  /// 1/s_ν: what an order gains when its amplitude is read from z.
  double gain(int wave) const;
  /// e^{2πi ν/n}: from a sector to the next.
  std::complex<double> step(int wave) const;

  /// x: n×m, a sector a row; z: m×waves.
  void to_waves(const Eigen::MatrixXd& x, Eigen::MatrixXcd& z) const;
  void to_sectors(const Eigen::MatrixXcd& z, Eigen::MatrixXd& x) const;

 private:
  Eigen::MatrixXd cosine_, sine_;  // n×waves, scaled
};

}  // namespace lodegear
