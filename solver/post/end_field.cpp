// solver/post/end_field.cpp — equations of the coupled orders in r and z.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/end_field.h"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <vector>

#include "materials/constants.h"
#include "solver/post/cage_orders.h"
#include "solver/post/line_cells.h"

namespace lodegear {

namespace {

enum class Filling { air, sun_magnet, ring_magnet, iron, cage };

std::size_t index(int i) { return static_cast<std::size_t>(i); }

/// A value on the grid as a sum of unknowns; empty where it is zero.
struct Term {
  int unknown = 0;
  double factor = 0.0;
};
using Terms = std::vector<Term>;

/// The discrete problem (theory 9.1–9.4): orders h p_s and h p_r outside the cage, slot shapes in
/// it, one common potential of the pole pieces. A coupling has one order only.
class EndSystem {
 public:
  EndSystem(const EndEffectInput& input, int multiple, const EndGrid& grid)
      : input_(input),
        multiple_(multiple),
        grid_(grid),
        n_r_(static_cast<int>(grid.r.size())),
        n_z_(static_cast<int>(grid.z.size())),
        mass_r_(line_cells(grid.r, [](double r) { return r; })),
        mass_inverse_r_(line_cells(grid.r, [](double r) { return 1 / r; })),
        along_r_(line_cells(grid.r, [](double) { return 1.0; })),
        along_z_(line_cells(grid.z, [](double) { return 1.0; })) {
    orders_.push_back(multiple * input.sun.pole_pairs);
    if (input.cage) {
      orders_.push_back(multiple * input.ring.pole_pairs);
      cage_orders_.emplace(*input.cage, orders_[0]);
    } else {
      assert(input.sun.pole_pairs == input.ring.pole_pairs);
    }
    fill();
    number_unknowns();
    assemble();
  }

  EndField field() const {
    const Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> factor(matrix_);
    assert(factor.info() == Eigen::Success);
    const Eigen::VectorXd s = load(true), r = load(false);
    const Eigen::VectorXd from_sun = factor.solve(s), from_ring = factor.solve(r);
    EndField field;
    const double halves = is_mirrored(input_) && !grid_.plane ? 2.0 : 1.0;
    const double scale = halves * pi * pi * nu0;  // (9.4)
    field.energy = {scale * s.dot(from_sun), scale * s.dot(from_ring), scale * r.dot(from_ring)};
    if (grid_.plane || halves > 1) return field;  // a mirrored field pulls nowhere
    const double inside = input_.sun.magnets.outer, outside = input_.ring.magnets.inner;
    if (!input_.cage) {
      field.pull_inner = field.pull_outer = pull(inside, outside, from_sun, from_ring);
    } else {
      field.pull_inner = pull(inside, input_.cage->pieces.inner, from_sun, from_ring);
      field.pull_outer = pull(input_.cage->pieces.outer, outside, from_sun, from_ring);
    }
    return field;
  }

 private:
  int n_orders() const { return static_cast<int>(orders_.size()); }
  std::size_t cell(int i, int j) const { return index(i) * index(n_z_ - 1) + index(j); }
  std::size_t node(int i, int j) const { return index(i) * index(n_z_) + index(j); }
  std::size_t n_nodes() const { return index(n_r_) * index(n_z_); }
  Filling filling(int i, int j) const { return filling_[cell(i, j)]; }

  void put(Filling what, const RadialExtent& radial, const AxialRange& axial) {
    for (int i = 0; i + 1 < n_r_; ++i) {
      const double r = (grid_.r[index(i)] + grid_.r[index(i) + 1]) / 2;
      if (r < radial.inner || r > radial.outer) continue;
      for (int j = 0; j + 1 < n_z_; ++j) {
        const double z = (grid_.z[index(j)] + grid_.z[index(j) + 1]) / 2;
        if (grid_.plane || (z > axial.from && z < axial.to)) filling_[cell(i, j)] = what;
      }
    }
  }

