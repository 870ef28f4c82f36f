// tools/bench/machine.cpp — what Linux, the compiler and the libraries say of themselves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/machine.h"

#include <fstream>
#include <sstream>
#include <thread>

#include "cases/versions.h"

namespace lodegear::bench {

namespace {

/// What stands after "key : " in a file of such lines, or "unknown".
std::string value_in(const char* file, const std::string& key) {
  std::ifstream stream(file);
  for (std::string line; std::getline(stream, line);) {
    if (!line.starts_with(key)) continue;
    const std::size_t from = line.find_first_not_of(" \t", line.find(':') + 1);
    return from == std::string::npos ? "unknown" : line.substr(from);
  }
  return "unknown";
}

}  // namespace

std::string machine_text() {
  std::ostringstream text;
  std::string load = "unknown";
  std::getline(std::ifstream("/proc/loadavg"), load, ' ');
  text << "processor  " << value_in("/proc/cpuinfo", "model name") << ", "
       << std::thread::hardware_concurrency() << " cores seen, memory "
       << value_in("/proc/meminfo", "MemTotal") << "\n"
       << "load       " << load << " before the start (mean of one minute)\n"
       << "lodegear   " << lodegear_version() << ", compiled by g++ or clang++ " << __VERSION__
       << "\n"
       << "libraries  ";
  std::string separator;
  for (const auto& [name, version] : library_versions()) {
    text << separator << name << " " << version;
    separator = ", ";
  }
  return text.str() + "\n";
}

}  // namespace lodegear::bench
