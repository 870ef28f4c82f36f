// cases/studies/varied_values.cpp — from a place between 0 and 1 to the value of a key.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/varied_values.h"

#include <algorithm>
#include <cmath>

#include "cases/studies/points.h"

namespace lodegear {

TomlValue number_value(double x) {
  TomlValue value;
  value.kind = TomlKind::real;
  value.real = x;
  // Keys that count want a whole number; others take one as well.
  if (x == std::floor(x) && std::abs(x) < 1e15) {
    value.kind = TomlKind::integer;
    value.integer = static_cast<std::int64_t>(x);
  }
  return value;
}

bool is_number(const TomlValue& value) {
  return value.kind == TomlKind::integer || value.kind == TomlKind::real;
}

double number_of(const TomlValue& value) {
  return value.kind == TomlKind::integer ? static_cast<double>(value.integer) : value.real;
}

std::size_t n_values(const Variation& v) {
  if (v.spread == Spread::listed) return v.values.size();
  if (!v.step) return 0;
  return static_cast<std::size_t>(std::floor((v.to - v.from) / *v.step * (1 + 1e-12) + 1e-9)) + 1;
}

TomlValue value_at(const Variation& v, std::size_t i) {
  if (v.spread == Spread::listed) return v.values[i];
  return number_value(v.from + static_cast<double>(i) * *v.step);
}

TomlValue value_at(const Variation& v, double u) {
  if (const std::size_t n = n_values(v))
    return value_at(v, std::min(static_cast<std::size_t>(u * static_cast<double>(n)), n - 1));
  if (v.spread == Spread::normal) return number_value(v.mean + v.deviation * normal_quantile(u));
  return number_value(v.from + u * (v.to - v.from));
}

}  // namespace lodegear
