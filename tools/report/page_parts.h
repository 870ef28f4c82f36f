// tools/report/page_parts.h — look and behaviour of a page, embedded at build time.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

extern const char* const page_css;  ///< page.css
extern const char* const page_js;   ///< page.js, after live_chart.js if there is a library

/// The script of the charts with its licence, and what it is called: "dygraphs 2.2.1, MIT". Both
/// are empty in a program that was built without it.
extern const char* const chart_library;
extern const char* const chart_library_name;

}  // namespace lodegear
