// tests/cases/mutations_test.cpp — files damaged at random end in a case or in sentences.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <random>

#include "case_texts.h"

using namespace lodegear;

namespace {

using Random = std::mt19937;  // the same numbers on every machine, unlike the distributions

std::size_t below(Random& random, std::size_t n) { return n == 0 ? 0 : random() % n; }

/// One letter changed, dropped or doubled.
void change_letter(Random& random, std::string& text) {
  const std::string letters = "0123456789.-=[]\"#\n _aerst\t\x80{},";
  const std::size_t at = below(random, text.size());
  switch (below(random, 3)) {
    case 0:
      text[at] = letters[below(random, letters.size())];
      break;
    case 1:
      text.erase(at, 1 + below(random, 4));
      break;
    default:
      text.insert(at, 1, letters[below(random, letters.size())]);
  }
}

/// One number exchanged for an extreme one.
void change_number(Random& random, std::string& text) {
  const char* extremes[] = {"0",    "-1",  "1e300", "1e-300", "nan",   "inf", "1000000",
                            "0.01", "1.5", "4",     "17",     "89.99", "360", "2147483648"};
  std::size_t at = below(random, text.size());
  at = text.find_first_of("0123456789", at);
  if (at == std::string::npos) return;
  const std::size_t end = text.find_first_not_of("0123456789.", at);
  text.replace(at, end == std::string::npos ? end : end - at, extremes[below(random, 14)]);
}

/// One line dropped, doubled or moved.
void change_line(Random& random, std::string& text) {
  std::vector<std::string> lines = lines_of_text(text);
  if (lines.empty()) return;
  const std::size_t at = below(random, lines.size()), to = below(random, lines.size());
  const std::string line = lines[at];
  if (below(random, 2) == 0) lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
  if (below(random, 2) == 0)
    lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(std::min(to, lines.size())), line);
  text.clear();
  for (const std::string& l : lines) text += l + "\n";
}

std::string mutated(Random& random, std::string text) {
  const std::size_t changes = 1 + below(random, 3);
  for (std::size_t i = 0; i < changes; ++i) {
    if (text.empty()) break;
    switch (below(random, 3)) {
      case 0:
        change_letter(random, text);
        break;
      case 1:
        change_number(random, text);
        break;
      default:
        change_line(random, text);
    }
  }
  return text;
}

}  // namespace

TEST_CASE("mutations: damaged files end in a case or in sentences with a place",
          "[cases][mutations][slow]") {
  constexpr int n = 700;  // of each of the three texts
  Random random(20240511);
  int read = 0, told = 0;
  for (const std::string& text :
       {std::string(short_case), std::string(block_case), file_text("cases/vat_stirrer/case.toml")})
    for (int i = 0; i < n; ++i) {
      const std::string damaged = mutated(random, text);
      INFO(damaged);
      const Outcome result = outcome(damaged);  // anything but InputError fails the test
      if (result.read) {
        ++read;
        continue;
      }
      ++told;
      REQUIRE_FALSE(result.complaints.empty());
      for (const Complaint& complaint : result.complaints) {
        REQUIRE_FALSE(complaint.text.empty());
        REQUIRE(complaint.where.rfind("case:", 0) == 0);
      }
    }
  // Both kinds occur, or the mutations test nothing.
  CHECK(read > 100);
  CHECK(told > 500);
}
