// solver/post/flux_loci.cpp — A and B over one period in each member's own frame, with their rates.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/flux_loci.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "materials/constants.h"
#include "solver/fem/element_table.h"
#include "solver/linear/one_thread.h"

namespace lodegear {

namespace {

/// Rate at sample 0 of a period of 2π from the value `i` samples on, n samples in all.
double rate_weight(int i, int n) {
  if (i % n == 0) return 0.0;
  const double half_angle = pi * i / n;
  const double size = n % 2 == 0 ? 0.5 / std::tan(half_angle) : 0.5 / std::sin(half_angle);
  return i % 2 == 0 ? -size : size;
}

bool is_air(const FieldMember& member, int t) { return member.region(t).kind == RegionKind::air; }

/// Bodies of which some number stand for all; 0 for regions without number.
int bodies_kept(const MemberMesh& mesh, const MeshRegion& region, int sectors) {
  int n = 0;
  for (const MeshRegion& other : mesh.regions)
    if (other.part == region.part) n = std::max(n, other.index + 1);
  return n * sectors / mesh.n_sectors;
}

std::vector<int> sector_triangles(const FieldMember& member, int sectors) {
  std::vector<int> list;
  for (int t = 0; t < sectors * member.mesh.triangles_per_sector; ++t)
    if (!is_air(member, t)) list.push_back(t);
  return list;
}

/// Nodes of those triangles and of the whole bodies that stand for all, which may reach beyond.
std::vector<int> rows_of_nodes(const FieldMember& member, int sectors, int& n_rows) {
  const MemberMesh& mesh = member.mesh;
  std::vector<int> kept_bodies;
  for (const MeshRegion& region : mesh.regions)
    kept_bodies.push_back(bodies_kept(mesh, region, sectors));
  std::vector<int> row(static_cast<std::size_t>(mesh.nodes.rows()), -1);
  n_rows = 0;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    if (is_air(member, t)) continue;
    const int index = member.region(t).index;
    const bool body = index >= 0 && index < kept_bodies[member.region_number(t)];
    if (!body && t >= sectors * mesh.triangles_per_sector) continue;
    for (int i = 0; i < 6; ++i) {
      int& r = row[static_cast<std::size_t>(mesh.triangles(t, i))];
      if (r < 0) r = n_rows++;
    }
  }
  return row;
}

/// Row = region: what the nodes give to ∫A dS.
Eigen::SparseMatrix<double, Eigen::RowMajor> region_weights(const FieldMember& member) {
  const MemberMesh& mesh = member.mesh;
  std::vector<Eigen::Triplet<double>> entries;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    if (is_air(member, t)) continue;
    const auto points = element_points(mesh, t);
    for (std::size_t q = 0; q < points.size(); ++q) {
      const TrianglePoint& at = triangle_quadrature()[q];
      const Eigen::Matrix<double, 6, 1> phi = shape_values(at.xi, at.eta);
      for (int i = 0; i < 6; ++i)
        entries.emplace_back(static_cast<int>(member.region_number(t)), mesh.triangles(t, i),
                             points[q].weight * phi[i]);
    }
  }
  Eigen::SparseMatrix<double, Eigen::RowMajor> weights(
      static_cast<Eigen::Index>(mesh.regions.size()), mesh.nodes.rows());
  weights.setFromTriplets(entries.begin(), entries.end());
  return weights;
}

MemberHistory empty_history(const FieldMember& member, const LossCycle& cycle, std::size_t i) {
  MemberHistory history;
  history.member = &member;
  history.cycle = cycle.members[i];
  history.period = cycle.period(i);
  history.triangles = sector_triangles(member, history.cycle.sectors);
  int n_rows = 0;
  history.row = rows_of_nodes(member, history.cycle.sectors, n_rows);
  history.a = TimeSeries::Zero(n_rows, cycle.samples(i));
  history.region_integral_rate =
      TimeSeries::Zero(static_cast<Eigen::Index>(member.mesh.regions.size()), cycle.samples(i));
  return history;
}

}  // namespace

Eigen::MatrixXd spectral_rate(int samples, double period, bool half_wave) {
  const int n = half_wave ? 2 * samples : samples;
  Eigen::MatrixXd rate(samples, samples);
  for (int from = 0; from < samples; ++from)
    for (int to = 0; to < samples; ++to) {
      const int on = (from - to + n) % n;
      double weight = rate_weight(on, n);
      if (half_wave) weight -= rate_weight((on + samples) % n, n);
      rate(from, to) = 2 * pi / period * weight;
    }
  return rate;
}

HistoryRecorder::HistoryRecorder(const FieldProblem& problem, const LossCycle& cycle)
    : problem_(problem), cycle_(cycle) {
  hold_to_one_thread();
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    histories_.push_back(empty_history(problem.members[i], cycle, i));
    region_weights_.push_back(region_weights(problem.members[i]));
    const Eigen::VectorXd ones = Eigen::VectorXd::Ones(problem.members[i].mesh.nodes.rows());
    histories_.back().region_area = region_weights_.back() * ones;
  }
}

