// tools/bench/table.cpp — columns, ratios to the peer, and rows that miss their accuracy.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/bench/table.h"

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <vector>

#include "cases/text_table.h"

namespace lodegear::bench {

namespace {

using Line = std::map<std::string, std::string>;  // cells by name of the column

// The name peer.py gives its path.
constexpr const char* peer_path = "general-purpose library";
// A peer that takes longer than this for a position at 0.1 % is not coded as well as can be, and a
// ratio to it says nothing. s of CPU, on the processor of 2023 that it was tuned on.
constexpr double slowest_fair_peer = 0.7;

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::stringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
  return cells;
}

std::vector<Line> lines_of(const std::filesystem::path& csv) {
  std::ifstream stream(csv);
  std::string text;
  std::getline(stream, text);
  const std::vector<std::string> names = cells_of(text);
  if (names.empty()) throw std::runtime_error("cannot read " + csv.string());
  std::vector<Line> lines;
  while (std::getline(stream, text)) {
    std::vector<std::string> cells = cells_of(text);
    cells.resize(names.size());  // the last cells may be empty
    Line& line = lines.emplace_back();
    for (std::size_t i = 0; i < names.size(); ++i) line[names[i]] = cells[i];
  }
  return lines;
}

std::string columns(std::vector<Line>& lines) {
  std::vector<std::vector<std::string>> rows = {
      {"row", "case", "path", "median", "unit", "least to most", "repeats", "slip torque",
       "position", "peak", "unknowns", "settings", "note"},
      {"", "", "", "", "", "", "", "off by %", "off by %", "MB", "", "", ""}};
  for (Line& l : lines)
    rows.push_back({l["row"], l["case"], l["path"], l["median"], l["unit"],
                    l["repeats"] == "1" ? "" : l["least"] + " to " + l["most"], l["repeats"],
                    l["slip_error_percent"], l["position_error_percent"], l["peak_MB"],
                    l["unknowns"], l["settings"], l["note"]});
  return text_table(rows, 0, false);
}

/// 0.1 of "position warm at 0.1 %"; 0 if the row names no accuracy.
double accuracy_in(const std::string& row) {
  const std::size_t at = row.find(" at ");
  return at == std::string::npos || !row.ends_with(" %") ? 0.0 : std::stod(row.substr(at + 4));
}

bool misses(Line& line) {
  const double accuracy = accuracy_in(line["row"]);
  for (const char* column : {"slip_error_percent", "position_error_percent"})
    if (accuracy > 0 && !line[column].empty() && std::stod(line[column]) > accuracy) return true;
  return false;
}

std::string missed_accuracies(std::vector<Line>& lines) {
  std::string text;
  for (Line& line : lines)
    if (misses(line))
      text += line["row"] + ", " + line["case"] + ", " + line["path"] +
              ": the error is larger than the row says\n";
  return text;
}

/// "position warm at 0.1 %" and "position in a sweep at 0.1 %" may be set beside a peer's position.
bool comparable(Line& line, Line& peer) {
  const std::string& row = line["row"];
  return line["path"] != peer_path && line["case"] == peer["case"] &&
         (row.starts_with("position warm") || row.starts_with("position in a sweep")) &&
         accuracy_in(row) == accuracy_in(peer["row"]);
}

std::string ratio_text(Line& line, Line& peer) {
  const double ours = std::stod(line["median"]), theirs = std::stod(peer["median"]);
  std::string text = line["row"] + ", " + line["path"] + " " + line["median"] + " s, peer " +
                     peer["median"] + " s (" + peer["settings"] + "): ";
  if (misses(line) || misses(peer)) return text + "no ratio, an accuracy is missed\n";
  if (accuracy_in(peer["row"]) <= 0.1 && theirs > slowest_fair_peer)
    return text + "no ratio, the peer needs more than " + significant(slowest_fair_peer, 1) +
           " s\n";
  return text + significant(theirs / ours, 3) + " times\n";
}

std::string ratios(std::vector<Line>& lines) {
  std::string text;
  for (Line& peer : lines)
    if (peer["path"] == peer_path && accuracy_in(peer["row"]) > 0)
      for (Line& line : lines)
        if (comparable(line, peer)) text += ratio_text(line, peer);
  return text.empty() ? text : "\nCPU time of the peer over ours, one position\n" + text;
}

}  // namespace

std::string table_of(const std::filesystem::path& csv) {
  std::vector<Line> lines = lines_of(csv);
  const std::string missed = missed_accuracies(lines);
  return columns(lines) + ratios(lines) + (missed.empty() ? missed : "\n" + missed);
}

}  // namespace lodegear::bench
