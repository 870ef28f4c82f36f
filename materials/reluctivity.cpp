// materials/reluctivity.cpp — ν(B²) of a material, its slope and its energy.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/reluctivity.h"

#include <algorithm>
#include <cmath>

#include "materials/bh_curve.h"
#include "materials/input_error.h"
#include "materials/monotone_cubic.h"

namespace lodegear {

Reluctivity Reluctivity::constant(double nu) {
  Reluctivity law;
  law.nu_start_ = nu;
  return law;
}

Reluctivity Reluctivity::from_curve(const BhCurve& curve) {
  std::vector<double> b, h;
  for (const BhPoint& point : curve.points()) {
    b.push_back(point.b);
    h.push_back(point.h);
  }
  Reluctivity law;
  law.kind_ = Kind::table;
  law.b_start_ = b[1];
  law.nu_start_ = h[1] / b[1];
  const std::vector<double> x(b.begin() + 1, b.end()), y(h.begin() + 1, h.end());
  const std::vector<double> d = limited_slopes(x, y, nu0, law.nu_start_, nu0);
  double energy = 0.5 * y[0] * x[0];
  for (std::size_t i = 0; i + 1 < x.size(); ++i) {
    const double step = x[i + 1] - x[i], chord = (y[i + 1] - y[i]) / step;
    const double c2 = (3.0 * chord - 2.0 * d[i] - d[i + 1]) / step;
    const double c3 = (d[i] + d[i + 1] - 2.0 * chord) / (step * step);
    law.pieces_.push_back({x[i], y[i], d[i], c2, c3, energy});
    energy += step * (y[i] + step * (d[i] / 2 + step * (c2 / 3 + step * c3 / 4)));
  }
  law.b_end_ = x.back();
  law.h_end_ = y.back();
  law.w_end_ = energy;
  law.index_pieces();
  return law;
}

void Reluctivity::index_pieces() {
  constexpr int n_steps = 128;  // a twentieth of the usual distance of table points in B
  steps_per_tesla_ = n_steps / b_end_;
  int piece = 0;
  for (int step = 0; step <= n_steps; ++step) {
    const double b = step / steps_per_tesla_;
    while (piece + 1 < static_cast<int>(pieces_.size()) && pieces_[piece + 1].b <= b) ++piece;
    first_piece_.push_back(std::max(0, piece));
  }
}

Reluctivity Reluctivity::exponential(double k1, double k2, double k3) {
  const bool finite = std::isfinite(k1) && std::isfinite(k2) && std::isfinite(k3);
  if (!finite || k1 < 0.0 || k2 < 0.0 || k3 < 0.0)
    throw InputError("the exponential law needs k1, k2 and k3 that are not negative.");
  if (k1 + k3 < 0.5 || k1 + k3 > nu0)
    throw InputError(
        "the exponential law needs k1 + k3 from 0.5 A/(m·T), a relative permeability "
        "of 1.6 million, to 795775 A/(m·T), that of air.");
  if (k1 == 0.0 || k2 == 0.0) return constant(k1 + k3);
  const auto slope = [&](double b) {
    return k1 * std::exp(k2 * b * b) * (1.0 + 2.0 * k2 * b * b) + k3;
  };
  double below = 0.0, above = 5.0;
  if (slope(above) < nu0)
    throw InputError("the exponential law does not saturate below 5 T; k2 belongs to B² in T².");
  while (true) {
    const double middle = 0.5 * (below + above);
    if (middle <= below || middle >= above) break;
    (slope(middle) <= nu0 ? below : above) = middle;
  }
  Reluctivity law;
  law.kind_ = Kind::exponential;
  law.k1_ = k1;
  law.k2_ = k2;
  law.k3_ = k3;
  law.nu_start_ = k1 + k3;
  law.b_end_ = 2 * below;
  const ReluctivityPoint end = law.at(below * below);
  law.b_end_ = below;
  law.h_end_ = end.nu * below;
  law.w_end_ = end.energy;
  return law;
}

ReluctivityPoint Reluctivity::without_energy(double b2) const {
  if (kind_ == Kind::constant) return {nu_start_, 0.0, 0.0};
  const double b = std::sqrt(b2);
  if (b > b_end_) {
    const double nu = (h_end_ + nu0 * (b - b_end_)) / b;
    return {nu, (nu0 - nu) / (2.0 * b2), 0.0};
  }
  if (kind_ == Kind::exponential) {
    const double e = k1_ * std::exp(k2_ * b2);
    return {e + k3_, k2_ * e, 0.0};
  }
  if (b <= b_start_) return {nu_start_, 0.0, 0.0};
  const Cubic& c = cubic_at(b);
  const double x = b - c.b;
  const double h = c.h + x * (c.slope + x * (c.c2 + x * c.c3));
  const double slope = c.slope + x * (2.0 * c.c2 + x * 3.0 * c.c3);
  const double nu = h / b;
  return {nu, (slope - nu) / (2.0 * b2), 0.0};
}

ReluctivityPoint Reluctivity::with_energy(ReluctivityPoint point, double b2) const {
  const double b = std::sqrt(b2);
  if (kind_ == Kind::constant || (kind_ == Kind::table && b <= b_start_)) {
    point.energy = 0.5 * nu_start_ * b2;
  } else if (b > b_end_) {
    const double x = b - b_end_;
    point.energy = w_end_ + x * (h_end_ + 0.5 * nu0 * x);
  } else if (kind_ == Kind::exponential) {
    point.energy = 0.5 * (k1_ / k2_ * std::expm1(k2_ * b2) + k3_ * b2);
  } else {
    const Cubic& c = cubic_at(b);
    const double x = b - c.b;
    point.energy = c.energy + x * (c.h + x * (c.slope / 2 + x * (c.c2 / 3 + x * c.c3 / 4)));
  }
  return point;
}

const Reluctivity::Cubic& Reluctivity::cubic_at(double b) const {
  std::size_t i = first_piece_[static_cast<std::size_t>(b * steps_per_tesla_)];
  while (i + 1 < pieces_.size() && b >= pieces_[i + 1].b) ++i;
  return pieces_[i];
}

double flux_density_at(const Reluctivity& law, double h) {
  if (!(h > 0.0)) return 0.0;
  const auto field = [&](double b) { return law.at(b * b).nu * b; };
  double below = 0.0, above = 1.0;
  while (std::isfinite(above) && field(above) < h) above *= 2.0;
  while (true) {
    const double middle = 0.5 * (below + above);
    if (!(middle > below && middle < above)) return middle;
    (field(middle) <= h ? below : above) = middle;
  }
}

}  // namespace lodegear
