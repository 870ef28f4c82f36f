// tools/bench/machine.h — on what and with what was measured.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace lodegear::bench {

/// Processor, cores, memory, load, versions of program, compiler and libraries; a line each.
std::string machine_text();

}  // namespace lodegear::bench
