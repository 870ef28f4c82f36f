// tools/report/html.h — pieces of a page.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "tools/markup.h"

namespace lodegear {

/// The first row is the head; the first column names the rows. `caption` is read out first.
std::string html_table(const std::vector<std::vector<std::string>>& rows,
                       const std::string& caption);

/// A heading of a section with an address of its own, made of `id`.
std::string html_section(const std::string& id, const std::string& title,
                         const std::string& content);

/// A number as a person reads it: three or four significant digits, no exponent where it can be.
std::string number_for_person(double x);

}  // namespace lodegear
