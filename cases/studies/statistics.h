// cases/studies/statistics.h — spreads, and which input a figure depends on.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

namespace lodegear {

/// The value below which a part p of the sorted values lies, linear between neighbours: definition
/// 7 of Hyndman and Fan, Am. Stat. 50 (1996) 361. Of no values nan.
double quantile(const std::vector<double>& sorted, double p);

struct Spreading {
  int count = 0;
  double mean = 0.0;
  std::optional<double> deviation;  ///< standard, of the sample (n − 1); from two values on
  double smallest = 0.0, p5 = 0.0, p50 = 0.0, p95 = 0.0, largest = 0.0;
};
/// None of no values.
std::optional<Spreading> spreading(std::vector<double> values);

/// Linear regression of y on all columns of x at once, each in standard deviations: a coefficient
/// of 0.5 means that one standard deviation of that input moves y by half a standard deviation.
/// Independent inputs: the squares of the coefficients are their shares of the variance of y, and
/// sum up to r_squared. Saltelli, Tarantola, Campolongo, Ratto, Sensitivity Analysis in Practice
/// (2004), section 1.2 (here from memory).
struct Regression {
  std::vector<double> coefficients;  ///< of a column that does not vary 0
  double r_squared = 0.0;            ///< near 1: y is linear in x and nothing else moves it
};
/// None if y does not vary or there are too few values: two more than columns that vary.
std::optional<Regression> standardised_regression(const std::vector<std::vector<double>>& columns,
                                                  const std::vector<double>& y);

/// Spearman's: the correlation of ranks, equal values sharing their mean rank. ±1 if one always
/// rises or falls with the other, however bent. None if one does not vary.
std::optional<double> rank_correlation(const std::vector<double>& x, const std::vector<double>& y);

/// Pearson's correlation ratio η² = Var(mean of y in each group)/Var(y): the share of the variance
/// of y that choosing the group accounts for. None if y does not vary.
std::optional<double> group_share(const std::vector<std::string>& groups,
                                  const std::vector<double>& y);

}  // namespace lodegear
