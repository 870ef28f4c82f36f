// cases/choosing/read_stock.cpp — a list of blocks that can be had.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/read_stock.h"

#include "materials/words.h"

namespace lodegear {

namespace {

constexpr Range sides{.least = 0.5, .most = 500.0};
constexpr Range prices{.least = 0.0, .most = 1e9, .least_open = true};
constexpr std::size_t most_blocks = 40;

StockBlock read_block(TableReader& table, const Catalogue& catalogue) {
  StockBlock block;
  block.width_mm = table.number("width_mm", sides);
  block.length_mm = table.number("length_mm", sides);
  block.thickness_mm = table.number("thickness_mm", sides);
  block.grade = table.text("grade");
  if (!block.grade.empty())
    if (const auto fault = catalogue.why_not(MaterialKind::magnet, block.grade))
      table.complain("grade", *fault);
  block.name = table.optional_text("name").value_or(number_text(block.width_mm) + " x " +
                                                    number_text(block.length_mm) + " x " +
                                                    number_text(block.thickness_mm));
  block.price = table.optional_number("price", prices);
  block.count = table.optional_integer("count", 1, 1000000);
  table.finish();
  return block;
}

}  // namespace

std::vector<StockBlock> read_stock(const std::filesystem::path& path, const Catalogue& catalogue) {
  const TomlDocument document = read_toml_file(path);
  ReadLog log;
  TableReader root(document, log);
  std::vector<TableReader> tables = root.tables("block");
  std::vector<StockBlock> blocks;
  for (TableReader& table : tables) blocks.push_back(read_block(table, catalogue));
  if (blocks.empty() && log.complaints.empty())
    root.complain("block",
                  "is missing; give at least one [[block]] with width_mm, length_mm, "
                  "thickness_mm and grade.");
  if (blocks.size() > most_blocks)
    root.complain("block", "comes " + std::to_string(blocks.size()) +
                               " times; at most 40 kinds can be weighed against one another.");
  for (std::size_t i = 0; i < blocks.size(); ++i)
    if (blocks[i].price.has_value() != blocks.front().price.has_value())
      tables[i].complain("price", blocks[i].price
                                      ? "is given, but not for the first block; give all or none."
                                      : "is missing, but given for the first block; give all or "
                                        "none.");
  root.finish();
  log.throw_if_wrong();
  return blocks;
}

}  // namespace lodegear
