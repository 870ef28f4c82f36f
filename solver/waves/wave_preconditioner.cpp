// solver/waves/wave_preconditioner.cpp — the gear as it would be if all sectors were alike.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/wave_preconditioner.h"

#include <Eigen/Cholesky>
#include <complex>
#include <stdexcept>

namespace lodegear {

namespace {

// Adds what belongs to the orders of a port to the member's unknowns that hold them.
void add_to_orders(const WavePort& port, const Eigen::VectorXd& per_order,
                   Eigen::VectorXd& unknowns) {
  for (std::size_t k = 0; k < port.orders.size(); ++k) {
    const auto [kind, at] = port.orders[k];
    unknowns[at] += per_order[static_cast<Eigen::Index>(k)];
    if (kind == OrderSlot::Kind::standing)
      unknowns[at + 1] += per_order[static_cast<Eigen::Index>(k)];
  }
}

Eigen::MatrixXcd inverse(const Eigen::MatrixXcd& matrix) {
  const Eigen::LLT<Eigen::MatrixXcd> factor(matrix);
  if (factor.info() != Eigen::Success)
    throw std::runtime_error("wave preconditioner: not positive definite");
  const Eigen::MatrixXcd half =
      factor.matrixL().solve(Eigen::MatrixXcd::Identity(matrix.rows(), matrix.cols()));
  Eigen::MatrixXcd result = Eigen::MatrixXcd::Zero(matrix.rows(), matrix.cols());
  result.selfadjointView<Eigen::Lower>().rankUpdate(half.adjoint());
  result.triangularView<Eigen::StrictlyUpper>() = result.adjoint();
  return result;
}

}  // namespace

WavePreconditioner::WavePreconditioner(const WaveGear& gear,
                                       const std::vector<Eigen::MatrixXd>& mean_tangents)
    : gear_(&gear), inverses_(gear.n_members()), work_(gear.n_unknowns()) {
  std::vector<Eigen::VectorXd> seen;  // what is subtracted from the core, by gap
  for (std::size_t g = 0; g < gear.n_gaps(); ++g)
    seen.emplace_back(Eigen::VectorXd::Zero(gear.gap(g).own.size()));

  std::vector<std::vector<Eigen::MatrixXcd>> whole(gear.n_members());
  const auto invert = [&](std::size_t i) {
    const MemberWaves& linear = gear.member(i).linear;
    Eigen::VectorXd diagonal = Eigen::VectorXd::Zero(linear.n_unknowns());
    for (std::size_t g = 0; g < gear.n_gaps(); ++g)
      if (g == i || g + 1 == i) add_to_orders(gear.port(i, g), gear.gap(g).own, diagonal);
    if (i == gear.core()) diagonal -= seen_;
    for (int wave = 0; wave < linear.waves().n_waves(); ++wave) {
      Eigen::MatrixXcd m = linear.stiffness(wave);
      if (mean_tangents[i].size() > 0)
        m.topLeftCorner(linear.n_boundary(), linear.n_boundary()) +=
            joined(mean_tangents[i], gear.member(i).bodies.upper(), linear.waves().step(wave));
      m.diagonal() += diagonal.segment(linear.first(wave), linear.size(wave));
      whole[i].push_back(inverse(m));
      inverses_[i].emplace_back(whole[i].back());
    }
  };

  for (std::size_t i = 0; i < gear.n_members(); ++i) {
    if (i == gear.core()) continue;
    invert(i);
    const std::size_t g = gap_of(i);
    const MemberWaves& linear = gear.member(i).linear;
    const auto& slots = gear.port(i, g).orders;
    for (int wave = 0; wave < linear.waves().n_waves(); ++wave)
      for (std::size_t k = 0; k < slots.size(); ++k) {
        const Eigen::Index at = slots[k].at - linear.first(wave);
        if (at < 0 || at >= linear.size(wave)) continue;
        const Eigen::MatrixXcd& m = whole[i][static_cast<std::size_t>(wave)];
        // Averaged over the angle, a and b of a standing wave change places.
        const double mean = slots[k].kind == OrderSlot::Kind::standing
                                ? 0.5 * (m(at, at).real() + m(at + 1, at + 1).real())
                                : m(at, at).real();
        const double cross = gear.gap(g).cross[static_cast<Eigen::Index>(k)];
        seen[g][static_cast<Eigen::Index>(k)] = cross * cross * mean;
      }
  }
  seen_.setZero(gear.member(gear.core()).linear.n_unknowns());
  for (std::size_t g = 0; g < gear.n_gaps(); ++g)
    add_to_orders(gear.port(gear.core(), g), seen[g], seen_);
  invert(gear.core());
}

void WavePreconditioner::times_inverse(std::size_t member, Only only, const Eigen::VectorXcd& r,
                                       Eigen::VectorXcd& z) const {
  const MemberWaves& linear = gear_->member(member).linear;
  const int first_column = only == Only::orders ? static_cast<int>(linear.n_boundary()) : 0;
  for (int wave = 0; wave < linear.waves().n_waves(); ++wave) {
    const Eigen::Index at = gear_->first(member) + linear.first(wave), n = linear.size(wave);
    if (n > 0)
      inverses_[member][static_cast<std::size_t>(wave)].times(&r[at], &z[at], first_column);
  }
}

double WavePreconditioner::eliminate(const std::vector<Eigen::VectorXcd>& phases,
                                     Eigen::VectorXcd& r, Eigen::VectorXcd& z) const {
  z.setZero(r.size());
  double product = 0.0;
  for (std::size_t end = 0; end < gear_->n_members(); ++end) {
    if (!is_linear_end(end)) continue;
    times_inverse(end, Only::all, r, z);
    product += gear_->part(r, end).dot(gear_->part(z, end)).real();
    gear_->part(r, end).setZero();
    gear_->add_across(phases, gap_of(end), end, -1.0, z, r);
  }
  return product;
}

void WavePreconditioner::solve(const std::vector<Eigen::VectorXcd>& phases,
                               const Eigen::VectorXcd& r, Eigen::VectorXcd& z,
                               Eigen::VectorXcd& beyond) const {
  const std::size_t core = gear_->core();
  z.setZero(r.size());
  beyond.setZero(r.size());
  work_ = r;
  for (std::size_t end = 0; end < gear_->n_members(); ++end) {
    if (end == core || is_linear_end(end)) continue;
    times_inverse(end, Only::all, r, z);
    gear_->add_across(phases, gap_of(end), end, -1.0, z, work_);
  }
  times_inverse(core, Only::all, work_, z);
  gear_->part(beyond, core) = seen_.cwiseProduct(gear_->part(z, core));
  asked_.setZero(r.size());
  answer_.resize(r.size());
  for (std::size_t end = 0; end < gear_->n_members(); ++end) {
    if (end == core) continue;
    gear_->add_across(phases, gap_of(end), core, 1.0, z, asked_);
    times_inverse(end, Only::orders, asked_, answer_);
    gear_->part(z, end) -= gear_->part(answer_, end);
    gear_->add_across(phases, gap_of(end), end, -1.0, answer_, beyond);
  }
}

}  // namespace lodegear
