// tests/gears/part_forces_test.cpp — loads on single magnets, pole pieces and irons.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/part_forces.h"

#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "solver/fem/element_table.h"
#include "solver/post/part_bodies.h"
#include "solver/post/stress.h"
#include "tests/mesh/gears.h"
#include "tests/support/gear_field.h"

using namespace lodegear;

namespace {

FieldSolution filled(const FieldSolver& solver, const Position& at) {
  FieldSolution s = solver.solve(at);
  REQUIRE(s.summary.converged);
  solver.fill_potentials(s);
  return s;
}

// How far the sum over the parts of a member is from what the gap harmonics say, relative to the
// sum of the sizes (force) and to the largest torque of a member.
struct SumErrors {
  double force = 0.0, torque = 0.0;
};

SumErrors sum_errors(const FieldSolver& solver, const Position& at) {
  const FieldSolution s = filled(solver, at);
  const double largest =
      std::max({std::abs(s.torque_sun), std::abs(s.torque_modulator), std::abs(s.torque_ring)});
  SumErrors worst;
  for (std::size_t i = 0; i < solver.problem().members.size(); ++i) {
    const Member member = solver.problem().members[i].mesh.member;
    Eigen::Vector2d sum(0, 0), from_gaps(0, 0);
    double sizes = 0.0, torque = 0.0;
    for (const PartLoad& load : part_loads(solver.problem(), s, member)) {
      sum += load.force;
      sizes += load.force.norm();
      torque += load.torque;
    }
    if (i < s.gaps.size()) from_gaps += gap_force(s.gaps[i]);
    if (i > 0) from_gaps -= gap_force(s.gaps[i - 1]);
    sum = Eigen::Rotation2Dd(at.of(member)) * sum;
    const double force_error = (sum - from_gaps).norm() / sizes;
    const double torque_error = std::abs(torque - s.torque(member)) / largest;
    UNSCOPED_INFO(name_of(member) << ": force off by " << force_error << " of " << sizes
                                  << " N/m, torque by " << torque_error);
    worst.force = std::max(worst.force, force_error);
    worst.torque = std::max(worst.torque, torque_error);
  }
  return worst;
}

// A ring R1..R2 uniformly magnetised along x or y, cut into halves along the y axis. On that axis
// the field of two rods, one taken from the other (Osborn, Phys. Rev. 67 (1945) 351), is
//   b (1 + R1²/y²) in the ring, b (R2² − R1²)/y² beyond, b = B_r/2,
// as B_n if magnetised across the cut and as −µ0 H_t if along it; in the bore there is none. So
// Maxwell's stress on the axis pulls the halves together or drives them apart with
//   F = (1/µ0) ∫ of its square over half the axis.
double force_between_halves(double r1, double r2, double remanence) {
  const double ring = (r2 - r1) + 2 * r1 * r1 * (1 / r1 - 1 / r2) +
                      std::pow(r1, 4) / 3 * (std::pow(r1, -3) - std::pow(r2, -3));
  const double beyond = std::pow(r2 * r2 - r1 * r1, 2) / (3 * std::pow(r2, 3));
  return nu0 * remanence * remanence / 4 * (ring + beyond);
}

// Another way to the load on a uniformly magnetised part: inside it curl b = 0, so the stress of b
// alone does nothing to the part as a whole, and what is left is the force on the currents that
// stand for its magnetisation M = ν0 b − h in its own skin (t counter-clockwise, n outward),
//   F = −∮ M_t [b_n t − (b_t − ½ µ0 M_t) n] dl.
// It is linear in b where M is given; no air and no neighbour takes part.
Eigen::Vector2d force_on_skin(const FieldMember& member, const Eigen::VectorXd& a,
                              const std::vector<int>& body_of_triangle, int body) {
  const MemberMesh& mesh = member.mesh;
  Eigen::Vector2d force(0, 0);
  std::map<std::pair<int, int>, int> sides;  // edges, by how many triangles of the body
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    if (body_of_triangle[static_cast<std::size_t>(t)] == body)
      for (int e = 0; e < 3; ++e)
        ++sides[std::minmax(mesh.triangles(t, e), mesh.triangles(t, (e + 1) % 3))];
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    if (body_of_triangle[static_cast<std::size_t>(t)] != body) continue;
    for (int e = 0; e < 3; ++e) {
      const int from = mesh.triangles(t, e), to = mesh.triangles(t, (e + 1) % 3);
      if (sides[std::minmax(from, to)] != 1) continue;
      const Eigen::Vector2d chord = (mesh.nodes.row(to) - mesh.nodes.row(from)).transpose();
      for (const double s : {0.5 - std::sqrt(0.15), 0.5, 0.5 + std::sqrt(0.15)}) {
        const Eigen::Vector2d at = e == 0   ? Eigen::Vector2d(s, 0)
                                   : e == 1 ? Eigen::Vector2d(1 - s, s)
                                            : Eigen::Vector2d(0, 1 - s);
        const ElementPoint p = element_point(mesh, t, at[0], at[1]);
        Eigen::Vector2d b(0, 0);
        for (int i = 0; i < 6; ++i)
          b += a[mesh.triangles(t, i)] * Eigen::Vector2d(p.bx[i], p.by[i]);
        const RegionLaw& law = member.law(t);
        const double nu = law.reluctivity.at(b.squaredNorm()).nu;
        const Eigen::Vector2d m = nu0 * b - nu * (b - law.remanence * law.magnetisation.at(p.x));
        const Eigen::Vector2d tangent = chord.normalized(), normal(tangent[1], -tangent[0]);
        const double m_t = m.dot(tangent), weight = s == 0.5 ? 8.0 / 18 : 5.0 / 18;
        force -= weight * chord.norm() * m_t *
                 (b.dot(normal) * tangent - (b.dot(tangent) - 0.5 * mu0 * m_t) * normal);
      }
    }
  }
  return force;
}

