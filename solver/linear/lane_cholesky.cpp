// solver/linear/lane_cholesky.cpp — many small matrices of one pattern, factorised side by side.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/lane_cholesky.h"

#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "solver/linear/cholesky.h"
#include "solver/linear/lane_clones.h"

namespace lodegear {

namespace {

constexpr int w = lane_width;
constexpr int tile = 4;  // 4×4 rows of eight fit into 32 registers beside what they are made of

}  // namespace

std::vector<int> LanePattern::elimination_order(int n_inner, int n_kept,
                                                const std::vector<std::vector<int>>& elements) {
  if (n_inner == 0) return {};
  const int n = n_inner + n_kept;
  std::vector<Eigen::Triplet<double>> coupled;
  for (const std::vector<int>& element : elements)
    for (int a : element)
      for (int b : element)
        if (b >= 0 && a >= b) coupled.emplace_back(a, b, 1.0);
  Eigen::SparseMatrix<double> graph(n, n);
  graph.setFromTriplets(coupled.begin(), coupled.end());
  std::vector<int> kept(static_cast<std::size_t>(n_kept));
  std::iota(kept.begin(), kept.end(), n_inner);
  std::vector<int> nodes = lodegear::elimination_order(graph, kept);
  nodes.resize(static_cast<std::size_t>(n_inner));
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

  // Columns whose rows are those of the column before, without its first, make a block with it.
  for (int j = 0; j < n_inner; ++j)
    if (j == 0 || n_below(j) != n_below(j - 1) - 1 || row_below(j - 1) != j)
      block_start_.push_back(j);
  block_start_.push_back(n_inner);

  for (std::size_t block = 0; block + 1 < block_start_.size(); ++block) {
    const int last = block_start_[block + 1] - 1;
    for (int c = 0; c < n_below(last); ++c)
      for (int r = c; r < n_below(last); ++r)
        targets_.push_back(entry(row_below(last, r), row_below(last, c)));
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
    : pattern_(pattern), entries_(n_bodies, pattern.n_entries() + tile - 1) {}

namespace {

// The columns of a block: `value` is its first diagonal, column k has n_rows − k rows.
LODEGEAR_LANE_CLONES
void factorise_columns(double* value, int n_columns, int n_rows, double* smallest) {
  double* column = value;  // where row 0 of the column would stand
  for (int j = 0; j < n_columns; column += (n_rows - 1 - j) * w, ++j) {
    for (int row = j; row < n_rows; row += tile) {
      double sum[tile][w] = {};
      const double* known = value;
      for (int k = 0; k < j; known += (n_rows - 1 - k) * w, ++k)
        for (int i = 0; i < tile; ++i)
          for (int l = 0; l < w; ++l) sum[i][l] += known[j * w + l] * known[(row + i) * w + l];
      for (int i = 0; i < tile && row + i < n_rows; ++i)
        for (int l = 0; l < w; ++l) column[(row + i) * w + l] -= sum[i][l];
    }
    double inverse[w];
    for (int l = 0; l < w; ++l) {
      const double diagonal = column[j * w + l];
      smallest[l] = diagonal > 0.0 ? smallest[l] : 0.0;  // NaN counts as not positive
      inverse[l] = 1.0 / std::sqrt(diagonal);
      column[j * w + l] = inverse[l];  // the inverse is what the substitutions need
    }
    for (int i = j + 1; i < n_rows; ++i)
      for (int l = 0; l < w; ++l) column[i * w + l] *= inverse[l];
  }
}

// Subtracts what a block's columns pass on to all later ones, a tile of pairs of rows at a time.
// Rows beyond the last are read where they complete a tile, and their products left.
LODEGEAR_LANE_CLONES
void pass_on(const double* block, int n_columns, int n_rows, const int* targets, double* value) {
  const int n = n_rows - n_columns;
  for (int c = 0; c < n; c += tile)
    for (int r = c; r < n; r += tile) {
      double sum[tile][tile][w] = {};
      const double* known = block + n_columns * w;
      for (int k = 0; k < n_columns; known += (n_rows - 1 - k) * w, ++k) {
        const double *const left = known + c * w, *const right = known + r * w;
        for (int i = 0; i < tile; ++i)
          for (int j = 0; j < tile; ++j)
            for (int l = 0; l < w; ++l) sum[i][j][l] += left[i * w + l] * right[j * w + l];
      }
      for (int i = 0; i < tile && c + i < n; ++i) {
        const int* const target = targets + (c + i) * (2 * n - c - i - 1) / 2 + r;
        for (int j = c == r ? i : 0; j < tile && r + j < n; ++j) {
          double* const entry = value + static_cast<std::ptrdiff_t>(target[j]) * w;
          for (int l = 0; l < w; ++l) entry[l] -= sum[i][j][l];
        }
      }
    }
}

// One group of eight bodies.
bool factorise_group(double* value, const std::vector<int>& column_start,
                     const std::vector<int>& block_start, const int* targets) {
  double smallest[w];
  std::fill(smallest, smallest + w, 1.0);
  for (std::size_t b = 0; b + 1 < block_start.size(); ++b) {
    const auto first = static_cast<std::size_t>(block_start[b]);
    const int n_columns = block_start[b + 1] - block_start[b];
    const int n_rows = column_start[first + 1] - column_start[first];
    double* const block = value + static_cast<std::ptrdiff_t>(column_start[first]) * w;
    factorise_columns(block, n_columns, n_rows, smallest);
    pass_on(block, n_columns, n_rows, targets, value);
    targets += (n_rows - n_columns) * (n_rows - n_columns + 1) / 2;
  }
  return std::all_of(smallest, smallest + w, [](double s) { return s > 0.0; });
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

bool LaneCholesky::factorise(int group) {
  return factorise_group(entries_.group(group), pattern_.column_start_, pattern_.block_start_,
                         pattern_.targets_.data());
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

void LaneCholesky::subtract_from_schur(const Eigen::MatrixXd& s, int group) {
  double* entry = entries_.group(group) + static_cast<std::ptrdiff_t>(pattern_.schur_start_) * w;
  for (int r = 0; r < pattern_.n_kept_; ++r)
    for (int c = 0; c <= r; ++c, entry += w)
      for (int l = 0; l < w; ++l) entry[l] -= s(r, c);
}

}  // namespace lodegear
