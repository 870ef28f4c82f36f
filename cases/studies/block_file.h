// cases/studies/block_file.h — what a finished block of designs leaves on the disk.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/studies/design_run.h"

namespace lodegear {

/// A design as it is kept. `number` counts from 1.
struct DesignRow {
  int number = 0;
  std::vector<std::string> cells;  ///< what was varied
  DesignOutcome outcome;
};

/// Lines of JSON: a head with the fingerprint of the input, a line a design, and last the SHA-256
/// of all that stands before. Numbers read back as the same bits.
std::string block_text(const std::string& input_hash, const std::vector<DesignRow>& rows);

/// The rows, if the text is whole, its fingerprints are right and every row has so many cells and
/// figures; of any other bytes whatever nothing.
std::optional<std::vector<DesignRow>> rows_of_block(const std::string& text,
                                                    const std::string& input_hash,
                                                    std::size_t n_cells, std::size_t n_figures);

}  // namespace lodegear