PartLoad right_half(const MagnetPattern& pattern, double fineness) {
  Gear gear;
  gear.sun = arc_rotor(1, 10 * mm, 20 * mm, pattern);
  const FieldSolver solver = gear_solver(gear, {}, Resolution{fineness, 0, 0});
  const std::vector<PartLoad> loads = part_loads(solver.problem(), filled(solver, {}), Member::sun);
  REQUIRE(loads.size() == 2);
  CHECK((loads[0].force + loads[1].force).norm() < 1e-4 * loads[0].force.norm());
  return loads[0];
}

}  // namespace

TEST_CASE("part forces: halves of a magnetised ring attract and repel as the closed form says",
          "[gears][force][analytic]") {
  const double exact = force_between_halves(10 * mm, 20 * mm, 1.2);
  const PartLoad across = right_half(AlternatingParallel{}, 1.0);
  const PartLoad along = right_half(DirectionList{{pi / 2, -pi / 2}, 2}, 1.0);
  INFO("closed form " << exact << " N/m, across the cut " << across.force.transpose()
                      << ", along it " << along.force.transpose());
  // Magnet rings alone are meshed coarsely; H_t in the joint is of order h² only.
  CHECK(across.radial() == Approx(-exact).epsilon(1e-2));
  CHECK(along.radial() == Approx(exact).epsilon(1e-2));
  CHECK(std::abs(across.tangential()) < 1e-3 * exact);  // mirror images
  CHECK(std::abs(along.tangential()) < 1e-3 * exact);
}

TEST_CASE("part forces: loads on parts that touch come closer on a finer mesh",
          "[gears][force][analytic]") {
  const double exact = force_between_halves(10 * mm, 20 * mm, 1.2);
  const DirectionList along{{pi / 2, -pi / 2}, 2};
  const double coarse = std::abs(right_half(along, 1.0).radial() / exact - 1);
  const double fine = std::abs(right_half(along, 2.0).radial() / exact - 1);
  const double finer = std::abs(right_half(along, 4.0).radial() / exact - 1);
  INFO("coarse " << coarse << ", fine " << fine << ", finer " << finer);
  CHECK(fine < 0.5 * coarse);
  CHECK(finer < 0.5 * fine);
}

