// tests/tools/drawings/pdf_words.cpp — where the words of a PDF stand, as another program finds
// them. SPDX-License-Identifier: GPL-3.0-or-later
#include "pdf_words.h"

#include <algorithm>
#include <regex>
#include <stdexcept>
#include <vector>

#include "tests/tools/program.h"

namespace lodegear {

namespace {

struct Word {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;  // points
  std::string text;
};
struct WordPage {
  double width = 0.0, height = 0.0;
  std::vector<Word> words;
};

std::vector<WordPage> words_of(const std::string& pdf) {
  const Scratch scratch;
  const Outcome run = shell("pdftotext -bbox " + scratch.file("d.pdf", pdf) + " -");
  if (run.exit_code != 0) throw std::runtime_error("pdftotext: " + run.err);
  static const std::regex tag(
      "<page width=\"([0-9.]+)\" height=\"([0-9.]+)\">|<word xMin=\"([-0-9.]+)\" "
      "yMin=\"([-0-9.]+)\" xMax=\"([-0-9.]+)\" yMax=\"([-0-9.]+)\">([^<]*)<");
  std::vector<WordPage> pages;
  for (std::sregex_iterator it(run.out.begin(), run.out.end(), tag), end; it != end; ++it) {
    const auto number = [&](std::size_t i) { return std::stod((*it)[i]); };
    if ((*it)[1].matched)
      pages.push_back({number(1), number(2), {}});
    else
      pages.back().words.push_back({number(3), number(4), number(5), number(6), (*it)[7]});
  }
  return pages;
}

/// How far two words lie over one another, as a part of the smaller one's area. Boxes reach from
/// the top of the tallest letter to the foot of the lowest, so neighbouring lines may just touch.
double overlap(const Word& a, const Word& b) {
  const double width = std::min(a.right, b.right) - std::max(a.left, b.left);
  const double height = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
  if (width <= 0 || height <= 0) return 0.0;
  const auto area = [](const Word& w) { return (w.right - w.left) * (w.bottom - w.top); };
  return width * height / std::min(area(a), area(b));
}

}  // namespace

std::string word_faults(const std::string& pdf) {
  std::string text;
  for (const WordPage& page : words_of(pdf)) {
    if (page.words.empty()) text += "no words\n";
    for (std::size_t i = 0; i < page.words.size(); ++i) {
      const Word& a = page.words[i];
      if (a.left < 0 || a.top < 0 || a.right > page.width || a.bottom > page.height)
        text += a.text + " leaves the paper\n";
      for (std::size_t k = 0; k < i; ++k)
        if (overlap(a, page.words[k]) > 0.25) text += a.text + " over " + page.words[k].text + "\n";
    }
  }
  return text;
}

}  // namespace lodegear
