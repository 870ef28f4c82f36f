// tools/report/heat_map.cpp — a figure over two others, as coloured cells with their numbers.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/heat_map.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "tools/pictures/colour_scale.h"
#include "tools/report/html.h"

namespace lodegear {

namespace {

std::vector<double> different(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values;
}

}  // namespace

std::string efficiency_map_figure(const Table& efficiency) {
  const std::vector<double> load = efficiency.numbers("load_Nm"),
                            speed = efficiency.numbers("input_speed_rpm"),
                            value = efficiency.numbers("efficiency");
  const std::vector<double> loads = different(load), speeds = different(speed);
  if (loads.size() < 2 || speeds.size() < 2) return {};
  const double w = 68, h = 30, left = 86, top = 10;
  const double width = left + w * static_cast<double>(speeds.size());
  const double height = top + h * static_cast<double>(loads.size()) + 44;
  std::ostringstream svg;
  svg.imbue(std::locale::classic());
  const char* title = "Efficiency over speed and load";
  svg << "<figure><figcaption>" << title << "</figcaption><svg viewBox=\"0 0 " << width << ' '
      << height << "\" role=\"img\" aria-label=\"" << title << "\">\n";
  const auto place = [](const std::vector<double>& all, double x) {
    return static_cast<double>(std::lower_bound(all.begin(), all.end(), x) - all.begin());
  };
  for (std::size_t i = 0; i < value.size(); ++i) {
    const double x = left + w * place(speeds, speed[i]);
    const double y = top + h * (static_cast<double>(loads.size()) - 1 - place(loads, load[i]));
    // From half to all: below half nobody looks for shades.
    const Colour colour = field_colour(std::isfinite(value[i]) ? 2 * (value[i] - 0.5) * 0.75 : 0.0);
    svg << "<rect x=\"" << x << "\" y=\"" << y << "\" width=\"" << w - 2 << "\" height=\"" << h - 2
        << "\" fill=\"" << hex(colour) << "\"/><text class=\"cell-text\" fill=\""
        << hex(readable_on(colour)) << "\" text-anchor=\"middle\" x=\"" << x + w / 2 << "\" y=\""
        << y + h / 2 + 4 << "\">"
        << (std::isfinite(value[i]) ? number_for_person(std::round(1000 * value[i]) / 10) + " %"
                                    : std::string("slips"))
        << "</text>\n";
  }
  for (const double l : loads)
    svg << "<text class=\"tick\" text-anchor=\"end\" x=\"" << left - 8 << "\" y=\""
        << top + h * (static_cast<double>(loads.size()) - 1 - place(loads, l)) + h / 2 + 4 << "\">"
        << number_for_person(l) << " N·m</text>\n";
  for (const double s : speeds)
    svg << "<text class=\"tick\" text-anchor=\"middle\" x=\"" << left + w * (place(speeds, s) + 0.5)
        << "\" y=\"" << height - 26 << "\">" << number_for_person(std::round(s)) << "</text>\n";
  svg << "<text class=\"label\" text-anchor=\"middle\" x=\"" << (left + width) / 2 << "\" y=\""
      << height - 6 << "\">speed of the input, rpm</text>\n</svg></figure>\n";
  return svg.str();
}

}  // namespace lodegear
