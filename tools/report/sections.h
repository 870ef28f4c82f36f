// tools/report/sections.h — what a report says, section by section.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/report/report_pictures.h"
#include "tools/report/results.h"

namespace lodegear {

// Each gives HTML, or nothing where the results hold nothing of the kind. `at` is put before every
// address, so that several results fit on one page.

std::string verdict_section(const Results& results, const std::string& at);
std::string field_section(const FieldPictures& pictures, const std::string& why_none,
                          const std::string& at);
std::string curves_section(const Results& results, const std::string& at);
std::string tolerance_section(const Results& results, const std::string& at);
std::string losses_section(const Results& results, const std::string& at);
std::string heat_section(const Results& results, const std::string& at);
std::string magnets_section(const Results& results, const std::string& at);
std::string forces_section(const Results& results, const std::string& at);
std::string ends_section(const Results& results, const std::string& at);
std::string inputs_section(const Results& results, const std::string& at);
std::string cautions_section(const Results& results, const std::string& at);

}  // namespace lodegear
