// tests/gears/losses_test.cpp — losses of whole gears: few positions against many, still fields.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "solver/motion/loss_cycle.h"
#include "solver/motion/sweep.h"
#include "solver/post/eddy_loss.h"
#include "solver/post/flux_density.h"
#include "solver/post/iron_loss.h"
#include "solver/post/solid_steel.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

constexpr double speed = 100.0;  // rad/s of phase
constexpr double length = 20 * mm;
const PoleCounts small_counts{2, 5, 3};

/// 2/5/3 with hub, back iron and a can in the inner gap.
Gear small_gear() {
  Gear gear;
  gear.sun = arc_rotor(2, 10 * mm, 14 * mm, AlternatingParallel{});
  gear.sun->iron = Iron{0.0, 10 * mm, "steel"};
  gear.modulator = sectors(5, 16 * mm, 20 * mm);
  gear.ring = arc_rotor(3, 21 * mm, 25 * mm, AlternatingRadial{});
  gear.ring->iron = Iron{25 * mm, 29 * mm, "steel"};
  gear.sleeves.push_back({Gap::inner, 14.6 * mm, 15 * mm, "can", TurnsWith::housing});
  return gear;
}

FieldSolver solver_of(const Gear& gear, const Reluctivity& steel = peer_steel()) {
  FieldMaterials laws;
  laws.magnets["magnet"] = {1.2, 1.05};
  laws.magnets["no magnet"] = {0.0, 1.05};
  laws.reluctivity.emplace("steel", steel);
  laws.reluctivity.emplace("can", Reluctivity::constant(nu0));
  const MeshPlan plan = mesh_plan(gear, {0.5, 24, 24});
  return FieldSolver(field_problem(gear, member_meshes(gear, plan), plan, laws));
}

Steel sheet() {
  Steel steel;
  steel.thickness = 0.5 * mm;
  steel.density = 7700;
  steel.resistivity = 0.42e-6;
  steel.law = ExponentialLaw{3.5, 2.14, 95};
  steel.loss = SteelLoss{0.0225, 2.26, 0.0, 7.21e-4, "", 1.0};
  return steel;
}

std::vector<FieldSolution> solved(const FieldSolver& solver, const LossCycle& cycle) {
  SweepOptions options;
  options.threads = 2;
  options.keep = KeepPotentials::every;
  std::vector<FieldSolution> solutions = sweep_curve(solver, cycle.positions, options);
  for (const FieldSolution& s : solutions) REQUIRE(s.summary.converged);
  return solutions;
}

using Losses = std::map<std::string, double>;

void add_eddies(Losses& losses, const MemberHistory& history, const std::string& part,
                const Conductor& like) {
  Conductor conductor = like;
  conductor.regions = regions_of(history.member->mesh, part);
  if (conductor.regions.empty()) return;
  const std::string name = std::string(name_of(history.member->mesh.member)) + " " + part;
  const EddyLoss loss = eddy_loss(history, conductor, speed);
  losses[name + (like.closed_ring ? " ring" : "")] = loss.loss;
  losses[name + " frequency" + (like.closed_ring ? " ring" : "")] = loss.frequency;
}

void add_steel(Losses& losses, const MemberHistory& history, const std::string& part) {
  const std::vector<int> regions = regions_of(history.member->mesh, part);
  if (regions.empty()) return;
  const IronLoss loss = iron_loss(history, {regions, sheet(), 1.0, 1.0}, speed);
  losses[part + " hysteresis"] = loss.hysteresis;
  losses[part + " classical"] = loss.classical;
  losses[part + " excess"] = loss.excess;
}

/// W/m of every part, the can at rest with the ring.
Losses losses_of(const FieldSolver& solver, const LossCycle& cycle) {
  Losses losses;
  const auto histories = member_histories(solver.problem(), cycle, solved(solver, cycle));
  for (const MemberHistory& history : histories) {
    Conductor magnet{{}, false, 1.5e-6, length};
    add_eddies(losses, history, "magnet", magnet);
    magnet.closed_ring = true;
    add_eddies(losses, history, "magnet", magnet);
    Conductor can{{}, true, 0.74e-6, length};
    can.slip = slip_of(cycle, TurnsWith::ring, history.member->mesh.member);
    add_eddies(losses, history, "sleeve", can);
    add_eddies(losses, history, "pole piece", {{}, false, 0.2e-6, length});
    for (const char* part : {"hub", "pole piece", "back iron"}) add_steel(losses, history, part);
  }
  return losses;
}

void check_same(const Losses& some, const Losses& others, double within) {
  REQUIRE(some.size() == others.size());
  for (const auto& [name, value] : some) {
    INFO(name);
    CHECK(value > 0.0);
    CHECK(value == Approx(others.at(name)).epsilon(within));
  }
}

}  // namespace

