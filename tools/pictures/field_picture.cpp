// tools/pictures/field_picture.cpp — a cross-section with its field, as a picture.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/pictures/field_picture.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "materials/words.h"
#include "tools/markup.h"

namespace lodegear {

namespace {

constexpr Colour paper = {252, 251, 247};
constexpr double line_width = 1.1;  // samples, half of it to either side
constexpr int n_lines = 16;
constexpr int decades = 4;           // of losses on one scale
constexpr int steps_of_scale = 160;  // few colours make small files; more are not told apart

/// A round number at or above x: 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8 times a power of ten.
double round_up(double x) {
  const double power = std::pow(10.0, std::floor(std::log10(x)));
  for (const double round : {1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0})
    if (round * power >= x * (1 - 1e-9)) return round * power;
  return 10 * power;
}

double in_steps(double value) {
  return std::round(std::clamp(value, 0.0, 1.0) * steps_of_scale) / steps_of_scale;
}

Colour base_colour(const FieldSample& sample, const PictureStyle& style) {
  if (sample.part == 0) return paper;
  if (style.shown == Shown::flux_density) return field_colour(in_steps(sample.b / style.most));
  if (!sample.has_value) return {238, 236, 230};
  if (style.shown == Shown::loss)
    return field_colour(in_steps(1 + std::log10(sample.value / style.most) / decades));
  return margin_colour(sample.value < 0 ? -1.0 : in_steps(sample.value));
}

/// How much of a flux line lies on the sample, 0 … 1.
double line_cover(const FieldSample& sample, double flux_step, double width) {
  if (!(flux_step > 0) || sample.part == 0 || !(sample.b > 0)) return 0.0;
  const double levels = sample.a / flux_step;
  const double off = std::abs(levels - std::floor(levels) - 0.5) * flux_step;  // Wb/m
  const double samples_off = off / (sample.b * width);
  return std::clamp(0.5 + line_width - samples_off, 0.0, 1.0);
}

bool edge(const FieldRaster& s, int c, int r) {
  const int here = s.at(c, r).part;
  const bool right = c + 1 < s.points && s.at(c + 1, r).part != here;
  return right || (r + 1 < s.points && s.at(c, r + 1).part != here);
}

struct Sum {
  double r = 0, g = 0, b = 0;
  void add(const Colour& c, double weight) {
    r += weight * c.r;
    g += weight * c.g;
    b += weight * c.b;
  }
  Colour mean(double n) const {
    const auto to = [n](double x) { return static_cast<std::uint8_t>(std::lround(x / n)); };
    return {to(r), to(g), to(b)};
  }
};

Colour blended(const Colour& under, const Colour& over, double cover) {
  Sum sum;
  sum.add(under, 1 - cover);
  sum.add(over, cover);
  return sum.mean(1.0);
}

Colour sample_colour(const FieldRaster& samples, int c, int r, const PictureStyle& style) {
  const FieldSample& sample = samples.at(c, r);
  Colour colour = base_colour(sample, style);
  const double cover = line_cover(sample, style.flux_step, samples.step());
  const bool dark = oklab(colour).l < 0.62;
  colour = blended(colour, dark ? Colour{235, 232, 220} : Colour{40, 44, 60}, 0.75 * cover);
  if (edge(samples, c, r)) colour = blended(colour, {60, 62, 70}, 0.7);
  return colour;
}

std::string base64(const std::string& bytes) {
  static const char* letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto byte = [&](std::size_t j) {
      return j < bytes.size() ? static_cast<unsigned char>(bytes[j]) : 0U;
    };
    const unsigned three = byte(i) << 16 | byte(i + 1) << 8 | byte(i + 2);
    for (std::size_t k = 0; k < 4; ++k)
      text += i + k <= bytes.size() ? letters[three >> (18 - 6 * k) & 63] : '=';
  }
  return text;
}

}  // namespace

