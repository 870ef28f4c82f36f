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

MemberSystem::MemberSystem(const FieldMember& member, int orders_inside, int orders_outside)
    : elements_(member.mesh), matrix_(member.mesh), triangles_(member.mesh.triangles) {
  add_linear(member);
  if (member.mesh.inner)
    add_port(*member.mesh.inner, Port::Side::inner, member.inside, orders_inside);
  if (member.mesh.outer)
    add_port(*member.mesh.outer, Port::Side::outer, member.outside, orders_outside);
}

void MemberSystem::add_linear(const FieldMember& member) {
  linear_values_ = Eigen::VectorXd::Zero(matrix_.pattern().nonZeros());
  source_ = Eigen::VectorXd::Zero(matrix_.pattern().rows());
  std::vector<int> law_of_region(member.laws.size(), -1);
  for (std::size_t r = 0; r < member.laws.size(); ++r)
    if (!member.laws[r].reluctivity.linear()) {
      law_of_region[r] = static_cast<int>(laws_.size());
      laws_.push_back(member.laws[r].reluctivity);
    }
  for (int t = 0; t < elements_.n_triangles(); ++t) {
    const auto region = static_cast<std::size_t>(member.mesh.region[static_cast<std::size_t>(t)]);
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
      const Eigen::Vector2d br = law.remanence * law.magnetisation.at(p.x);
      load += p.weight * nu * (br[0] * p.bx + br[1] * p.by);
    }
    matrix_.add(t, element, linear_values_);
    for (int i = 0; i < 6; ++i) source_[triangles_(t, i)] += load[i];
  }
  // Any node will do to fix the constant; nu0 is the size of a diagonal entry.
  linear_values_[matrix_.diagonal(triangles_(0, 0))] += nu0;
}

void MemberSystem::add_port(const BoundaryCircle& circle, Port::Side side, Beyond beyond,
                            int n_orders) {
  // Towards open air every order the edges resolve: five nodes to the shortest wave.
  if (beyond == Beyond::open_air) n_orders = 2 * circle.n_edges() / 5;
  ports_.push_back({side, beyond, n_orders, circle_orders(circle, n_orders), circle.nodes});
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
