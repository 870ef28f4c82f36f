// tools/peak_memory.h — how much memory the program has taken.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <sys/resource.h>

namespace lodegear {

/// Largest resident memory of this process so far, MB (10⁶ bytes).
inline double peak_memory() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) * 1024e-6;  // Linux counts kibibytes
}

}  // namespace lodegear
