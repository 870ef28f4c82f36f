// solver/linear/lane_cholesky.h — many small matrices of one pattern, factorised side by side.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

namespace lodegear {

/// Copies that are worked on together, one in each lane of the processor's vectors.
inline constexpr int lane_width = 8;

/// Values at some places of many equal bodies: bodies in groups of eight, in each group one row of
/// eight a place. Lanes beyond the last body hold a body of their own that nobody reads.
class Lanes {
 public:
  Lanes() = default;
  Lanes(int n_bodies, int n_places)
      : n_bodies_(n_bodies),
        n_places_(n_places),
        values_(static_cast<std::size_t>(n_groups()) * static_cast<std::size_t>(n_places) *
                lane_width) {}
  int n_bodies() const { return n_bodies_; }
  int n_places() const { return n_places_; }
  int n_groups() const { return (n_bodies_ + lane_width - 1) / lane_width; }
  double* group(int g) { return values_.data() + offset(g); }
  const double* group(int g) const { return values_.data() + offset(g); }
  double& at(int body, int place) { return values_[index(body, place)]; }
  double at(int body, int place) const { return values_[index(body, place)]; }
  std::vector<double>& values() { return values_; }
  const std::vector<double>& values() const { return values_; }

 private:
  std::size_t offset(int g) const {
    return static_cast<std::size_t>(g) * static_cast<std::size_t>(n_places_) * lane_width;
  }
  std::size_t index(int body, int place) const {
    return offset(body / lane_width) +
           static_cast<std::size_t>(place * lane_width + body % lane_width);
  }
  int n_bodies_ = 0, n_places_ = 0;
  std::vector<double> values_;
};

/// The pattern of one body's matrix and of its factor, found once. Places 0 … n_inner−1 are
/// eliminated, in this order, onto places n_inner … n_inner+n_kept−1:
///   S = T_kk − T_ki T_ii⁻¹ T_ik.
class LanePattern {
 public:
  /// `elements`: sets of places that are coupled to one another; −1 is no place.
  LanePattern(int n_inner, int n_kept, const std::vector<std::vector<int>>& elements);
  /// A good order of elimination for the inner nodes: the node at each place.
  static std::vector<int> elimination_order(int n_inner, int n_kept,
                                            const std::vector<std::vector<int>>& elements);

  int n_inner() const { return n_inner_; }
  int n_kept() const { return n_kept_; }
  int n_entries() const { return n_entries_; }
  /// Entry of the factor that couples two places.
  int entry(int a, int b) const;

 private:
  friend class LaneCholesky;
  int schur_entry(int r, int c) const { return schur_start_ + r * (r + 1) / 2 + c; }
  int n_below(int column) const {
    return column_start_[static_cast<std::size_t>(column) + 1] -
           column_start_[static_cast<std::size_t>(column)] - 1;
  }
  int row_below(int column, int i = 0) const {
    const int first = column_start_[static_cast<std::size_t>(column)] + 1;
    return rows_[static_cast<std::size_t>(first) + static_cast<std::size_t>(i)];
  }
  int n_inner_, n_kept_, n_entries_ = 0, schur_start_ = 0;
  std::vector<int> column_start_;  // of each inner place: its diagonal, then the rows below
  std::vector<int> rows_;          // places, ascending within a column
  std::vector<int> block_start_;   // columns that are worked on together
  std::vector<int> targets_;       // of each block: where the product of each pair of rows goes
};

/// The factors of all bodies. The pattern must outlive this object.
class LaneCholesky {
 public:
  LaneCholesky(const LanePattern& pattern, int n_bodies);

  /// Entries to fill before factorise(): T, of which each pair of places is added to once.
  Lanes& entries() { return entries_; }
  /// Of one group of eight. False if a matrix is not positive definite (or not finite).
  bool factorise(int group);

  /// x_i ← L⁻¹ x_i,  x_k ← x_k − T_ki T_ii⁻¹ x_i.
  void forward(Lanes& x) const;
  /// x_i ← L⁻ᵀ (x_i − L_kiᵀ x_k); after forward() with x_k the solution: T_ii⁻¹(x_i − T_ik x_k).
  void backward(Lanes& x) const;
  /// y_k = S x_k.
  void times_schur(const Lanes& x, Lanes& y) const;
  /// S, averaged over the bodies.
  Eigen::MatrixXd mean_schur() const;
  /// S ← S − s in the bodies of a group.
  void subtract_from_schur(const Eigen::MatrixXd& s, int group);

 private:
  const LanePattern& pattern_;
  Lanes entries_;
};

}  // namespace lodegear