TEST_CASE("part forces: single magnets feel what the currents in their skins do",
          "[gears][force][slow]") {
  // Both ways converge with the first power of h where magnets touch, to the same loads.
  Gear arcs = standard_gear();
  arcs.sun->shape = ArcMagnets{0.9};
  arcs.sun->pattern = AlternatingParallel{};
  arcs.ring->shape = ArcMagnets{0.8};
  arcs.ring->pattern = AlternatingParallel{};
  arcs.ring->iron = Iron{44 * mm, 48 * mm, "steel"};
  for (const auto& [gear, tolerance] : {std::pair{standard_gear(), 0.04}, {arcs, 0.02}}) {
    const FieldSolver solver = gear_solver(gear, {1.30, 1.05}, Resolution{2.0, 0, 0});
    const FieldSolution s = filled(solver, {0.3, -0.01, 0.0});
    for (std::size_t i : {0, 2}) {
      const FieldMember& member = solver.problem().members[i];
      const PartBodies bodies = part_bodies(member);
      const std::vector<PartLoad> loads = part_loads(solver.problem(), s, member.mesh.member);
      double largest = 0.0, worst = 0.0;
      for (std::size_t part = 0; part < loads.size(); part += 3) {
        if (loads[part].part != "magnet") continue;
        const Eigen::Vector2d skin =
            force_on_skin(member, s.a[i], bodies.of_triangle, static_cast<int>(part));
        largest = std::max(largest, skin.norm());
        worst = std::max(worst, (skin - loads[part].force).norm());
      }
      INFO(name_of(member.mesh.member) << ": off by " << worst << " of " << largest << " N/m");
      CHECK(largest > 0);
      CHECK(worst < tolerance * largest);
    }
  }
}

TEST_CASE("part forces: every magnet, pole piece and iron keeps its load on a finer mesh",
          "[gears][force][slow]") {
  const Position at{0.3, -0.01, 0.0};
  for (const NamedGear& named : gears_of_every_shape()) {
    if (named.name != "standard" && named.name != "hollow hub, back iron, arcs with gaps" &&
        named.name != "two blocks a pole with glue" && named.name != "ideal iron")
      continue;
    const FieldSolver coarse = gear_solver(named.gear, {1.30, 1.05});
    const FieldSolver fine = gear_solver(named.gear, {1.30, 1.05}, Resolution{2.0, 0, 0});
    const FieldSolution a = filled(coarse, at), b = filled(fine, at);
    for (Member m : {Member::sun, Member::modulator, Member::ring}) {
      const std::vector<PartLoad> first = part_loads(coarse.problem(), a, m);
      const std::vector<PartLoad> second = part_loads(fine.problem(), b, m);
      REQUIRE(first.size() == second.size());
      double largest = 0.0, change = 0.0;
      for (std::size_t i = 0; i < first.size(); ++i) {
        largest = std::max(largest, second[i].force.norm());
        change = std::max(change, (first[i].force - second[i].force).norm());
      }
      INFO(named.name << ", " << name_of(m) << ": " << change << " of " << largest << " N/m");
      // Around pole pieces lies air. Along joints of magnets, and in films of glue, H_t near the
      // ends is known to first order of h only.
      CHECK(change < (m == Member::modulator ? 2e-3 : 0.04) * largest);
    }
  }
}

TEST_CASE("part forces: a pole piece in air feels what the stress in the air around it says",
          "[gears][force]") {
  // Another way to the same number: a shell of elements of its own around each piece (4.3).
  const FieldSolver solver =
      gear_solver(standard_gear(), {1.30, 1.05, peer_steel()}, Resolution{1.0, 100, 100});
  const FieldSolution s = filled(solver, {.sun = 20 * degree});
  const MemberMesh& mesh = solver.problem().members[1].mesh;
  const std::vector<PartLoad> loads = part_loads(solver.problem(), s, Member::modulator);
  REQUIRE(loads.size() == 17);
  double largest = 0.0, worst = 0.0;
  for (const PartLoad& load : loads) {
    std::vector<bool> flags;
    for (int r : mesh.region) {
      const MeshRegion& region = mesh.regions[static_cast<std::size_t>(r)];
      flags.push_back(region.kind == RegionKind::steel && region.index == load.index);
    }
    const BodyLoad other = body_load(mesh, s.a[1], with_air_around(mesh, flags, 1));
    largest = std::max(largest, load.force.norm());
    worst = std::max(worst, (load.force - other.force).norm());
  }
  INFO("off by " << worst << " of " << largest << " N/m");
  CHECK(worst < 5e-3 * largest);  // the shell lies in the elements at the sharp corners
}

TEST_CASE("part forces: the parts of a member add up to what the gaps say", "[gears][force]") {
  SECTION("segments and steel that saturates") {
    const FieldSolver solver = gear_solver(standard_gear(), {1.30, 1.05, peer_steel()});
    const SumErrors errors = sum_errors(solver, {.sun = 20 * degree});
    CHECK(errors.force < 1e-4);  // built in: only the bookkeeping is tested here
    CHECK(errors.torque < 1e-4);
  }
  SECTION("ideal iron") {
    const FieldSolver solver = gear_solver(ideal_iron_gear());
    const SumErrors errors = sum_errors(solver, {0.3, 0.01, 0.02});
    CHECK(errors.force < 1e-4);
    CHECK(errors.torque < 1e-4);
  }
}

