// tools/pictures/colour_scale.h — colours whose steps look even, and survive grey print.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <cstdint>
#include <string>

namespace lodegear {

struct Colour {
  std::uint8_t r = 0, g = 0, b = 0;
};

/// A colour of the OKLab space: lightness 0 … 1, and two axes of chroma.
/// Source of the space: Ottosson, "A perceptual color space for image processing" (2020); its
/// matrices are quoted from memory and tested by their fixed points.
struct OkLab {
  double l = 0.0, a = 0.0, b = 0.0;
};
/// Nearest colour of sRGB (IEC 61966-2-1).
Colour srgb(const OkLab& lab);
OkLab oklab(const Colour& colour);

/// From paper at 0 over straw and moss to ink at 1: lightness falls in proportion, hue turns
/// steadily, so that equal steps of the value look equal and a grey print keeps their order.
/// Values outside are held at the ends.
Colour field_colour(double value);

/// What magnets lose: clay below 0 (beyond the knee), then from amber over paper to slate at 1.
Colour margin_colour(double margin);

/// Relative luminance, 0 … 1, and the contrast of two colours, 1 … 21. Source: WCAG 2.1.
double luminance(const Colour& colour);
double contrast(const Colour& x, const Colour& y);
/// Black or white, whichever stands out more; at least 4.58 to 1 on any colour.
Colour readable_on(const Colour& ground);

/// "#a1b2c3".
std::string hex(const Colour& colour);

}  // namespace lodegear