  void fill() {
    filling_.assign(index(n_r_ - 1) * index(n_z_ - 1), Filling::air);
    for (const EndRotor* rotor : {&input_.sun, &input_.ring}) {
      const bool is_sun = rotor == &input_.sun;
      put(is_sun ? Filling::sun_magnet : Filling::ring_magnet, rotor->magnets,
          magnet_range(*rotor));
      if (rotor->iron) put(Filling::iron, *rotor->iron, iron_range(*rotor));
    }
    if (input_.cage) put(Filling::cage, input_.cage->pieces, cage_range(*input_.cage));
  }

  /// Marks the nodes of all cells with this filling.
  std::vector<bool> nodes_of(Filling what) const {
    std::vector<bool> marked(n_nodes(), false);
    for (int i = 0; i + 1 < n_r_; ++i)
      for (int j = 0; j + 1 < n_z_; ++j)
        if (filling(i, j) == what)
          for (int a = 0; a < 2; ++a)
            for (int b = 0; b < 2; ++b) marked[node(i + a, j + b)] = true;
    return marked;
  }

  /// On the axis and far away the potential is zero; at z = 0 of a mirrored field it is free.
  bool is_far(int i, int j) const {
    if (i == 0 || i == n_r_ - 1) return true;
    if (grid_.plane) return false;
    return j == n_z_ - 1 || (j == 0 && !is_mirrored(input_));
  }

  void number_unknowns() {
    const std::vector<bool> iron = nodes_of(Filling::iron), cage = nodes_of(Filling::cage);
    values_.assign(index(n_orders() + n_slot_shapes), std::vector<Terms>(n_nodes()));
    const int piece = 0;
    n_unknowns_ = input_.cage ? 1 : 0;
    for (int i = 0; i < n_r_; ++i)
      for (int j = 0; j < n_z_; ++j) {
        const std::size_t at = node(i, j);
        std::array<int, n_slot_shapes> slot{};
        if (cage[at])
          for (int l = 0; l < n_slot_shapes; ++l) {
            slot[index(l)] = n_unknowns_++;
            values(n_orders() + l)[at] = {{slot[index(l)], 1.0}};
          }
        for (int f = 0; f < n_orders(); ++f) {
          if (cage[at]) {
            const CageShape a = cage_orders_->amplitudes(cage_period(f));
            values(f)[at] = {{piece, a[0]}, {slot[0], a[1]}, {slot[1], a[2]}};
          } else if (!iron[at] && !is_far(i, j)) {
            values(f)[at] = {{n_unknowns_++, 1.0}};
          }
        }
      }
  }
  std::vector<Terms>& values(int field) { return values_[index(field)]; }
  const std::vector<Terms>& values(int field) const { return values_[index(field)]; }
  /// k in phase + k n: 0 for the sun's order, −h for the ring's.
  int cage_period(int field) const { return field == 0 ? 0 : -multiple_; }

  void add(const Terms& row, const Terms& column, double value) {
    for (const Term& a : row)
      for (const Term& b : column)
        triplets_.emplace_back(a.unknown, b.unknown, value * a.factor * b.factor);
  }

  /// ∫ [radial r ∂r∂r + angular ∂∂/r + axial r ∂z∂z] over one cell.
  void add_cell(int field, int i, int j, double radial, double angular, double axial) {
    const auto e = index(i), f = index(j);
    for (std::size_t a = 0; a < 2; ++a)
      for (std::size_t b = 0; b < 2; ++b)
        for (std::size_t c = 0; c < 2; ++c)
          for (std::size_t d = 0; d < 2; ++d) {
            const double across =
                radial * mass_r_[e].stiffness[a][c] + angular * mass_inverse_r_[e].mass[a][c];
            const double value = across * along_z_[f].mass[b][d] +
                                 axial * mass_r_[e].mass[a][c] * along_z_[f].stiffness[b][d];
            add(values(field)[node(i + int(a), j + int(b))],
                values(field)[node(i + int(c), j + int(d))], value);
          }
  }

