// tests/solver/waves_test.cpp — waves over equal sectors and side-by-side factors, against dense
// algebra. SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Dense>
#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "materials/constants.h"
#include "solver/linear/complex_block.h"
#include "solver/linear/lane_cholesky.h"
#include "solver/waves/sector_waves.h"

using namespace lodegear;

TEST_CASE("sector waves: back and forth, and products are kept (Parseval)", "[solver][waves]") {
  for (int n : {2, 3, 8, 17}) {
    const SectorWaves waves(n);
    const Eigen::MatrixXd x = Eigen::MatrixXd::Random(n, 4), y = Eigen::MatrixXd::Random(n, 4);
    Eigen::MatrixXcd zx, zy;
    waves.to_waves(x, zx);
    waves.to_waves(y, zy);
    Eigen::MatrixXd back;
    waves.to_sectors(zx, back);
    INFO(n << " sectors");
    CHECK((back - x).norm() < 1e-13);  // round-off of values below 1
    CHECK((zx.conjugate().cwiseProduct(zy)).sum().real() ==
          Approx(x.cwiseProduct(y).sum()).margin(1e-13));
  }
}

TEST_CASE("sector waves: a shift by one sector is a factor", "[solver][waves]") {
  const SectorWaves waves(7);
  const Eigen::MatrixXd x = Eigen::MatrixXd::Random(7, 1);
  Eigen::MatrixXd shifted(7, 1);
  for (int j = 0; j < 7; ++j) shifted(j, 0) = x((j + 1) % 7, 0);
  Eigen::MatrixXcd z, after;
  waves.to_waves(x, z);
  waves.to_waves(shifted, after);
  for (int wave = 0; wave < waves.n_waves(); ++wave)
    CHECK(std::abs(after(0, wave) - waves.step(wave) * z(0, wave)) < 1e-13);
}

TEST_CASE("sector waves: an order of a circle belongs to one wave", "[solver][waves]") {
  const SectorWaves waves(6);
  for (int k : {1, 2, 3, 4, 5, 6, 7, 10, 15}) {
    Eigen::MatrixXd x(6, 1);
    for (int j = 0; j < 6; ++j) x(j, 0) = std::cos(k * 2 * pi * j / 6 + 0.4);
    Eigen::MatrixXcd z;
    waves.to_waves(x, z);
    for (int wave = 0; wave < waves.n_waves(); ++wave)
      if (wave != waves.alias(k).wave) CHECK(std::abs(z(0, wave)) < 1e-12);
    CHECK(std::abs(z(0, waves.alias(k).wave)) > 0.1);
  }
}

namespace {

constexpr int n_inner = 9, n_kept = 4, n_bodies = 11;

// Overlapping elements; every body has other values.
std::vector<std::vector<int>> elements() {
  return {{0, 1, 2}, {2, 3, 9}, {3, 4, 5}, {5, 6, 10}, {6, 7, 8}, {8, 11, 12}, {0, 12, -1}};
}

Eigen::MatrixXd body_matrix(int body) {
  Eigen::MatrixXd t = 0.3 * Eigen::MatrixXd::Identity(n_inner + n_kept, n_inner + n_kept);
  for (const auto& element : elements())
    for (int a : element)
      for (int b : element)
        if (a >= 0 && b >= 0) t(a, b) += a == b ? 2.0 + 0.1 * body : -0.4 - 0.03 * body;
  return t;
}

}  // namespace

