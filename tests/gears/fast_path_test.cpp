// tests/gears/fast_path_test.cpp — the fast path and the reference path find the same field.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "solver/motion/positions.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

// All magnets alike, all steel saturable, sleeves of nothing in particular.
FieldProblem problem_of(const Gear& gear, const Reluctivity& steel, double remanence = 1.3) {
  const MeshPlan plan = mesh_plan(gear, {0.4, 28, 28});
  std::vector<MemberMesh> meshes = member_meshes(gear, plan);
  FieldMaterials materials;
  for (const MemberMesh& mesh : meshes)
    for (const MeshRegion& region : mesh.regions) {
      if (region.kind == RegionKind::magnet) materials.magnets[region.material] = {remanence, 1.05};
      if (region.kind == RegionKind::steel)
        materials.reluctivity.insert_or_assign(region.material, steel);
      if (region.kind == RegionKind::sleeve)
        materials.reluctivity.insert_or_assign(region.material, Reluctivity::constant(nu0 / 1.5));
    }
  return field_problem(gear, std::move(meshes), plan, materials);
}

FieldSolver solver_of(const FieldProblem& problem, SolverPathChoice path) {
  SolverOptions options;
  options.path = path;
  options.tolerance = 1e-11;
  return FieldSolver(problem, options);
}

std::vector<Position> some_positions(const Gear& gear) {
  std::vector<Position> positions;
  const double step = 2 * pi / 5 / (gear.sun ? gear.sun->pole_pairs : 1);
  for (int i = 0; i < 3; ++i) positions.push_back({0.1 + i * step, 0.02, 0.01 * i});
  return positions;
}

// The largest difference of torques and fields, relative to the largest torque and field.
struct Difference {
  double torque = 0.0, field = 0.0;
};

Difference difference(const Gear& gear, const FieldProblem& problem) {
  const FieldSolver fast = solver_of(problem, SolverPathChoice::fast);
  const FieldSolver reference = solver_of(problem, SolverPathChoice::reference);
  SolverState a, b;
  Difference worst;
  double torque = 0.0;
  for (const Position& position : some_positions(gear)) {
    FieldSolution s = fast.solve(position, a), t = reference.solve(position, b);
    INFO("fast " << s.summary.message << ", reference " << t.summary.message);
    REQUIRE(s.summary.converged);
    REQUIRE(t.summary.converged);
    CHECK(s.summary.fast);
    for (Member m : {Member::sun, Member::modulator, Member::ring}) {
      worst.torque = std::max(worst.torque, std::abs(s.torque(m) - t.torque(m)));
      torque = std::max(torque, std::abs(t.torque(m)));
    }
    fast.fill_potentials(s);
    reference.fill_potentials(t);
    for (std::size_t i = 0; i < s.a.size(); ++i)
      worst.field = std::max(
          worst.field, (s.a[i] - t.a[i]).cwiseAbs().maxCoeff() / t.a[i].cwiseAbs().maxCoeff());
  }
  worst.torque /= std::max(torque, 1.0);  // N·m/m: of some gears nothing turns at all
  return worst;
}

// Both stop at 1e-11 of the load. Torque is nearly as close; the field within unsaturated steel,
// some thousand times softer than air, can be some ten thousand times as far off.
constexpr double agreed = 1e-7;  // what is promised
constexpr double agreed_field = 1e-6;

}  // namespace

TEST_CASE("fast path: every shape has the field of the reference path", "[gears][fast][slow]") {
  int compared = 0;
  for (const NamedGear& named : gears_of_every_shape()) {
    // Steel far too thin for its flux, of this law: neither path gets to the end, and both say so.
    if (named.name == "hub and back iron as thin as foil" ||
        named.name == "blocks whose hub just covers their outer faces")
      continue;
    const FieldProblem problem = problem_of(named.gear, peer_steel());
    const std::string misfit = solver_of(problem, SolverPathChoice::automatic).path();
    ++compared;
    if (misfit != "fast") {
      INFO(named.name << ": " << misfit);
      CHECK(misfit.find("reference: ") == 0);  // it says why
      continue;
    }
    INFO(named.name);
    const Difference d = difference(named.gear, problem);
    INFO(named.name << ": torque " << d.torque << ", field " << d.field);
    CHECK(d.torque < agreed);
    CHECK(d.field < agreed_field);
  }
  CHECK(compared > 15);
}

TEST_CASE("fast path: steel of constant permeability leaves nothing to iterate but the salience",
          "[gears][fast]") {
  const Gear gear = standard_gear();
  const FieldProblem problem = problem_of(gear, Reluctivity::constant(nu0 / 1000));
  const Difference d = difference(gear, problem);
  INFO("torque " << d.torque << ", field " << d.field);
  CHECK(d.torque < 1e-9);  // no Newton: only the end of the conjugate gradients
  CHECK(d.field < 1e-9);
  const FieldSolution s = solver_of(problem, SolverPathChoice::fast).solve({.sun = 0.3});
  CHECK(s.summary.iterations == 1);
}

TEST_CASE("fast path: reversed, weak and turned magnets break no symmetry it needs",
          "[gears][fast]") {
  Gear gear = standard_gear();
  gear.sun->odd_magnets = {{.index = 3, .strength = -1.0}, {.index = 9, .strength = 0.8}};
  gear.ring->odd_magnets = {{.index = 5, .turned = 0.3}};
  const Difference d = difference(gear, problem_of(gear, peer_steel()));
  INFO("torque " << d.torque << ", field " << d.field);
  CHECK(d.torque < agreed);
  CHECK(d.field < agreed_field);
}

TEST_CASE("fast path: a hub deep in saturation is not taken for linear", "[gears][fast]") {
  Gear gear = standard_gear();
  gear.sun->pattern = AlternatingParallel{};
  gear.sun->pole_pairs = 4;
  gear.sun->iron = Iron{20 * mm, 24 * mm, "steel"};  // 4 mm carry what 24 mm would
  const Difference d = difference(gear, problem_of(gear, peer_steel(), 1.4));
  INFO("torque " << d.torque << ", field " << d.field);
  CHECK(d.torque < agreed);
  CHECK(d.field < agreed_field);
}

TEST_CASE(
    "fast path: a missing magnet or a field from outside is told and left to the reference path",
    "[gears][fast]") {
  Gear gear = standard_gear();
  gear.sun->odd_magnets = {{.index = 3, .missing = true}};
  FieldProblem problem = problem_of(gear, Reluctivity::constant(nu0 / 1000));
  CHECK(solver_of(problem, SolverPathChoice::automatic).path() ==
        "reference: one sector of the sun has another permeability than the others");
  CHECK_THROWS_AS(solver_of(problem, SolverPathChoice::fast), std::invalid_argument);
  problem = problem_of(standard_gear(), Reluctivity::constant(nu0 / 1000));
  CHECK(solver_of(problem, SolverPathChoice::automatic).path() == "fast");
  problem.applied_field = {0.1, 0.0};
  CHECK(solver_of(problem, SolverPathChoice::automatic).path() ==
        "reference: a field is applied from outside");
}
