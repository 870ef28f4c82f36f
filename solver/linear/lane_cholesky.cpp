// solver/linear/lane_cholesky.cpp — many small matrices of one pattern, factorised side by side.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/lane_cholesky.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <set>

#include "solver/linear/lane_clones.h"

namespace lodegear {

std::vector<int> LanePattern::elimination_order(int n_inner,
                                                const std::vector<std::vector<int>>& elements) {
  std::vector<Eigen::Triplet<double>> coupled;
  for (const std::vector<int>& element : elements)
    for (int a : element)
      for (int b : element)
        if (a >= 0 && b >= 0 && a < n_inner && b < n_inner) coupled.emplace_back(a, b, 1.0);
  Eigen::SparseMatrix<double> graph(n_inner, n_inner);
  graph.setFromTriplets(coupled.begin(), coupled.end());
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
  if (n_inner > 0) Eigen::AMDOrdering<int>()(graph, order);
  std::vector<int> nodes(static_cast<std::size_t>(n_inner));
  for (int i = 0; i < n_inner; ++i) nodes[static_cast<std::size_t>(i)] = order.indices()[i];
  return nodes;
}

LanePattern::LanePattern(int n_inner, int n_kept, const std::vector<std::vector<int>>& elements)
    : n_inner_(n_inner), n_kept_(n_kept) {
  // Rows below the diagonal of every column, fill included: a column passes its rows on to the
  // column of its first row.
  std::vector<std::set<int>> below(static_cast<std::size_t>(n_inner));
  for (const std::vector<int>& element : elements)
    for (int a : element)
      for (int b : element)
        if (a >= 0 && a < n_inner && b > a) below[static_cast<std::size_t>(a)].insert(b);
  for (int j = 0; j < n_inner; ++j) {
    const std::set<int>& rows = below[static_cast<std::size_t>(j)];
    if (!rows.empty() && *rows.begin() < n_inner)
      below[static_cast<std::size_t>(*rows.begin())].insert(std::next(rows.begin()), rows.end());
    column_start_.push_back(static_cast<int>(rows_.size()));
    rows_.push_back(j);
    rows_.insert(rows_.end(), rows.begin(), rows.end());
  }
  column_start_.push_back(static_cast<int>(rows_.size()));
  schur_start_ = static_cast<int>(rows_.size());
  n_entries_ = schur_start_ + n_kept * (n_kept + 1) / 2;

  for (int j = 0; j < n_inner; ++j) {
    const int from = column_start_[static_cast<std::size_t>(j)] + 1;
    const int to = column_start_[static_cast<std::size_t>(j) + 1];
    for (int c = from; c < to; ++c)
      for (int r = c; r < to; ++r)
        targets_.push_back(
            entry(rows_[static_cast<std::size_t>(r)], rows_[static_cast<std::size_t>(c)]));
  }
}

int LanePattern::entry(int a, int b) const {
  const auto [column, row] = std::minmax(a, b);
  if (column >= n_inner_) return schur_entry(row - n_inner_, column - n_inner_);
  const auto begin = rows_.begin() + column_start_[static_cast<std::size_t>(column)];
  const auto end = rows_.begin() + column_start_[static_cast<std::size_t>(column) + 1];
  return static_cast<int>(std::lower_bound(begin, end, row) - rows_.begin());
}

LaneCholesky::LaneCholesky(const LanePattern& pattern, int n_bodies)
    : pattern_(pattern), entries_(n_bodies, pattern.n_entries()) {}

namespace {

constexpr int w = lane_width;

// One group of eight bodies. Columns from left to right, each subtracted from all later ones.
LODEGEAR_LANE_CLONES
bool factorise_group(double* value, const int* column_start, const int* targets, int n_inner) {
  double smallest[w];
  for (double& s : smallest) s = 1.0;
  for (int j = 0; j < n_inner; ++j) {
    double* const diagonal = value + static_cast<std::ptrdiff_t>(column_start[j]) * w;
    const int n_below = column_start[j + 1] - column_start[j] - 1;
    double inverse[w];
    for (int l = 0; l < w; ++l) {
      smallest[l] = diagonal[l] > 0.0 ? smallest[l] : 0.0;  // NaN counts as not positive
      inverse[l] = 1.0 / std::sqrt(diagonal[l]);
      diagonal[l] = inverse[l];  // its inverse is what the substitutions need
    }
    double* const column = diagonal + w;
    for (int r = 0; r < n_below; ++r)
      for (int l = 0; l < w; ++l) column[r * w + l] *= inverse[l];
    for (int c = 0; c < n_below; ++c) {
      double factor[w];
      for (int l = 0; l < w; ++l) factor[l] = column[c * w + l];
      for (int r = c; r < n_below; ++r) {
        double* const target = value + static_cast<std::ptrdiff_t>(*targets++) * w;
        const double* const entry = column + r * w;
        for (int l = 0; l < w; ++l) target[l] -= factor[l] * entry[l];
      }
    }
  }
  for (double s : smallest)
    if (!(s > 0.0)) return false;
  return true;
}

LODEGEAR_LANE_CLONES
void forward_group(const double* value, const int* column_start, const int* rows, int n_inner,
                   double* x) {
  for (int j = 0; j < n_inner; ++j) {
    const double* entry = value + static_cast<std::ptrdiff_t>(column_start[j]) * w;
    double xj[w];
    for (int l = 0; l < w; ++l) {
      xj[l] = x[j * w + l] * entry[l];
      x[j * w + l] = xj[l];
    }
    for (int p = column_start[j] + 1; p < column_start[j + 1]; ++p) {
      entry += w;
      double* const target = x + static_cast<std::ptrdiff_t>(rows[p]) * w;
      for (int l = 0; l < w; ++l) target[l] -= entry[l] * xj[l];
    }
  }
}

LODEGEAR_LANE_CLONES
void backward_group(const double* value, const int* column_start, const int* rows, int n_inner,
                    double* x) {
  for (int j = n_inner - 1; j >= 0; --j) {
    const double* const diagonal = value + static_cast<std::ptrdiff_t>(column_start[j]) * w;
    const double* entry = diagonal;
    double sum[w];
    for (int l = 0; l < w; ++l) sum[l] = x[j * w + l];
    for (int p = column_start[j] + 1; p < column_start[j + 1]; ++p) {
      entry += w;
      const double* const known = x + static_cast<std::ptrdiff_t>(rows[p]) * w;
      for (int l = 0; l < w; ++l) sum[l] -= entry[l] * known[l];
    }
    for (int l = 0; l < w; ++l) x[j * w + l] = sum[l] * diagonal[l];
  }
}

// y = S x for S given by its packed lower triangle.
LODEGEAR_LANE_CLONES
void schur_group(const double* entry, int n_kept, const double* x, double* y) {
  for (int r = 0; r < n_kept; ++r) {
    double sum[w] = {}, xr[w];
    for (int l = 0; l < w; ++l) xr[l] = x[r * w + l];
    for (int c = 0; c < r; ++c) {
      for (int l = 0; l < w; ++l) {
        sum[l] += entry[l] * x[c * w + l];
        y[c * w + l] += entry[l] * xr[l];
      }
      entry += w;
    }
    for (int l = 0; l < w; ++l) y[r * w + l] = sum[l] + entry[l] * xr[l];
    entry += w;
  }
}

}  // namespace

bool LaneCholesky::factorise() {
  bool good = true;
  for (int g = 0; g < entries_.n_groups(); ++g)
    good &= factorise_group(entries_.group(g), pattern_.column_start_.data(),
                            pattern_.targets_.data(), pattern_.n_inner_);
  return good;
}

void LaneCholesky::forward(Lanes& x) const {
  for (int g = 0; g < entries_.n_groups(); ++g)
    forward_group(entries_.group(g), pattern_.column_start_.data(), pattern_.rows_.data(),
                  pattern_.n_inner_, x.group(g));
}

void LaneCholesky::backward(Lanes& x) const {
  for (int g = 0; g < entries_.n_groups(); ++g)
    backward_group(entries_.group(g), pattern_.column_start_.data(), pattern_.rows_.data(),
                   pattern_.n_inner_, x.group(g));
}

void LaneCholesky::times_schur(const Lanes& x, Lanes& y) const {
  const int n_inner = pattern_.n_inner_;
  for (int g = 0; g < entries_.n_groups(); ++g)
    schur_group(entries_.group(g) + static_cast<std::ptrdiff_t>(pattern_.schur_start_) * w,
                pattern_.n_kept_, x.group(g) + n_inner * w, y.group(g) + n_inner * w);
}

Eigen::MatrixXd LaneCholesky::mean_schur() const {
  const int n = pattern_.n_kept_;
  Eigen::MatrixXd mean(n, n);
  for (int r = 0; r < n; ++r)
    for (int c = 0; c <= r; ++c) {
      double sum = 0.0;
      for (int body = 0; body < entries_.n_bodies(); ++body)
        sum += entries_.at(body, pattern_.schur_entry(r, c));
      mean(r, c) = mean(c, r) = sum / entries_.n_bodies();
    }
  return mean;
}

}  // namespace lodegear
