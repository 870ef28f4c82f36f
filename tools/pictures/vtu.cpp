// tools/pictures/vtu.cpp — mesh and field for viewers of unstructured grids.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/pictures/vtu.h"

#include <Eigen/Geometry>
#include <charconv>
#include <cmath>

#include "solver/post/flux_density.h"

namespace lodegear {

namespace {

constexpr int quadratic_triangle = 22;  // VTK's number of the cell

std::string shortest(double x) {
  char buffer[32];
  return {buffer, std::to_chars(buffer, buffer + sizeof buffer, x).ptr};
}

/// One DataArray, filled number by number.
class DataArray {
 public:
  DataArray(const char* type, const char* name, int components)
      : text_(std::string("<DataArray type=\"") + type + "\" Name=\"" + name +
              "\" NumberOfComponents=\"" + std::to_string(components) + "\" format=\"ascii\">\n") {}
  void add(double x) { text_ += shortest(x) + ' '; }
  void add(int x) { text_ += std::to_string(x) + ' '; }
  void end_row() { text_.back() = '\n'; }
  std::string text() const { return text_ + "</DataArray>\n"; }

 private:
  std::string text_;
};

struct Grid {
  explicit Grid(const std::string& name_of_more) : more("Float64", name_of_more.c_str(), 1) {}
  DataArray points{"Float64", "points", 3}, a{"Float64", "A", 1};
  DataArray connectivity{"Int32", "connectivity", 1}, offsets{"Int32", "offsets", 1};
  DataArray types{"UInt8", "types", 1};
  DataArray b{"Float64", "B", 3}, member{"Int32", "member", 1}, kind{"Int32", "kind", 1};
  DataArray index{"Int32", "index", 1}, more;
  int n_points = 0, n_cells = 0;
};

void add(const FieldMember& field, const Eigen::VectorXd& a, double angle, Grid& grid) {
  const MemberMesh& mesh = field.mesh;
  const Eigen::Rotation2Dd turn(angle);
  for (int i = 0; i < mesh.nodes.rows(); ++i) {
    const Eigen::Vector2d x = turn * Eigen::Vector2d(mesh.nodes.row(i).transpose());
    for (const double value : {x[0], x[1], 0.0}) grid.points.add(value);
    grid.points.end_row();
    grid.a.add(a[i]);
  }
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    for (const int node : mesh.triangles.row(t)) grid.connectivity.add(grid.n_points + node);
    grid.connectivity.end_row();
    grid.offsets.add(6 * ++grid.n_cells);
    grid.types.add(quadratic_triangle);
    const Eigen::Vector2d b = turn * flux_density(mesh, a, {t, 1.0 / 3, 1.0 / 3});
    for (const double value : {b[0], b[1], 0.0}) grid.b.add(value);
    grid.b.end_row();
    const MeshRegion& region = field.region(t);
    grid.member.add(static_cast<int>(mesh.member));
    grid.kind.add(static_cast<int>(region.kind));
    grid.index.add(region.index);
  }
  grid.n_points += static_cast<int>(mesh.nodes.rows());
}

}  // namespace

std::string vtu_text(const FieldProblem& problem, const FieldSolution& solution,
                     const CellNumbers& more) {
  Grid grid(more.name);
  for (std::size_t m = 0; m < problem.members.size(); ++m)
    add(problem.members[m], solution.a[m], solution.position.of(problem.members[m].mesh.member),
        grid);
  for (const std::vector<double>& values : more.values)
    for (const double value : values) grid.more.add(std::isnan(value) ? more.else_ : value);
  return "<?xml version=\"1.0\"?>\n"
         "<VTKFile type=\"UnstructuredGrid\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
         "<UnstructuredGrid>\n<Piece NumberOfPoints=\"" +
         std::to_string(grid.n_points) + "\" NumberOfCells=\"" + std::to_string(grid.n_cells) +
         "\">\n<PointData Scalars=\"A\">\n" + grid.a.text() +
         "</PointData>\n<CellData Vectors=\"B\">\n" + grid.b.text() + grid.member.text() +
         grid.kind.text() + grid.index.text() + (more.name.empty() ? "" : grid.more.text()) +
         "</CellData>\n<Points>\n" + grid.points.text() + "</Points>\n<Cells>\n" +
         grid.connectivity.text() + grid.offsets.text() + grid.types.text() +
         "</Cells>\n</Piece>\n</UnstructuredGrid>\n</VTKFile>\n";
}

}  // namespace lodegear
