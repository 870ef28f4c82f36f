// tools/pictures/field_raster.cpp — the field at one position, point by point over a square.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/pictures/field_raster.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/post/flux_density.h"

namespace lodegear {

namespace {

class Painter {
 public:
  explicit Painter(FieldRaster& raster) : raster_(raster) {}

  /// Columns whose points lie within [from, to] along x; rows likewise, downwards.
  int column(double x) const {
    return static_cast<int>(std::floor((x + raster_.half_width) / raster_.step()));
  }
  int row(double y) const {
    return static_cast<int>(std::floor((raster_.half_width - y) / raster_.step()));
  }
  double x(int column) const { return (column + 0.5) * raster_.step() - raster_.half_width; }
  double y(int row) const { return raster_.half_width - (row + 0.5) * raster_.step(); }
  int clamped(int i) const { return std::clamp(i, 0, raster_.points - 1); }

 private:
  FieldRaster& raster_;
};

// Quadratic shape functions, nodes as in MemberMesh.
double potential(const Eigen::Matrix<double, 6, 1>& a, double l0, double l1, double l2) {
  return a[0] * l0 * (2 * l0 - 1) + a[1] * l1 * (2 * l1 - 1) + a[2] * l2 * (2 * l2 - 1) +
         4 * (a[3] * l0 * l1 + a[4] * l1 * l2 + a[5] * l2 * l0);
}

class MemberPainter {
 public:
  MemberPainter(const FieldMember& member, const Eigen::VectorXd& a, double angle,
                const std::vector<double>* values, int first_part, FieldRaster& raster)
      : member_(member),
        a_(a),
        turn_(angle),
        values_(values),
        first_part_(first_part),
        raster_(raster),
        painter_(raster) {}

  void paint() {
    for (int t = 0; t < member_.mesh.triangles.rows(); ++t) paint(t);
  }

 private:
  void paint(int t) {
    const auto nodes = member_.mesh.triangles.row(t);
    Eigen::Vector2d x[3], b[3];
    for (int i = 0; i < 3; ++i)
      x[i] = turn_ * Eigen::Vector2d(member_.mesh.nodes.row(nodes[i]).transpose());
    b[0] = flux_density(member_.mesh, a_, {t, 0.0, 0.0});
    b[1] = flux_density(member_.mesh, a_, {t, 1.0, 0.0});
    b[2] = flux_density(member_.mesh, a_, {t, 0.0, 1.0});
    Eigen::Matrix<double, 6, 1> a;
    for (int i = 0; i < 6; ++i) a[i] = a_[nodes[i]];
    FieldSample sample;
    sample.part = first_part_ + static_cast<int>(member_.region_number(t));
    if (values_ && std::isfinite((*values_)[static_cast<std::size_t>(t)])) {
      sample.value = static_cast<float>((*values_)[static_cast<std::size_t>(t)]);
      sample.has_value = true;
    }
    fill(x, b, a, sample);
  }

  void fill(const Eigen::Vector2d* x, const Eigen::Vector2d* b,
            const Eigen::Matrix<double, 6, 1>& a, FieldSample sample) {
    const double det = (x[1] - x[0])[0] * (x[2] - x[0])[1] - (x[1] - x[0])[1] * (x[2] - x[0])[0];
    const auto [left, right] = std::minmax({x[0][0], x[1][0], x[2][0]});
    const auto [low, high] = std::minmax({x[0][1], x[1][1], x[2][1]});
    constexpr double rim = 1e-6;  // points on a side belong to both triangles
    for (int r = painter_.clamped(painter_.row(high)); r <= painter_.clamped(painter_.row(low));
         ++r)
      for (int c = painter_.clamped(painter_.column(left));
           c <= painter_.clamped(painter_.column(right)); ++c) {
        const Eigen::Vector2d p(painter_.x(c), painter_.y(r));
        const double l1 =
            ((p - x[0])[0] * (x[2] - x[0])[1] - (p - x[0])[1] * (x[2] - x[0])[0]) / det;
        const double l2 =
            ((x[1] - x[0])[0] * (p - x[0])[1] - (x[1] - x[0])[1] * (p - x[0])[0]) / det;
        const double l0 = 1 - l1 - l2;
        if (l0 < -rim || l1 < -rim || l2 < -rim) continue;
        sample.b = static_cast<float>((l0 * b[0] + l1 * b[1] + l2 * b[2]).norm());
        sample.a = static_cast<float>(potential(a, l0, l1, l2));
        raster_.at(c, r) = sample;
      }
  }

