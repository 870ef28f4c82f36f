// cases/result_file.cpp — everything that came out of a case as one HDF5 file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/result_file.h"

#include <limits>

#include "cases/csv_files.h"
#include "cases/hdf5_writer.h"
#include "cases/members.h"
#include "cases/sha256.h"
#include "cases/versions.h"

namespace lodegear {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

void write_input(const CaseResult& result, Hdf5Writer& file) {
  file.attribute("/", "format", std::string("lodegear result"));
  file.attribute("/", "layout", result_file_layout);
  file.attribute("/", "case", result.input.name);
  file.attribute("/", "stack_length", result.stack_length);
  file.text("/input", result.input.source_text);
  file.attribute("/input", "file_name", result.input.path.filename().string());
  file.attribute("/input", "sha256", sha256(result.input.source_text));
  file.group("/versions");
  file.attribute("/versions", "lodegear", result.version);
  for (const auto& [name, version] : library_versions()) file.attribute("/versions", name, version);
}

std::string kind_text(RegionKind kind) {
  switch (kind) {
    case RegionKind::air:
      return "air";
    case RegionKind::steel:
      return "steel";
    case RegionKind::magnet:
      return "magnet";
    case RegionKind::sleeve:
      return "sleeve";
  }
  return {};
}

void write_mesh(const MemberMesh& mesh, Hdf5Writer& file) {
  const std::string at = std::string("/meshes/") + name_of(mesh.member);
  file.table(at + "/nodes", Hdf5Writer::Reals(mesh.nodes));
  file.table(at + "/triangles", Hdf5Writer::Integers(mesh.triangles));
  file.column(at + "/region", mesh.region);
  std::vector<std::string> kinds, materials, parts;
  std::vector<int> indices;
  for (const MeshRegion& region : mesh.regions) {
    kinds.push_back(kind_text(region.kind));
    materials.push_back(region.material);
    parts.push_back(region.part);
    indices.push_back(region.index);
  }
  file.texts(at + "/regions_kind", kinds);
  file.texts(at + "/regions_material", materials);
  file.texts(at + "/regions_part", parts);
  file.column(at + "/regions_index", indices);
  file.attribute(at, "sectors", mesh.n_sectors);
}

void write_curve(const std::string& at, const Gear& gear, const std::vector<CurvePoint>& points,
                 Hdf5Writer& file) {
  const auto n = static_cast<Eigen::Index>(points.size());
  Eigen::VectorXd load_angle(n), residual(n);
  Hdf5Writer::Reals angles(n, 3), torque(n, 3), sun_pull(n, 2), ring_pull(n, 2);
  std::vector<int> converged, iterations;
  for (Eigen::Index i = 0; i < n; ++i) {
    const CurvePoint& p = points[static_cast<std::size_t>(i)];
    const bool good = p.summary.converged;
    load_angle[i] = p.load_angle;
    residual[i] = p.summary.residuals.empty() ? nothing : p.summary.residuals.back();
    for (Member m : members_inside_out) {
      const auto column = static_cast<Eigen::Index>(m);
      angles(i, column) = has(gear, m) ? p.position.of(m) : nothing;
      torque(i, column) = good && has(gear, m) ? of(p.torque, m) : nothing;
    }
    for (int axis = 0; axis < 2; ++axis) {
      sun_pull(i, axis) = good && gear.sun ? p.pull_on_sun[axis] : nothing;
      ring_pull(i, axis) = good && gear.ring ? p.pull_on_ring[axis] : nothing;
    }
    converged.push_back(good ? 1 : 0);
    iterations.push_back(p.summary.iterations);
  }
  file.column(at + "/load_angle", load_angle);
  file.table(at + "/angles", angles);
  file.table(at + "/torque", torque);
  file.table(at + "/pull_on_sun", sun_pull);
  file.table(at + "/pull_on_ring", ring_pull);
  file.column(at + "/converged", converged);
  file.column(at + "/iterations", iterations);
  file.column(at + "/residual", residual);
}

void write_running_curve(const std::string& at, const Gear& gear, const RunningCurve& curve,
                         const std::string& purpose, Hdf5Writer& file) {
  write_curve(at, gear, curve.points, file);
  file.attribute(at, "purpose", purpose);
  file.attribute(at, "load_angle", curve.load_angle);
  file.attribute(at, "ripples_per_turn", curve.ripples_per_turn);
  file.attribute(at, "full_cycle", curve.full_cycle ? 1 : 0);
  if (!curve.ripple) return;
  for (Member m : members_inside_out) {
    const Ripple& ripple = (*curve.ripple)[static_cast<std::size_t>(m)];
    const std::string path = at + "/spectrum_" + name_of(m);
    file.column(path,
                Eigen::Map<const Eigen::VectorXd>(
                    ripple.amplitudes.data(), static_cast<Eigen::Index>(ripple.amplitudes.size())));
    file.attribute(path, "mean", ripple.mean);
    file.attribute(path, "peak_to_peak", ripple.peak_to_peak);
    if (curve.ripple_error) file.attribute(path, "peak_to_peak_error", of(*curve.ripple_error, m));
    if (curve.ripple_below) file.attribute(path, "peak_to_peak_below", of(*curve.ripple_below, m));
  }
}

void write_field(const std::string& at, const FieldProblem& problem, const FieldSolution& solution,
                 Hdf5Writer& file) {
  file.group(at);
  for (Member m : members_inside_out) file.attribute(at, name_of(m), solution.position.of(m));
  for (std::size_t i = 0; i < problem.members.size() && i < solution.a.size(); ++i)
    file.column(at + "/a_" + name_of(problem.members[i].mesh.member), solution.a[i]);
  for (std::size_t j = 0; j < solution.gaps.size(); ++j) {
    const GapField& gap = solution.gaps[j];
    const std::string path = at + "/gap_" + std::to_string(j);
    file.column(path + "/at_inner", gap.at_inner);
    file.column(path + "/at_outer", gap.at_outer);
    file.attribute(path, "r_inner", gap.r_inner);
    file.attribute(path, "r_outer", gap.r_outer);
  }
}

}  // namespace

std::string result_file(const CaseResult& result) {
  Hdf5Writer file;
  const Gear& gear = result.input.gear;
  write_input(result, file);
  if (!result.slip_curve.empty()) write_curve("/slip_curve", gear, result.slip_curve, file);
  if (result.slip_torque && result.slip_torque->error)
    for (Member m : members_inside_out)
      file.attribute("/slip_curve", std::string("peak_error_") + name_of(m),
                     of(*result.slip_torque->error, m));
  int i = 0;
  const auto next = [&i] { return "/running_curves/" + std::to_string(i++); };
  for (const RunningCurve& curve : result.running_curves)
    write_running_curve(next(), gear, curve, purpose_text(curve), file);
  if (result.at_slip) write_running_curve(next(), gear, *result.at_slip, "slip", file);
  if (!result.solver) return file.bytes();
  const FieldProblem& problem = result.solver->problem();
  for (const FieldMember& member : problem.members) write_mesh(member.mesh, file);
  for (std::size_t k = 0; k < result.kept.size(); ++k)
    write_field("/fields/" + std::to_string(k), problem, result.kept[k], file);
  return file.bytes();
}

}  // namespace lodegear
