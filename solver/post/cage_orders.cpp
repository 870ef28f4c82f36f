// solver/post/cage_orders.cpp — Fourier integrals over pole pieces and slots.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/cage_orders.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "materials/constants.h"

namespace lodegear {

namespace {

constexpr int orders_aside = 8;  // in k, to either side; the terms fall as 1/k³
constexpr double widest_cover = 0.98;

double sinc(double x) { return std::abs(x) < 1e-9 ? 1.0 : std::sin(x) / x; }

}  // namespace

CageOrders::CageOrders(const EndCage& cage, int phase)
    : n_(cage.pole_pieces),
      phase_(phase),
      pitch_(2 * pi / n_),
      slot_((1 - std::min(cage.cover, widest_cover)) * pitch_) {}

CageShape CageOrders::amplitudes(int k) const {
  const int m = phase_ + k * n_;
  const double half = m * slot_ / 2, sign = k % 2 == 0 ? 1.0 : -1.0;
  CageShape shape;
  shape[0] = sinc(m * pitch_ / 2) * sinc(half);  // a trapezium over each piece
  for (int l = 1; l <= n_slot_shapes; ++l) {
    const double below = sinc(half - l * pi / 2), above = sinc(half + l * pi / 2);
    shape[l] = sign * n_ * slot_ / (4 * pi) * (l % 2 == 1 ? below + above : below - above);
  }
  return shape;
}

CageMatrix CageOrders::surface_matrix(int k_sun, int k_ring) const {
  CageMatrix sum = CageMatrix::Zero();
  for (int k = k_ring - orders_aside; k <= k_sun + orders_aside; ++k) {
    if (k == k_sun || k == k_ring) continue;
    const CageShape a = amplitudes(k);
    sum += std::abs(phase_ + k * n_) * a * a.transpose();
  }
  return 2 * pi * sum;
}

double CageOrders::between_pieces(const RadialExtent& radii) const {
  const double step = 2 * std::sin(phase_ * pitch_ / 2);
  return n_ * std::log(radii.outer / radii.inner) / slot_ * step * step;
}

}  // namespace lodegear