  double permeability(Filling what) const {
    if (what == Filling::sun_magnet) return input_.sun.recoil_permeability;
    return what == Filling::ring_magnet ? input_.ring.recoil_permeability : 1.0;
  }

  void assemble() {
    for (int i = 0; i + 1 < n_r_; ++i)
      for (int j = 0; j + 1 < n_z_; ++j) {
        const Filling what = filling(i, j);
        if (what == Filling::iron) continue;
        if (what == Filling::cage) {
          add_slot_cell(i, j);
          continue;
        }
        const double mu = 2 * pi * permeability(what);
        for (int f = 0; f < n_orders(); ++f) {
          const double m = orders_[index(f)];
          add_cell(f, i, j, mu, mu * m * m, mu);
        }
      }
    if (input_.cage) add_cage_surface();
    matrix_.resize(n_unknowns_, n_unknowns_);
    matrix_.setFromTriplets(triplets_.begin(), triplets_.end());
    triplets_ = {};
  }

  /// The slot shapes cos(πx/w), sin(2πx/w) across a slot of angle w, in all n slots (theory 9.2);
  /// and the step from piece to piece.
  void add_slot_cell(int i, int j) {
    const double n = cage_orders_->n_pieces(), w = cage_orders_->slot();
    for (int l = 1; l <= n_slot_shapes; ++l) {
      const double across = l * l * pi * pi / (2 * w);
      add_cell(n_orders() + l - 1, i, j, n * w / 2, n * across, n * w / 2);
    }
    const RadialExtent ring{grid_.r[index(i)], grid_.r[index(i) + 1]};
    const double height = grid_.z[index(j) + 1] - grid_.z[index(j)];
    triplets_.emplace_back(0, 0, cage_orders_->between_pieces(ring) * height);
  }

  void add_cage_surface() {
    const CageMatrix h = cage_orders_->surface_matrix(0, -multiple_);
    const auto is_cage = [this](int i, int j) {
      return i >= 0 && j >= 0 && i + 1 < n_r_ && j + 1 < n_z_ && filling(i, j) == Filling::cage;
    };
    for (int i = 0; i < n_r_; ++i)
      for (int j = 0; j < n_z_; ++j) {
        if (is_cage(i, j) != is_cage(i - 1, j))
          add_surface(h, node(i, j), node(i, j + 1), along_z_[index(j)]);
        if (!grid_.plane && j > 0 && is_cage(i, j) != is_cage(i, j - 1))
          add_surface(h, node(i, j), node(i + 1, j), along_r_[index(i)]);
      }
  }

  void add_surface(const CageMatrix& h, std::size_t from, std::size_t to, const LineCell& line) {
    const std::array<std::size_t, 2> nodes{from, to};
    for (std::size_t a = 0; a < 2; ++a)
      for (std::size_t b = 0; b < 2; ++b)
        for (int x = 0; x < n_cage_shapes; ++x)
          for (int y = 0; y < n_cage_shapes; ++y)
            triplets_.emplace_back(cage_unknown(nodes[a], x), cage_unknown(nodes[b], y),
                                   line.mass[a][b] * h(x, y));
  }
  int cage_unknown(std::size_t at, int shape) const {
    return shape == 0 ? 0 : values(n_orders() + shape - 1)[at].front().unknown;
  }

