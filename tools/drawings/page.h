// tools/drawings/page.h — a sheet of paper as plain data: lines, arcs, tints and words.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "tools/drawings/flat_part.h"

namespace lodegear {

// Lengths on the paper in m, x to the right and y upwards from the lower left corner, true size.

struct Tint {
  int red = 255, green = 255, blue = 255;
};
// Light enough for black lines over them, and told apart in grey too.
inline constexpr Tint steel_tint{214, 217, 220}, magnet_tint{250, 232, 200},
    sleeve_tint{196, 222, 214}, carrier_tint{236, 240, 246}, black_tint{0, 0, 0};

struct Pen {
  double width = 0.3e-3;  ///< 0 = no line
  bool dashed = false;
};
inline constexpr Pen outline_pen{0.35e-3, false}, thin_pen{0.15e-3, false},
    hidden_pen{0.2e-3, true}, no_pen{0.0, false};

/// Loops filled by the even-odd rule, or, if open, one chain of curves that is not closed.
struct PageShape {
  std::vector<Loop> loops;
  Pen pen;
  std::optional<Tint> fill;
  bool open = false;
};

enum class Anchor { start, middle, end };
struct PageText {
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< on the base line
  std::string text;                              ///< UTF-8
  double height = 3e-3;                          ///< of the type
  Anchor anchor = Anchor::start;
  double angle = 0.0;
  bool bold = false;
};

using PageItem = std::variant<PageShape, PageText>;

struct Page {
  double width = 0.210, height = 0.297;  ///< A4
  std::vector<PageItem> items;           ///< later over earlier
  std::optional<Extent> window;          ///< `clipped` shows inside it only
  std::vector<PageItem> clipped;
};

/// Where a drawing lies on the paper: scaled, then moved.
struct Placing {
  double scale = 1.0;
  Eigen::Vector2d origin = Eigen::Vector2d::Zero();  ///< of the drawing, on the paper
  Eigen::Vector2d of(const Eigen::Vector2d& x) const { return origin + scale * x; }
  Loop of(Loop loop) const;
};

PageShape drawn(const FlatPart& part, const Placing& placing, Pen pen, std::optional<Tint> fill);
PageShape line_on_page(const Eigen::Vector2d& from, const Eigen::Vector2d& to, Pen pen = thin_pen);
/// A filled arrow head with its tip at `tip`.
PageShape arrow_head(const Eigen::Vector2d& tip, double direction, double length);

/// The height of type at which a text is no wider than `width` m, at most `height`; about, as fonts
/// differ.
double fitting_height(const std::string& text, double height, double width);

/// Words of several lines downwards from `at`, broken where they would leave the paper (A4).
void add_lines(std::vector<PageItem>& items, Eigen::Vector2d at, double height,
               const std::vector<std::string>& lines);
/// The title at the top and the line at the foot that every sheet has.
void add_heading(Page& page, const std::string& title, const std::string& below);
/// A line of 100 mm that tells whether the printer kept the size.
void add_scale_check(Page& page, const Eigen::Vector2d& at);

/// Tint of a part of the cross-section.
std::optional<Tint> tint_of(const MeshRegion& label);

}  // namespace lodegear
