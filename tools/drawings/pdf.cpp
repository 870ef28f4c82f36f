// tools/drawings/pdf.cpp — pages as one PDF, true to size.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/pdf.h"

#include <cairo-pdf.h>
#include <fontconfig/fontconfig.h>

#include <cmath>
#include <memory>
#include <stdexcept>

#include "cases/units.h"

namespace lodegear {

using Eigen::Vector2d;

namespace {

constexpr double points_per_metre = 72 / 0.0254;  // PDF 1.7 (ISO 32000-1), 8.3.2.3

cairo_status_t take(void* bytes, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// Draws in millimetres from the upper left corner, as SVG does.
class Writer {
 public:
  Writer(cairo_t* cairo, double height) : cairo_(cairo), height_(height) {}

  void operator()(const PageShape& shape) const {
    cairo_new_path(cairo_);
    for (const Loop& loop : shape.loops) {
      cairo_new_sub_path(cairo_);
      const Vector2d start = on_paper(loop.front().from);
      cairo_move_to(cairo_, start.x(), start.y());
      for (const Curve& c : loop) add(c);
      if (!shape.open) cairo_close_path(cairo_);
    }
    if (shape.fill && !shape.open) {
      cairo_set_source_rgb(cairo_, shape.fill->red / 255.0, shape.fill->green / 255.0,
                           shape.fill->blue / 255.0);
      cairo_fill_preserve(cairo_);
    }
    cairo_set_source_rgb(cairo_, 0, 0, 0);
    if (shape.pen.width > 0.0) stroke(shape.pen);
    cairo_new_path(cairo_);
  }

  void operator()(const PageText& words) const {
    cairo_save(cairo_);
    cairo_select_font_face(cairo_, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           words.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo_, to_mm(words.height));
    cairo_text_extents_t size;
    cairo_text_extents(cairo_, words.text.c_str(), &size);
    const Vector2d at = on_paper(words.at);
    cairo_translate(cairo_, at.x(), at.y());
    cairo_rotate(cairo_, -words.angle);
    const double part = words.anchor == Anchor::start ? 0.0 : words.anchor == Anchor::end ? 1 : 0.5;
    cairo_move_to(cairo_, -part * size.x_advance, 0);
    cairo_set_source_rgb(cairo_, 0, 0, 0);
    cairo_show_text(cairo_, words.text.c_str());
    cairo_restore(cairo_);
  }

  void all(const std::vector<PageItem>& items) const {
    for (const PageItem& item : items) std::visit(*this, item);
  }

  void clip(const Extent& window) const {
    const Vector2d corner = on_paper({window.low.x(), window.high.y()});
    cairo_rectangle(cairo_, corner.x(), corner.y(), to_mm(window.size().x()),
                    to_mm(window.size().y()));
    cairo_clip(cairo_);
  }

 private:
  Vector2d on_paper(const Vector2d& x) const { return {to_mm(x.x()), to_mm(height_ - x.y())}; }

  void add(const Curve& c) const {
    const Vector2d to = on_paper(c.to), centre = on_paper(c.centre);
    if (!c.is_arc()) {
      cairo_line_to(cairo_, to.x(), to.y());
      return;
    }
    const Vector2d arm = c.from - c.centre;
    // y grows downwards on the paper, so angles change their sign.
    const double from = -std::atan2(arm.y(), arm.x());
    const auto arc = c.sweep > 0.0 ? cairo_arc_negative : cairo_arc;
    arc(cairo_, centre.x(), centre.y(), to_mm(c.radius), from, from - c.sweep);
  }

  void stroke(const Pen& pen) const {
    static constexpr double dashes[] = {2.0, 1.0};  // mm
    cairo_set_dash(cairo_, dashes, pen.dashed ? 2 : 0, 0);
    cairo_set_line_width(cairo_, to_mm(pen.width));
    cairo_stroke(cairo_);
  }

  cairo_t* cairo_;
  double height_;  // m
};

void draw(cairo_surface_t* surface, const Page& page) {
  cairo_pdf_surface_set_size(surface, page.width * points_per_metre,
                             page.height * points_per_metre);
  const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> cairo(cairo_create(surface),
                                                                 cairo_destroy);
  cairo_scale(cairo.get(), points_per_metre / 1000, points_per_metre / 1000);
  cairo_set_fill_rule(cairo.get(), CAIRO_FILL_RULE_EVEN_ODD);
  // Paper has no pixels to which the widths of letters would have to be rounded.
  const std::unique_ptr<cairo_font_options_t, decltype(&cairo_font_options_destroy)> options(
      cairo_font_options_create(), cairo_font_options_destroy);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(cairo.get(), options.get());
  const Writer writer(cairo.get(), page.height);
  if (page.window) {
    cairo_save(cairo.get());
    writer.clip(*page.window);
    writer.all(page.clipped);
    cairo_restore(cairo.get());
  }
  writer.all(page.items);
  cairo_show_page(cairo.get());
}

using Surface = std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)>;

void draw_all(const Surface& surface, const Sheets& sheets, const std::string& title) {
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
  int number = 0;
  for (const auto& [name, page] : sheets) {
    const std::string to = "page=" + std::to_string(++number);
    cairo_pdf_surface_add_outline(surface.get(), CAIRO_PDF_OUTLINE_ROOT, name.c_str(), to.c_str(),
                                  CAIRO_PDF_OUTLINE_FLAG_OPEN);
    draw(surface.get(), page);
  }
  cairo_surface_finish(surface.get());
  if (const auto status = cairo_surface_status(surface.get()); status != CAIRO_STATUS_SUCCESS)
    throw std::runtime_error(std::string("the drawings cannot be written as PDF: ") +
                             cairo_status_to_string(status));
}

/// Both libraries keep fonts for ever, which would look like a leak.
struct FontsGoWithUs {
  FontsGoWithUs() = default;
  FontsGoWithUs(const FontsGoWithUs&) = delete;
  FontsGoWithUs& operator=(const FontsGoWithUs&) = delete;
  ~FontsGoWithUs() {
    cairo_debug_reset_static_data();
    FcFini();
  }
};

}  // namespace

std::string pdf_bytes(const Sheets& sheets, const std::string& title) {
  const FontsGoWithUs fonts;  // after the surface is gone
  std::string bytes;
  const Surface surface(cairo_pdf_surface_create_for_stream(take, &bytes, 0, 0),
                        cairo_surface_destroy);
  draw_all(surface, sheets, title);
  return bytes;
}

}  // namespace lodegear