void HistoryRecorder::record(int position, const FieldSolution& solution) {
  record(position, solution.a);
}

void HistoryRecorder::record(int position, const std::vector<Eigen::VectorXd>& a) {
  if (a.size() != problem_.members.size())
    throw std::invalid_argument("losses need the potentials of every member");
  for (std::size_t i = 0; i < a.size(); ++i) record_member(i, position, a[i]);
}

void HistoryRecorder::record_member(std::size_t i, int position, const Eigen::VectorXd& a) {
  MemberHistory& history = histories_[i];
  const MemberMesh& mesh = history.member->mesh;
  const MemberCycle& cycle = history.cycle;
  const int n_positions = static_cast<int>(cycle_.positions.size());
  const int in_sectors = mesh.n_sectors * mesh.nodes_per_sector;
  for (std::size_t node = 0; node < history.row.size(); ++node) {
    const int row = history.row[node];
    if (row < 0) continue;
    int at = static_cast<int>(node);
    double sign = 1.0;
    for (int k = 0; k < cycle.steps; ++k, sign *= cycle.sign) {
      history.a(row, k * n_positions + position) = sign * a[at];
      if (at < in_sectors)  // a node on the axis is its own copy
        at = (at + cycle.shift * mesh.nodes_per_sector) % in_sectors;
    }
  }
  Eigen::VectorXd integrals = region_weights_[i] * a;
  for (int k = 0; k < cycle.steps; ++k, integrals *= cycle.sign)
    history.region_integral_rate.col(k * n_positions + position) = integrals;
}

std::vector<MemberHistory> HistoryRecorder::histories() && {
  hold_to_one_thread();  // perhaps another than recorded
  std::vector<MemberHistory> done = std::move(histories_);
  for (MemberHistory& history : done) {
    const Eigen::MatrixXd rate =
        spectral_rate(history.samples(), history.period, history.cycle.half_wave);
    history.a_rate = history.a * rate;
    history.region_integral_rate = history.region_integral_rate * rate;
  }
  return done;
}

std::vector<MemberHistory> member_histories(const FieldProblem& problem, const LossCycle& cycle,
                                            const std::vector<FieldSolution>& solutions) {
  if (solutions.size() != cycle.positions.size())
    throw std::invalid_argument("losses need one solution a position of the cycle");
  HistoryRecorder recorder(problem, cycle);
  for (std::size_t i = 0; i < solutions.size(); ++i)
    recorder.record(static_cast<int>(i), solutions[i]);
  return std::move(recorder).histories();
}

TriangleLoci triangle_loci(const MemberHistory& history, int triangle) {
  const MemberMesh& mesh = history.member->mesh;
  Eigen::Matrix<double, 6, Eigen::Dynamic> a(6, history.samples()), rate(6, history.samples());
  for (int i = 0; i < 6; ++i) {
    const int row = history.row[static_cast<std::size_t>(mesh.triangles(triangle, i))];
    assert(row >= 0);
    a.row(i) = history.a.row(row);
    rate.row(i) = history.a_rate.row(row);
  }
  TriangleLoci loci;
  Eigen::Matrix<double, n_quadrature, 6> to_bx, to_by;
  const auto points = element_points(mesh, triangle);
  for (int q = 0; q < n_quadrature; ++q) {
    const ElementPoint& p = points[static_cast<std::size_t>(q)];
    loci.weight[q] = p.weight;
    loci.x.row(q) = p.x.transpose();
    to_bx.row(q) = p.bx.transpose();
    to_by.row(q) = p.by.transpose();
  }
  loci.bx = to_bx * a;
  loci.by = to_by * a;
  loci.bx_rate = to_bx * rate;
  loci.by_rate = to_by * rate;
  return loci;
}

std::vector<int> regions_of(const MemberMesh& mesh, const std::string& part) {
  std::vector<int> numbers;
  for (std::size_t r = 0; r < mesh.regions.size(); ++r)
    if (mesh.regions[r].part == part) numbers.push_back(static_cast<int>(r));
  return numbers;
}

std::vector<int> bodies_that_stand_for_all(const MemberHistory& history,
                                           const std::vector<int>& regions) {
  const MemberMesh& mesh = history.member->mesh;
  std::vector<int> kept;
  for (int r : regions) {
    const MeshRegion& region = mesh.regions[static_cast<std::size_t>(r)];
    if (region.index < 0)
      throw std::invalid_argument("the " + region.part + " is no body of its own");
    if (region.index < bodies_kept(mesh, region, history.cycle.sectors)) kept.push_back(r);
  }
  return kept;
}

std::vector<int> triangles_in(const MemberHistory& history, const std::vector<int>& regions) {
  std::vector<int> list;
  for (int t : history.triangles)
    if (std::find(regions.begin(), regions.end(),
                  history.member->mesh.region[static_cast<std::size_t>(t)]) != regions.end())
      list.push_back(t);
  return list;
}

}  // namespace lodegear
