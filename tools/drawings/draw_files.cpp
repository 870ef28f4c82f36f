// tools/drawings/draw_files.cpp — gathering the files of a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/draw_files.h"

#include "tools/drawings/carrier_files.h"
#include "tools/drawings/cut_files.h"
#include "tools/drawings/iron_sheet.h"
#include "tools/drawings/nested_sheet.h"
#include "tools/drawings/parts_list.h"
#include "tools/drawings/placement_chart.h"
#include "tools/drawings/section_sheet.h"

namespace lodegear {

static void append(Files& files, Files more) {
  for (auto& file : more) files.push_back(std::move(file));
}

Files drawing_files(const Case& c, const DrawOptions& options) {
  Files files;
  append(files, cut_files(c.gear, options));
  append(files, dimensioned_files(c));
  append(files, iron_files(c));
  append(files, sheet_files(c, options));
  append(files, carrier_files(c, options));
  append(files, placement_files(c.gear, c.name));
  append(files, parts_files(c, options));
  return files;
}

}  // namespace lodegear
