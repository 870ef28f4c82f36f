// tools/drawings/svg.cpp — paths and words of SVG 1.1.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/svg.h"

#include <cmath>

#include "cases/units.h"
#include "materials/words.h"
#include "tools/markup.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

std::string number(double metres) { return rounded_text(to_mm(metres), 4); }

std::string colour(const Tint& tint) {
  return "rgb(" + std::to_string(tint.red) + "," + std::to_string(tint.green) + "," +
         std::to_string(tint.blue) + ")";
}

class Writer {
 public:
  explicit Writer(double height) : height_(height) {}

  std::string operator()(const PageShape& shape) const {
    std::string path;
    for (const Loop& loop : shape.loops) {
      path += "M" + point(loop.front().from);
      for (const Curve& c : loop) path += step(c);
      if (!shape.open) path += "Z";
    }
    std::string text = "<path d=\"" + path + "\" fill=\"" +
                       (shape.fill && !shape.open ? colour(*shape.fill) : "none") +
                       "\" fill-rule=\"evenodd\"";
    if (shape.pen.width > 0.0)
      text += " stroke=\"black\" stroke-width=\"" + number(shape.pen.width) + "\"";
    if (shape.pen.dashed) text += " stroke-dasharray=\"2 1\"";
    return text + "/>\n";
  }

  std::string operator()(const PageText& words) const {
    static constexpr const char* anchors[] = {"start", "middle", "end"};
    const std::string x = number(words.at.x()), y = number(height_ - words.at.y());
    std::string text = "<text x=\"" + x + "\" y=\"" + y + "\" font-size=\"" + number(words.height) +
                       "\" text-anchor=\"" + anchors[static_cast<int>(words.anchor)] + "\"";
    if (words.bold) text += " font-weight=\"bold\"";
    if (words.angle != 0.0)
      text += " transform=\"rotate(" + rounded_text(-to_deg(words.angle), 3) + " " + x + " " + y +
              ")\"";
    return text + ">" + escaped(words.text) + "</text>\n";
  }

  std::string all(const std::vector<PageItem>& items) const {
    std::string text;
    for (const PageItem& item : items) text += std::visit(*this, item);
    return text;
  }

 private:
  std::string point(const Vector2d& x) const {
    return number(x.x()) + " " + number(height_ - x.y());
  }
  std::string step(const Curve& c) const {
    if (!c.is_arc()) return "L" + point(c.to);
    const std::string r = number(c.radius);
    // y grows downwards on the screen, so a counter-clockwise arc is of negative sweep there.
    return "A" + r + " " + r + " 0 0 " + (c.sweep > 0.0 ? "0 " : "1 ") + point(c.to);
  }

  double height_;
};

}  // namespace

std::string svg_text(const Page& page) {
  const Writer writer(page.height);
  const std::string w = number(page.width), h = number(page.height);
  std::string text =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" +
      w + "mm\" height=\"" + h + "mm\" viewBox=\"0 0 " + w + " " + h +
      "\" font-family=\"DejaVu Sans, Arial, sans-serif\">\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n";
  if (page.window) {
    const Vector2d size = page.window->size();
    text += "<clipPath id=\"window\"><rect x=\"" + number(page.window->low.x()) + "\" y=\"" +
            number(page.height - page.window->high.y()) + "\" width=\"" + number(size.x()) +
            "\" height=\"" + number(size.y()) +
            "\"/></clipPath>\n<g clip-path=\"url(#window)\">\n" + writer.all(page.clipped) +
            "</g>\n";
  }
  return text + writer.all(page.items) + "</svg>\n";
}

}  // namespace lodegear
