// tools/report/sections.cpp — what a report says, section by section.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/sections.h"

#include <algorithm>
#include <cmath>

#include "tools/report/figures_of_json.h"
#include "tools/report/heat_map.h"
#include "tools/report/html.h"
#include "tools/report/line_chart.h"
#include "tools/report/page_parts.h"
#include "tools/report/table_pictures.h"

namespace lodegear {

using Json = nlohmann::ordered_json;
using Rows = std::vector<std::vector<std::string>>;

namespace {

/// A part of a JSON file, or null where it is not there.
const Json& part(const Json& json, const char* key) {
  static const Json nothing;
  return json.is_object() && json.contains(key) ? json[key] : nothing;
}

std::string text(const Json& json, const char* key) {
  const Json& found = part(json, key);
  return found.is_string() ? found.get<std::string>() : std::string();
}

std::string figures_table(const Json& json, const std::string& caption) {
  Rows rows = figure_rows(json);
  if (rows.empty()) return {};
  rows.insert(rows.begin(), {"what", "figure"});
  return html_table(rows, caption);
}

std::string requirements(const Json& verdict) {
  Rows rows = {{"", "requirement", "figure", "wanted", "what would help"}};
  for (const Json& r : part(verdict, "requirements"))
    rows.push_back({text(r, "judged"), text(r, "what"), text(r, "figure"), text(r, "wanted"),
                    text(r, "help")});
  return rows.size() > 1 ? html_table(rows, "What was required") : "";
}

std::string bench(const Json& slip) {
  if (!slip.is_object()) return {};
  return "<p class=\"big\">Expected on the bench: slips at " +
         escaped(figure_text(part(slip, "expected"))) + " on the " + escaped(text(slip, "on")) +
         ", from " + escaped(figure_text(part(slip, "low"))) + " to " +
         escaped(figure_text(part(slip, "high"))) + "</p>\n";
}

std::string small_changes(const Json& changes) {
  const std::string of = text(changes, "margin_of");
  Rows rows = {{"input", "now", "step", "slip torque", of.empty() ? "" : "moves " + of + " by"}};
  const auto percent = [](const Json& slope) {
    if (!slope.is_object()) return std::string();
    const double part = slope.value("value", 0.0);
    return (part > 0 ? "+" : "") + number_for_person(100 * part) + " %";
  };
  for (const Json& e : part(changes, "inputs"))
    if (e.value("why_none", std::string()).empty())
      rows.push_back(
          {text(e, "input"), number_for_person(e.value("now", 0.0)) + " " + text(e, "unit"),
           (e.value("step", 0.0) > 0 ? "+" : "") + number_for_person(e.value("step", 0.0)),
           percent(part(e, "slip_torque")), percent(part(e, "margin"))});
  return rows.size() > 1 ? html_table(rows, "What a small change of one input does, the rest kept")
                         : "";
}

LineChart torque_chart(const Table& table, const char* x, const std::string& title,
                       const std::string& x_label) {
  LineChart chart{title, x_label, "torque, N·m", {}, false};
  for (const char* member : {"sun", "modulator", "ring"}) {
    Curve curve{std::string("on the ") + member, table.numbers(x),
                table.numbers(std::string("torque_") + member + "_Nm")};
    if (std::any_of(curve.y.begin(), curve.y.end(), [](double y) { return std::isfinite(y); }))
      chart.curves.push_back(std::move(curve));
  }
  return chart;
}

// Of one load: less the mean of each member, so that ripples of all sizes can be seen.
LineChart ripple_chart(const Table& table, const std::string& title) {
  LineChart chart = torque_chart(table, "sun_angle_deg", title, "position of the gear, in steps");
  chart.y_label = "torque less its mean, N·m";
  for (Curve& curve : chart.curves) {
    double sum = 0.0;
    for (const double y : curve.y) sum += y;
    for (std::size_t i = 0; i < curve.y.size(); ++i) {
      curve.y[i] -= sum / static_cast<double>(curve.y.size());
      curve.x[i] = static_cast<double>(i);  // whoever turns, in equal steps
    }
  }
  return chart;
}

// Lowest orders of every member's ripple beside one another.
std::string spectra(const Json& curves) {
  Rows rows = {{"at", "member", "order", "amplitude"}};
  for (const Json& curve : curves)
    for (const auto& [member, about] : part(curve, "members").items()) {
      const Json& orders = part(part(about, "spectrum"), "orders");
      int shown = 0;
      for (const Json& order : orders) {
        if (++shown > 3) break;
        rows.push_back({text(curve, "purpose"), member, std::to_string(order.value("order", 0)),
                        number_for_person(order.value("amplitude", 0.0)) + " N·m"});
      }
    }
  if (rows.size() == 1) return {};
  return "<details><summary>Orders of the ripple, per turn of the sun relative to the "
         "modulator</summary>\n" +
         html_table(rows, "The three lowest orders of each curve") + "</details>\n";
}

std::string slip_chart(const Table& table) {
  if (table.empty()) return {};
  LineChart chart{"An overload comes on at time 0 and goes: torque of the gear, counter-clockwise",
                  "time, s",
                  "torque, N·m",
                  {},
                  false};
  const std::vector<double> time = table.numbers("time_s");
  for (const char* shaft : {"input", "output"})
    chart.curves.push_back({std::string("on the ") + shaft, time,
                            table.numbers(std::string("torque_on_") + shaft + "_Nm")});
  return line_chart(chart);
}

std::string spaced(std::string column) {
  if (column.ends_with("_C")) column.resize(column.size() - 2);
  std::replace(column.begin(), column.end(), '_', ' ');
  return column;
}

}  // namespace

std::string verdict_section(const Results& results, const std::string& at) {
  const Json& verdict = part(results.validation, "verdict");
  if (!verdict.is_object()) {
    const std::string how = text(part(results.summary, "solver"), "verdict");
    return html_section(
        at + "verdict", "Verdict",
        "<div class=\"verdict\"><p>Not judged yet: 'lodegear validate CASE.toml --out " +
            escaped(results.folder.string()) + "' judges it. Of the computation: " + escaped(how) +
            "</p></div>\n" +
            figures_table(part(results.summary, "slip_torque"),
                          "Slip torque of the plane model; short stacks deliver less"));
  }
  const std::string judged = text(verdict, "judged");
  std::string content = "<div class=\"verdict " + escaped(judged) + "\"><p class=\"big\">" +
                        (judged == "pass"     ? "Everything required is met."
                         : judged == "unsure" ? "Not sure."
                         : judged == "FAIL"   ? "Do not build it like this."
                                              : "Nothing was required.") +
                        "</p><p>Decided by: " + escaped(text(verdict, "decided_by")) +
                        ".</p></div>\n";
  content += bench(part(results.validation, "slip_torque")) + requirements(verdict) +
             small_changes(part(results.validation, "small_changes"));
  return html_section(at + "verdict", "Verdict", content);
}

std::string field_section(const FieldPictures& pictures, const std::string& why_none,
                          const std::string& at) {
  if (pictures.still.empty())
    return html_section(
        at + "field", "Cross-section",
        "<p class=\"soft\">No picture of the field: " + escaped(why_none) + "</p>\n");
  std::string content =
      "<figure class=\"field\"><figcaption>Flux density, flux lines, at the "
      "position of the case</figcaption>\n" +
      pictures.still + "</figure>\n";
  if (!pictures.frames.empty()) {
    content +=
        "<figure class=\"field film\"><figcaption>Turning in step at half of the load angle of "
        "slip, over one pole pair of the sun</figcaption>\n<img alt=\"The cross-section while it "
        "turns\" src=\"" +
        pictures.frames.front() +
        "\">\n<button type=\"button\" hidden>Play</button>\n<script type=\"application/json\">[";
    for (std::size_t i = 0; i < pictures.frames.size(); ++i)
      content += (i > 0 ? ",\"" : "\"") + pictures.frames[i] + "\"";
    content += "]</script></figure>\n";
  }
  return html_section(at + "field", "Cross-section", content);
}

std::string curves_section(const Results& results, const std::string& at) {
  std::string content;
  if (!results.slip_curve.empty())
    content += line_chart(torque_chart(results.slip_curve, "load_angle_deg",
                                       "Slip curve: torque while one member is turned and the "
                                       "others stand (plane model)",
                                       "load angle, electrical degrees"));
  for (const auto& [purpose, title] :
       {std::pair{"no load", "Cogging: ripple without load"},
        std::pair{"load", "Ripple under load"}, std::pair{"slip", "Ripple at slip"}}) {
    const Table table = results.running_curve.where("purpose", purpose);
    if (!table.empty()) content += line_chart(ripple_chart(table, title));
  }
  content += spectra(part(results.summary, "running_curves"));
  content += figures_table(part(results.summary, "slip_torque"), "Slip torque, plane model");
  content += figures_table(part(results.summary, "stiffness"), "Stiffness at no load");
  return html_section(at + "torque", "Torque", content);
}

std::string losses_section(const Results& results, const std::string& at) {
  const Json& losses = part(results.validation, "losses");
  std::string picture = loss_picture(results.loss);
  if (!picture.empty())
    picture =
        "<figure class=\"field\"><figcaption>Where losses arise, in the mean over a cycle at half "
        "of "
        "the load angle of slip; in solid parts eddy loss is spread evenly</figcaption>\n" +
        picture + "</figure>\n";
  return html_section(at + "losses", "Losses and efficiency",
                      picture + efficiency_map_figure(results.efficiency) +
                          figures_table(losses, "At the load and speed of the case"));
}

std::string heat_section(const Results& results, const std::string& at) {
  LineChart chart{"From cold, at the load of the case", "time, s", "°C", {}, true};
  const std::vector<double> time = results.temperatures.numbers("time_s");
  for (std::size_t i = 1; i < results.temperatures.columns.size(); ++i) {
    const std::string& column = results.temperatures.columns[i];
    chart.curves.push_back({spaced(column), time, results.temperatures.numbers(column)});
  }
  return html_section(
      at + "temperatures", "Temperatures",
      (chart.curves.empty() ? std::string() : line_chart(chart)) +
          figures_table(part(results.validation, "temperatures"), "Films are known to ±30 %"));
}

std::string magnets_section(const Results& results, const std::string& at) {
  std::string content;
  if (const std::string picture = margin_picture(results.margin); !picture.empty())
    content +=
        "<figure class=\"field\"><figcaption>How far every part of the magnets stays from "
        "the knee, in use and through a slip</figcaption>\n" +
        picture + "</figure>\n";
  content += figures_table(part(results.validation, "magnets"), "Warm, at the worst corner");
  return html_section(at + "magnets", "Magnets", content);
}

std::string forces_section(const Results& results, const std::string& at) {
  return html_section(
      at + "forces", "Forces, clearances, motion",
      figures_table(part(results.validation, "forces"),
                    "What glue, pockets, bars and bearings must hold") +
          figures_table(part(results.validation, "clearances"), "Clearances") +
          figures_table(part(results.validation, "motion"), "Motion, undamped") +
          slip_chart(results.slip_in_time) +
          figures_table(part(results.validation, "slip"), "Slip under an overload") +
          figures_table(part(results.validation, "sizes"), "Masses and size"));
}

std::string ends_section(const Results& results, const std::string& at) {
  const Table& table = results.stack_length;
  if (table.empty()) return {};
  LineChart chart{"Expected slip torque against the length of the stack",
                  "length, mm",
                  "torque on the output, N·m",
                  {},
                  false};
  const std::vector<double> length = table.numbers("length_mm");
  chart.curves.push_back({"as drawn", length, table.numbers("slip_torque_Nm")});
  chart.curves.push_back(
      {"sun and ring 10 % longer at each end", length, table.numbers("with_overhang_Nm")});
  return html_section(at + "length", "Length of the stack", line_chart(chart));
}

std::string inputs_section(const Results& results, const std::string& at) {
  std::string content;
  if (!results.case_text.empty())
    content += "<details><summary>The case file</summary><pre>" + escaped(results.case_text) +
               "</pre></details>\n";
  Rows assumed = {{"key", "assumed"}};
  const Json& one = results.validation.is_object() ? results.validation : results.summary;
  for (const Json& a : part(one, "assumed")) assumed.push_back({text(a, "key"), text(a, "value")});
  if (assumed.size() > 1)
    content += "<details><summary>What the case file does not say</summary>\n" +
               html_table(assumed, "Assumed") + "</details>\n";
  Rows made = {{"what", "which"},
               {"fingerprint of the case (SHA-256)", text(part(one, "case"), "sha256")}};
  for (const auto& [name, version] : part(one, "versions").items())
    made.push_back({name, version.is_string() ? version.get<std::string>() : ""});
  if (const std::string charts = chart_library_name; !charts.empty())
    made.push_back({"charts of this page", charts});
  content += figures_table(part(results.summary, "accuracy"), "How far off the mesh leaves them");
  content +=
      "<details><summary>Made with</summary>\n" + html_table(made, "Versions") + "</details>\n";
  return html_section(at + "inputs", "Inputs and accuracy", content);
}

std::string cautions_section(const Results& results, const std::string& at) {
  std::string list;
  const Json& of_validation = part(results.validation, "cautions");
  const Json& cautions =
      of_validation.is_array() ? of_validation : part(results.summary, "remarks");
  for (const Json& caution : cautions)
    if (caution.is_string()) list += "<li>" + escaped(caution.get<std::string>()) + "</li>\n";
  return html_section(at + "cautions", "Cautions", list.empty() ? "" : "<ul>\n" + list + "</ul>\n");
}

}  // namespace lodegear
