// tools/report/line_chart.cpp — curves as a picture that stands alone, and can be read out.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/line_chart.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>

#include "tools/report/html.h"

namespace lodegear {

namespace {

constexpr double width = 720, height = 340, left = 74, right = 16, top = 18, bottom = 52;

struct Span {
  double least = std::numeric_limits<double>::infinity();
  double most = -std::numeric_limits<double>::infinity();
  void take(double x) {
    if (!std::isfinite(x)) return;
    least = std::min(least, x);
    most = std::max(most, x);
  }
  bool empty() const { return !(least <= most); }
};

/// Text as JSON that cannot end the script it stands in.
std::string in_script(const std::string& text) {
  std::string json = nlohmann::json(text).dump();
  for (std::size_t at = json.find('<'); at != std::string::npos; at = json.find('<', at))
    json.replace(at, 1, "\\u003c");
  return json;
}

class Drawing {
 public:
  explicit Drawing(const LineChart& chart) : chart_(chart) {
    text_.imbue(std::locale::classic());
    Span x, y;
    for (const Curve& curve : chart.curves)
      for (std::size_t i = 0; i < curve.x.size(); ++i) {
        if (!std::isfinite(curve.y[i]) || !std::isfinite(scaled(curve.x[i]))) continue;
        x.take(scaled(curve.x[i]));
        y.take(curve.y[i]);
      }
    if (x.empty()) return;
    x_ticks_ = chart.log_x ? decades(x) : round_ticks(x.least, x.most);
    y_ticks_ = round_ticks(y.least, y.most);
    x_ = {x.least, std::max(x.most, x.least + 1e-12)};
    y_ = {y_ticks_.front(), y_ticks_.back()};
    usable_ = true;
  }

  std::string figure() {
    if (!usable_) return {};
    text_ << "<figure class=\"chart\" tabindex=\"0\" aria-label=\"" << escaped(chart_.title)
          << "; arrow keys read the values\">\n<figcaption>" << escaped(chart_.title)
          << "</figcaption>\n<svg viewBox=\"0 0 " << width << ' ' << height
          << "\" role=\"img\" aria-label=\"" << escaped(chart_.title) << "\">\n";
    axes();
    for (std::size_t i = 0; i < chart_.curves.size(); ++i) curve(chart_.curves[i], i % 6);
    text_ << "<line class=\"cursor\" x1=\"0\" x2=\"0\" y1=\"" << top << "\" y2=\""
          << height - bottom << "\"/>\n</svg>\n";
    key();
    text_ << "<p class=\"readout\" aria-live=\"polite\"></p>\n";
    data();
    text_ << "</figure>\n";
    return text_.str();
  }

 private:
  double scaled(double x) const { return chart_.log_x ? std::log10(x) : x; }
  double at_x(double x) const {
    return left + (width - left - right) * (scaled(x) - x_.least) / (x_.most - x_.least);
  }
  double at_y(double y) const {
    return height - bottom - (height - top - bottom) * (y - y_.least) / (y_.most - y_.least);
  }

  static std::vector<double> decades(const Span& x) {
    std::vector<double> ticks;
    for (double d = std::floor(x.least); d <= x.most + 1e-9; d += 1.0)
      for (const double m : {1.0, 2.0, 5.0}) ticks.push_back(m * std::pow(10.0, d));
    return ticks;
  }