TEST_CASE("losses: few positions and symmetry give what the whole cycle gives",
          "[gears][losses][slow]") {
  struct Example {
    const char* name;
    Gear gear;
    PoleCounts counts;
    std::size_t positions;  // at most, with symmetry
    Reluctivity steel = Reluctivity::constant(nu0 / 1000);
  };
  std::vector<Example> examples{{"mirrored poles", small_gear(), small_counts, 2, peer_steel()},
                                {"no mirrored poles", small_gear(), small_counts, 4},
                                {"an odd magnet", small_gear(), small_counts, 24},
                                {"much symmetry at one instant", small_gear(), {2, 8, 6}, 8}};
  examples[1].gear.sun->pattern = SteppedHalbach{5, FluxSide::outward};
  examples[2].gear.ring->odd_magnets.push_back({.index = 1, .strength = 0.8});
  examples[3].gear.modulator = sectors(8, 16 * mm, 20 * mm);
  examples[3].gear.ring->pole_pairs = 6;
  for (const Example& example : examples) {
    INFO(example.name);
    const FieldSolver solver = solver_of(example.gear, example.steel);
    const LossSampling few{8, 1, true}, all{8, 1, false};
    const LossCycle by_symmetry =
        loss_cycle(solver.problem(), example.counts, Member::ring, 0.7, few);
    LossCycle whole = loss_cycle(solver.problem(), example.counts, Member::ring, 0.7, all);
    CHECK(by_symmetry.positions.size() <= example.positions);
    // As dense as the short list, all around.
    const double steps = whole.step / by_symmetry.step;
    const auto n =
        static_cast<int>(std::lround(steps * static_cast<double>(by_symmetry.positions.size())));
    CHECK(steps == Approx(std::round(steps)).epsilon(1e-12));
    whole = loss_cycle(solver.problem(), example.counts, Member::ring, 0.7, {8, n, false});
    REQUIRE(static_cast<int>(whole.positions.size()) == n);
    // Newton stops at 1e-9 of the load; the hub sees a thousandth of the field change.
    check_same(losses_of(solver, by_symmetry), losses_of(solver, whole), 1e-5);
  }
}

TEST_CASE("losses: the same relative motion loses the same, whoever is held", "[gears][losses]") {
  const FieldSolver solver = solver_of(small_gear());
  const LossCycle with_ring =
      loss_cycle(solver.problem(), small_counts, Member::ring, 0.7, {16, 1, true});
  const LossCycle with_sun =
      loss_cycle(solver.problem(), small_counts, Member::sun, 0.7, {16, 1, true});
  check_same(losses_of(solver, with_ring), losses_of(solver, with_sun), 1e-6);
  // n/p_s = 2.5 turns of the sun a turn of the modulator: relative to it 1.5.
  CHECK(phase_speed(with_ring, Member::sun, 50.0) == Approx(50.0 * 1.5 / 2.5));
  CHECK(phase_speed(with_sun, Member::modulator, 20.0) == Approx(-20.0));
  CHECK_THROWS_AS(phase_speed(with_ring, Member::ring, 1.0), std::invalid_argument);
}

TEST_CASE("losses: a field that turns with a rotor heats nothing on it", "[gears][losses]") {
  Gear gear = small_gear();
  gear.ring->magnet = "no magnet";
  gear.ring->iron.reset();
  const FieldSolver solver = solver_of(gear, Reluctivity::constant(nu0));
  const LossCycle cycle =
      loss_cycle(solver.problem(), small_counts, Member::ring, 0.0, {32, 1, true});
  const Losses losses = losses_of(solver, cycle);
  const double moving = losses.at("ring magnet");
  CHECK(moving > 1.0);
  // Air is meshed, and another mesh of it passes by: measured 1e-9 and less.
  CHECK(losses.at("sun magnet") < 1e-8 * moving);
  CHECK(losses.at("sun magnet ring") < 1e-8 * moving);
  CHECK(losses.at("hub classical") < 1e-8 * losses.at("pole piece classical"));

  // The moving rotor as if it were a slotless one: order 2 turns past the conductor at 5/3 of the
  // phase speed (rate of the sun less that of the ring).
  const EddyLoss ring = eddy_loss(
      member_histories(solver.problem(), cycle, solved(solver, cycle))[2],
      {regions_of(solver.problem().members[2].mesh, "magnet"), false, 1.5e-6, length}, speed);
  const double slip = (cycle.rate.sun - cycle.rate.ring) * speed;
  CHECK(slip == Approx(speed * 5.0 / 3));
  CHECK(ring.frequency > 2 * slip / (2 * pi) * 0.99);
  CHECK(ring.frequency < 2 * slip / (2 * pi) * 1.5);  // order 6 of the poles has a little share
}

