// tests/architecture/rules.h — what the tree promises, as checks of one file at a time.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace lodegear {

/// A text file; `path` from the top of the tree, with '/'.
struct TreeFile {
  std::string path;
  std::vector<std::string> lines;
};

/// Every rule that the file breaks, each as "path:line: sentence"; none if all is well.
std::vector<std::string> broken_rules(const TreeFile& file);

/// Whether a file or folder of this name may lie at the top of the tree.
bool allowed_at_top(const std::string& name);

/// The folders whose files are checked.
const std::vector<std::string>& folders_of_the_tree();

}  // namespace lodegear