  void axes() {
    for (const double x : x_ticks_) {
      if (scaled(x) < x_.least - 1e-9 || scaled(x) > x_.most + 1e-9) continue;
      text_ << "<line class=\"grid\" x1=\"" << at_x(x) << "\" x2=\"" << at_x(x) << "\" y1=\"" << top
            << "\" y2=\"" << height - bottom
            << "\"/><text class=\"tick\" text-anchor=\"middle\" x=\"" << at_x(x) << "\" y=\""
            << height - bottom + 18 << "\">" << number_for_person(x) << "</text>\n";
    }
    for (const double y : y_ticks_)
      text_ << "<line class=\"" << (y == 0.0 ? "zero" : "grid") << "\" x1=\"" << left << "\" x2=\""
            << width - right << "\" y1=\"" << at_y(y) << "\" y2=\"" << at_y(y)
            << "\"/><text class=\"tick\" text-anchor=\"end\" x=\"" << left - 8 << "\" y=\""
            << at_y(y) + 4 << "\">" << number_for_person(y) << "</text>\n";
    text_ << "<text class=\"label\" text-anchor=\"middle\" x=\"" << (left + width - right) / 2
          << "\" y=\"" << height - 12 << "\">" << escaped(chart_.x_label)
          << "</text>\n<text class=\"label\" text-anchor=\"middle\" transform=\"translate(16 "
          << (top + height - bottom) / 2 << ") rotate(-90)\">" << escaped(chart_.y_label)
          << "</text>\n";
  }

  void curve(const Curve& curve, std::size_t style) {
    text_ << "<path class=\"curve c" << style << "\" d=\"";
    text_.precision(5);
    bool draws = false;
    for (std::size_t i = 0; i < curve.x.size(); ++i) {
      const bool there = std::isfinite(curve.y[i]) && std::isfinite(scaled(curve.x[i]));
      if (there) text_ << (draws ? 'L' : 'M') << at_x(curve.x[i]) << ' ' << at_y(curve.y[i]);
      draws = there;
    }
    text_ << "\"/>\n";
  }

  void key() {
    if (chart_.curves.size() < 2) return;
    text_ << "<ul class=\"key\">";
    for (std::size_t i = 0; i < chart_.curves.size(); ++i)
      text_ << "<li><svg viewBox=\"0 0 36 8\" aria-hidden=\"true\"><path class=\"curve c" << i % 6
            << "\" d=\"M0 4H36\"/></svg>" << escaped(chart_.curves[i].name) << "</li>";
    text_ << "</ul>\n";
  }

  // For page.js: where the axes are, and every point; null where there is a hole.
  void data() {
    text_.precision(7);
    text_ << "<script type=\"application/json\">{\"x_label\":" << in_script(chart_.x_label)
          << ",\"y_label\":" << in_script(chart_.y_label) << ",\"frame\":[" << left << ','
          << width - right << ',' << x_.least << ',' << x_.most << "],\"values\":[" << y_.least
          << ',' << y_.most << "],\"log\":" << (chart_.log_x ? "true" : "false") << ",\"curves\":[";
    for (std::size_t i = 0; i < chart_.curves.size(); ++i) {
      const Curve& curve = chart_.curves[i];
      text_ << (i > 0 ? "," : "") << "{\"name\":" << in_script(curve.name) << ",\"points\":[";
      bool first = true;
      for (std::size_t p = 0; p < curve.x.size(); ++p) {
        if (!std::isfinite(scaled(curve.x[p]))) continue;
        text_ << (first ? "[" : ",[") << curve.x[p] << ',';
        std::isfinite(curve.y[p]) ? text_ << curve.y[p] : text_ << "null";
        text_ << ']';
        first = false;
      }
      text_ << "]}";
    }
    text_ << "]}</script>\n";
  }

  const LineChart& chart_;
  std::ostringstream text_;
  std::vector<double> x_ticks_, y_ticks_;
  Span x_, y_;
  bool usable_ = false;
};

}  // namespace

std::vector<double> round_ticks(double least, double most) {
  const double span = std::max({most - least, 1e-9 * std::abs(most), 1e-30});
  const double power = std::pow(10.0, std::floor(std::log10(span / 5)));
  double step = 10 * power;
  for (const double round : {1.0, 2.0, 5.0})
    if (span / (round * power) <= 7.0) {
      step = round * power;
      break;
    }
  std::vector<double> ticks;
  const double first = std::floor(least / step + 1e-9);
  const double last = std::max(std::ceil(most / step - 1e-9), first + 1);
  for (double i = first; i <= last; i += 1.0) ticks.push_back(i * step);
  return ticks;
}

std::string line_chart(const LineChart& chart) { return Drawing(chart).figure(); }

}  // namespace lodegear
