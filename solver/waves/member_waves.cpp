// solver/waves/member_waves.cpp — the linear part of a member of equal sectors, wave by wave.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/member_waves.h"

#include <algorithm>
#include <complex>
#include <stdexcept>

#include "solver/gap/circle_orders.h"

namespace lodegear {

MemberWaves::MemberWaves(const FieldMember& member, const Sector& sector, int orders_inside,
                         int orders_outside)
    : sector_(sector),
      nodes_per_sector_(member.mesh.nodes_per_sector),
      open_(member, sector),
      waves_(sector.n_sectors),
      n_rim_(static_cast<Eigen::Index>(sector.rim.size())),
      n_boundary_(static_cast<Eigen::Index>(sector.boundary.size())) {
  if (member.mesh.inner) add_circle(member, *member.mesh.inner, member.inside, orders_inside);
  if (member.mesh.outer) add_circle(member, *member.mesh.outer, member.outside, orders_outside);
  lay_out();
  waves_.to_waves(open_.source, rim_source_);
  source_.resize(n_unknowns());
  blocks_.resize(static_cast<std::size_t>(waves_.n_waves()));
  for (int wave = 0; wave < waves_.n_waves(); ++wave) condense(wave);
}

void MemberWaves::add_circle(const FieldMember& member, const BoundaryCircle& on, Beyond beyond,
                             int n_orders) {
  if (beyond == Beyond::ideal_iron) return;
  const bool gap = beyond == Beyond::gap;
  std::vector<int> place(static_cast<std::size_t>(member.mesh.nodes_per_sector), -1);
  int next = 0;
  for (const auto* list : {&sector_.rim, &sector_.boundary})
    for (int node : *list) place[static_cast<std::size_t>(node)] = next++;

  Circle circle;
  const std::size_t per_sector = on.nodes.size() / static_cast<std::size_t>(sector_.n_sectors);
  for (std::size_t i = 0; i < per_sector; ++i)
    circle.rows.push_back(place[static_cast<std::size_t>(on.nodes[i] % nodes_per_sector_)]);
  circle.last = std::max(resolved_orders(on), gap ? n_orders : 0);
  circle.orders = circle_orders(on, 1, circle.last, static_cast<int>(per_sector));
  circle.gap_orders = gap ? n_orders : 0;
  circles_.push_back(std::move(circle));
  if (!gap) return;
  ports_.push_back({std::vector<OrderSlot>(static_cast<std::size_t>(n_orders))});
}

// b of a wave first, then the orders that belong to it, port after port.
void MemberWaves::lay_out() {
  Eigen::Index next = 0;
  for (int wave = 0; wave < waves_.n_waves(); ++wave) {
    first_.push_back(next);
    next += n_boundary_;
    for (WavePort& port : ports_)
      for (std::size_t k = 1; k <= port.orders.size(); ++k) {
        const SectorWaves::Alias alias = waves_.alias(static_cast<int>(k));
        if (alias.wave != wave) continue;
        const bool standing = waves_.standing(wave);
        port.orders[k - 1] = {standing          ? OrderSlot::Kind::standing
                              : alias.conjugate ? OrderSlot::Kind::conjugate
                                                : OrderSlot::Kind::direct,
                              next};
        next += standing ? 2 : 1;
      }
  }
  first_.push_back(next);
}

// F of the orders first … last that belong to a wave, over rim and boundary: C = row · z, or its
// conjugate; in a standing wave a and b in two rows.                                 (theory 7.4)
Eigen::MatrixXcd MemberWaves::order_rows(const Circle& circle, int wave, int first,
                                         int last) const {
  const Eigen::Index n_all = circle.last;
  std::vector<Eigen::RowVectorXcd> rows;
  for (int k = first; k <= last; ++k) {
    const SectorWaves::Alias alias = waves_.alias(k);
    if (alias.wave != wave) continue;
    const Eigen::RowVectorXd a = waves_.gain(wave) * circle.orders.row(k - 1);
    const Eigen::RowVectorXd b = waves_.gain(wave) * circle.orders.row(n_all + k - 1);
    const std::complex<double> i(0.0, 1.0);
    if (waves_.standing(wave)) {
      rows.emplace_back(a.cast<std::complex<double>>());
      rows.emplace_back(b.cast<std::complex<double>>());
    } else {
      rows.emplace_back(a + (alias.conjugate ? i : -i) * b);
    }
  }
  Eigen::MatrixXcd f =
      Eigen::MatrixXcd::Zero(static_cast<Eigen::Index>(rows.size()), n_rim_ + n_boundary_);
  for (std::size_t r = 0; r < rows.size(); ++r)
    for (std::size_t i = 0; i < circle.rows.size(); ++i)
      f(static_cast<Eigen::Index>(r), circle.rows[i]) += rows[r][static_cast<Eigen::Index>(i)];
  return f;
}

void MemberWaves::condense(int wave) {
  Eigen::MatrixXcd t = joined(open_.stiffness, open_.upper, waves_.step(wave));

  // Orders that see open air; those of the gaps are kept as unknowns.
  std::vector<Eigen::MatrixXcd> gap_rows;
  for (const Circle& circle : circles_) {
    for (int k = circle.gap_orders + 1; k <= circle.last; ++k) {
      const Eigen::MatrixXcd f = order_rows(circle, wave, k, k);
      if (f.rows() > 0) t.noalias() += (pi * nu0 * k) * (f.adjoint() * f);
    }
    gap_rows.push_back(order_rows(circle, wave, 1, circle.gap_orders));
  }
  // The mean of one node fixes the member's free constant where no axis does.
  if (wave == 0 && !sector_.has_axis) t(0, 0) += nu0;

  Eigen::Index n_orders = 0;
  for (const auto& f : gap_rows) n_orders += f.rows();
  Block& block = blocks_[static_cast<std::size_t>(wave)];
  block.rim_orders.resize(n_orders, n_rim_);
  Eigen::Index row = 0;
  for (const auto& f : gap_rows) {
    if (f.rows() > 0 && f.rightCols(n_boundary_).cwiseAbs().sum() > 0)
      throw std::logic_error("saturable steel lies on a gap circle");
    block.rim_orders.middleRows(row, f.rows()) = f.leftCols(n_rim_);
    row += f.rows();
  }
  block.rim_boundary = t.topRightCorner(n_rim_, n_boundary_);
  block.rim_source = rim_source_.col(wave).head(n_rim_);

  const Eigen::Index n = n_boundary_ + n_orders;
  Eigen::MatrixXcd& k = block.stiffness;
  k = Eigen::MatrixXcd::Zero(n, n);
  k.topLeftCorner(n_boundary_, n_boundary_) = t.bottomRightCorner(n_boundary_, n_boundary_);
  Eigen::VectorXcd g = Eigen::VectorXcd::Zero(n);
  g.head(n_boundary_) = rim_source_.col(wave).tail(n_boundary_);
  if (n_rim_ > 0) {
    block.rim.compute(t.topLeftCorner(n_rim_, n_rim_));
    if (block.rim.info() != Eigen::Success)
      throw std::runtime_error("the rim of a sector is not positive definite");
    // With L of T_ww: the shares of boundary, orders and source.                    (theory 7.5)
    Eigen::MatrixXcd x(n_rim_, n + 1);
    x << block.rim_boundary, block.rim_orders.adjoint(), block.rim_source;
    block.rim.matrixL().solveInPlace(x);
    const auto xb = x.leftCols(n_boundary_);
    const auto xc = x.middleCols(n_boundary_, n_orders);
    const auto xf = x.rightCols<1>();
    k.topLeftCorner(n_boundary_, n_boundary_).noalias() -= xb.adjoint() * xb;
    g.head(n_boundary_).noalias() -= xb.adjoint() * xf;
    if (n_orders > 0) {
      const Eigen::MatrixXcd compliance = xc.adjoint() * xc;  // C
      const Eigen::MatrixXcd stiffness =
          compliance.llt().solve(Eigen::MatrixXcd::Identity(n_orders, n_orders));
      const Eigen::MatrixXcd e = xc.adjoint() * xb;  // F T⁻¹ T_wb
      const Eigen::VectorXcd c0 = xc.adjoint() * xf;
      k.bottomRightCorner(n_orders, n_orders) = 0.5 * (stiffness + stiffness.adjoint().eval());
      k.bottomLeftCorner(n_orders, n_boundary_).noalias() = stiffness * e;
      k.topRightCorner(n_boundary_, n_orders) = k.bottomLeftCorner(n_orders, n_boundary_).adjoint();
      k.topLeftCorner(n_boundary_, n_boundary_).noalias() +=
          e.adjoint() * k.bottomLeftCorner(n_orders, n_boundary_);
      g.tail(n_orders).noalias() = stiffness * c0;
      g.head(n_boundary_).noalias() += e.adjoint() * g.tail(n_orders);
    }
  }
  block.times = ComplexBlock(k);
  source_.segment(first(wave), n) = g;
}

void MemberWaves::times(const Eigen::Ref<const Eigen::VectorXcd>& u,
                        Eigen::Ref<Eigen::VectorXcd> result) const {
  for (int wave = 0; wave < waves_.n_waves(); ++wave)
    if (size(wave) > 0)
      blocks_[static_cast<std::size_t>(wave)].times.times(u.data() + first(wave),
                                                          result.data() + first(wave));
}

void MemberWaves::boundary_of(const Eigen::Ref<const Eigen::VectorXcd>& u,
                              Eigen::MatrixXd& b) const {
  Eigen::MatrixXcd z(n_boundary_, waves_.n_waves());
  for (int wave = 0; wave < waves_.n_waves(); ++wave)
    z.col(wave) = u.segment(first(wave), n_boundary_);
  waves_.to_sectors(z, b);
}

void MemberWaves::add_boundary(const Eigen::MatrixXd& b, Eigen::Ref<Eigen::VectorXcd> u) const {
  Eigen::MatrixXcd z;
  waves_.to_waves(b, z);
  for (int wave = 0; wave < waves_.n_waves(); ++wave)
    u.segment(first(wave), n_boundary_) += z.col(wave);
}

void MemberWaves::fill_potentials(const Eigen::Ref<const Eigen::VectorXcd>& u,
                                  Eigen::VectorXd& a) const {
  const int n = waves_.n_sectors();
  Eigen::MatrixXcd rim(n_rim_, waves_.n_waves());
  for (int wave = 0; wave < waves_.n_waves(); ++wave) {
    const Block& block = blocks_[static_cast<std::size_t>(wave)];
    const auto here = u.segment(first(wave), size(wave));
    const Eigen::Index n_orders = size(wave) - n_boundary_;
    if (n_rim_ == 0) continue;
    Eigen::VectorXcd load = block.rim_source;  // BLAS takes no empty matrices
    if (n_boundary_ > 0) load -= block.rim_boundary * here.head(n_boundary_);
    // What the gaps ask of the orders: q = g_c − (K u)_c.
    if (n_orders > 0)
      load -= block.rim_orders.adjoint() * (source_.segment(first(wave) + n_boundary_, n_orders) -
                                            block.stiffness.bottomRows(n_orders) * here);
    rim.col(wave) = block.rim.solve(load);
  }
  Eigen::MatrixXd kept(n, n_rim_ + n_boundary_), part;
  waves_.to_sectors(rim, part);
  kept.leftCols(n_rim_) = part;
  boundary_of(u, part);
  kept.rightCols(n_boundary_) = part;

  const auto put = [&](int sector, const std::vector<int>& list, const Eigen::VectorXd& values) {
    for (std::size_t i = 0; i < list.size(); ++i)
      a[sector * nodes_per_sector_ + list[i]] = values[static_cast<Eigen::Index>(i)];
  };
  Eigen::VectorXd all(n_rim_ + n_boundary_ + static_cast<Eigen::Index>(open_.upper.size()));
  for (int j = 0; j < n; ++j) {
    all.head(n_rim_ + n_boundary_) = kept.row(j);
    for (std::size_t c = 0; c < open_.upper.size(); ++c)
      all[n_rim_ + n_boundary_ + static_cast<Eigen::Index>(c)] = kept((j + 1) % n, open_.upper[c]);
    put(j, sector_.rim, kept.row(j).head(n_rim_));
    put(j, sector_.boundary, kept.row(j).tail(n_boundary_));
    put(j, sector_.interior, open_.interior_source.col(j) - open_.to_interior * all);
  }
  if (sector_.has_axis) a[n * nodes_per_sector_] = 0.0;
}

}  // namespace lodegear
