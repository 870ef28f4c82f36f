// tests/mesh/gmsh_session_test.cpp — the mesher leaves nothing behind.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/gmsh_session.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <string>

using namespace lodegear;

namespace {

/// One that is not there is as good as empty.
std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

}  // namespace

TEST_CASE("gmsh session: the environment is afterwards what it was", "[mesh][gmsh]") {
  // Gmsh adds to both at every start: after thousands of meshes, as in a study, they were
  // megabytes.
  const auto path = variable("PATH"), python_path = variable("PYTHONPATH");
  PolygonFaces square;
  square.points = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
  square.faces = {{{0, 1, 2, 3}}};
  for (int i = 0; i < 2; ++i) {
    const Triangulation t = triangulation(
        square, [](const auto&) { return 0.5; }, "a square");
    CHECK(t.triangles.size() >= 2);
    CHECK(variable("PATH") == path);
    CHECK(variable("PYTHONPATH") == python_path);
  }
}
