// tools/pictures/field_picture.h — a cross-section with its field, as a picture.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "tools/pictures/field_raster.h"
#include "tools/pictures/png_file.h"

namespace lodegear {

/// What the colours mean.
enum class Shown {
  flux_density,  ///< |B|, from paper at 0 to ink at `most`
  margin,        ///< of the magnets (TriangleNumbers), everything else pale
  /// W/m³ (TriangleNumbers), everything else pale; from paper, four powers of ten below `most`, to
  /// ink at `most`: steel, magnets and cans lose that differently.
  loss,
};

struct PictureStyle {
  Shown shown = Shown::flux_density;
  /// T or W/m³ at the dark end of the scale; 0 = a round number (of losses a power of ten) above
  /// all but 0.2 %.
  double most = 0.0;
  double flux_step = 0;  ///< Wb/m between flux lines; 0 = sixteen over the range of A, < 0 = none
};

/// Two samples a pixel and direction are averaged; flux lines in the colour of ink or paper,
/// whichever stands out; a fine line between parts. Equal `most` and `flux_step` make frames of an
/// animation comparable.
Raster field_picture(const FieldRaster& samples, const PictureStyle& style);

/// The style with `most` and `flux_step` filled from the samples where they are 0.
PictureStyle settled_style(const FieldRaster& samples, PictureStyle style);

/// The picture beside its scale, with a title for screen readers, as one SVG file that holds the
/// pixels within itself.
std::string field_svg(const Raster& picture, const PictureStyle& style, const std::string& title);

/// "data:image/png;base64,…".
std::string png_data_address(const Raster& picture);

}  // namespace lodegear
