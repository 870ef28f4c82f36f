# tools/report/embed_page.cmake — look, behaviour and the library of the charts as text in the program.
# SPDX-License-Identifier: GPL-3.0-or-later
# -DLIBRARY=<dygraph.min.js> -DLICENCE=<its copyright file> -DNAME=<name and version>, or none of them.
file(READ ${FOLDER}/page.css css)
file(READ ${FOLDER}/page.js js)
set(library "")
if(LIBRARY)
  file(READ ${FOLDER}/live_chart.js live)
  set(js "${live}${js}")
  file(READ ${LIBRARY} library)
  file(READ ${LICENCE} licence)
  # A page that needs no network names no map of its sources either.
  string(REGEX REPLACE "//# sourceMappingURL=[^\n]*" "" library "${library}")
  string(REPLACE "*/" "* /" licence "${licence}")
  set(library "/* ${NAME}\n\n${licence}*/\n${library}\n")
endif()
file(WRITE ${OUTPUT} "#include \"tools/report/page_parts.h\"
namespace lodegear {
const char* const page_css = R\"lode(${css})lode\";
const char* const page_js = R\"lode(${js})lode\";
const char* const chart_library = R\"lode(${library})lode\";
const char* const chart_library_name = R\"lode(${NAME})lode\";
}  // namespace lodegear
")
