// tools/report/report.cpp — one page that holds all that results have to say.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/report/report.h"

#include <algorithm>

#include "cases/read_case.h"
#include "cases/validation.h"
#include "tools/report/figures_of_json.h"
#include "tools/report/html.h"
#include "tools/report/page_parts.h"
#include "tools/report/sections.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

/// What several gears are compared by: ways into the two JSON files.
struct Compared {
  const char* what;
  bool of_validation;
  const char* pointer;
};
constexpr Compared compared[] = {
    {"slip torque expected on the bench", true, "/slip_torque/expected"},
    {"from", true, "/slip_torque/low"},
    {"to", true, "/slip_torque/high"},
    {"slip torque on the modulator, plane model", false, "/slip_torque/members/modulator/peak"},
    {"efficiency", true, "/losses/efficiency"},
    {"room to the nearest temperature limit", true, "/temperatures/margin"},
    {"torque after one slip", true, "/magnets/torque_after_one_slip"},
    {"mass of magnets and steel", true, "/sizes/active_mass"},
    {"outer diameter", true, "/sizes/outer_diameter"},
};

std::string comparison(const std::vector<Results>& all) {
  if (all.size() < 2) return {};
  std::vector<std::vector<std::string>> rows = {{""}};
  for (const Results& one : all) rows[0].push_back(one.name);
  rows.push_back({"verdict"});
  for (const Results& one : all)
    rows.back().push_back(one.validation.is_object() ? one.validation["verdict"].value("judged", "")
                                                     : "not judged");
  for (const Compared& line : compared) {
    rows.push_back({line.what});
    for (const Results& one : all) {
      const Json& json = line.of_validation ? one.validation : one.summary;
      const Json::json_pointer way(line.pointer);
      rows.back().push_back(json.is_object() && json.contains(way) ? figure_text(json.at(way))
                                                                   : "");
    }
  }
  return html_section("side-by-side", "Side by side", html_table(rows, "Main figures"));
}

/// Why there is no picture, or nothing.
std::string draw(const Results& results, const Catalogue& catalogue, const ReportOptions& options,
                 FieldPictures& pictures) {
  if (results.case_text.empty())
    return "the folder has no case.toml; 'lodegear sweep' puts one there.";
  try {
    pictures = field_pictures(read_case_text(results.case_text, "case.toml", catalogue),
                              options.frames, options.threads);
    return {};
  } catch (const InputError&) {
    return "case.toml names materials that are not known here; --materials DIR tells where they "
           "are.";
  } catch (const std::runtime_error& error) {
    return std::string("it could not be computed: ") + error.what();
  }
}

std::string header(const Results& results) {
  const Json gear = results.summary.is_object() ? results.summary["gear"] : Json();
  std::string text = "<h1>" + escaped(results.name) + "</h1>\n";
  if (gear.is_object())
    text += "<p class=\"soft\">" +
            escaped(gear.value("kind", "") + " " + gear.value("poles", "") + ", stack " +
                    figure_text(gear["stack_length"])) +
            "</p>\n";
  const Json& one = results.summary.is_object() ? results.summary : results.validation;
  if (const std::string notes = one["case"].value("notes", ""); !notes.empty())
    text += "<p class=\"soft\">" + escaped(notes) + "</p>\n";
  return text;
}

/// Links to the sections that are there.
std::string contents(const std::string& body) {
  std::string list;
  const std::string mark = "<h2 id=\"";
  for (std::size_t at = body.find(mark); at != std::string::npos; at = body.find(mark, at + 1)) {
    const std::size_t id = at + mark.size(), close = body.find("\">", id),
                      end = body.find("</h2>", close);
    list += "<li><a href=\"#" + body.substr(id, close - id) + "\">" +
            body.substr(close + 2, end - close - 2) + "</a></li>";
  }
  return "<nav aria-label=\"Contents\"><ul>" + list + "</ul></nav>\n";
}

std::string one_gear(const Results& results, const Catalogue& catalogue,
                     const ReportOptions& options, const std::string& at) {
  FieldPictures pictures;
  const std::string why_none = draw(results, catalogue, options, pictures);
  const std::string body =
      verdict_section(results, at) + field_section(pictures, why_none, at) +
      curves_section(results, at) + tolerance_section(results, at) + losses_section(results, at) +
      heat_section(results, at) + magnets_section(results, at) + forces_section(results, at) +
      ends_section(results, at) + inputs_section(results, at) + cautions_section(results, at);
  return header(results) + contents(body) + body;
}

std::string always() {
  std::string list;
  for (const char* caution : validation_cautions) list += "<li>" + escaped(caution) + "</li>\n";
  return html_section("always", "Limits of use", "<ul>\n" + list + "</ul>\n");
}

}  // namespace

std::string report_html(const std::vector<Results>& all, const Catalogue& catalogue,
                        const ReportOptions& options) {
  std::string title = all.front().name, body = comparison(all);
  for (std::size_t i = 1; i < all.size(); ++i) title += ", " + all[i].name;
  bool judged = true;
  for (std::size_t i = 0; i < all.size(); ++i) {
    body += one_gear(all[i], catalogue, options,
                     all.size() > 1 ? "gear" + std::to_string(i + 1) + "-" : "");
    judged = judged && all[i].validation.is_object();
  }
  if (!judged) body += always();  // else among the cautions of each
  std::string library = chart_library;
  if (!library.empty()) library = "<script>\n" + library + "</script>\n";
  return "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<meta name=\"color-scheme\" content=\"light dark\">\n<title>" +
         escaped(title) + "</title>\n<link rel=\"icon\" href=\"data:,\">\n<style>\n" + page_css +
         "</style>\n</head>\n<body>\n<main>\n" + body + "</main>\n" + library + "<script>\n" +
         page_js + "</script>\n</body>\n</html>\n";
}

}  // namespace lodegear
