// solver/field/port_system.cpp — members tied across the gaps: the small dense system of flux
// loads. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/port_system.h"

#include <cmath>
#include <stdexcept>

#include "solver/gap/circle_orders.h"

namespace lodegear {

namespace {

// cos kα and sin kα for the K orders.
struct Phases {
  Eigen::ArrayXd c, s;
  Phases(Eigen::Index n, double angle) : c(n), s(n) {
    for (Eigen::Index k = 0; k < n; ++k) {
      c[k] = std::cos(static_cast<double>(k + 1) * angle);
      s[k] = std::sin(static_cast<double>(k + 1) * angle);
    }
  }
};

// R(α) Z: the same turn as turned(), for all columns.
Eigen::MatrixXd turned_rows(const Eigen::MatrixXd& z, const Phases& p) {
  const Eigen::Index n = p.c.size();
  Eigen::MatrixXd result(z.rows(), z.cols());
  result.topRows(n) =
      p.c.matrix().asDiagonal() * z.topRows(n) - p.s.matrix().asDiagonal() * z.bottomRows(n);
  result.bottomRows(n) =
      p.s.matrix().asDiagonal() * z.topRows(n) + p.c.matrix().asDiagonal() * z.bottomRows(n);
  return result;
}

Eigen::VectorXd twice(const Eigen::VectorXd& per_order) {
  Eigen::VectorXd both(2 * per_order.size());
  both << per_order, per_order;
  return both;
}

}  // namespace

CondensedMember::CondensedMember(Eigen::MatrixXd compliance, const Eigen::VectorXd& end_own)
    : compliance_(std::move(compliance)) {
  if (end_own.size() == 0) return;
  Eigen::MatrixXd end = compliance_;
  end.diagonal() += end_own;
  inverse_ = end.llt().solve(Eigen::MatrixXd::Identity(end.rows(), end.cols()));
}

// A member alone has no ports, and BLAS takes no empty matrices.
Eigen::VectorXd CondensedMember::times(const Eigen::VectorXd& q) const {
  if (q.size() == 0) return q;
  return compliance_ * q;
}

PortSystem::PortSystem(const FieldProblem& problem, const std::vector<MemberSystem>& systems)
    : systems_(systems), core_(problem.members.size() - 1) {
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    names_.push_back(problem.members[i].mesh.member);
    if (names_.back() == Member::modulator) core_ = i;
  }
  for (const GapAnnulus& gap : problem.gaps)
    annuli_.push_back(annulus_compliance(gap.inner_radius, gap.outer_radius, gap.orders));
}

double PortSystem::angle_between(std::size_t gap) const {
  return position_.of(names_[gap + 1]) - position_.of(names_[gap]);
}

double PortSystem::angle_to_core(std::size_t end) const {
  return position_.of(names_[end]) - position_.of(names_[core_]);
}

Eigen::VectorXd PortSystem::end_own(std::size_t i) const {
  return i == core_ ? Eigen::VectorXd() : twice(annuli_[gap_of(i)].own);
}

// Where, among the core's gap amplitudes, the port towards this end begins: inner port first.
Eigen::Index PortSystem::core_row(std::size_t end) const {
  return end < core_ || core_ == 0 ? 0 : 2 * annuli_[core_ - 1].own.size();
}

void PortSystem::set(const Position& position,
                     const std::vector<const CondensedMember*>& condensed) {
  turn(position);
  condensed_ = condensed;
  Eigen::MatrixXd m = condensed[core_]->compliance();
  for (std::size_t i = 0; i < condensed.size(); ++i) {
    if (i == core_) continue;
    const AnnulusCompliance& annulus = annuli_[gap_of(i)];
    const Phases phases(annulus.own.size(), angle_to_core(i));
    // own − cross R Z Rᵀ cross
    Eigen::MatrixXd seen = turned_rows(condensed[i]->inverse(), phases);
    seen = turned_rows(seen.transpose(), phases);
    const Eigen::VectorXd cross = twice(annulus.cross);
    auto block = m.block(core_row(i), core_row(i), seen.rows(), seen.cols());
    block -= cross.asDiagonal() * seen * cross.asDiagonal();
    block.diagonal() += twice(annulus.own);
  }
  if (m.rows() == 0) return;
  factor_.compute(m);
  if (factor_.info() != Eigen::Success)
    throw std::runtime_error("port system: not positive definite");
}

std::vector<Eigen::VectorXd> PortSystem::solve(const std::vector<Eigen::VectorXd>& rhs) const {
  std::vector<Eigen::VectorXd> q(rhs.size());
  q[core_] = rhs[core_];
  for (std::size_t i = 0; i < rhs.size(); ++i) {
    if (i == core_) continue;
    const Eigen::VectorXd free = condensed_[i]->inverse() * rhs[i];
    q[core_].segment(core_row(i), free.size()) -=
        twice(annuli_[gap_of(i)].cross).cwiseProduct(turned(free, angle_to_core(i)));
  }
  if (q[core_].size() > 0) q[core_] = factor_.solve(q[core_]).eval();
  for (std::size_t i = 0; i < rhs.size(); ++i) {
    if (i == core_) continue;
    const Eigen::VectorXd cross = twice(annuli_[gap_of(i)].cross);
    const Eigen::VectorXd seen =
        turned(cross.cwiseProduct(q[core_].segment(core_row(i), cross.size())), -angle_to_core(i));
    q[i] = condensed_[i]->inverse() * (rhs[i] - seen);
  }
  return q;
}

std::vector<Eigen::VectorXd> PortSystem::compliance_times(
    const std::vector<Eigen::VectorXd>& q) const {
  std::vector<Eigen::VectorXd> c(q.size());
  for (std::size_t i = 0; i < q.size(); ++i) {
    c[i].resize(q[i].size());
    Eigen::Index row = 0;
    for (const Port& port : systems_[i].ports()) {
      const Eigen::Index n = 2 * port.n_orders;
      const bool outwards = port.side == Port::Side::outer;
      const std::size_t gap = outwards ? i : i - 1;
      const Eigen::VectorXd& other = q[outwards ? i + 1 : i - 1];
      const Eigen::VectorXd theirs = outwards ? other.head(n) : other.tail(n);
      const double angle = outwards ? angle_between(gap) : -angle_between(gap);
      c[i].segment(row, n) = twice(annuli_[gap].own).cwiseProduct(q[i].segment(row, n)) +
                             twice(annuli_[gap].cross).cwiseProduct(turned(theirs, angle));
      row += n;
    }
  }
  return c;
}

}  // namespace lodegear