TEST_CASE("lane cholesky: Schur complement and substitutions as in dense algebra",
          "[solver][lanes]") {
  const LanePattern pattern(n_inner, n_kept, elements());
  LaneCholesky lanes(pattern, n_bodies);
  Lanes& entries = lanes.entries();
  for (int body = 0; body < entries.n_groups() * lane_width; ++body) {
    const Eigen::MatrixXd t = body_matrix(std::min(body, n_bodies - 1));
    for (int a = 0; a < n_inner + n_kept; ++a)
      for (int b = 0; b <= a; ++b)
        if (t(a, b) != 0.0) entries.at(body, pattern.entry(a, b)) = t(a, b);
  }
  for (int g = 0; g < entries.n_groups(); ++g) REQUIRE(lanes.factorise(g));

  Lanes x(n_bodies, n_inner + n_kept), product = x;
  for (int body = 0; body < n_bodies; ++body)
    for (int p = 0; p < n_inner; ++p) x.at(body, p) = std::sin(body + 3.0 * p);
  Lanes rhs = x;
  lanes.forward(x);
  for (int body = 0; body < n_bodies; ++body)
    for (int p = 0; p < n_kept; ++p) x.at(body, n_inner + p) = std::cos(body - 2.0 * p);
  lanes.times_schur(x, product);
  lanes.backward(x);

  Eigen::MatrixXd mean = Eigen::MatrixXd::Zero(n_kept, n_kept);
  for (int body = 0; body < n_bodies; ++body) {
    const Eigen::MatrixXd t = body_matrix(body);
    const Eigen::MatrixXd inner = t.topLeftCorner(n_inner, n_inner);
    const Eigen::MatrixXd across = t.topRightCorner(n_inner, n_kept);
    const Eigen::MatrixXd schur =
        t.bottomRightCorner(n_kept, n_kept) - across.transpose() * inner.inverse() * across;
    mean += schur / n_bodies;
    Eigen::VectorXd f(n_inner), known(n_kept), found(n_inner), times(n_kept);
    for (int p = 0; p < n_inner; ++p) {
      f[p] = rhs.at(body, p);
      found[p] = x.at(body, p);
    }
    for (int p = 0; p < n_kept; ++p) {
      known[p] = x.at(body, n_inner + p);
      times[p] = product.at(body, n_inner + p);
    }
    CHECK((inner * found + across * known - f).norm() < 1e-13);  // round-off
    CHECK((schur * known - times).norm() < 1e-13);
  }
  CHECK((lanes.mean_schur() - mean).norm() < 1e-13);
}

TEST_CASE("lane cholesky: blocks of columns and tiles that rows do not fill", "[solver][lanes]") {
  // Squares of a grid, its last two rows kept: eliminated row by row, so that columns share rows.
  constexpr int width = 7, height = 6, kept = 2 * width, inner = width * height - kept;
  std::vector<std::vector<int>> squares;
  for (int y = 0; y + 1 < height; ++y)
    for (int x = 0; x + 1 < width; ++x) {
      const int at = y * width + x;
      squares.push_back({at, at + 1, at + width, at + width + 1});
    }
  const std::vector<int> order = LanePattern::elimination_order(inner, kept, squares);
  REQUIRE(std::set<int>(order.begin(), order.end()).size() == inner);
  REQUIRE(*std::max_element(order.begin(), order.end()) == inner - 1);

  const LanePattern pattern(inner, kept, squares);
  LaneCholesky lanes(pattern, lane_width);
  Eigen::MatrixXd t = 0.1 * Eigen::MatrixXd::Identity(inner + kept, inner + kept);
  for (const auto& square : squares)
    for (int a : square)
      for (int b : square) t(a, b) += a == b ? 3.0 : -1.0 - 0.1 * std::sin(a + b);
  for (int a = 0; a < inner + kept; ++a)
    for (int b = 0; b <= a; ++b)
      if (t(a, b) != 0.0)
        for (int body = 0; body < lane_width; ++body)
          lanes.entries().at(body, pattern.entry(a, b)) = t(a, b);
  REQUIRE(lanes.factorise(0));
  const Eigen::MatrixXd across = t.topRightCorner(inner, kept);
  const Eigen::MatrixXd schur =
      t.bottomRightCorner(kept, kept) -
      across.transpose() * t.topLeftCorner(inner, inner).llt().solve(across);
  CHECK((lanes.mean_schur() - schur).norm() < 1e-12);  // round-off
}

TEST_CASE("lane cholesky: one indefinite body is enough to say so", "[solver][lanes]") {
  const LanePattern pattern(2, 1, {{0, 1, 2}});
  LaneCholesky lanes(pattern, 3);
  for (int body = 0; body < lane_width; ++body)
    for (int a = 0; a < 3; ++a)
      lanes.entries().at(body, pattern.entry(a, a)) = body == 2 && a == 1 ? -1.0 : 1.0;
  CHECK_FALSE(lanes.factorise(0));
}

TEST_CASE("complex block: its product is the matrix's", "[solver][waves]") {
  for (int n : {1, 2, 5, 16, 33}) {
    const Eigen::MatrixXcd m = Eigen::MatrixXcd::Random(n, n);
    Eigen::VectorXcd x = Eigen::VectorXcd::Random(n), y(n);
    ComplexBlock(m).times(x.data(), y.data());
    CHECK((y - m * x).norm() < 1e-13 * n);  // round-off
    x.head(n / 2).setZero();
    ComplexBlock(m).times(x.data(), y.data(), n / 2);
    CHECK((y - m * x).norm() < 1e-13 * n);
  }
}
