// cases/studies/block_file.cpp — what a finished block of designs leaves on the disk.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/block_file.h"

#include <nlohmann/json.hpp>

#include "cases/sha256.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

constexpr int format = 1;

std::string line(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json row_json(const DesignRow& row) {
  Json figures = Json::array();
  for (const auto& figure : row.outcome.figures) figures.push_back(figure ? Json(*figure) : Json());
  return {{"design", row.number},
          {"state", name_of(row.outcome.state)},
          {"varied", row.cells},
          {"figures", figures},
          {"remark", row.outcome.remark}};
}

DesignState state_of(const std::string& name) {
  for (const DesignState state : {DesignState::unsure, DesignState::failed})
    if (name == name_of(state)) return state;
  return DesignState::good;
}

/// Throws Json::exception on anything else than such a row.
DesignRow row_of(const Json& json) {
  DesignRow row;
  row.number = json.at("design").get<int>();
  row.cells = json.at("varied").get<std::vector<std::string>>();
  row.outcome.state = state_of(json.at("state").get<std::string>());
  row.outcome.remark = json.at("remark").get<std::string>();
  for (const Json& figure : json.at("figures"))
    row.outcome.figures.push_back(figure.is_null() ? std::nullopt
                                                   : std::optional(figure.get<double>()));
  return row;
}

/// What stands before the last line, if that line is its fingerprint.
std::optional<std::string> whole_body(const std::string& text) {
  if (text.size() < 2 || text.back() != '\n') return std::nullopt;
  const std::size_t last = text.rfind('\n', text.size() - 2);
  if (last == std::string::npos) return std::nullopt;
  std::string body = text.substr(0, last + 1);
  if (text.substr(last + 1) != line({{"sha256", sha256(body)}})) return std::nullopt;
  return body;
}

}  // namespace

std::string block_text(const std::string& input_hash, const std::vector<DesignRow>& rows) {
  std::string body = line(
      {{"lodegear", "block"}, {"format", format}, {"input", input_hash}, {"designs", rows.size()}});
  for (const DesignRow& row : rows) body += line(row_json(row));
  return body + line({{"sha256", sha256(body)}});
}

std::optional<std::vector<DesignRow>> rows_of_block(const std::string& text,
                                                    const std::string& input_hash,
                                                    std::size_t n_cells,
                                                    std::size_t n_figures) try {
  const auto body = whole_body(text);
  if (!body) return std::nullopt;
  std::vector<DesignRow> rows;
  std::size_t at = body->find('\n') + 1;
  const Json head = Json::parse(body->substr(0, at));
  if (head.at("format").get<int>() != format || head.at("input").get<std::string>() != input_hash)
    return std::nullopt;
  while (at < body->size()) {
    const std::size_t end = body->find('\n', at) + 1;
    rows.push_back(row_of(Json::parse(body->substr(at, end - at))));
    if (rows.back().cells.size() != n_cells || rows.back().outcome.figures.size() != n_figures)
      return std::nullopt;
    at = end;
  }
  if (head.at("designs").get<std::size_t>() != rows.size()) return std::nullopt;
  return rows;
} catch (const Json::exception&) {
  return std::nullopt;
}

}  // namespace lodegear
