// cases/write_result.h — the results folder: what is in it, and when it may be replaced.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "cases/case_result.h"
#include "cases/validation.h"

namespace lodegear {

// A results folder holds slip_curve.csv, running_curve.csv, summary.json, result.h5 and case.toml,
// a copy of the input. summary.json comes last and has the fingerprints of the others.

/// Throws WriteError if results of case `c` cannot or should not go to `folder`: it is no folder,
/// cannot be written to, or holds what would be mixed up or lost: files that are not ours, results
/// of a case of another name, a case.toml that was edited since. With `force` only the first two
/// count; files that are not ours are left alone even then. To be called before the long work.
void check_result_folder(const std::filesystem::path& folder, const Case& c, bool force);

/// Writes the files, all or none, and removes what an earlier result left that this one has not.
/// Returns their names. Throws WriteError.
std::vector<std::string> write_result(const CaseResult& result, const std::filesystem::path& folder,
                                      bool force);

/// The same for a validation: validation.json, which comes last, and its tables. They may lie in
/// the folder of the same case's sweep; what lies there of another text of the case is taken away.
std::vector<std::string> write_validation(const Validation& validation,
                                          const std::filesystem::path& folder, bool force);

}  // namespace lodegear
