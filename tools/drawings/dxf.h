// tools/drawings/dxf.h — writing drawings for cutters: DXF of release 12, millimetres.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "tools/drawings/flat_part.h"

namespace lodegear {

// The tags are those of the published DXF reference: POLYLINE with a bulge tan(sweep/4) at the
// vertex where an arc begins, CIRCLE, TEXT, LINE. Release 12 is what every cutter reads.

/// What is cut, marked or only written. Layer names are capital letters and underscores.
class DxfDrawing {
 public:
  /// Closed; a whole circle becomes a CIRCLE.
  void add(const std::string& layer, const Loop& loop);
  void add_line(const std::string& layer, const Eigen::Vector2d& from, const Eigen::Vector2d& to);
  /// A cross of the given half-length on a point to be drilled or centred.
  void add_cross(const std::string& layer, const Eigen::Vector2d& at, double half);
  /// ASCII; `height` in m.
  void add_text(const std::string& layer, const Eigen::Vector2d& at, double height,
                const std::string& text);
  /// The whole file.
  std::string text() const;

 private:
  void use(const std::string& layer);

  std::vector<std::string> layers_;
  std::string entities_;
};

/// Outline on `layer`, holes on `layer`_HOLES.
void add_part(DxfDrawing& drawing, const std::string& layer, const FlatPart& part);

}  // namespace lodegear
