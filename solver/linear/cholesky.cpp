// solver/linear/cholesky.cpp — sparse Cholesky factors; the only door to CHOLMOD.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear/cholesky.h"

#include <cholmod.h>

#include <cstring>
#include <string>

#include "solver/linear/one_thread.h"

namespace lodegear {

namespace {

using Sparse = Cholesky::Sparse;

// Settings of one caller, held to one thread.
struct Common {
  cholmod_common common{};
  Common() {
    hold_to_one_thread();
    cholmod_start(&common);
    common.print = 0;
    common.method[0].prune_dense = -1;  // circles are dense rows and must stay in their group
  }
  ~Common() { cholmod_finish(&common); }
  Common(const Common&) = delete;
  Common& operator=(const Common&) = delete;
};

cholmod_sparse view_of(const Sparse& lower) {
  cholmod_sparse a{};
  a.nrow = a.ncol = static_cast<std::size_t>(lower.rows());
  a.nzmax = static_cast<std::size_t>(lower.nonZeros());
  a.p = const_cast<int*>(lower.outerIndexPtr());
  a.i = const_cast<int*>(lower.innerIndexPtr());
  a.x = const_cast<double*>(lower.valuePtr());
  a.stype = -1;
  a.itype = CHOLMOD_INT;
  a.xtype = CHOLMOD_REAL;
  a.dtype = CHOLMOD_DOUBLE;
  a.sorted = a.packed = 1;
  return a;
}

}  // namespace

std::vector<int> elimination_order(const Sparse& lower_pattern, const std::vector<int>& trailing) {
  Common settings;
  cholmod_sparse a = view_of(lower_pattern);
  std::vector<int> order(a.nrow), group(a.nrow, 0);
  for (int node : trailing) group[static_cast<std::size_t>(node)] = 1;
  if (!cholmod_camd(&a, nullptr, 0, group.data(), order.data(), &settings.common))
    throw std::runtime_error("cholesky: the ordering failed");
  return order;
}

struct Cholesky::Inside : Common {
  cholmod_factor* factor = nullptr;
  Sparse lower;
  std::vector<int> trailing;
  std::vector<int> trailing_row;  // elimination position of each trailing node, minus first_row
  int first_row = 0;              // first column of the supernode that holds the trailing block
  std::ptrdiff_t first_super = 0;

  Inside() {
    common.supernodal = CHOLMOD_SUPERNODAL;
    common.final_ll = 1;
    common.nmethods = 1;
    common.quick_return_if_not_posdef = 1;
  }
  ~Inside() { cholmod_free_factor(&factor, &common); }
  Inside(const Inside&) = delete;
  Inside& operator=(const Inside&) = delete;

  cholmod_sparse view() const { return view_of(lower); }

  void analyse() {
    cholmod_sparse a = view();
    std::vector<int> order = elimination_order(lower, trailing);
    common.method[0].ordering = CHOLMOD_GIVEN;
    factor = cholmod_analyze_p(&a, order.data(), nullptr, 0, &common);
    if (!factor) throw std::runtime_error("cholesky: the analysis failed");
    find_trailing_block();
  }