  /// σ = ∫ (b_r ∂ψ/∂r − m b_t ψ/r) r dr dz over the rotor's magnets (theory 9.4).
  Eigen::VectorXd load(bool of_sun) const {
    const EndRotor& rotor = of_sun ? input_.sun : input_.ring;
    const Filling what = of_sun ? Filling::sun_magnet : Filling::ring_magnet;
    const int field = of_sun ? 0 : n_orders() - 1;
    const double m = orders_[index(field)];
    const auto found =
        std::find_if(rotor.remanence.begin(), rotor.remanence.end(),
                     [this](const RemanenceHarmonic& b) { return b.multiple == multiple_; });
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(n_unknowns_);
    if (found == rotor.remanence.end()) return sum;
    for (int i = 0; i + 1 < n_r_; ++i)
      for (int j = 0; j + 1 < n_z_; ++j) {
        if (filling(i, j) != what) continue;
        const auto e = index(i), f = index(j);
        for (std::size_t a = 0; a < 2; ++a)
          for (std::size_t b = 0; b < 2; ++b) {
            const double value = (found->radial * mass_r_[e].slope[a] -
                                  m * found->tangential * along_r_[e].value[a]) *
                                 along_z_[f].value[b];
            for (const Term& t : values(field)[node(i + int(a), j + int(b))])
              sum[t.unknown] += value * t.factor;
          }
      }
    return sum;
  }

  double value_at(int field, int i, int j, const Eigen::VectorXd& x) const {
    double sum = 0.0;
    for (const Term& t : values(field)[node(i, j)]) sum += t.factor * x[t.unknown];
    return sum;
  }

  /// Axial force on what lies inside the gap between two radii: the energy's slope when the gap's
  /// cells are sheared, F = ∫ B_r B_z dV/(µ0 g) (theory 9.6).
  BySource pull(double inner, double outer, const Eigen::VectorXd& sun,
                const Eigen::VectorXd& ring) const {
    BySource sum;
    for (int i = 0; i + 1 < n_r_; ++i) {
      const auto e = index(i);
      const double middle = (grid_.r[e] + grid_.r[e + 1]) / 2;
      if (middle < inner || middle > outer) continue;
      for (int j = 0; j + 1 < n_z_; ++j)
        for (int f = 0; f < n_orders(); ++f) add_pull(f, i, j, sun, ring, sum);
    }
    const double scale = 4 * pi * pi * pi * nu0 / (outer - inner);
    return {scale * sum.sun, scale * sum.both, scale * sum.ring};
  }

  void add_pull(int f, int i, int j, const Eigen::VectorXd& sun, const Eigen::VectorXd& ring,
                BySource& sum) const {
    const Eigen::Vector4d s = corners(f, i, j, sun), r = corners(f, i, j, ring);
    const auto e = index(i);
    const double r0 = grid_.r[e], r1 = grid_.r[e + 1];
    // ∫ r ∂ψ/∂r ∂χ/∂z over a bilinear cell, corners 00, 01, 10, 11 in (r, z).
    const auto product = [&](const Eigen::Vector4d& a, const Eigen::Vector4d& b) {
      const double slope = (a[2] + a[3] - a[0] - a[1]) / (2 * (r1 - r0));
      const double low = b[1] - b[0], high = b[3] - b[2];
      const double weight = (r1 - r0) * ((2 * r0 + r1) * low + (r0 + 2 * r1) * high) / 6;
      return slope * weight;
    };
    sum.sun += product(s, s);
    sum.both += (product(s, r) + product(r, s)) / 2;
    sum.ring += product(r, r);
  }

  Eigen::Vector4d corners(int f, int i, int j, const Eigen::VectorXd& x) const {
    return {value_at(f, i, j, x), value_at(f, i, j + 1, x), value_at(f, i + 1, j, x),
            value_at(f, i + 1, j + 1, x)};
  }

  const EndEffectInput& input_;
  int multiple_;
  const EndGrid& grid_;
  int n_r_, n_z_;
  std::vector<LineCell> mass_r_, mass_inverse_r_, along_r_, along_z_;
  std::vector<int> orders_;
  std::optional<CageOrders> cage_orders_;
  std::vector<Filling> filling_;
  std::vector<std::vector<Terms>> values_;  // by field, then node
  int n_unknowns_ = 0;
  std::vector<Eigen::Triplet<double>> triplets_;
  Eigen::SparseMatrix<double> matrix_;
};

}  // namespace

EndField end_field(const EndEffectInput& input, int multiple, const EndGrid& grid) {
  return EndSystem(input, multiple, grid).field();
}

}  // namespace lodegear
