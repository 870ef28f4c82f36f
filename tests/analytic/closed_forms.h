// tests/analytic/closed_forms.h — textbook magnetic fields and torques that the solver is tested
// on. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Dense>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <vector>

// Everything is per metre of stack, SI, angles in rad counter-clockwise from +x, torque positive
// counter-clockwise. Polar vectors are (B_r, B_theta). closed_forms_test.cpp checks every function
// against direct sums over magnetic charges or against quadrature.
namespace lodegear {

/// Vacuum permeability of the handbooks [H/m].
inline constexpr double mu0_exact = 4e-7 * std::numbers::pi;

/// Polar components (B_r, B_theta) of a cartesian vector at polar angle t.
inline Eigen::Vector2d polar_components(const Eigen::Vector2d& b, double t) {
  return Eigen::Rotation2Dd(-t) * b;
}

// ---------------------------------------------------------------- one cylinder

/// B [T] at x [m] of a cylinder (radius a, permeability mu_r) centred in a uniform field b0 x_hat.
///   inside 2 mu_r/(mu_r+1) b0; outside b0 and a line dipole k a² b0, k = (mu_r−1)/(mu_r+1)
/// Source: Jackson, Classical Electrodynamics, 3rd ed., problem 5.14 with a bore of radius zero.
inline Eigen::Vector2d cylinder_in_field(double a, double mu_r, double b0,
                                         const Eigen::Vector2d& x) {
  const double r2 = x.squaredNorm(), k = (mu_r - 1.0) / (mu_r + 1.0);
  if (r2 < a * a) return {2.0 * mu_r / (mu_r + 1.0) * b0, 0.0};
  const double dipole = k * a * a * b0 / (r2 * r2);
  return {b0 + dipole * (x.x() * x.x() - x.y() * x.y()), 2.0 * dipole * x.x() * x.y()};
}

/// B [T] at x [m] of a rod (radius a) with remanence br x_hat and recoil permeability mu_r in air.
///   inside br/(1+mu_r) x_hat; outside the same size times (a/r)², a line dipole
/// Source: demagnetising factor 1/2 of the circular cylinder, Osborn, Phys. Rev. 67 (1945) 351.
inline Eigen::Vector2d magnetised_rod(double a, double br, double mu_r, const Eigen::Vector2d& x) {
  const double r2 = x.squaredNorm(), c = br / (1.0 + mu_r);
  if (r2 < a * a) return {c, 0.0};
  const double dipole = c * a * a / (r2 * r2);
  return {dipole * (x.x() * x.x() - x.y() * x.y()), 2.0 * dipole * x.x() * x.y()};
}

/// Torque [N·m/m] on that rod (mu_r = 1) in a uniform field b0 that stands `ahead` rad
/// counter-clockwise of its remanence: it turns towards the field.
///   T = (br/mu0) π a² b0 sin(ahead)
/// Source: torque m × B on a dipole, Jackson, 3rd ed., §5.7.
inline double rod_torque(double a, double br, double b0, double ahead) {
  return br / mu0_exact * std::numbers::pi * a * a * b0 * std::sin(ahead);
}

// ---------------------------------------------------------------- rings of magnets as harmonics

/// One order of a ring's remanence: B_rem,r = br cos(n t), B_rem,theta = bt sin(n t) [T].
struct MagnetHarmonic {
  int n;
  double br, bt;
};
using MagnetHarmonics = std::vector<MagnetHarmonic>;

/// sin(x w)/x with its limit.
inline double sine_over(double x, double w) { return x == 0.0 ? w : std::sin(x * w) / x; }

/// Orders p, 3p, 5p … ≤ n_max of radially magnetised arcs, remanence br [T], that cover the part
/// `arc` (0–1) of each pole; t = 0 at the centre of a pole that points outward.
///   br_n = 4 br/(π q) sin(q arc π/2), n = q p
/// Source: Fourier series; Zhu, Howe, Bolte, Ackermann, IEEE Trans. Magn. 29(1) (1993) 124.
inline MagnetHarmonics radial_harmonics(int p, double br, double arc, int n_max) {
  MagnetHarmonics list;
  for (int q = 1; q * p <= n_max; q += 2)
    list.push_back(
        {q * p, 4.0 * br / std::numbers::pi * sine_over(q, arc * std::numbers::pi / 2.0), 0.0});
  return list;
}

/// The same for arcs magnetised along the centre line of their pole, w = arc π/(2p):
///   br_n, bt_n = ± (2 p br/π) [ sin((n−1)w)/(n−1) ± sin((n+1)w)/(n+1) ]
/// Source: Fourier series; Zhu, Howe, Chan, IEEE Trans. Magn. 38(1) (2002) 229.
inline MagnetHarmonics parallel_harmonics(int p, double br, double arc, int n_max) {
  MagnetHarmonics list;
  const double w = arc * std::numbers::pi / (2.0 * p), scale = 2.0 * p * br / std::numbers::pi;
  for (int n = p; n <= n_max; n += 2 * p) {
    const double low = sine_over(n - 1, w), high = sine_over(n + 1, w);
    list.push_back({n, scale * (low + high), scale * (high - low)});
  }
  return list;
}

/// The single order p of a continuous Halbach ring; `outward`: the strong side is outside.
/// Source: Halbach, Nucl. Instrum. Methods 169 (1980) 1.
inline MagnetHarmonics continuous_halbach(int p, double br, bool outward) {
  return {{p, br, outward ? -br : br}};
}

/// (B_r, B_theta) [T] at (r, t), anywhere, of a ring R1 < r < R2 in air, recoil permeability 1.
///   B_r = n (u + v) cos nt,  B_theta = (n (u − v) + bt inside the magnet) sin nt
///   u = (br−bt)/(2(n+1)) [(h/r)^(n+1) − (R1/r)^(n+1)], magnet below r,  h = min(r, R2)
///   v = (br+bt)/(2(n−1)) [(r/l)^(n−1) − (r/R2)^(n−1)], magnet above r,  l = max(r, R1);
///   n = 1: v = (br+bt)/2 ln(R2/l)
/// Source: Furlani, Permanent Magnet and Electromechanical Devices (2001), field of multipole
/// rings; continuous Halbach rings as in Halbach, Nucl. Instrum. Methods 169 (1980) 1.
inline Eigen::Vector2d ring_in_air(const MagnetHarmonics& ring, double R1, double R2, double r,
                                   double t) {
  Eigen::Vector2d b(0.0, 0.0);
  const double h = std::clamp(r, R1, R2), l = h;
  for (const auto& [n, br, bt] : ring) {
    const double below = std::pow(h / r, n + 1) - std::pow(R1 / r, n + 1);
    const double above =
        n == 1 ? std::log(R2 / l) : (std::pow(r / l, n - 1) - std::pow(r / R2, n - 1)) / (n - 1);
    const double u = r > R1 ? (br - bt) / (2.0 * (n + 1)) * below : 0.0;
    const double v = r < R2 ? (br + bt) / 2.0 * above : 0.0;
    const double in_magnet = r > R1 && r < R2 ? bt : 0.0;
    b +=
        Eigen::Vector2d(n * (u + v) * std::cos(n * t), (n * (u - v) + in_magnet) * std::sin(n * t));
  }
  return b;
}

// ---------------------------------------------------------------- segmented Halbach cylinders

/// B_x − i B_y [T] at z = x + i y (bore or outside, not in the magnet) of M equal segments R1..R2
/// in air; segment j, centre t_j = 2πj/M, is magnetised uniformly at the absolute angle s0 t_j: s0
/// = 1+p for the strong side inside, 1−p for the strong side outside. mu_r = 1.
///   orders s = s0 + νM, each of strength S(s) = sin(sπ/M)/(sπ/M);
///   bore:    Σ_{s>1} br S f (z/R1)^(p'−1), p' = s−1, f = p'/(p'−1) [1 − (R1/R2)^(p'−1)], ln for
///   p'=1 outside: Σ_{s<1} br S p'/(p'+1) [(R2/z)^(p'+1) − (R1/z)^(p'+1)],  p' = 1−s
/// Source: Halbach, Nucl. Instrum. Methods 169 (1980) 1 (segmented multipoles, complex field).
inline std::complex<double> segmented_halbach(int M, int s0, double br, double R1, double R2,
                                              std::complex<double> z) {
  const double r = std::abs(z);
  assert(r <= R1 || r >= R2);
  const bool bore = r <= R1;
  std::complex<double> sum = 0.0;
  const auto shell = [&](int s) -> std::complex<double> {
    if (bore) {
      const int p = s - 1;
      if (p == 1) return std::log(R2 / R1);
      return double(p) / (p - 1) * (std::pow(z / R1, p - 1) - std::pow(z / R2, p - 1));
    }
    const int p = 1 - s;
    return double(p) / (p + 1) * (std::pow(R2 / z, p + 1) - std::pow(R1 / z, p + 1));
  };
  const int n_terms = 200000 / M;  // on the surface itself the sum converges like 1/s²
  for (int nu = -n_terms; nu <= n_terms; ++nu) {
    const int s = s0 + nu * M;
    if (s == 0 || (bore ? s < 2 : s > 0)) continue;
    const double half = s * std::numbers::pi / M;
    sum += br * std::sin(half) / half * shell(s);
  }
  return sum;
}

/// Torque [N·m/m] on the inner of two concentric continuous Halbach cylinders in air with p pole
/// pairs each: inner R1..R2, br1, strong side outside; outer R3..R4, br2, strong side inside; the
/// inner stands `ahead` rad counter-clockwise of the position where the poles face each other.
///   T = −(2π/mu0) p² a1 a2 sin(p ahead),  a1 = br1/(p+1) (R2^(p+1) − R1^(p+1)),
///   a2 = br2/(p−1) (R3^(1−p) − R4^(1−p)), p = 1: a2 = br2 ln(R4/R3)
/// Source: Bjørk, Smith, Bahl, J. Magn. Magn. Mater. 322 (2010) 133.
inline double halbach_cylinders_torque(int p, double R1, double R2, double br1, double R3,
                                       double R4, double br2, double ahead) {
  const double a1 = br1 / (p + 1) * (std::pow(R2, p + 1) - std::pow(R1, p + 1));
  const double a2 = p == 1 ? br2 * std::log(R4 / R3)
                           : br2 / (p - 1) * (std::pow(R3, 1 - p) - std::pow(R4, 1 - p));
  return -2.0 * std::numbers::pi / mu0_exact * p * p * a1 * a2 * std::sin(p * ahead);
}

// ---------------------------------------------------------------- magnets, air and iron in layers

/// One annulus of a layered field of order n. Air: mu_r = 1, br = bt = 0.
struct Layer {
  double r_in, r_out, mu_r;  // m, m, –
  double br, bt;             // remanence harmonic, T
};
inline constexpr double ideal_iron_mu = std::numeric_limits<double>::infinity();

/// A = f(r) sin(n t) of concentric layers between a core (r < first r_in) and a shell
/// (r > last r_out) of permeability mu_core, mu_shell: 1 = air, ideal_iron_mu = iron.
///   f = α (r/r_out)^n + β (r/r_in)^−n + c r,  c = (n br + bt)/(n²−1);
///   n = 1: f = α r/r_out + β r_in/r − (br+bt)/2 r ln r
///   f and (f' + bt)/mu_r are continuous; at the ends (f' + bt)/mu_r = ± n f/(r mu_end).
/// Source: Zhu, Howe, Bolte, Ackermann, IEEE Trans. Magn. 29(1) (1993) 124 (radial magnets);
/// Xia, Zhu, Howe, IEEE Trans. Magn. 40(4) (2004) 1864 (with bt).
class LayeredHarmonic {
 public:
  LayeredHarmonic(int n, std::vector<Layer> layers, double mu_core, double mu_shell)
      : n_(n), layers_(std::move(layers)) {
    const Eigen::Index m = 2 * Eigen::Index(layers_.size());
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(m, m);
    Eigen::VectorXd source = Eigen::VectorXd::Zero(m);
    // Row 0: core; then two rows a joint; last row: shell.
    add_end(matrix, source, 0, 0, layers_.front().r_in, n_ / mu_core);
    for (std::size_t i = 1; i < layers_.size(); ++i) {
      add_side(matrix, source, 2 * i - 1, i - 1, layers_[i].r_in, 1.0);
      add_side(matrix, source, 2 * i - 1, i, layers_[i].r_in, -1.0);
    }
    add_end(matrix, source, m - 1, layers_.size() - 1, layers_.back().r_out, -n_ / mu_shell);
    coefficients_ = matrix.fullPivLu().solve(source);
  }
  /// f [Wb/m] and f' [T] at r [m].
  double potential(double r) const { return at(r, 0); }
  double slope(double r) const { return at(r, 1); }

