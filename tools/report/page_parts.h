// tools/report/page_parts.h — look and behaviour of a page, embedded at build time.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

extern const char* const page_css;  ///< page.css
extern const char* const page_js;   ///< page.js

}  // namespace lodegear
