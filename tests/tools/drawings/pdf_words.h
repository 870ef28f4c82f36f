// tests/tools/drawings/pdf_words.h — where the words of a PDF stand, as another program finds them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace lodegear {

/// One line for each word that leaves the paper or lies over another; "no words" of a page without.
/// By pdftotext of Debian's poppler-utils.
std::string word_faults(const std::string& pdf);

}  // namespace lodegear
