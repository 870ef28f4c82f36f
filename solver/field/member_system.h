// solver/field/member_system.h — one member as a discrete field problem: energy, residual, tangent.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <vector>

#include "solver/fem/element_table.h"
#include "solver/fem/member_matrix.h"
#include "solver/field/field_problem.h"

namespace lodegear {

/// A circle on which a member meets a gap, as the rest of the gear sees it: 2K amplitudes.
struct Port {
  enum class Side { inner, outer } side = Side::inner;
  int n_orders = 0;
  Eigen::MatrixXd orders;  // 2K × circle nodes: amplitudes = orders · A on the circle
  std::vector<int> nodes;  // of the circle
};

/// Orders of a circle beyond which there is, or seems to be, nothing but air: all of a circle
/// towards open air; of a gap circle those above K, whose waves die out before they reach the other
/// side. Order k adds ½ π ν0 k |c_k|² to the member's own energy. (theory 3.4)
struct AirOrders {
  Port::Side side = Port::Side::inner;
  bool open_air = false;
  int first = 1, last = 0;
};

/// The member alone obeys   g(A) + Σ_ports Fᵀ q = f                                   (theory 2.4)
/// with g(A) = ∂W/∂A the internal load, f the magnets' load, q the flux loads of its ports.
/// Its free constant is fixed by A = 0 at one node: g carries no net load, so this costs nothing.
class MemberSystem {
 public:
  /// K of the gap inside / outside, if any.
  MemberSystem(const FieldMember& member, int orders_inside, int orders_outside);

  bool linear() const { return steel_triangles_.empty(); }
  Eigen::Index n_nodes() const { return source_.size(); }
  const MemberMatrix& matrix() const { return matrix_; }
  const ElementTable& elements() const { return elements_; }
  const std::vector<Port>& ports() const { return ports_; }
  /// f, A per metre; with an applied flux density (body frame, T) that comes from open air outside.
  Eigen::VectorXd source(const Eigen::Vector2d& applied_field) const;

  /// g(A), and W(A) [J/m] if asked for.
  Eigen::VectorXd internal_load(const Eigen::VectorXd& a, double* energy = nullptr) const;
  /// Values of the tangent ∂g/∂A in the pattern of matrix(), the fixing of the constant included.
  Eigen::VectorXd tangent(const Eigen::VectorXd& a) const;
  /// Amplitudes on all ports, one after the other.
  Eigen::VectorXd amplitudes(const Eigen::VectorXd& a) const;
  /// Σ Fᵀ q for q on all ports, one after the other.
  Eigen::VectorXd port_load(const Eigen::VectorXd& q) const;
  /// Nodes of all ports; for the elimination order.
  std::vector<int> port_nodes() const;
  /// Fᵀ of all ports over port_nodes(), block-diagonal.
  Eigen::MatrixXd port_columns() const;
  int n_amplitudes() const;

 private:
  void add_circle(const BoundaryCircle& circle, Port::Side side, Beyond beyond, int n_orders);
  void add_elements(const FieldMember& member);
  void add_air();
  const BoundaryCircle& circle(Port::Side side) const;

  std::optional<BoundaryCircle> inner_, outer_;
  ElementTable elements_;
  MemberMatrix matrix_;
  Eigen::VectorXd linear_values_;  // of everything but saturable steel, constant fixed
  Eigen::VectorXd source_;
  std::vector<Port> ports_;
  std::vector<AirOrders> air_;
  std::vector<int> steel_triangles_;  // those whose law is not linear
  std::vector<int> steel_law_;        // index into laws_ for each
  std::vector<Reluctivity> laws_;
  Eigen::Matrix<int, Eigen::Dynamic, 6, Eigen::RowMajor> triangles_;
};

}  // namespace lodegear
