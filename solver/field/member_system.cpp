// solver/field/member_system.cpp — one member as a discrete field problem: energy, residual,
// tangent. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/member_system.h"

#include <algorithm>

#include "solver/gap/circle_orders.h"

namespace lodegear {

namespace {

using Vector6 = Eigen::Matrix<double, 6, 1>;

Vector6 element_values(const Eigen::VectorXd& a, const int* nodes) {
  Vector6 values;
  for (int i = 0; i < 6; ++i) values[i] = a[nodes[i]];
  return values;
}

// y += S x for S given by its lower triangle.
void add_product(const MemberMatrix::Sparse& pattern, const Eigen::VectorXd& values,
                 const Eigen::VectorXd& x, Eigen::VectorXd& y) {
  const int* outer = pattern.outerIndexPtr();
  const int* inner = pattern.innerIndexPtr();
  for (int j = 0; j < pattern.cols(); ++j) {
    double sum = values[outer[j]] * x[j];
    for (int p = outer[j] + 1; p < outer[j + 1]; ++p) {
      y[inner[p]] += values[p] * x[j];
      sum += values[p] * x[inner[p]];
    }
    y[j] += sum;
  }
}

}  // namespace

static std::vector<std::vector<int>> circles_of(const MemberMesh& mesh) {
  std::vector<std::vector<int>> nodes;
  if (mesh.inner) nodes.push_back(mesh.inner->nodes);
  if (mesh.outer) nodes.push_back(mesh.outer->nodes);
  return nodes;
}

MemberSystem::MemberSystem(const FieldMember& member, int orders_inside, int orders_outside)
    : inner_(member.mesh.inner),
      outer_(member.mesh.outer),
      elements_(member.mesh),
      matrix_(member.mesh, circles_of(member.mesh)),
      linear_values_(Eigen::VectorXd::Zero(matrix_.pattern().nonZeros())),
      source_(Eigen::VectorXd::Zero(matrix_.pattern().rows())),
      triangles_(member.mesh.triangles) {
  if (inner_) add_circle(*inner_, Port::Side::inner, member.inside, orders_inside);
  if (outer_) add_circle(*outer_, Port::Side::outer, member.outside, orders_outside);
  add_elements(member);
  add_air();
  // Any node will do to fix the constant; nu0 is the size of a diagonal entry.
  linear_values_[matrix_.diagonal(triangles_(0, 0))] += nu0;
}

const BoundaryCircle& MemberSystem::circle(Port::Side side) const {
  return side == Port::Side::inner ? *inner_ : *outer_;
}

void MemberSystem::add_elements(const FieldMember& member) {
  std::vector<int> law_of_region(member.laws.size(), -1);
  for (std::size_t r = 0; r < member.laws.size(); ++r)
    if (!member.laws[r].reluctivity.linear()) {
      law_of_region[r] = static_cast<int>(laws_.size());
      laws_.push_back(member.laws[r].reluctivity);
    }
  for (int t = 0; t < elements_.n_triangles(); ++t) {
    const std::size_t region = member.region_number(t);
    const RegionLaw& law = member.laws[region];
    if (law_of_region[region] >= 0) {
      steel_triangles_.push_back(t);
      steel_law_.push_back(law_of_region[region]);
      continue;
    }
    const double nu = law.reluctivity.at(0).nu;
    MemberMatrix::Element element = MemberMatrix::Element::Zero();
    Vector6 load = Vector6::Zero();
    for (int q = 0; q < n_quadrature; ++q) {
      const ElementPoint& p = elements_.at(t, q);
      element += p.weight * nu * (p.bx * p.bx.transpose() + p.by * p.by.transpose());
      if (law.remanence == 0.0) continue;
      const Eigen::Vector2d br = member.remanence(t) * law.magnetisation.at(p.x);
      load += p.weight * nu * (br[0] * p.bx + br[1] * p.by);
    }
    matrix_.add(t, element, linear_values_);
    for (int i = 0; i < 6; ++i) source_[triangles_(t, i)] += load[i];
  }
}

void MemberSystem::add_circle(const BoundaryCircle& on, Port::Side side, Beyond beyond,
                              int n_orders) {
  if (beyond == Beyond::ideal_iron) return;
  const bool gap = beyond == Beyond::gap;
  if (gap) ports_.push_back({side, n_orders, circle_orders(on, 1, n_orders), on.nodes});
  air_.push_back({side, !gap, gap ? n_orders + 1 : 1, resolved_orders(on)});
}

void MemberSystem::add_air() {
  for (const AirOrders& air : air_) {
    if (air.last < air.first) continue;
    const Eigen::MatrixXd orders = circle_orders(circle(air.side), air.first, air.last);
    const Eigen::Index n = orders.rows() / 2;
    const Eigen::VectorXd k = Eigen::VectorXd::LinSpaced(n, air.first, air.last);
    Eigen::VectorXd stiffness(2 * n);
    stiffness << pi * nu0 * k, pi * nu0 * k;
    matrix_.add_block(circle(air.side).nodes, orders.transpose() * stiffness.asDiagonal() * orders,
                      linear_values_);
  }
}

// The applied potential A = B_x y − B_y x is of order 1 and grows outwards: with c its amplitudes
// on the circle, q = π ν0 (c_total − 2 c). (theory 3.6)
Eigen::VectorXd MemberSystem::source(const Eigen::Vector2d& applied_field) const {
  if (applied_field.isZero() || !outer_ || air_.empty() || !air_.back().open_air) return source_;
  const Eigen::MatrixXd order_one = circle_orders(*outer_, 1, 1);
  const Eigen::Vector2d c = outer_->radius * Eigen::Vector2d(-applied_field[1], applied_field[0]);
  const Eigen::VectorXd load = 2 * pi * nu0 * (order_one.transpose() * c);
  Eigen::VectorXd source = source_;
  for (std::size_t i = 0; i < outer_->nodes.size(); ++i)
    source[outer_->nodes[i]] += load[static_cast<Eigen::Index>(i)];
  return source;
}

Eigen::VectorXd MemberSystem::internal_load(const Eigen::VectorXd& a, double* energy) const {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(a.size());
  add_product(matrix_.pattern(), linear_values_, a, load);
  double sum = 0.5 * a.dot(load);
  for (std::size_t s = 0; s < steel_triangles_.size(); ++s) {
    const int t = steel_triangles_[s];
    const Reluctivity& law = laws_[static_cast<std::size_t>(steel_law_[s])];
    const Vector6 values = element_values(a, triangles_.row(t).data());
    Vector6 element = Vector6::Zero();
    for (int q = 0; q < n_quadrature; ++q) {
      const ElementPoint& p = elements_.at(t, q);
      const double bx = p.bx.dot(values), by = p.by.dot(values);
      const ReluctivityPoint point = law.at(bx * bx + by * by);
      element += (p.weight * point.nu) * (bx * p.bx + by * p.by);
      sum += p.weight * point.energy;
    }
    for (int i = 0; i < 6; ++i) load[triangles_(t, i)] += element[i];
  }
  if (energy) *energy = sum;
  return load;
}

Eigen::VectorXd MemberSystem::tangent(const Eigen::VectorXd& a) const {
  Eigen::VectorXd values = linear_values_;
  for (std::size_t s = 0; s < steel_triangles_.size(); ++s) {
    const int t = steel_triangles_[s];
    const Reluctivity& law = laws_[static_cast<std::size_t>(steel_law_[s])];
    const Vector6 local = element_values(a, triangles_.row(t).data());
    MemberMatrix::Element element = MemberMatrix::Element::Zero();
    for (int q = 0; q < n_quadrature; ++q) {
      const ElementPoint& p = elements_.at(t, q);
      const double bx = p.bx.dot(local), by = p.by.dot(local);
      const ReluctivityPoint point = law.at(bx * bx + by * by);
      // ν I + 2 ν′ b bᵀ                                                              (theory 2.3)
      const Vector6 along = bx * p.bx + by * p.by;
      element += (p.weight * point.nu) * (p.bx * p.bx.transpose() + p.by * p.by.transpose());
      element += (2 * p.weight * point.dnu_db2) * (along * along.transpose());
    }
    matrix_.add(t, element, values);
  }
  return values;
}

int MemberSystem::n_amplitudes() const {
  int n = 0;
  for (const Port& port : ports_) n += 2 * port.n_orders;
  return n;
}

Eigen::VectorXd MemberSystem::amplitudes(const Eigen::VectorXd& a) const {
  Eigen::VectorXd result(n_amplitudes());
  int row = 0;
  for (const Port& port : ports_) {
    const Eigen::VectorXd on_circle = a(port.nodes);
    result.segment(row, 2 * port.n_orders).noalias() = port.orders * on_circle;
    row += 2 * port.n_orders;
  }
  return result;
}

Eigen::VectorXd MemberSystem::port_load(const Eigen::VectorXd& q) const {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(n_nodes());
  int row = 0;
  for (const Port& port : ports_) {
    const Eigen::VectorXd on_circle = port.orders.transpose() * q.segment(row, 2 * port.n_orders);
    for (std::size_t i = 0; i < port.nodes.size(); ++i)
      load[port.nodes[i]] += on_circle[static_cast<Eigen::Index>(i)];
    row += 2 * port.n_orders;
  }
  return load;
}

std::vector<int> MemberSystem::port_nodes() const {
  std::vector<int> nodes;
  for (const Port& port : ports_) nodes.insert(nodes.end(), port.nodes.begin(), port.nodes.end());
  return nodes;
}

Eigen::MatrixXd MemberSystem::port_columns() const {
  Eigen::MatrixXd columns =
      Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(port_nodes().size()), n_amplitudes());
  Eigen::Index row = 0, column = 0;
  for (const Port& port : ports_) {
    columns.block(row, column, port.orders.cols(), port.orders.rows()) = port.orders.transpose();
    row += port.orders.cols();
    column += port.orders.rows();
  }
  return columns;
}

}  // namespace lodegear
