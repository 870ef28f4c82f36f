// materials/nearest_name.cpp — which known name was probably meant.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/nearest_name.h"

#include <algorithm>
#include <cctype>

namespace lodegear {

static std::string small_letters(std::string_view s) {
  std::string small(s);
  for (char& c : small) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return small;
}

int edit_distance(std::string_view first, std::string_view second) {
  const std::string a = small_letters(first), b = small_letters(second);
  const std::size_t n = a.size(), m = b.size();
  std::vector<std::vector<int>> d(n + 1, std::vector<int>(m + 1));
  for (std::size_t i = 0; i <= n; ++i) d[i][0] = static_cast<int>(i);
  for (std::size_t j = 0; j <= m; ++j) d[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= n; ++i)
    for (std::size_t j = 1; j <= m; ++j) {
      const int replaced = d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      d[i][j] = std::min({replaced, d[i - 1][j] + 1, d[i][j - 1] + 1});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  return d[n][m];
}

std::vector<std::string> nearest_names(std::string_view name, const std::vector<std::string>& known,
                                       std::size_t most) {
  constexpr std::size_t longest = 200;  // longer words are not typing slips, and cost time
  if (name.empty() || name.size() > longest) return {};
  const std::string small = small_letters(name);
  std::vector<std::pair<int, std::string>> close;
  for (const std::string& candidate : known) {
    if (candidate.empty() || candidate.size() > longest) continue;
    const int distance = edit_distance(name, candidate);
    const std::string other = small_letters(candidate);
    const std::size_t shorter = std::min(small.size(), other.size());
    const bool begins = shorter >= 3 && small.substr(0, shorter) == other.substr(0, shorter);
    const int allowed = std::max<int>(1, static_cast<int>(name.size()) / 3);
    if (distance <= allowed || begins) close.emplace_back(distance, candidate);
  }
  std::stable_sort(close.begin(), close.end(),
                   [](const auto& x, const auto& y) { return x.first < y.first; });
  std::vector<std::string> names;
  for (const auto& [distance, candidate] : close)
    if (names.size() < most) names.push_back(candidate);
  return names;
}

}  // namespace lodegear