 private:
  using Row = Eigen::RowVector3d;  // factors of α, β and the constant term
  Row basis(std::size_t i, double r, int derivative) const {
    const Layer& l = layers_[i];
    const double up = std::pow(r / l.r_out, n_), down = std::pow(l.r_in / r, n_);
    const double c = n_ == 1 ? -(l.br + l.bt) / 2.0 : (n_ * l.br + l.bt) / (double(n_) * n_ - 1.0);
    if (derivative == 0) return {up, down, n_ == 1 ? c * r * std::log(r) : c * r};
    return {n_ * up / r, -n_ * down / r, n_ == 1 ? c * (std::log(r) + 1.0) : c};
  }
  Row field_row(std::size_t i, double r) const {  // r H_theta μ0 without its sign
    return (basis(i, r, 1) + Row(0.0, 0.0, layers_[i].bt)) * r / layers_[i].mu_r;
  }
  static void put(Eigen::MatrixXd& matrix, Eigen::VectorXd& source, Eigen::Index row, std::size_t i,
                  const Row& value) {
    matrix.block<1, 2>(row, 2 * Eigen::Index(i)) += value.head<2>();
    source(row) -= value(2);
  }
  void add_end(Eigen::MatrixXd& matrix, Eigen::VectorXd& source, Eigen::Index row, std::size_t i,
               double r, double admittance) const {
    put(matrix, source, row, i, field_row(i, r) - admittance * basis(i, r, 0));
  }
  void add_side(Eigen::MatrixXd& matrix, Eigen::VectorXd& source, std::size_t row, std::size_t i,
                double r, double sign) const {
    put(matrix, source, Eigen::Index(row), i, sign * basis(i, r, 0));
    put(matrix, source, Eigen::Index(row) + 1, i, sign * field_row(i, r));
  }
  double at(double r, int derivative) const {
    std::size_t i = 0;
    while (i + 1 < layers_.size() && r > layers_[i].r_out) ++i;
    const Row row = basis(i, r, derivative);
    return row.head<2>().dot(coefficients_.segment<2>(2 * Eigen::Index(i))) + row(2);
  }
  int n_;
  std::vector<Layer> layers_;
  Eigen::VectorXd coefficients_;
};

/// (B_r, B_theta) [T] at (r, t) of magnets Ri..R2 on ideal iron facing smooth ideal iron at Ro.
///   B_r = n f/r cos nt,  B_theta = −f' sin nt
/// Source: as LayeredHarmonic.
inline Eigen::Vector2d slotless_gap_field(const MagnetHarmonics& ring, double Ri, double R2,
                                          double Ro, double mu_r, double r, double t) {
  Eigen::Vector2d b(0.0, 0.0);
  for (const auto& [n, br, bt] : ring) {
    const LayeredHarmonic f(n, {{Ri, R2, mu_r, br, bt}, {R2, Ro, 1.0, 0.0, 0.0}}, ideal_iron_mu,
                            ideal_iron_mu);
    b += Eigen::Vector2d(n * f.potential(r) / r * std::cos(n * t), -f.slope(r) * std::sin(n * t));
  }
  return b;
}

/// Radii of two magnet rings on back irons: magnets iron_in..gap_in and gap_out..iron_out [m].
struct CouplingRadii {
  double iron_in, gap_in, gap_out, iron_out;
};

/// Torque [N·m/m] on the inner ring of a coaxial coupling, both rings of recoil permeability mu_r;
/// the inner stands `ahead` rad counter-clockwise of the position where the poles face each other.
/// Both lists must hold the same orders. mu_core, mu_shell as in LayeredHarmonic.
///   T = −(π/mu0) Σ n sin(n ahead) [f1 r f2' − r f1' f2] on any circle in the gap, f1, f2 the
///   potentials of the inner and the outer magnets alone (Maxwell stress; the radius cancels)
/// Source: as LayeredHarmonic; stress on a circle, Jackson, Classical Electrodynamics, 3rd ed.,
/// §6.7.
inline double coupling_torque(const MagnetHarmonics& inner, const MagnetHarmonics& outer,
                              const CouplingRadii& at, double mu_r, double ahead,
                              double mu_core = ideal_iron_mu, double mu_shell = ideal_iron_mu) {
  assert(inner.size() == outer.size());
  const double r = (at.gap_in + at.gap_out) / 2.0;
  double sum = 0.0;
  for (std::size_t i = 0; i < inner.size(); ++i) {
    const int n = inner[i].n;
    assert(outer[i].n == n);
    const auto alone = [&](double on_inner, double on_outer) {
      return LayeredHarmonic(
          n,
          {{at.iron_in, at.gap_in, mu_r, on_inner * inner[i].br, on_inner * inner[i].bt},
           {at.gap_in, at.gap_out, 1.0, 0.0, 0.0},
           {at.gap_out, at.iron_out, mu_r, on_outer * outer[i].br, on_outer * outer[i].bt}},
          mu_core, mu_shell);
    };
    const LayeredHarmonic f1 = alone(1.0, 0.0), f2 = alone(0.0, 1.0);
    sum += n * std::sin(n * ahead) * r *
           (f1.potential(r) * f2.slope(r) - f1.slope(r) * f2.potential(r));
  }
  return -std::numbers::pi / mu0_exact * sum;
}

}  // namespace lodegear