TEST_CASE("losses: twice the samples change nothing that matters", "[gears][losses]") {
  const FieldSolver solver =
      gear_solver(standard_gear(), {1.30, 1.05, peer_steel()}, {0.7, 48, 48});
  const PoleCounts counts{4, 17, 13};
  const auto total = [&](int per_period) {
    const LossCycle cycle =
        loss_cycle(solver.problem(), counts, Member::ring, 0.7, {per_period, 1, true});
    CHECK(cycle.positions.size() == static_cast<std::size_t>(per_period / 8));
    const auto h = member_histories(solver.problem(), cycle, solved(solver, cycle));
    Losses losses;
    for (const MemberHistory& history : h)
      add_eddies(losses, history, "magnet", {{}, false, 1.5e-6, length});
    add_steel(losses, h[1], "pole piece");
    return losses;
  };
  check_same(total(32), total(64), 1e-3);  // measured 1e-4 and less
}

TEST_CASE("losses: speed goes in linearly, to the power 1.5 and squared", "[gears][losses]") {
  const FieldSolver solver = solver_of(small_gear());
  const LossCycle cycle =
      loss_cycle(solver.problem(), small_counts, Member::ring, 0.7, {16, 1, true});
  const auto h = member_histories(solver.problem(), cycle, solved(solver, cycle));
  const SheetStack poles{regions_of(h[1].member->mesh, "pole piece"), sheet(), 1.0, 1.0};
  const IronLoss slow = iron_loss(h[1], poles, speed), fast = iron_loss(h[1], poles, -2 * speed);
  CHECK(fast.hysteresis == Approx(2 * slow.hysteresis));
  CHECK(fast.classical == Approx(4 * slow.classical));
  CHECK(fast.excess == Approx(std::pow(2.0, 1.5) * slow.excess));
  // The map sums to the total: triangle t stands for all copies of its sector.
  double sum = 0.0;
  for (const auto& [triangle, density] : slow.density)
    for (const ElementPoint& p : element_points(h[1].member->mesh, triangle))
      sum += density * p.weight * h[1].copies();
  CHECK(sum == Approx(slow.total()).epsilon(1e-9));
}

TEST_CASE("losses: a can at rest, from the field at points of the laboratory",
          "[gears][losses][slow]") {
  const FieldSolver solver = solver_of(small_gear(), Reluctivity::constant(nu0 / 1000));
  const LossCycle cycle =
      loss_cycle(solver.problem(), small_counts, Member::ring, 0.7, {240, 1, false});
  const std::vector<FieldSolution> solutions = solved(solver, cycle);
  const auto n = static_cast<Eigen::Index>(solutions.size());
  // The other way: A at points that rest, by interpolation, its rate, the mean around taken off.
  const int around = 120;
  const std::size_t in = solver.problem().members[0].mesh.outer->radius > 15 * mm ? 0 : 1;
  const MemberMesh& mesh = solver.problem().members[in].mesh;
  const PointLocator locator(mesh);
  TimeSeries a(around, n);
  for (Eigen::Index i = 0; i < n; ++i)
    for (int j = 0; j < around; ++j) {
      const FieldSolution& s = solutions[static_cast<std::size_t>(i)];
      const double angle = 2 * pi * j / around - s.position.of(mesh.member);
      const auto place =
          locator.place(14.8 * mm * Eigen::Vector2d(std::cos(angle), std::sin(angle)));
      REQUIRE(place);
      const auto phi = shape_values(place->xi, place->eta);
      a(j, i) = 0.0;
      for (int k = 0; k < 6; ++k) a(j, i) += phi[k] * s.a[in][mesh.triangles(place->triangle, k)];
    }
  TimeSeries rate = a * spectral_rate(static_cast<int>(n), cycle.step, false) * speed;
  rate.rowwise() -= rate.colwise().mean().eval();
  const double area = pi * (15 * 15 - 14.6 * 14.6) * mm * mm;
  const double expected = area / 0.74e-6 * rate.squaredNorm() / static_cast<double>(rate.size());

  const LossCycle short_cycle =
      loss_cycle(solver.problem(), small_counts, Member::ring, 0.7, {16, 1, true});
  const auto h = member_histories(solver.problem(), short_cycle, solved(solver, short_cycle));
  Conductor can{regions_of(mesh, "sleeve"), true, 0.74e-6, length};
  can.slip = slip_of(short_cycle, TurnsWith::housing, mesh.member);  // as the ring, which is held
  const EddyLoss loss = eddy_loss(h[in], can, speed);
  CHECK(loss.without_ends == Approx(expected).epsilon(0.01));  // one radius stands for the wall
  CHECK(loss.loss < loss.without_ends);
}
