// cases/sha256.h — fingerprint of a text, by which the same input is known again.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <string_view>

namespace lodegear {

/// SHA-256 (FIPS 180-4) as 64 small hexadecimal digits.
std::string sha256(std::string_view bytes);

}  // namespace lodegear
