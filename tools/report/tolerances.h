// tools/report/tolerances.h — studies with tolerances that belong to a results folder.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tools/report/table.h"

namespace lodegear {

/// A key that varies, or magnets by lot, and how: "± 0.05", "standard deviation 1.5".
struct Tolerance {
  std::string key, how;
};

/// A finished study about one base case whose designs were drawn and some of whose keys vary about
/// the number of the case.
struct ToleranceStudy {  // NOLINT(bugprone-exception-escape): moving an ordered JSON object may
                         // throw
  std::string name, case_sha256;
  nlohmann::ordered_json summary;  ///< study_summary.json
  Table designs;                   ///< study.csv
  std::vector<Tolerance> tolerances;
};

/// Whether the folder holds a study rather than results of a case.
bool is_study_folder(const std::filesystem::path& folder);

/// Of a study's folder. Throws InputError, with a sentence, if it is no finished study with
/// tolerances or its files were changed after they were written.
ToleranceStudy tolerance_study(const std::filesystem::path& folder);

/// All in folders within or beside `results` whose base case has this fingerprint, by the name of
/// their folders; what is unfinished, changed or of another case is passed over.
std::vector<ToleranceStudy> tolerance_studies_near(const std::filesystem::path& results,
                                                   const std::string& case_sha256);

}  // namespace lodegear
