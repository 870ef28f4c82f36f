// cases/studies/statistics.cpp — spreads, and which input a figure depends on.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/statistics.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

namespace lodegear {

namespace {

using Eigen::VectorXd;

VectorXd vector_of(const std::vector<double>& values) {
  return Eigen::Map<const VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
}

/// Minus its mean, over its standard deviation; zero if it does not vary beyond rounding.
VectorXd standardised(const std::vector<double>& values) {
  const VectorXd v = vector_of(values);
  const VectorXd off = v.array() - v.mean();
  const double deviation =
      std::sqrt(off.squaredNorm() / static_cast<double>(std::max<Eigen::Index>(1, v.size() - 1)));
  if (!(deviation > 1e-12 * v.cwiseAbs().maxCoeff())) return VectorXd::Zero(v.size());
  return off / deviation;
}

std::vector<double> ranks(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> result(values.size());
  for (std::size_t begin = 0, end = 0; begin < order.size(); begin = end) {
    while (end < order.size() && values[order[end]] == values[order[begin]]) ++end;
    for (std::size_t i = begin; i < end; ++i)
      result[order[i]] = 0.5 * static_cast<double>(begin + end - 1);
  }
  return result;
}

}  // namespace

double quantile(const std::vector<double>& sorted, double p) {
  if (sorted.empty()) return std::numeric_limits<double>::quiet_NaN();
  const double at = p * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return sorted[below] + (at - std::floor(at)) * (sorted[above] - sorted[below]);
}

std::optional<Spreading> spreading(std::vector<double> values) {
  if (values.empty()) return std::nullopt;
  std::sort(values.begin(), values.end());
  Spreading s;
  s.count = static_cast<int>(values.size());
  const VectorXd v = vector_of(values);
  s.mean = v.mean();
  if (s.count > 1) s.deviation = std::sqrt((v.array() - s.mean).square().sum() / (s.count - 1));
  // What differs by rounding only does not vary.
  if (s.deviation && *s.deviation < 1e-12 * v.cwiseAbs().maxCoeff()) s.deviation = 0.0;
  s.smallest = values.front();
  s.p5 = quantile(values, 0.05);
  s.p50 = quantile(values, 0.50);
  s.p95 = quantile(values, 0.95);
  s.largest = values.back();
  return s;
}

std::optional<Regression> standardised_regression(const std::vector<std::vector<double>>& columns,
                                                  const std::vector<double>& y) {
  const VectorXd wanted = y.empty() ? VectorXd() : standardised(y);
  if (y.size() < 3 || wanted.isZero()) return std::nullopt;
  std::vector<std::size_t> varying;
  std::vector<VectorXd> x;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const VectorXd column = standardised(columns[i]);
    if (column.isZero()) continue;
    varying.push_back(i);
    x.push_back(column);
  }
  if (x.empty() || y.size() < x.size() + 2) return std::nullopt;
  Eigen::MatrixXd matrix(wanted.size(), static_cast<Eigen::Index>(x.size()));
  for (std::size_t i = 0; i < x.size(); ++i) matrix.col(static_cast<Eigen::Index>(i)) = x[i];
  // Columns that say the same, as two keys of a list, share their coefficient: least norm.
  const VectorXd b = matrix.completeOrthogonalDecomposition().solve(wanted);
  Regression result;
  result.coefficients.resize(columns.size());
  for (std::size_t i = 0; i < varying.size(); ++i)
    result.coefficients[varying[i]] = b[static_cast<Eigen::Index>(i)];
  result.r_squared = 1.0 - (wanted - matrix * b).squaredNorm() / wanted.squaredNorm();
  return result;
}

std::optional<double> rank_correlation(const std::vector<double>& x, const std::vector<double>& y) {
  if (x.size() < 3) return std::nullopt;
  const VectorXd a = standardised(ranks(x)), b = standardised(ranks(y));
  if (a.isZero() || b.isZero()) return std::nullopt;
  return a.dot(b) / static_cast<double>(x.size() - 1);
}

std::optional<double> group_share(const std::vector<std::string>& groups,
                                  const std::vector<double>& y) {
  if (y.size() < 3) return std::nullopt;
  const VectorXd v = standardised(y);
  if (v.isZero()) return std::nullopt;
  std::map<std::string, std::pair<double, int>> sums;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    sums[groups[i]].first += v[static_cast<Eigen::Index>(i)];
    ++sums[groups[i]].second;
  }
  double between = 0.0;
  for (const auto& [group, sum] : sums) between += sum.first * sum.first / sum.second;
  return between / v.squaredNorm();
}

}  // namespace lodegear
