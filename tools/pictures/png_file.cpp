// tools/pictures/png_file.cpp — pixels as a PNG file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/pictures/png_file.h"

#include <png.h>

#include <map>
#include <stdexcept>

namespace lodegear {

namespace {

/// At most 256 different colours, and which each pixel has; empty if there are more.
struct Palette {
  std::vector<png_color> colours;
  std::vector<std::uint8_t> index;
};
Palette palette_of(const Raster& raster) {
  Palette palette;
  std::map<std::uint32_t, std::uint8_t> found;
  for (const Colour& c : raster.pixels) {
    const std::uint32_t key = static_cast<std::uint32_t>(c.r << 16 | c.g << 8 | c.b);
    const auto [place, is_new] =
        found.try_emplace(key, static_cast<std::uint8_t>(palette.colours.size()));
    if (is_new) {
      if (palette.colours.size() == 256) return {};
      palette.colours.push_back({c.r, c.g, c.b});
    }
    palette.index.push_back(place->second);
  }
  return palette;
}

}  // namespace

std::string png_bytes(const Raster& raster) {
  const Palette palette = palette_of(raster);
  const bool few = !palette.colours.empty();
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(raster.width);
  image.height = static_cast<png_uint_32>(raster.height);
  image.format = few ? PNG_FORMAT_RGB_COLORMAP : PNG_FORMAT_RGB;
  image.colormap_entries = static_cast<png_uint_32>(palette.colours.size());
  const void* pixels = few ? static_cast<const void*>(palette.index.data()) : raster.pixels.data();
  static_assert(sizeof(Colour) == 3, "three bytes a pixel");
  png_alloc_size_t size = 0;
  if (!png_image_write_get_memory_size(image, size, 0, pixels, 0, palette.colours.data()))
    throw std::runtime_error(std::string("a picture cannot be written: ") + image.message);
  std::string bytes(size, '\0');
  if (!png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels, 0, palette.colours.data()))
    throw std::runtime_error(std::string("a picture cannot be written: ") + image.message);
  bytes.resize(size);
  return bytes;
}

}  // namespace lodegear
