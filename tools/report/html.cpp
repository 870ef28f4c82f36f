// tools/report/html.cpp — pieces of a page.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/html.h"

#include <cmath>
#include <cstdio>

namespace lodegear {

std::string html_table(const std::vector<std::vector<std::string>>& rows,
                       const std::string& caption) {
  // Wide tables scroll within themselves, also by keyboard.
  std::string text = "<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"" +
                     escaped(caption) + "\"><table><caption>" + escaped(caption) + "</caption>\n";
  for (std::size_t r = 0; r < rows.size(); ++r) {
    text += r == 0 ? "<thead><tr>" : "<tr>";
    for (std::size_t c = 0; c < rows[r].size(); ++c) {
      const bool head = r == 0 || c == 0;
      text += head ? (r == 0 ? "<th scope=\"col\">" : "<th scope=\"row\">") : "<td>";
      text += escaped(rows[r][c]) + (head ? "</th>" : "</td>");
    }
    text += r == 0 ? "</tr></thead>\n<tbody>\n" : "</tr>\n";
  }
  return text + "</tbody></table></div>\n";
}

std::string html_section(const std::string& id, const std::string& title,
                         const std::string& content) {
  if (content.empty()) return {};
  return "<section aria-labelledby=\"" + id + "\">\n<h2 id=\"" + id + "\">" + escaped(title) +
         "</h2>\n" + content + "</section>\n";
}

std::string number_for_person(double x) {
  if (!std::isfinite(x)) return "";
  char text[40];
  const double size = std::abs(x);
  if (size != 0.0 && (size < 1e-3 || size >= 1e6))
    std::snprintf(text, sizeof text, "%.3g", x);
  else
    std::snprintf(text, sizeof text, "%.*f",
                  size >= 1000  ? 0
                  : size >= 100 ? 1
                  : size >= 10  ? 2
                  : size >= 1   ? 3
                                : 4,
                  x);
  std::string number = text;
  if (number.find('.') != std::string::npos && number.find('e') == std::string::npos) {
    while (number.back() == '0') number.pop_back();
    if (number.back() == '.') number.pop_back();
  }
  return number == "-0" ? "0" : number;
}

}  // namespace lodegear
