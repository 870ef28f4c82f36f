// cases/sha256.cpp — SHA-256 by libcrypto.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/sha256.h"

#include <openssl/evp.h>

#include <array>
#include <stdexcept>

namespace lodegear {

std::string sha256(std::string_view bytes) {
  std::array<unsigned char, 32> digest{};
  unsigned int length = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1 ||
      length != digest.size())
    throw std::runtime_error("libcrypto could not compute a SHA-256 fingerprint.");
  constexpr char digits[] = "0123456789abcdef";
  std::string text;
  for (const unsigned char byte : digest) {
    text += digits[byte / 16];
    text += digits[byte % 16];
  }
  return text;
}

}  // namespace lodegear
