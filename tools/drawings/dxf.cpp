// tools/drawings/dxf.cpp — the tags of a DXF file of release 12.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/dxf.h"

#include <algorithm>
#include <cmath>

#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

std::string tag(int code, const std::string& value) {
  return std::to_string(code) + "\n" + value + "\n";
}
std::string tag(int code, double value) { return tag(code, number_text(value + 0.0)); }
std::string point(int first_code, const Vector2d& x) {
  return tag(first_code, to_mm(x.x())) + tag(first_code + 10, to_mm(x.y())) +
         tag(first_code + 20, 0.0);
}
std::string entity(const char* type, const std::string& layer) {
  return tag(0, type) + tag(8, layer);
}

/// Colour numbers of the standard table, so that layers are told apart on the cutter's screen;
/// holes 1 are to be cut before outlines 7.
int colour_of(const std::string& layer) {
  if (layer.ends_with("_HOLES")) return 1;
  if (layer.starts_with("CUT")) return 7;
  if (layer == "NOTES" || layer == "AXIS") return 8;
  if (layer == "AS_DRAWN") return 9;
  if (layer.ends_with("_MAGNETS")) return 5;
  return layer == "SLEEVES" ? 4 : 7;
}

}  // namespace

void DxfDrawing::use(const std::string& layer) {
  if (std::find(layers_.begin(), layers_.end(), layer) == layers_.end()) layers_.push_back(layer);
}

void DxfDrawing::add(const std::string& layer, const Loop& loop) {
  use(layer);
  WholeCircle circle;
  if (is_circle(loop, circle)) {
    entities_ += entity("CIRCLE", layer) + point(10, circle.centre) + tag(40, to_mm(circle.radius));
    return;
  }
  entities_ += entity("POLYLINE", layer) + tag(66, "1") + point(10, Vector2d::Zero()) +
               tag(70, "1");  // closed
  for (const Curve& c : loop) {
    entities_ += entity("VERTEX", layer) + point(10, c.from);
    if (c.is_arc()) entities_ += tag(42, std::tan(c.sweep / 4));
  }
  entities_ += entity("SEQEND", layer);
}

void DxfDrawing::add_line(const std::string& layer, const Vector2d& from, const Vector2d& to) {
  use(layer);
  entities_ += entity("LINE", layer) + point(10, from) + point(11, to);
}

void DxfDrawing::add_cross(const std::string& layer, const Vector2d& at, double half) {
  for (const Vector2d& d : {Vector2d(half, 0), Vector2d(0, half)}) add_line(layer, at - d, at + d);
}

/// Release 12 knows no other letters, and a line break would end the tag.
static std::string ascii(std::string text) {
  for (char& c : text)
    if (c < 32 || c > 126) c = '_';
  return text;
}

void DxfDrawing::add_text(const std::string& layer, const Vector2d& at, double height,
                          const std::string& text) {
  use(layer);
  entities_ += entity("TEXT", layer) + point(10, at) + tag(40, to_mm(height)) + tag(1, ascii(text));
}

std::string DxfDrawing::text() const {
  std::string all = tag(0, "SECTION") + tag(2, "HEADER") + tag(9, "$ACADVER") + tag(1, "AC1009") +
                    tag(9, "$INSUNITS") + tag(70, "4") +  // millimetres
                    tag(9, "$MEASUREMENT") + tag(70, "1") + tag(0, "ENDSEC");
  all += tag(0, "SECTION") + tag(2, "TABLES");
  all += tag(0, "TABLE") + tag(2, "LTYPE") + tag(70, "1") + tag(0, "LTYPE") + tag(2, "CONTINUOUS") +
         tag(70, "0") + tag(3, "solid") + tag(72, "65") + tag(73, "0") + tag(40, 0.0) +
         tag(0, "ENDTAB");
  all += tag(0, "TABLE") + tag(2, "LAYER") + tag(70, std::to_string(layers_.size() + 1));
  std::vector<std::string> names = {"0"};
  names.insert(names.end(), layers_.begin(), layers_.end());
  for (const std::string& name : names)
    all += tag(0, "LAYER") + tag(2, name) + tag(70, "0") +
           tag(62, std::to_string(colour_of(name))) + tag(6, "CONTINUOUS");
  all += tag(0, "ENDTAB") + tag(0, "ENDSEC");
  return all + tag(0, "SECTION") + tag(2, "ENTITIES") + entities_ + tag(0, "ENDSEC") +
         tag(0, "EOF");
}

void add_part(DxfDrawing& drawing, const std::string& layer, const FlatPart& part) {
  for (const Loop& hole : part.holes) drawing.add(layer + "_HOLES", hole);
  drawing.add(layer, part.outline);
}

}  // namespace lodegear
