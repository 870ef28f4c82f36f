// tools/pictures/colour_scale.cpp — colours whose steps look even, and survive grey print.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/pictures/colour_scale.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace lodegear {

namespace {

double to_linear(double s) { return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4); }
double from_linear(double x) {
  return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
}
std::uint8_t channel(double linear) {
  return static_cast<std::uint8_t>(
      std::lround(255 * std::clamp(from_linear(std::clamp(linear, 0.0, 1.0)), 0.0, 1.0)));
}

/// Lightness, chroma and hue [degrees].
OkLab polar(double l, double chroma, double hue) {
  const double h = hue * std::numbers::pi / 180;
  return {l, chroma * std::cos(h), chroma * std::sin(h)};
}

OkLab between(const OkLab& x, const OkLab& y, double t) {
  return {x.l + t * (y.l - x.l), x.a + t * (y.a - x.a), x.b + t * (y.b - x.b)};
}

}  // namespace

Colour srgb(const OkLab& lab) {
  const double l = std::pow(lab.l + 0.3963377774 * lab.a + 0.2158037573 * lab.b, 3);
  const double m = std::pow(lab.l - 0.1055613458 * lab.a - 0.0638541728 * lab.b, 3);
  const double s = std::pow(lab.l - 0.0894841775 * lab.a - 1.2914855480 * lab.b, 3);
  return {channel(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
          channel(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          channel(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

OkLab oklab(const Colour& colour) {
  const double r = to_linear(colour.r / 255.0), g = to_linear(colour.g / 255.0),
               b = to_linear(colour.b / 255.0);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
          1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

Colour field_colour(double value) {
  const double t = std::clamp(value, 0.0, 1.0);
  // Chroma rises to the middle and falls to either end, where no strong colour exists.
  const double chroma = 0.015 + 0.105 * std::sin(std::numbers::pi * std::min(1.0, 1.1 * t));
  return srgb(polar(0.97 - 0.72 * t, chroma, 95 + 195 * t));
}

Colour margin_colour(double margin) {
  const OkLab clay = polar(0.50, 0.15, 35), amber = polar(0.80, 0.13, 80);
  const OkLab paper = polar(0.95, 0.01, 100), slate = polar(0.55, 0.05, 240);
  if (margin < 0.0) return srgb(clay);
  if (margin < 0.3) return srgb(between(amber, paper, margin / 0.3));
  return srgb(between(paper, slate, std::min(1.0, (margin - 0.3) / 0.7)));
}

double luminance(const Colour& c) {
  return 0.2126 * to_linear(c.r / 255.0) + 0.7152 * to_linear(c.g / 255.0) +
         0.0722 * to_linear(c.b / 255.0);
}

double contrast(const Colour& x, const Colour& y) {
  const auto [darker, lighter] = std::minmax({luminance(x), luminance(y)});
  return (lighter + 0.05) / (darker + 0.05);
}

Colour readable_on(const Colour& ground) {
  const Colour black{0, 0, 0}, white{255, 255, 255};
  return contrast(ground, white) >= contrast(ground, black) ? white : black;
}

std::string hex(const Colour& colour) {
  char text[8];
  std::snprintf(text, sizeof text, "#%02x%02x%02x", colour.r, colour.g, colour.b);
  return text;
}

}  // namespace lodegear
