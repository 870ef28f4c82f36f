// tools/drawings/draw_files.cpp — gathering the files of a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/draw_files.h"

#include "tools/drawings/carrier_files.h"
#include "tools/drawings/cut_files.h"
#include "tools/drawings/iron_sheet.h"
#include "tools/drawings/nested_sheet.h"
#include "tools/drawings/parts_list.h"
#include "tools/drawings/pdf.h"
#include "tools/drawings/placement_chart.h"
#include "tools/drawings/section_sheet.h"
#include "tools/drawings/svg.h"

namespace lodegear {

namespace {

template <class List>
void append(List& list, List more) {
  for (auto& one : more) list.push_back(std::move(one));
}

void append(Drawings& drawings, Drawings more) {
  append(drawings.files, std::move(more.files));
  append(drawings.sheets, std::move(more.sheets));
}

}  // namespace

Drawings drawings_of(const Case& c, const DrawOptions& options) {
  Drawings drawings;
  append(drawings.files, cut_files(c.gear, options));
  append(drawings, dimensioned_files(c));
  append(drawings, iron_files(c));
  append(drawings, sheet_files(c, options));
  append(drawings, carrier_files(c, options));
  append(drawings, placement_files(c.gear, c.name));
  append(drawings.files, parts_files(c, options));
  return drawings;
}

Files drawing_files(const Case& c, const DrawOptions& options) {
  Drawings drawings = drawings_of(c, options);
  for (const auto& [name, page] : drawings.sheets)
    drawings.files.emplace_back(name + ".svg", svg_text(page));
  drawings.files.emplace_back("drawings.pdf", pdf_bytes(drawings.sheets, c.name));
  return std::move(drawings.files);
}

}  // namespace lodegear
