// mesh/gmsh_session.h — the only door to Gmsh: triangles inside polygons.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <array>
#include <functional>
#include <string>
#include <vector>

namespace lodegear {

/// Polygons that share whole sides, over common points.
struct PolygonFaces {
  std::vector<Eigen::Vector2d> points;  // m
  std::vector<std::vector<std::vector<int>>>
      faces;  ///< face, loop (outer one first), points in order
};

struct Triangulation {
  std::vector<Eigen::Vector2d> points;        ///< those given, then new ones inside the faces
  std::vector<std::array<int, 3>> triangles;  ///< counter-clockwise
  std::vector<int> face;                      ///< of each triangle
};

/// Triangles that keep every side of the polygons whole; `size` gives the wanted edge length at a
/// point (m). Same input, same bits. One call at a time in a process; others wait.
/// Throws std::runtime_error with `name` in it.
Triangulation triangulation(const PolygonFaces& polygons,
                            const std::function<double(const Eigen::Vector2d&)>& size,
                            const std::string& name);

}  // namespace lodegear
