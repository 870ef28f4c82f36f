// tools/report/tolerance_section.cpp — what tolerances do to a gear: spread, worst, what matters.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <numeric>
#include <sstream>

#include "tools/report/html.h"
#include "tools/report/line_chart.h"
#include "tools/report/sections.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

double number(const Json& json, const char* key) {
  return json.is_object() && json.contains(key) && json[key].is_number() ? json[key].get<double>()
                                                                         : std::nan("");
}

std::string words(std::string name) {
  for (const char* ending : {"_Nm_per_kg", "_Nm", "_mm", "_kg", "_percent", "_N", "_T"})
    if (name.ends_with(ending)) {
      name.resize(name.size() - std::string(ending).size());
      break;
    }
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

/// The first slip torque among the figures, else the first figure.
std::string main_figure(const Json& figures) {
  for (const auto& [name, about] : figures.items())
    if (name.starts_with("slip_torque") && std::isfinite(number(about, "mean"))) return name;
  return figures.empty() ? "" : figures.begin().key();
}

struct Bars {
  double from = 0.0, width = 0.0;
  std::vector<int> counts;
};

/// Every width is a round one; about as many bars as the root of the number of designs.
Bars bars_of(const std::vector<double>& values) {
  const auto [least, most] = std::minmax_element(values.begin(), values.end());
  const std::vector<double> ticks = round_ticks(*least, *most);
  const double wanted = std::clamp(std::sqrt(static_cast<double>(values.size())), 5.0, 24.0);
  double width = ticks[1] - ticks[0];
  for (const double part : {2.0, 2.0, 1.25}) {
    if ((*most - *least) / width >= wanted) break;
    width /= part;
  }
  Bars bars{std::floor(*least / width) * width, width, {}};
  bars.counts.resize(static_cast<std::size_t>(std::floor((*most - bars.from) / width)) + 1);
  for (const double x : values)
    ++bars.counts[std::min(static_cast<std::size_t>((x - bars.from) / width),
                           bars.counts.size() - 1)];
  return bars;
}

class Histogram {
 public:
  Histogram(const std::vector<double>& values, const Json& about, std::string title,
            std::string label)
      : bars_(bars_of(values)),
        about_(about),
        title_(std::move(title)),
        label_(std::move(label)),
        highest_(*std::max_element(bars_.counts.begin(), bars_.counts.end())) {
    double least = bars_.from;
    double most = bars_.from + bars_.width * static_cast<double>(bars_.counts.size());
    const double base = number(about, "base");
    if (std::isfinite(base)) {
      least = std::min(least, base - bars_.width);
      most = std::max(most, base + bars_.width);
    }
    least_ = least;
    most_ = most;
    text_.imbue(std::locale::classic());
  }

  std::string figure() {
    text_ << "<figure class=\"bars\"><figcaption>" << escaped(title_)
          << "</figcaption>\n<svg viewBox=\"0 0 " << width << ' ' << height
          << "\" role=\"img\" aria-label=\"" << escaped(title_) << "\">\n";
    const double p5 = number(about_, "p5"), p95 = number(about_, "p95");
    text_ << "<rect class=\"band\" x=\"" << at(p5) << "\" y=\"" << top << "\" width=\""
          << at(p95) - at(p5) << "\" height=\"" << height - top - bottom << "\"/>\n";
    bars();
    axis();
    mark("mean", number(about_, "mean"));
    mark("base", number(about_, "base"));
    text_ << "</svg>\n<ul class=\"key\"><li><svg viewBox=\"0 0 36 8\" aria-hidden=\"true\"><rect "
             "class=\"band\" width=\"36\" height=\"8\"/></svg>90 % of the gears</li>"
             "<li><svg viewBox=\"0 0 36 8\" aria-hidden=\"true\"><path class=\"curve mean\" "
             "d=\"M0 4H36\"/></svg>mean</li>"
             "<li><svg viewBox=\"0 0 36 8\" aria-hidden=\"true\"><path class=\"curve base\" "
             "d=\"M0 4H36\"/></svg>as drawn</li></ul></figure>\n";
    return text_.str();
  }

 private:
  static constexpr double width = 720, height = 290, left = 20, right = 20, top = 12, bottom = 72;

  double at(double x) const {
    return left + (width - left - right) * (x - least_) / (most_ - least_);
  }

  void bars() {
    for (std::size_t i = 0; i < bars_.counts.size(); ++i) {
      if (bars_.counts[i] == 0) continue;
      const double x = bars_.from + bars_.width * static_cast<double>(i);
      const double high = (height - top - bottom - 28) * bars_.counts[i] / highest_;
      text_ << "<rect class=\"bar\" x=\"" << at(x) + 1 << "\" y=\"" << height - bottom - high
            << "\" width=\"" << at(x + bars_.width) - at(x) - 2 << "\" height=\"" << high
            << "\"/><text class=\"tick\" text-anchor=\"middle\" x=\"" << at(x + bars_.width / 2)
            << "\" y=\"" << height - bottom - high - 4 << "\">" << bars_.counts[i] << "</text>\n";
    }
  }

  void axis() {
    for (const double x : round_ticks(least_, most_)) {
      if (x < least_ || x > most_) continue;
      text_ << "<line class=\"zero\" x1=\"" << at(x) << "\" x2=\"" << at(x) << "\" y1=\""
            << height - bottom << "\" y2=\"" << height - bottom + 5
            << "\"/><text class=\"tick\" text-anchor=\"middle\" x=\"" << at(x) << "\" y=\""
            << height - bottom + 26 << "\">" << number_for_person(x) << "</text>\n";
    }
    text_ << "<line class=\"zero\" x1=\"" << left << "\" x2=\"" << width - right << "\" y1=\""
          << height - bottom << "\" y2=\"" << height - bottom
          << "\"/><text class=\"label\" text-anchor=\"middle\" x=\"" << width / 2 << "\" y=\""
          << height - 10 << "\">" << escaped(label_) << "</text>\n";
  }

  void mark(const char* name, double x) {
    if (std::isfinite(x))
      text_ << "<path class=\"curve " << name << "\" d=\"M" << at(x) << ' ' << top << 'V'
            << height - bottom << "\"/>\n";
  }

  Bars bars_;
  const Json& about_;
  std::string title_, label_;
  int highest_;
  double least_ = 0.0, most_ = 1.0;
  std::ostringstream text_;
};

std::string histogram(const ToleranceStudy& study, const std::string& figure) {
  std::vector<double> values = study.designs.numbers(figure);
  values.erase(std::remove_if(values.begin(), values.end(), [](double x) { return std::isnan(x); }),
               values.end());
  if (values.size() < 2) return {};
  const Json& about = study.summary["figures"][figure];
  const std::string unit = about.value("unit", std::string());
  return Histogram(values, about,
                   "How " + words(figure) + " spreads over " + std::to_string(values.size()) +
                       " gears drawn by lot",
                   words(figure) + (unit.empty() ? "" : ", " + unit) + " (plane model)")
      .figure();
}

std::string spreads(const Json& figures) {
  std::vector<std::vector<std::string>> rows = {{"figure", "as drawn", "mean", "standard deviation",
                                                 "smallest", "5 %", "50 %", "95 %", "largest"}};
  for (const auto& [name, about] : figures.items()) {
    if (!std::isfinite(number(about, "mean"))) continue;
    const std::string unit = about.value("unit", std::string());
    rows.push_back({words(name) + (unit.empty() ? "" : ", " + unit)});
    for (const char* key :
         {"base", "mean", "standard_deviation", "smallest", "p5", "p50", "p95", "largest"})
      rows.back().push_back(number_for_person(number(about, key)));
  }
  return rows.size() > 1
             ? html_table(rows,
                          "Over all gears; a twentieth lies below 5 %, a twentieth above 95 %")
             : "";
}

struct Effect {
  std::string key;
  double regression = 0.0;
};

/// A bar from the middle to either side, for −1 … 1.
std::string effect_cell(double r) {
  std::ostringstream cell;
  cell.imbue(std::locale::classic());
  const double part = std::min(1.0, std::abs(r));
  cell << "<td><span class=\"effects\" aria-hidden=\"true\"><span class=\"effect"
       << (r < 0 ? " less" : "")
       << "\" style=\"margin-left:" << std::round(500 * (r < 0 ? 1 - part : 1)) / 10
       << "%;width:" << std::round(500 * part) / 10 << "%\"></span></span></td><td>"
       << (r < 0 ? "−" : "+") << number_for_person(std::round(100 * std::abs(r)) / 100) << "</td>";
  return cell.str();
}

std::string how_of(const ToleranceStudy& study, const std::string& key) {
  for (const Tolerance& t : study.tolerances)
    if (t.key == key) return t.how;
  return "by lot";
}

std::string effects(const ToleranceStudy& study, const std::string& figure) {
  const auto way = Json::json_pointer("/sensitivities/" + figure + "/varied");
  if (!study.summary.contains(way)) return {};
  std::vector<Effect> all;
  for (const auto& [key, about] : study.summary[way].items())
    if (const double r = number(about, "standardised_regression"); std::isfinite(r))
      all.push_back({key, r});
  if (all.empty()) return {};
  std::stable_sort(all.begin(), all.end(), [](const Effect& a, const Effect& b) {
    return std::abs(a.regression) > std::abs(b.regression);
  });
  const double explained = number(study.summary["sensitivities"][figure], "r_squared");
  std::string caption = "What " + words(figure) +
                        " hangs on: its standard deviations for one standard deviation of the key";
  if (std::isfinite(explained))
    caption += "; together they account for " +
               number_for_person(std::round(1000 * explained) / 10) + " % of its variance";
  std::string text =
      "<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"" + escaped(caption) +
      "\"><table><caption>" + escaped(caption) +
      "</caption>\n<thead><tr><th scope=\"col\">key</th><th scope=\"col\">varied</th>"
      "<th scope=\"col\">less, more</th><th scope=\"col\">effect</th></tr></thead>\n"
      "<tbody>\n";
  for (const Effect& e : all)
    text += "<tr><th scope=\"row\">" + escaped(e.key) + "</th><td>" +
            escaped(how_of(study, e.key)) + "</td>" + effect_cell(e.regression) + "</tr>\n";
  return text + "</tbody></table></div>\n";
}

std::string varied(const ToleranceStudy& study) {
  std::vector<std::vector<std::string>> rows = {{"what varies", "how"}};
  for (const Tolerance& t : study.tolerances) rows.push_back({t.key, t.how});
  return "<details><summary>The tolerances</summary>\n" + html_table(rows, study.name) +
         "</details>\n";
}

std::string one_study(const ToleranceStudy& study) {
  const Json& figures = study.summary["figures"];
  const std::string figure = main_figure(figures);
  if (figure.empty()) return {};
  std::string text = "<h3>" + escaped(study.name) + "</h3>\n" + histogram(study, figure) +
                     spreads(figures) + effects(study, figure) + varied(study);
  const Json& designs = study.summary["designs"];
  const double failed = number(designs, "failed"), unsure = number(designs, "unsure");
  if (failed > 0)
    text += "<p>" + number_for_person(failed) +
            " gears could not be built or solved and are in no figure: tolerances that leave no "
            "room are a finding.</p>\n";
  if (unsure > 0)
    text += "<p>Of " + number_for_person(unsure) + " gears a figure is missing or not sure.</p>\n";
  return text;
}

}  // namespace

std::string tolerance_section(const Results& results, const std::string& at) {
  std::string content;
  for (const ToleranceStudy& study : results.tolerances) content += one_study(study);
  return html_section(at + "tolerances", "Tolerances", content);
}

}  // namespace lodegear
