// tests/solver/loss_formulas_test.cpp — end factors, plates, loops, rates: formulas by themselves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>

#include "materials/constants.h"
#include "solver/post/eddy_loss.h"
#include "solver/post/end_factors.h"
#include "solver/post/hysteresis.h"
#include "solver/post/iron_loss.h"
#include "solver/post/solid_steel.h"

using namespace lodegear;

namespace {

/// ∫ψ dS of ∇²ψ = −1 on a w × L rectangle, ψ = 0 around it, by five-point differences on squares, n
/// along the shorter side, over w³L/12: what the end factor of a plate is by its definition.
double end_factor_by_differences(double w, double l, int n) {
  const double h = std::min(w, l) / n;
  const int nx = static_cast<int>(std::lround(w / h)) - 1;
  const int ny = static_cast<int>(std::lround(l / h)) - 1;
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i < nx; ++i)
    for (int j = 0; j < ny; ++j) {
      const int at = i * ny + j;
      entries.emplace_back(at, at, 4.0);
      if (i > 0) entries.emplace_back(at, at - ny, -1.0);
      if (j > 0) entries.emplace_back(at, at - 1, -1.0);
    }
  Eigen::SparseMatrix<double> laplace(nx * ny, nx * ny);
  laplace.setFromTriplets(entries.begin(), entries.end());
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Lower> solver(laplace);
  const Eigen::VectorXd psi = solver.solve(Eigen::VectorXd::Constant(nx * ny, h * h));
  return psi.sum() * h * h / (w * w * w * l / 12);
}

/// Loss of a cylinder of `length` with overhang at both ends by differences along the axis: the
/// stream function obeys ψ″ − (p/r)² ψ = −1 under the field and −0 outside it.
double cylinder_factor_by_differences(double order, double radius, double length, double overhang,
                                      int n) {
  const double whole = length + 2 * overhang, h = whole / n, q2 = std::pow(order / radius, 2);
  // Tridiagonal elimination; ψ = 0 at both ends.
  std::vector<double> c(static_cast<std::size_t>(n)), d(static_cast<std::size_t>(n));
  const auto source = [&](int i) {
    const double z = i * h - whole / 2;
    return std::abs(std::abs(z) - length / 2) < 1e-9 * whole ? 0.5
           : std::abs(z) < length / 2                        ? 1.0
                                                             : 0.0;
  };
  const double diagonal = 2 / (h * h) + q2, beside = -1 / (h * h);
  for (std::size_t i = 1; i < c.size(); ++i) {
    const double pivot = diagonal - (i > 1 ? beside * c[i - 1] : 0.0);
    c[i] = beside / pivot;
    d[i] = (source(static_cast<int>(i)) - (i > 1 ? beside * d[i - 1] : 0.0)) / pivot;
  }
  double next = 0.0, sum = 0.0;
  for (std::size_t i = c.size() - 1; i >= 1; --i) {
    next = d[i] - c[i] * next;
    sum += h * source(static_cast<int>(i)) * next;
  }
  return sum * q2 / length;
}

}  // namespace

TEST_CASE("end factor: a plate's is the stream function's, from either side", "[solver][losses]") {
  for (double ratio : {0.1, 0.5, 1.0, 2.5}) {
    // Differences err with h², so two grids give the limit.
    const double coarse = end_factor_by_differences(ratio, 1.0, 24);
    const double fine = end_factor_by_differences(ratio, 1.0, 48);
    const double limit = fine + (fine - coarse) / 3;
    CHECK(plate_end_factor(ratio, 1.0) == Approx(limit).epsilon(2e-5));  // what h⁴ leaves
    CHECK(ratio * ratio * plate_end_factor(ratio, 1.0) ==
          Approx(plate_end_factor(1.0, ratio)).epsilon(1e-8));
  }
  // From memory, three digits.
  CHECK(plate_end_factor(0.1, 1.0) == Approx(0.937).margin(5e-4));
  CHECK(plate_end_factor(0.25, 1.0) == Approx(0.842).margin(5e-4));
  CHECK(plate_end_factor(0.5, 1.0) == Approx(0.686).margin(5e-4));
  CHECK(plate_end_factor(0.75, 1.0) == Approx(0.541).margin(5e-4));
  CHECK(plate_end_factor(1.0, 1.0) == Approx(0.422).margin(5e-4));
}

TEST_CASE("end factor: the series holds on both branches", "[solver][losses]") {
  // The series itself, not the branch that is taken, where the plate is wider than long.
  double sum = 0.0;
  for (int n = 1; n < 4000; n += 2) sum += std::tanh(n * pi / (2 * 1.5)) / std::pow(n, 5);
  CHECK(plate_end_factor(1.5, 1.0) == Approx(1 - 192 / std::pow(pi, 5) * 1.5 * sum).epsilon(1e-7));
}

TEST_CASE("end factor: a cylinder's is its stream function's, with and without overhang",
          "[solver][losses]") {
  for (double order : {1.0, 4.0, 13.0})
    for (double overhang : {0.0, 5e-3, 40e-3}) {
      const double by_differences =
          cylinder_factor_by_differences(order, 0.05, 0.04, overhang, 24000);
      CHECK(cylinder_end_factor(order, 0.05, 0.04, overhang) ==
            Approx(by_differences).epsilon(1e-4));  // steps of the differences
    }
  CHECK(cylinder_end_factor(1e-4, 0.05, 0.04) ==
        Approx(std::pow(1e-4 * 0.04 / 0.1, 2) / 3).epsilon(1e-6));
}

