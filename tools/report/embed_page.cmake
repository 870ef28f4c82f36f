# tools/report/embed_page.cmake — page.css and page.js as text in the program.
# SPDX-License-Identifier: GPL-3.0-or-later
file(READ ${FOLDER}/page.css css)
file(READ ${FOLDER}/page.js js)
file(WRITE ${OUTPUT} "#include \"tools/report/page_parts.h\"
namespace lodegear {
const char* const page_css = R\"lode(${css})lode\";
const char* const page_js = R\"lode(${js})lode\";
}  // namespace lodegear
")
