// cases/versions.h — which program and which libraries made a result.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace lodegear {

/// Version of this program, "0.1.0".
std::string lodegear_version();

/// Name and version of the libraries that have a say in the figures or the files, as compiled in
/// (HDF5, OpenBLAS and OpenSSL: as loaded). Sorted by name.
std::vector<std::pair<std::string, std::string>> library_versions();

}  // namespace lodegear