TEST_CASE("plates: the reaction of a thick one spares it, saturation does not",
          "[solver][losses]") {
  CHECK(linear_plate_factor(0.05, 1.0) == Approx(1.0).epsilon(1e-6));
  CHECK(linear_plate_factor(0.0999999, 1.0) ==
        Approx(linear_plate_factor(0.1000001, 1.0)).epsilon(1e-9));
  CHECK(linear_plate_factor(2.0, 1.0) == Approx(0.976).margin(1e-3));  // 2.4 % at twice δ
  CHECK(linear_plate_factor(39.9, 1.0) == Approx(3 / 39.9).epsilon(1e-12));
  // Diffusion in a half plate by its own series: uniform flux Φ, B = B̄ (kw/2) cosh(kx)/sinh(kw/2).
  for (double x : {0.5, 3.0, 8.0}) {
    const std::complex<double> k(1.0, 1.0);  // (1+j)/δ, δ = 1, width x
    double sum = 0.0;                        // |E|² with E = ∫B dx from the middle
    const int n = 20000;
    for (int i = 0; i < n; ++i) {
      const double at = (i + 0.5) * x / 2 / n;
      sum += std::norm(x / 2 * std::sinh(k * at) / std::sinh(k * x / 2.0)) * (x / 2) / n;
    }
    CHECK(linear_plate_factor(x, 1.0) == Approx(sum / (std::pow(x, 3) / 24)).epsilon(1e-6));
  }
  CHECK(saturating_plate_factor(0.5, 1.5) == Approx(4 / (3 * pi)));
  CHECK(saturating_plate_factor(2.0, 1.5) == Approx(4 / pi));
}

TEST_CASE("loops: every closed loop is found once", "[solver][losses]") {
  using Ranges = std::vector<double>;
  CHECK(loop_ranges({1, 1, 1}).empty());
  CHECK(loop_ranges({0, 1, 0, -1}) == Ranges{2});
  CHECK(loop_ranges({0, 1, 0, -1, 0, 1, 0, -1}) == Ranges{2, 2});
  // A wave with a dip of 0.6 in its rise, wherever the series begins.
  std::vector<double> wave{-1, 0.2, -0.4, 1, 0};
  for (std::size_t i = 0; i < wave.size(); ++i) {
    std::rotate(wave.begin(), wave.begin() + 1, wave.end());
    const Ranges found = loop_ranges(wave);
    REQUIRE(found.size() == 2);
    CHECK(found[0] == Approx(2.0));
    CHECK(found[1] == Approx(0.6));
  }
  CHECK(loop_factor({2, 0.6}) == Approx(1 + 0.65 * 0.6 / 1.0));
  CHECK(loop_factor({2, 2, 2}) == Approx(3.0));
  CHECK(loop_factor({}) == 0.0);
  CHECK(rotation_factor(0.8) == Approx(2.0));
  CHECK(rotation_factor(1.4) == Approx(1.5));
  CHECK(rotation_factor(1.9) == Approx(1.0));
}

TEST_CASE("rates: exact for every order below half the samples, whole or half waves",
          "[solver][losses]") {
  const double period = 0.7;
  for (int n : {16, 17}) {
    const Eigen::MatrixXd rate = spectral_rate(n, period, false);
    for (int k = 0; 2 * k < n; ++k)
      for (int i = 0; i < n; ++i) {
        double sum = 0.0;
        for (int j = 0; j < n; ++j) sum += std::sin(2 * pi * k * j / n + 0.3) * rate(j, i);
        const double w = 2 * pi * k / period;
        CHECK(sum == Approx(w * std::cos(2 * pi * k * i / n + 0.3)).margin(1e-9));  // round-off
      }
  }
  for (int n : {8, 9}) {
    const Eigen::MatrixXd rate = spectral_rate(n, period, true);
    for (int k = 1; k < n; k += 2)
      for (int i = 0; i < n; ++i) {
        double sum = 0.0;
        for (int j = 0; j < n; ++j) sum += std::sin(pi * k * j / n + 0.3) * rate(j, i);
        const double w = 2 * pi * k / period;
        CHECK(sum == Approx(w * std::cos(pi * k * i / n + 0.3)).margin(1e-9));
      }
  }
}

TEST_CASE("stacking: sheets across the flux are a gap and a warning", "[solver][losses]") {
  CHECK(wrong_stacking(SheetsStacked::along_axis, 0.95, 5e-3, 4e-3).caution.empty());
  const WrongStacking wrapped = wrong_stacking(SheetsStacked::radially, 0.95, 5e-3, 4e-3);
  CHECK(wrapped.equivalent_gap == Approx(0.25e-3));
  CHECK(wrapped.caution.find("radially") != std::string::npos);
  const WrongStacking beside = wrong_stacking(SheetsStacked::tangentially, 0.95, 5e-3, 4e-3);
  CHECK(beside.equivalent_gap == Approx(0.2e-3));
  CHECK(beside.caution.find("tangentially") != std::string::npos);
}

TEST_CASE("resistivity: rises evenly with temperature", "[solver][losses]") {
  CHECK(resistivity_at(2e-7, 0.004, 20) == Approx(2e-7));
  CHECK(resistivity_at(2e-7, 0.004, 70) == Approx(2.4e-7));
}