  void find_trailing_block() {
    const int n = static_cast<int>(factor->n);
    const int* perm = static_cast<const int*>(factor->Perm);
    std::vector<int> position(static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) position[static_cast<std::size_t>(perm[i])] = i;
    const int* super = static_cast<const int*>(factor->super);
    const int first = n - static_cast<int>(trailing.size());
    first_super = static_cast<std::ptrdiff_t>(factor->nsuper);
    while (first_super > 0 && super[first_super] > first) --first_super;
    first_row = super[first_super];
    for (int node : trailing) {
      const int p = position[static_cast<std::size_t>(node)];
      // Holds whenever the nodes that are not trailing hang together.
      if (p < first) throw std::runtime_error("cholesky: the mesh falls into separate pieces");
      trailing_row.push_back(p - first_row);
    }
  }
};

Cholesky::Cholesky(const Sparse& lower_pattern, std::vector<int> trailing)
    : inside_(std::make_unique<Inside>()) {
  inside_->lower = lower_pattern;
  inside_->trailing = std::move(trailing);
  inside_->analyse();
}
Cholesky::~Cholesky() = default;
Cholesky::Cholesky(Cholesky&&) noexcept = default;
Cholesky& Cholesky::operator=(Cholesky&&) noexcept = default;

void Cholesky::factorise(const Eigen::VectorXd& values) {
  hold_to_one_thread();  // the object may have moved to another thread
  Inside& in = *inside_;
  if (!values.allFinite()) throw NotPositiveDefinite("cholesky: the matrix is not finite");
  std::memcpy(in.lower.valuePtr(), values.data(),
              static_cast<std::size_t>(values.size()) * sizeof(double));
  cholmod_sparse a = in.view();
  const int done = cholmod_factorize(&a, in.factor, &in.common);
  if (!done || in.common.status != CHOLMOD_OK || in.factor->minor < in.factor->n)
    throw NotPositiveDefinite("cholesky: not positive definite at column " +
                              std::to_string(in.factor->minor));
}

Eigen::VectorXd Cholesky::solve(const Eigen::VectorXd& b) const {
  Inside& in = *inside_;
  cholmod_dense rhs{};
  rhs.nrow = rhs.nzmax = rhs.d = static_cast<std::size_t>(b.size());
  rhs.ncol = 1;
  rhs.x = const_cast<double*>(b.data());
  rhs.xtype = CHOLMOD_REAL;
  rhs.dtype = CHOLMOD_DOUBLE;
  cholmod_dense* x = cholmod_solve(CHOLMOD_A, in.factor, &rhs, &in.common);
  if (!x) throw std::runtime_error("cholesky: the solution failed");
  Eigen::VectorXd result = Eigen::Map<const Eigen::VectorXd>(static_cast<double*>(x->x), b.size());
  cholmod_free_dense(&x, &in.common);
  return result;
}

Eigen::MatrixXd Cholesky::trailing_forward(const Eigen::MatrixXd& g) const {
  const Inside& in = *inside_;
  const cholmod_factor& f = *in.factor;
  const int* super = static_cast<const int*>(f.super);
  const int* pi = static_cast<const int*>(f.pi);
  const int* px = static_cast<const int*>(f.px);
  const int* rows = static_cast<const int*>(f.s);
  const double* values = static_cast<const double*>(f.x);

  Eigen::MatrixXd w = Eigen::MatrixXd::Zero(static_cast<int>(f.n) - in.first_row, g.cols());
  for (std::size_t i = 0; i < in.trailing_row.size(); ++i)
    w.row(in.trailing_row[i]) = g.row(static_cast<Eigen::Index>(i));

  Eigen::MatrixXd below;
  for (auto s = in.first_super; s < static_cast<std::ptrdiff_t>(f.nsuper); ++s) {
    const int n_columns = super[s + 1] - super[s];
    const int n_rows = pi[s + 1] - pi[s];
    const Eigen::Map<const Eigen::MatrixXd> block(values + px[s], n_rows, n_columns);
    auto top = w.middleRows(super[s] - in.first_row, n_columns);
    block.topRows(n_columns).triangularView<Eigen::Lower>().solveInPlace(top);
    const int n_below = n_rows - n_columns;
    if (n_below == 0) continue;
    below.noalias() = block.bottomRows(n_below) * top;
    // The rows below mostly follow one another: subtract run by run.
    const int* row = rows + pi[s] + n_columns;
    for (int from = 0, to = 1; from < n_below; from = to++) {
      while (to < n_below && row[to] == row[to - 1] + 1) ++to;
      w.middleRows(row[from] - in.first_row, to - from) -= below.middleRows(from, to - from);
    }
  }
  return w;
}

}  // namespace lodegear
