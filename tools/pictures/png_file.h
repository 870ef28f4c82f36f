// tools/pictures/png_file.h — pixels as a PNG file; the only door to libpng.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "tools/pictures/colour_scale.h"

namespace lodegear {

/// Row by row from the top left.
struct Raster {
  Raster() = default;
  Raster(int w, int h, Colour all)
      : width(w),
        height(h),
        pixels(static_cast<std::size_t>(w) * static_cast<std::size_t>(h), all) {}
  Colour& at(int x, int y) { return pixels[index(x, y)]; }
  const Colour& at(int x, int y) const { return pixels[index(x, y)]; }
  std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
           static_cast<std::size_t>(x);
  }

  int width = 0, height = 0;
  std::vector<Colour> pixels;
};

/// The bytes of a PNG file, 8 bits a channel; with a palette where 256 colours are enough. No dates
/// in it: the same pixels give the same bytes.
std::string png_bytes(const Raster& raster);

}  // namespace lodegear