  const FieldMember& member_;
  const Eigen::VectorXd& a_;
  const Eigen::Rotation2Dd turn_;
  const std::vector<double>* values_;
  int first_part_;
  FieldRaster& raster_;
  Painter painter_;
};

double mean_on(const BoundaryCircle& circle, const Eigen::VectorXd& a) {
  double sum = 0.0;
  for (const int node : circle.nodes) sum += a[node];
  return sum / static_cast<double>(circle.nodes.size());
}

/// The annulus of a gap on a polar grid, blended between its two circles and the angles.
class AnnulusPainter {
 public:
  AnnulusPainter(const GapField& gap, double mean) : gap_(gap) {
    for (int ring = 0; ring < 2; ++ring) {
      const double radius = ring == 0 ? gap.r_inner : gap.r_outer;
      const Eigen::VectorXd& c = ring == 0 ? gap.at_inner : gap.at_outer;
      const FluxHarmonics harmonics = flux_harmonics(gap, radius);
      for (int i = 0; i < angles; ++i) {
        const double theta = 2 * std::numbers::pi * i / angles;
        double a = mean;
        for (int k = 1; k <= gap.n_orders(); ++k)
          a += c[k - 1] * std::cos(k * theta) + c[gap.n_orders() + k - 1] * std::sin(k * theta);
        a_[ring].push_back(a);
        b_[ring].push_back(flux_density(harmonics, theta).norm());
      }
    }
  }

  void paint(int part, FieldRaster& raster) const {
    const Painter painter(raster);
    for (int r = 0; r < raster.points; ++r)
      for (int c = 0; c < raster.points; ++c) {
        const double radius = std::hypot(painter.x(c), painter.y(r));
        if (radius < gap_.r_inner || radius > gap_.r_outer || raster.at(c, r).part != 0) continue;
        const double out = (radius - gap_.r_inner) / (gap_.r_outer - gap_.r_inner);
        const double theta = std::atan2(painter.y(r), painter.x(c)) / (2 * std::numbers::pi);
        FieldSample sample;
        sample.part = part;
        sample.a = static_cast<float>(blend(a_, theta, out));
        sample.b = static_cast<float>(blend(b_, theta, out));
        raster.at(c, r) = sample;
      }
  }

 private:
  static constexpr int angles = 1440;

  static double blend(const std::vector<double>* rings, double turn, double out) {
    const double at = (turn < 0 ? turn + 1 : turn) * angles;
    const auto i = static_cast<std::size_t>(at) % angles, j = (i + 1) % angles;
    const double t = at - std::floor(at);
    const auto on = [&](int ring) { return (1 - t) * rings[ring][i] + t * rings[ring][j]; };
    return (1 - out) * on(0) + out * on(1);
  }

  const GapField& gap_;
  std::vector<double> a_[2], b_[2];
};

}  // namespace

FieldRaster field_raster(const FieldProblem& problem, const FieldSolution& solution,
                         const TriangleNumbers& values, double half_width, int points) {
  FieldRaster raster;
  raster.points = points;
  raster.half_width = half_width;
  raster.samples.resize(static_cast<std::size_t>(points) * static_cast<std::size_t>(points));
  int part = 1;
  for (std::size_t m = 0; m < problem.members.size(); ++m) {
    const FieldMember& member = problem.members[m];
    MemberPainter(member, solution.a[m], solution.position.of(member.mesh.member),
                  values.empty() ? nullptr : &values[m], part, raster)
        .paint();
    part += static_cast<int>(member.mesh.regions.size());
  }
  for (std::size_t g = 0; g < solution.gaps.size(); ++g) {
    const auto& circle = problem.members[g].mesh.outer;
    const double mean = circle ? mean_on(*circle, solution.a[g]) : 0.0;
    AnnulusPainter(solution.gaps[g], mean).paint(part++, raster);
  }
  return raster;
}

}  // namespace lodegear
