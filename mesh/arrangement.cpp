// mesh/arrangement.cpp — labelled faces of overlapping outlines.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/arrangement.h"

#include <algorithm>

#include "mesh/pieces.h"

namespace lodegear {

static std::vector<Curve> all_curves(const Outline& domain, const std::vector<Outline>& outlines) {
  std::vector<Curve> curves;
  const auto add = [&curves](const Outline& o) {
    for (const Loop& loop : o.loops) curves.insert(curves.end(), loop.begin(), loop.end());
  };
  add(domain);
  for (const Outline& o : outlines) add(o);
  return curves;
}

static double size_of(const std::vector<Curve>& curves) {
  double size = 0.0;
  for (const Curve& c : curves) size = std::max({size, c.from.norm(), c.to.norm()});
  return size;
}

static void label_faces(Arrangement& a, const Outline& domain,
                        const std::vector<Outline>& outlines) {
  for (ArrangementFace& face : a.faces) {
    const Eigen::Vector2d x = interior_point(a, face);
    if (!contains(domain, x)) continue;
    face.label = domain.label;
    for (const Outline& o : outlines)
      if (contains(o, x)) face.label = o.label;
  }
}

static bool separates(const Arrangement& a, const ArrangementEdge& e) {
  const auto label = [&a](int face) {
    return face < 0 ? std::nullopt : a.faces[static_cast<std::size_t>(face)].label;
  };
  const auto left = label(e.left), right = label(e.right);
  if (!left || !right) return left.has_value() != right.has_value();
  return *left != *right;
}

Arrangement arrangement(const Outline& domain, const std::vector<Outline>& outlines) {
  std::vector<Curve> curves = all_curves(domain, outlines);
  const double tolerance = coincidence_tolerance * size_of(curves);
  std::erase_if(curves, [tolerance](const Curve& c) { return length(c) < tolerance; });
  Arrangement result = cut_into_pieces(curves, tolerance);
  find_faces(result);
  label_faces(result, domain, outlines);
  std::erase_if(result.edges, [&](const ArrangementEdge& e) { return !separates(result, e); });
  join_pieces(result);
  find_faces(result);
  label_faces(result, domain, outlines);
  return result;
}

}  // namespace lodegear
