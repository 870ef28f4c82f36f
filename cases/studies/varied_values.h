// cases/studies/varied_values.h — from a place between 0 and 1 to the value of a key.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/studies/study.h"

namespace lodegear {

/// How many different values a variation has: listed ones or steps; 0 = any number between.
std::size_t n_values(const Variation& v);
/// The i-th of those.
TomlValue value_at(const Variation& v, std::size_t i);
/// The value at `u`, 0 < u < 1: smaller numbers at smaller u, listed ones in their order.
TomlValue value_at(const Variation& v, double u);

TomlValue number_value(double x);
bool is_number(const TomlValue& value);
/// Of a number, whole or not.
double number_of(const TomlValue& value);

}  // namespace lodegear
