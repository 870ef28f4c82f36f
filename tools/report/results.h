// tools/report/results.h — what lies in a results folder, read back.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "tools/report/table.h"
#include "tools/report/tolerances.h"

namespace lodegear {

/// The files of `sweep` and `validate` in one folder; what is not there is empty or null.
struct Results {  // NOLINT(bugprone-exception-escape): moving an ordered JSON object may throw
  std::filesystem::path folder;
  std::string name;  ///< of the case
  nlohmann::ordered_json summary, validation;
  Table slip_curve, running_curve, efficiency, temperatures, margin, loss, stack_length,
      slip_in_time;
  std::string case_text;
  std::vector<ToleranceStudy> tolerances;  ///< of this case, found near the folder
};

/// The fingerprint of the case they are of.
std::string case_sha256(const Results& results);

/// Throws InputError if the folder has neither a summary.json nor a validation.json of lodegear, or
/// if one of its files was changed after it was written (SHA-256).
Results read_results(const std::filesystem::path& folder);

}  // namespace lodegear
