// mesh/gmsh_session.cpp — talking to Gmsh.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/gmsh_session.h"

#include <gmsh.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <mutex>
#include <stdexcept>

namespace lodegear {

using Eigen::Vector2d;

namespace {

/// An environment variable that is afterwards what it was. One that was not there is then empty:
/// taking it out would move the others while other threads may read them.
class KeptVariable {
 public:
  explicit KeptVariable(const char* name) : name_(name) {
    if (const char* value = std::getenv(name)) value_ = value;
  }
  ~KeptVariable() { setenv(name_, value_.c_str(), 1); }
  KeptVariable(const KeptVariable&) = delete;
  KeptVariable& operator=(const KeptVariable&) = delete;

 private:
  const char* name_;
  std::string value_;
};

/// Gmsh from initialize to finalize. Its mesh of a second model in one session differs in the last
/// bits from that of a first, so every mesh gets a session of its own; its model is global, so
/// sessions take turns.
class GmshSession {
 public:
  GmshSession() : lock_(turn()) {
    gmsh::initialize(0, nullptr, false);
    for (const auto& [option, value] : {
             std::pair{"General.Terminal", 0.0},
             {"General.AbortOnError", 0.0},  // others end the process inside the mesher
             {"General.NumThreads", 1.0},
             {"Mesh.Algorithm", 6.0},  // frontal Delaunay
             {"Mesh.RandomSeed", 1.0},
             {"Mesh.MeshSizeExtendFromBoundary", 0.0},
             {"Mesh.MeshSizeFromPoints", 0.0},
             {"Mesh.MeshSizeFromCurvature", 0.0},
         })
      gmsh::option::setNumber(option, value);
    gmsh::model::add("member");
  }
  ~GmshSession() { gmsh::finalize(); }
  GmshSession(const GmshSession&) = delete;
  GmshSession& operator=(const GmshSession&) = delete;

 private:
  static std::mutex& turn() {
    static std::mutex mutex;
    return mutex;
  }
  std::lock_guard<std::mutex> lock_;
  // At every start Gmsh adds the program's folder to these once more: thousands of meshes later
  // they would fill the memory.
  KeptVariable path_{"PATH"}, python_path_{"PYTHONPATH"};
};

/// Sides of the polygons as lines of one element each, every face a plane surface.
void draw(const PolygonFaces& polygons, double scale) {
  std::vector<bool> used(polygons.points.size(), false);
  for (const auto& face : polygons.faces)
    for (const auto& loop : face)
      for (int p : loop) used[static_cast<std::size_t>(p)] = true;
  for (std::size_t p = 0; p < used.size(); ++p)
    if (used[p])
      gmsh::model::geo::addPoint(scale * polygons.points[p].x(), scale * polygons.points[p].y(),
                                 0.0, 0.0, static_cast<int>(p) + 1);
  std::map<std::pair<int, int>, int> lines;
  const auto line = [&lines](int a, int b) {
    int& tag = lines[std::minmax(a, b)];
    if (tag == 0) {
      tag = static_cast<int>(lines.size());
      gmsh::model::geo::addLine(std::min(a, b) + 1, std::max(a, b) + 1, tag);
      gmsh::model::geo::mesh::setTransfiniteCurve(tag, 2);
    }
    return a < b ? tag : -tag;
  };
  for (std::size_t f = 0; f < polygons.faces.size(); ++f) {
    std::vector<int> loops;
    for (const auto& loop : polygons.faces[f]) {
      std::vector<int> sides;
      for (std::size_t i = 0; i < loop.size(); ++i)
        sides.push_back(line(loop[i], loop[(i + 1) % loop.size()]));
      loops.push_back(gmsh::model::geo::addCurveLoop(sides));
    }
    gmsh::model::geo::addPlaneSurface(loops, static_cast<int>(f) + 1);
  }
  gmsh::model::geo::synchronize();
}

/// Gmsh's node tags as indices: given points keep theirs, new ones are appended.
std::map<std::size_t, int> numbered_nodes(Triangulation& result, double scale) {
  std::map<std::size_t, int> index;
  gmsh::vectorpair points;
  gmsh::model::getEntities(points, 0);
  std::vector<std::size_t> tags;
  std::vector<double> x, parameters;
  gmsh::model::mesh::getNodes(tags, x, parameters, 0);
  if (tags.size() != points.size()) throw std::runtime_error("a corner point has no node");
  for (std::size_t i = 0; i < tags.size(); ++i) {
    const int p = points[i].second - 1;
    const Vector2d given = scale * result.points[static_cast<std::size_t>(p)];
    if (given.x() != x[3 * i] || given.y() != x[3 * i + 1])
      throw std::runtime_error("a corner point has moved");
    index[tags[i]] = p;
  }
  gmsh::model::mesh::getNodes(tags, x, parameters, 1);
  if (!tags.empty()) throw std::runtime_error("a side was cut");
  gmsh::model::mesh::getNodes(tags, x, parameters, 2);
  for (std::size_t i = 0; i < tags.size(); ++i) {
    index[tags[i]] = static_cast<int>(result.points.size());
    result.points.push_back(Vector2d(x[3 * i], x[3 * i + 1]) / scale);
  }
  return index;
}

void append_triangles(Triangulation& result, const std::map<std::size_t, int>& index, int face) {
  constexpr int three_node_triangle = 2;
  std::vector<std::size_t> elements, nodes;
  gmsh::model::mesh::getElementsByType(three_node_triangle, elements, nodes, face + 1);
  if (elements.empty()) throw std::runtime_error("a face has no triangles");
  for (std::size_t t = 0; t < elements.size(); ++t) {
    std::array<int, 3> corners{};
    for (std::size_t i = 0; i < 3; ++i) corners[i] = index.at(nodes[3 * t + i]);
    const auto x = [&](int i) -> const Vector2d& {
      return result.points[static_cast<std::size_t>(corners[static_cast<std::size_t>(i)])];
    };
    const Vector2d a = x(1) - x(0), b = x(2) - x(0);
    if (a.x() * b.y() - a.y() * b.x() < 0.0) std::swap(corners[1], corners[2]);
    result.triangles.push_back(corners);
    result.face.push_back(face);
  }
}

Triangulation meshed(const PolygonFaces& polygons,
                     const std::function<double(const Vector2d&)>& size) {
  double extent = 0.0;
  for (const Vector2d& x : polygons.points) extent = std::max(extent, x.norm());
  const double scale = 1.0 / extent;  // Gmsh's own tolerances are meant for lengths about 1
  const GmshSession session;
  draw(polygons, scale);
  gmsh::model::mesh::setSizeCallback([&size, scale](int, int, double x, double y, double) {
    return scale * size(Vector2d(x, y) / scale);
  });
  gmsh::model::mesh::generate(2);
  std::string error;
  gmsh::logger::getLastError(error);
  if (!error.empty()) throw std::runtime_error(error);
  Triangulation result{polygons.points, {}, {}};
  const std::map<std::size_t, int> index = numbered_nodes(result, scale);
  for (std::size_t f = 0; f < polygons.faces.size(); ++f)
    append_triangles(result, index, static_cast<int>(f));
  return result;
}

}  // namespace

Triangulation triangulation(const PolygonFaces& polygons,
                            const std::function<double(const Vector2d&)>& size,
                            const std::string& name) {
  try {
    return meshed(polygons, size);
  } catch (const std::string& e) {  // Gmsh throws these
    throw std::runtime_error("no mesh of the " + name + ": " + e);
  } catch (const std::exception& e) {
    throw std::runtime_error("no mesh of the " + name + ": " + e.what());
  }
}

}  // namespace lodegear
