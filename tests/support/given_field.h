// tests/support/given_field.h — a time series of a field that is written down, not solved.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>

#include "materials/constants.h"
#include "solver/post/flux_loci.h"

namespace lodegear {

/// One member that stands for itself, in a field that repeats after 2π of phase.
class GivenField {
 public:
  explicit GivenField(MemberMesh mesh, const Reluctivity& law = Reluctivity::constant(nu0)) {
    FieldMember member;
    member.mesh = std::move(mesh);
    member.laws.resize(member.mesh.regions.size());
    for (RegionLaw& l : member.laws) l.reluctivity = law;
    problem_.members.push_back(std::move(member));
  }

  /// A(x, phase), Wb/m, at `samples` even phases.
  MemberHistory history(const std::function<double(const Eigen::Vector2d&, double)>& a,
                        int samples) {
    cycle_ = {};
    cycle_.step = 2 * pi;
    cycle_.positions.resize(static_cast<std::size_t>(samples));
    cycle_.members.resize(1);
    HistoryRecorder recorder(problem_, cycle_);
    const auto& nodes = problem_.members.front().mesh.nodes;
    for (int i = 0; i < samples; ++i) {
      Eigen::VectorXd values(nodes.rows());
      for (int n = 0; n < nodes.rows(); ++n)
        values[n] = a(nodes.row(n).transpose(), 2 * pi * i / samples);
      recorder.record(i, std::vector{values});
    }
    return std::move(recorder).histories().front();
  }

  /// B(phase), T, uniform: A = B_x y − B_y x.
  MemberHistory uniform(const std::function<Eigen::Vector2d(double)>& b, int samples) {
    return history([&b](const Eigen::Vector2d& x,
                        double phase) { return b(phase)[0] * x[1] - b(phase)[1] * x[0]; },
                   samples);
  }

  const MemberMesh& mesh() const { return problem_.members.front().mesh; }

 private:
  FieldProblem problem_;
  LossCycle cycle_;
};

/// A rectangle centred at (centre, 0), width along y, cut into cells of two straight triangles.
inline MemberMesh rectangle_mesh(double centre, double height, double width, int cells,
                                 const MeshRegion& region) {
  MemberMesh mesh;
  mesh.regions = {region};
  const int side = 2 * cells + 1;
  mesh.nodes.resize(side * side, 2);
  for (int i = 0; i < side; ++i)
    for (int j = 0; j < side; ++j)
      mesh.nodes.row(i * side + j) << centre + height * (static_cast<double>(i) / (side - 1) - 0.5),
          width * (static_cast<double>(j) / (side - 1) - 0.5);
  mesh.triangles.resize(2 * cells * cells, 6);
  int row = 0;
  for (int i = 0; i < 2 * cells; i += 2)
    for (int j = 0; j < 2 * cells; j += 2) {
      const auto n = [&](int di, int dj) { return (i + di) * side + j + dj; };
      mesh.triangles.row(row++) << n(0, 0), n(2, 0), n(2, 2), n(1, 0), n(2, 1), n(1, 1);
      mesh.triangles.row(row++) << n(0, 0), n(2, 2), n(0, 2), n(1, 1), n(1, 2), n(0, 1);
    }
  mesh.region.assign(static_cast<std::size_t>(row), 0);
  mesh.nodes_per_sector = side * side;
  mesh.triangles_per_sector = row;
  return mesh;
}

}  // namespace lodegear