TEST_CASE("part forces: the unbalanced pull of 2/11/9 is what the series says",
          "[gears][force][analytic]") {
  // tests/analytic/subdomain_gear.json, as in ideal_iron_gears_test.cpp. Magnets touch each other
  // and the hub of ideal iron; all of them together are the sun.
  std::ifstream file(LODEGEAR_SOURCE_DIR "/tests/analytic/subdomain_gear.json");
  const nlohmann::json all = nlohmann::json::parse(file);
  nlohmann::json g;
  for (const nlohmann::json& one : all["gears"])
    if (one["name"] == "unbalanced") g = one;
  Gear gear = ideal_iron_gear();
  const std::vector<double> r = g["radii_m"];
  gear.sun = arc_rotor(g["p_sun"], r[0], r[1], AlternatingRadial{});
  gear.sun->iron = Iron{0.0, r[0], ideal_iron_name};
  gear.modulator = sectors(g["n_pole_pieces"], r[2], r[3]);
  gear.modulator->material = ideal_iron_name;
  gear.ring = arc_rotor(g["p_ring"], r[4], r[5], AlternatingRadial{});
  gear.ring->iron = Iron{r[5], r[5] + 0.01, ideal_iron_name};
  const FieldSolver solver = gear_solver(gear);
  for (const nlohmann::json& p : g["positions"]) {
    const Position at{p["sun_angle_rad"], p["modulator_angle_rad"], p["ring_angle_rad"]};
    const FieldSolution s = filled(solver, at);
    Eigen::Vector2d sum(0, 0);
    const std::vector<PartLoad> loads = part_loads(solver.problem(), s, Member::sun);
    CHECK(loads.size() == 5);  // four magnets and the hub
    for (const PartLoad& load : loads) sum += load.force;
    sum = Eigen::Rotation2Dd(at.sun) * sum;
    const nlohmann::json& f = p["inner_gap"]["force_on_inside_N_per_m"];
    const Eigen::Vector2d series(f[0].get<double>(), f[1].get<double>());
    INFO(sum.transpose() << " against " << series.transpose() << " N/m");
    CHECK((sum - series).norm() < 0.01 * 1100);  // 1 % of the largest pull
  }
}

TEST_CASE("part forces: parts of every shape add up", "[gears][force][slow]") {
  for (const NamedGear& named : gears_of_every_shape()) {
    if (!named.gear.sun || !named.gear.modulator || !named.gear.ring) continue;  // no torque
    Gear gear = named.gear;
    for (Sleeve& sleeve : gear.sleeves)
      sleeve.material = sleeve.material == "steel can" ? "steel" : "plastic";
    const FieldSolver solver = gear_solver(gear, {1.30, 1.05});
    INFO(named.name);
    const SumErrors errors = sum_errors(solver, {0.3, -0.01, 0.0});
    CHECK(errors.force < 1e-4);
    CHECK(errors.torque < 1e-4);
  }
}

TEST_CASE("part forces: speed pulls outward, and the seat decides what that means",
          "[gears][force]") {
  PartLoad a, b;
  a.index = b.index = 0;
  a.centre = b.centre = {0.0, 0.03};
  a.force = {3.0, 10.0};  // outward is +y, counter-clockwise −x
  b.force = {-5.0, -20.0};
  b.torque = 0.4;
  const std::vector<PartExtremes> parts = part_extremes({{a}, {b}});
  REQUIRE(parts.size() == 1);
  CHECK(parts[0].most_outward == Approx(10.0));
  CHECK(parts[0].most_inward == Approx(20.0));
  CHECK(parts[0].most_shear == Approx(5.0));
  CHECK(parts[0].mean_radial == Approx(-5.0));
  CHECK(parts[0].most_couple == Approx(0.4 - 0.03 * 5.0));  // x × F = 0.03 · 5 for b
  // A block of 10 × 5 mm at 30 mm and 3000 rpm.
  const double off = centrifugal_load(50e-6, 7500, 0.03, 3000 * 2 * pi / 60);
  CHECK(off == Approx(7500 * 50e-6 * 0.03 * std::pow(100 * pi, 2)));
  CHECK(pull_off(parts[0], Seat::within, off) == Approx(10.0 + off));
  CHECK(pull_off(parts[0], Seat::without, off) == 0.0);
  CHECK(pull_off(parts[0], Seat::without) == Approx(20.0));
}