PictureStyle settled_style(const FieldRaster& samples, PictureStyle style) {
  const bool loss = style.shown == Shown::loss;
  std::vector<float> shown;
  float least = 0.0F, most = 0.0F;
  for (const FieldSample& sample : samples.samples) {
    if (sample.part == 0) continue;
    if (!loss) shown.push_back(sample.b);
    if (loss && sample.has_value) shown.push_back(sample.value);
    least = std::min(least, sample.a);
    most = std::max(most, sample.a);
  }
  if (style.most <= 0.0) {
    style.most = 1.0;
    if (!shown.empty()) {
      const auto at = shown.begin() +
                      static_cast<std::ptrdiff_t>(0.998 * static_cast<double>(shown.size() - 1));
      std::nth_element(shown.begin(), at, shown.end());
      if (*at > 1e-9F)
        style.most = loss ? std::pow(10.0, std::ceil(std::log10(*at) - 1e-6)) : round_up(*at);
    }
  }
  if (style.flux_step == 0.0) style.flux_step = (most - least) / n_lines;
  return style;
}

Raster field_picture(const FieldRaster& samples, const PictureStyle& wanted) {
  const PictureStyle style = settled_style(samples, wanted);
  const int size = samples.points / 2;
  Raster picture(size, size, paper);
  for (int y = 0; y < size; ++y)
    for (int x = 0; x < size; ++x) {
      Sum sum;
      for (int k = 0; k < 4; ++k)
        sum.add(sample_colour(samples, 2 * x + k % 2, 2 * y + k / 2, style), 1.0);
      Colour mean = sum.mean(4.0);
      // Five bits a channel are enough for the eye and halve the file.
      for (std::uint8_t* channel : {&mean.r, &mean.g, &mean.b})
        *channel = static_cast<std::uint8_t>((*channel & 0xF8) | (*channel >> 5));
      picture.at(x, y) = mean;
    }
  return picture;
}

namespace {

constexpr double least_margin = -0.25;  // the scale of margins goes from here to 1

/// The scale: `part` from 0 to 1 of its length.
Colour scale_colour(double part, const PictureStyle& style) {
  if (style.shown != Shown::margin) return field_colour(part);
  return margin_colour(least_margin + (1 - least_margin) * part);
}

std::string scale_text(double part, const PictureStyle& style) {
  if (style.shown == Shown::margin)
    return rounded_text(100 * (least_margin + (1 - least_margin) * part), 0) + " %";
  if (style.shown == Shown::flux_density) return rounded_text(style.most * part, 2) + " T";
  const int power = static_cast<int>(std::lround(std::log10(style.most) + decades * (part - 1)));
  const int steps = power < 0 ? -1 : std::min(power / 3, 2);  // of a thousand
  static constexpr const char* units[] = {" mW/m³", " W/m³", " kW/m³", " MW/m³"};
  return rounded_text(std::pow(10.0, power - 3 * steps), 0) + units[steps + 1];
}

}  // namespace

std::string png_data_address(const Raster& picture) {
  return "data:image/png;base64," + base64(png_bytes(picture));
}

std::string field_svg(const Raster& picture, const PictureStyle& style, const std::string& title) {
  const int w = picture.width, h = picture.height, bar = 18,
            room = style.shown == Shown::loss ? 132 : 96;
  std::ostringstream svg;
  svg.imbue(std::locale::classic());
  svg << "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " << w + room << ' ' << h
      << "\" role=\"img\" font-family=\"sans-serif\" font-size=\"15\">\n<title>" << escaped(title)
      << "</title>\n<image width=\"" << w << "\" height=\"" << h << "\" href=\""
      << png_data_address(picture) << "\"/>\n";
  const int top = h / 8, length = h * 3 / 4, blocks = 64;
  for (int i = 0; i < blocks; ++i) {
    const double value = 1 - (i + 0.5) / blocks;
    const double y = top + length * static_cast<double>(i) / blocks;
    svg << "<rect x=\"" << w + 12 << "\" y=\"" << y << "\" width=\"" << bar << "\" height=\""
        << static_cast<double>(length) / blocks + 0.6 << "\" fill=\""
        << hex(scale_colour(value, style)) << "\"/>\n";
  }
  svg << "<rect x=\"" << w + 12 << "\" y=\"" << top << "\" width=\"" << bar << "\" height=\""
      << length << "\" fill=\"none\" stroke=\"#808080\"/>\n";  // ends show on any ground
  const int ticks = style.shown == Shown::margin ? 5 : 4;
  for (int i = 0; i <= ticks; ++i) {
    const double part = static_cast<double>(i) / ticks;
    const double y = top + length * (1 - part) + 5;
    svg << "<text class=\"scale\" x=\"" << w + 36 << "\" y=\"" << y << "\">"
        << scale_text(part, style) << "</text>\n";
  }
  svg << "</svg>\n";
  return svg.str();
}

}  // namespace lodegear
