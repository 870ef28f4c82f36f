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

CondensedMember::CondensedMember(const std::vector<Port>& ports, const Eigen::MatrixXd& compliance,
                                 const Eigen::VectorXd& end_own)
    : compliance_(compliance) {
  int row = 0;
  Eigen::VectorXd air_own(compliance.rows());
  for (const Port& port : ports) {
    std::vector<int>& rows = port.beyond == Beyond::gap ? gap_rows_ : air_rows_;
    if (port.beyond == Beyond::open_air)
      air_own.segment(static_cast<Eigen::Index>(air_rows_.size()), 2 * port.n_orders) =
          twice(open_air_compliance(port.n_orders));
    for (int i = 0; i < 2 * port.n_orders; ++i) rows.push_back(row++);
  }
  gap_compliance_ = compliance(gap_rows_, gap_rows_);
  if (!air_rows_.empty()) {
    Eigen::MatrixXd to_air = compliance(air_rows_, air_rows_);
    to_air.diagonal() += air_own.head(to_air.rows());
    air_.compute(to_air);
    gap_air_ = compliance(gap_rows_, air_rows_);
    if (!gap_rows_.empty()) gap_compliance_ -= gap_air_ * air_.solve(gap_air_.transpose());
  }
  if (end_own.size() > 0) {
    Eigen::MatrixXd end = gap_compliance_;
    end.diagonal() += end_own;
    inverse_ = end.llt().solve(Eigen::MatrixXd::Identity(end.rows(), end.cols()));
  }
}

Eigen::VectorXd CondensedMember::reduced(const Eigen::VectorXd& rhs) const {
  Eigen::VectorXd result = rhs(gap_rows_);
  const Eigen::VectorXd on_air = rhs(air_rows_);
  if (!air_rows_.empty() && !gap_rows_.empty()) result -= gap_air_ * air_.solve(on_air);
  return result;
}

Eigen::VectorXd CondensedMember::expanded(const Eigen::VectorXd& q_gap,
                                          const Eigen::VectorXd& rhs) const {
  Eigen::VectorXd q(rhs.size());
  q(gap_rows_) = q_gap;
  if (!air_rows_.empty()) {
    Eigen::VectorXd on_air = rhs(air_rows_);
    if (!gap_rows_.empty()) on_air -= gap_air_.transpose() * q_gap;
    const Eigen::VectorXd q_air = air_.solve(on_air);
    q(air_rows_) = q_air;
  }
  return q;
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
  Eigen::MatrixXd m = condensed[core_]->gap_compliance();
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
  std::vector<Eigen::VectorXd> q(rhs.size()), reduced(rhs.size());
  for (std::size_t i = 0; i < rhs.size(); ++i) reduced[i] = condensed_[i]->reduced(rhs[i]);
  Eigen::VectorXd core_rhs = reduced[core_];
  for (std::size_t i = 0; i < rhs.size(); ++i) {
    if (i == core_) continue;
    const Eigen::VectorXd free = condensed_[i]->inverse() * reduced[i];
    core_rhs.segment(core_row(i), free.size()) -=
        twice(annuli_[gap_of(i)].cross).cwiseProduct(turned(free, angle_to_core(i)));
  }
  Eigen::VectorXd core_q = core_rhs;
  if (core_q.size() > 0) core_q = factor_.solve(core_rhs);
  q[core_] = condensed_[core_]->expanded(core_q, rhs[core_]);
  for (std::size_t i = 0; i < rhs.size(); ++i) {
    if (i == core_) continue;
    const Eigen::VectorXd cross = twice(annuli_[gap_of(i)].cross);
    const Eigen::VectorXd seen =
        turned(cross.cwiseProduct(core_q.segment(core_row(i), cross.size())), -angle_to_core(i));
    q[i] = condensed_[i]->expanded(condensed_[i]->inverse() * (reduced[i] - seen), rhs[i]);
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
      const auto mine = q[i].segment(row, n);
      if (port.beyond == Beyond::open_air) {
        c[i].segment(row, n) = twice(open_air_compliance(port.n_orders)).cwiseProduct(mine);
      } else {
        const bool outwards = port.side == Port::Side::outer;
        const std::size_t gap = outwards ? i : i - 1;
        const Eigen::VectorXd& other = q[outwards ? i + 1 : i - 1];
        const Eigen::VectorXd theirs = outwards ? other.head(n) : other.tail(n);
        const double angle = outwards ? angle_between(gap) : -angle_between(gap);
        c[i].segment(row, n) = twice(annuli_[gap].own).cwiseProduct(mine) +
                               twice(annuli_[gap].cross).cwiseProduct(turned(theirs, angle));
      }
      row += n;
    }
  }
  return c;
}

}  // namespace lodegear
