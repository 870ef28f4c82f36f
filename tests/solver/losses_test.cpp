// tests/solver/losses_test.cpp — losses in fields that are written down, against closed forms.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>

#include "solver/post/eddy_loss.h"
#include "solver/post/end_factors.h"
#include "solver/post/iron_loss.h"
#include "solver/post/second_moments.h"
#include "solver/post/solid_steel.h"
#include "tests/support/given_field.h"
#include "tests/support/polar_mesh.h"

using namespace lodegear;
using Eigen::Vector2d;

namespace {

constexpr double speed = 2 * pi * 50;  // rad/s of phase: 50 Hz

/// A steel annulus of one region and 3/4 of a square decimetre.
MemberMesh steel_ring() {
  const MeshRegion steel{RegionKind::steel, "steel", "pole piece", 0};
  return polar_mesh(Member::modulator, spaced(0.02, 0.05, 3), 24, 0.0, {steel},
                    [](int, int) { return 0; });
}

Steel sheet() {
  Steel steel;
  steel.thickness = 0.5e-3;
  steel.density = 7700;
  steel.resistivity = 0.42e-6;
  steel.law = ConstantPermeability{2000};
  return steel;
}

SheetStack stack_of(const Steel& steel, double share = 1.0) { return {{0}, steel, share, 1.0}; }

double area_of(const MemberMesh& mesh) {
  std::vector<int> all;
  for (int t = 0; t < mesh.triangles.rows(); ++t) all.push_back(t);
  return second_moments(mesh, all).area;
}

}  // namespace

TEST_CASE("iron loss: a sheet in a sinusoidal field", "[solver][losses]") {
  // π² d² B² f²/(6 ρ) W/m³. Source: Lammeraner, Štafl, Eddy Currents (1966), thin plate.
  GivenField field(steel_ring());
  const double b = 1.1;
  const MemberHistory history =
      field.uniform([b](double t) { return Vector2d(b * std::cos(t), 0.0); }, 16);
  const IronLoss loss = iron_loss(history, stack_of(sheet()), speed);
  const double per_volume = std::pow(pi * 0.5e-3 * b * 50, 2) / (6 * 0.42e-6);
  CHECK(loss.classical == Approx(per_volume * area_of(field.mesh())).epsilon(1e-9));
  CHECK(loss.mass == Approx(7700 * area_of(field.mesh())).epsilon(1e-9));
  CHECK(loss.largest_b == Approx(b).epsilon(1e-9));
  CHECK(loss.beyond_trust == 0.0);
  CHECK(loss.frequency == Approx(50).epsilon(1e-9));
  CHECK(loss.skin_depth == Approx(std::sqrt(0.42e-6 / (pi * 50 * 2000 * mu0))).epsilon(1e-9));
  CHECK_FALSE(loss.thick);
  CHECK(iron_loss(history, stack_of(sheet()), 20 * speed).thick);
  CHECK(loss.source == HysteresisSource::unknown);
  CHECK(loss.total() == loss.classical);
  for (const auto& [triangle, density] : loss.density)
    CHECK(density == Approx(per_volume).epsilon(1e-9));
  CHECK(loss.density.size() == static_cast<std::size_t>(field.mesh().triangles.rows()));
}

TEST_CASE("iron loss: all three terms at a sinusoidal flux are those of the loss data",
          "[solver][losses]") {
  Steel steel = sheet();
  steel.loss = SteelLoss{0.0225, 2.26, 0.0, 7.21e-4, "", 1.0};
  GivenField field(steel_ring());
  const double b = 1.1, mass = 7700 * area_of(field.mesh());
  const MemberHistory history = field.uniform(
      [b](double t) { return Vector2d(0.6 * b * std::sin(t), 0.8 * b * std::sin(t)); }, 64);
  const IronLoss loss = iron_loss(history, stack_of(steel), speed);
  CHECK(loss.source == HysteresisSource::loss_data);
  CHECK(loss.hysteresis == Approx(mass * 0.0225 * 50 * std::pow(b, 2.26)).epsilon(1e-9));
  // 64 samples of |cos|^1.5, and 8.763 has four digits.
  CHECK(loss.excess == Approx(mass * 7.21e-4 * std::pow(50 * b, 1.5)).epsilon(2e-4));
  const double kc = classical_eddy_coefficient(0.5e-3, 0.42e-6, 7700);
  CHECK(loss.classical == Approx(mass * kc * std::pow(50 * b, 2)).epsilon(1e-9));

  SheetStack cut = stack_of(steel);
  cut.cutting_factor = 1.5;
  CHECK(iron_loss(history, cut, speed).total() == Approx(1.5 * loss.total()).epsilon(1e-12));

  Steel only_data = steel;
  only_data.thickness = 0.0;
  only_data.loss->kc = kc;
  CHECK(iron_loss(history, stack_of(only_data), speed).classical ==
        Approx(loss.classical).epsilon(1e-9));
}

TEST_CASE("iron loss: hysteresis from coercivity is 4 Hc B a cycle", "[solver][losses]") {
  Steel steel = sheet();
  steel.coercivity = 60;
  GivenField field(steel_ring());
  const MemberHistory history =
      field.uniform([](double t) { return Vector2d(0.9 * std::sin(t), 0.2); }, 16);
  const IronLoss loss = iron_loss(history, stack_of(steel), speed);
  CHECK(loss.source == HysteresisSource::coercivity);
  CHECK(loss.hysteresis == Approx(4 * 60 * 0.9 * 50 * area_of(field.mesh())).epsilon(1e-9));
  CHECK(loss.excess == 0.0);
}

TEST_CASE("iron loss: harmonics add their eddy losses, a minor loop its hysteresis",
          "[solver][losses]") {
  Steel steel = sheet();
  steel.loss = SteelLoss{0.02, 2.0, 0.0, 0.0, "", 1.0};
  GivenField field(steel_ring());
  const MemberHistory history = field.uniform(
      [](double t) {
        return Vector2d(1.0 * std::sin(t) + 0.2 * std::sin(3 * t + 0.4), 0.1 * std::cos(7 * t));
      },
      32);
  const IronLoss loss = iron_loss(history, stack_of(steel), speed);
  const double kc = classical_eddy_coefficient(0.5e-3, 0.42e-6, 7700);
  const double sum = 1.0 + std::pow(3 * 0.2, 2) + std::pow(7 * 0.1, 2);
  CHECK(loss.classical == Approx(7700 * area_of(field.mesh()) * kc * 2500 * sum).epsilon(1e-9));

  // sin t + 0.5 sin 3t has two minor loops, from the dips beside t = π/2 and 3π/2; its turning
  // points solve cos t + 1.5 cos 3t = 0.
  const auto b = [](double t) { return std::sin(t) + 0.5 * std::sin(3 * t); };
  const double top = std::acos(std::sqrt(3.5 / 6.0));  // 6 cos² t = 3.5, or cos t = 0
  const double peak = b(top), dip = peak - b(pi / 2);
  const MemberHistory dipped = field.uniform([&b](double t) { return Vector2d(b(t), 0.0); }, 2048);
  const IronLoss with_loops = iron_loss(dipped, stack_of(steel), speed);
  const double expected = 0.02 * 50 * peak * peak * (1 + 0.65 / peak * 2 * dip);
  CHECK(with_loops.hysteresis ==
        Approx(7700 * area_of(field.mesh()) * expected).epsilon(1e-5));  // samples beside the peak
}

TEST_CASE("iron loss: a rotating field costs twice the eddy loss of an alternating one",
          "[solver][losses]") {
  Steel steel = sheet();
  steel.loss = SteelLoss{0.02, 2.0, 0.0, 0.0, "", 1.0};
  GivenField field(steel_ring());
  const auto loss = [&](double b, double roundness) {
    return iron_loss(
        field.uniform(
            [=](double t) { return Vector2d(b * std::cos(t), roundness * b * std::sin(t)); }, 64),
        stack_of(steel), speed);
  };
  CHECK(loss(1.0, 1.0).classical == Approx(2 * loss(1.0, 0.0).classical).epsilon(1e-9));
  // A circle has no axis: along the one that is taken the peak may fall between two of the samples.
  const double missed = 2 * (1 - std::cos(pi / 64));
  CHECK(loss(1.0, 1.0).hysteresis == Approx(2 * loss(1.0, 0.0).hysteresis).epsilon(missed));
  CHECK(loss(1.4, 1.0).hysteresis == Approx(1.5 * loss(1.4, 0.0).hysteresis).epsilon(missed));
  CHECK(loss(1.0, 0.3).hysteresis == Approx(1.3 * loss(1.0, 0.0).hysteresis).epsilon(1e-9));
}

TEST_CASE("iron loss: half as thick, a quarter of the eddy loss", "[solver][losses]") {
  GivenField field(steel_ring());
  const MemberHistory history =
      field.uniform([](double t) { return Vector2d(std::cos(t), 0.3 * std::sin(3 * t)); }, 16);
  Steel thin = sheet();
  thin.thickness /= 2;
  CHECK(iron_loss(history, stack_of(thin), speed).classical ==
        Approx(iron_loss(history, stack_of(sheet()), speed).classical / 4).epsilon(1e-12));
}

TEST_CASE("iron loss: the steel of a stack carries the flux of the coatings too",
          "[solver][losses]") {
  // B̄ = s B + (1 − s) µ0 H(B): B̄ is written down from a B in the steel that saturates.
  const double share = 0.95, peak = 2.0;
  const Reluctivity solid = Reluctivity::exponential(3.5, 2.14, 95);
  Steel steel = sheet();
  steel.law = ExponentialLaw{3.5, 2.14, 95};
  const auto stacked = [&](double b) {
    return share * b + (1 - share) * mu0 * solid.at(b * b).nu * b;
  };
  GivenField field(steel_ring(), reluctivity(steel, share));
  const MemberHistory history =
      field.uniform([&](double t) { return Vector2d(stacked(peak * std::sin(t)), 0.0); }, 128);
  const IronLoss loss = iron_loss(history, stack_of(steel, share), speed);
  const double per_volume = std::pow(pi * 0.5e-3 * peak * 50, 2) / (6 * 0.42e-6);
  // The law of the stack is a table made from the solid's.
  CHECK(loss.largest_b == Approx(peak).epsilon(1e-4));
  CHECK(loss.beyond_trust == Approx(1.0));
  CHECK(loss.classical == Approx(share * per_volume * area_of(field.mesh())).epsilon(1e-3));
  CHECK(loss.mass == Approx(share * 7700 * area_of(field.mesh())).epsilon(1e-9));
}

TEST_CASE("eddy loss: a rectangular magnet in a sinusoidal field", "[solver][losses]") {
  // w² ω² B²/(24 ρ) W/m³ with B along the height. Source: as for the sheet, endless strip.
  const double w = 12e-3, h = 5e-3, rho = 1.5e-6, b = 0.1, length = 24e-3;
  GivenField field(rectangle_mesh(0.03, h, w, 3, {RegionKind::magnet, "magnet", "magnet", 0}));
  const Conductor magnet{{0}, false, rho, length};
  const MemberHistory radial =
      field.uniform([b](double t) { return Vector2d(b * std::cos(t), 0.0); }, 16);
  const EddyLoss loss = eddy_loss(radial, magnet, speed);
  CHECK(loss.without_ends == Approx(w * h * std::pow(w * speed * b, 2) / (24 * rho)).epsilon(1e-9));
  CHECK(loss.loss == Approx(0.686 * loss.without_ends).epsilon(1e-3));  // w/L = 1/2
  REQUIRE(loss.bodies.size() == 1);
  CHECK(loss.bodies[0].width == Approx(w).epsilon(1e-9));
  CHECK(loss.bodies[0].height == Approx(h).epsilon(1e-9));
  CHECK(loss.frequency == Approx(50).epsilon(1e-9));
  CHECK(loss.skin_depth == Approx(std::sqrt(rho / (pi * 50 * mu0))).epsilon(1e-9));
  CHECK(loss.reaction < large_reaction);
  CHECK(eddy_loss(radial, magnet, 100 * speed).reaction > large_reaction);
  const MemberHistory tangential =
      field.uniform([b](double t) { return Vector2d(0.0, b * std::cos(t)); }, 16);
  CHECK(eddy_loss(tangential, magnet, speed).without_ends ==
        Approx(w * h * std::pow(h * speed * b, 2) / (24 * rho)).epsilon(1e-9));
  // A potential that is the same everywhere drives a net current, which insulation forbids.
  const MemberHistory even =
      field.history([](const Vector2d&, double t) { return std::cos(t); }, 16);
  CHECK(eddy_loss(even, magnet, speed).without_ends < 1e-20 / rho);  // round-off
}

TEST_CASE("eddy loss: halving a magnet quarters its loss", "[solver][losses]") {
  // One rectangle as two bodies, side by side.
  const MeshRegion left{RegionKind::magnet, "magnet", "magnet", 0};
  MemberMesh mesh = rectangle_mesh(0.03, 5e-3, 12e-3, 4, left);
  mesh.regions.push_back({RegionKind::magnet, "magnet", "magnet", 1});
  for (int t = 0; t < mesh.triangles.rows(); ++t)
    if (mesh.nodes(mesh.triangles(t, 5), 1) > 0) mesh.region[static_cast<std::size_t>(t)] = 1;
  GivenField whole(rectangle_mesh(0.03, 5e-3, 12e-3, 4, left)), halves(mesh);
  const auto b = [](double t) { return Vector2d(0.1 * std::cos(t), 0.0); };
  const double one = eddy_loss(whole.uniform(b, 8), {{0}, false, 1.5e-6, 1.0}, speed).without_ends;
  const double two =
      eddy_loss(halves.uniform(b, 8), {{0, 1}, false, 1.5e-6, 1.0}, speed).without_ends;
  CHECK(two == Approx(one / 4).epsilon(1e-9));
}

TEST_CASE("eddy loss: a cylinder in a turning field", "[solver][losses]") {
  // A = B r sin(θ − ωt): J = ωBr cos/ρ, P′ = π ω² B² (r2⁴ − r1⁴)/(4 ρ); thin: π ω² B² r³ t/ρ.
  const double r1 = 0.0495, r2 = 0.0505, rho = 0.74e-6, b = 0.2, length = 0.04;
  GivenField field(polar_mesh(Member::modulator, {r1, r2}, 48, 0.1,
                              {{RegionKind::sleeve, "can", "sleeve", -1}},
                              [](int, int) { return 0; }));
  const Conductor can{{0}, true, rho, length};
  const auto turning = [b](int order, double gain) {
    return [=](const Vector2d& x, double t) {
      const double r = x.norm(), theta = std::atan2(x[1], x[0]);
      return b * r * std::sin(order * theta - gain * t);
    };
  };
  const double expected =
      pi * std::pow(speed * b, 2) * (std::pow(r2, 4) - std::pow(r1, 4)) / (4 * rho);
  const EddyLoss loss = eddy_loss(field.history(turning(1, 1.0), 16), can, speed);
  CHECK(loss.without_ends == Approx(expected).epsilon(1e-5));  // 48 cells around
  CHECK(expected == Approx(pi * std::pow(speed * b, 2) * std::pow(0.05, 3) * 1e-3 / rho)
                        .epsilon(2e-4));           // (t/2r)²
  CHECK(loss.order == Approx(1.0).epsilon(2e-3));  // quadratics through waves
  CHECK(loss.frequency == Approx(50).epsilon(1e-6));
  CHECK(loss.loss ==
        Approx(loss.without_ends * cylinder_end_factor(1, 0.05, length)).epsilon(5e-3));
  CHECK(loss.reaction == Approx(mu0 * speed * 1e-3 * 0.05 / (2 * rho)).epsilon(5e-3));

  // The same field as a rest seen from a can that turns backwards: A stands still in the mesh.
  Conductor slipping = can;
  slipping.slip = -1.0;
  const EddyLoss slip = eddy_loss(field.history(turning(1, 0.0), 16), slipping, speed);
  CHECK(slip.without_ends == Approx(expected).epsilon(1e-4));  // B of the elements
  CHECK(slip.frequency == Approx(50).epsilon(5e-3));
  // And one that turns with the field has no loss.
  slipping.slip = 1.0;
  CHECK(eddy_loss(field.history(turning(1, 1.0), 16), slipping, speed).without_ends <
        1e-6 * expected);
  // Order 4 at the same time frequency: the same 2D loss, less of it lost at the ends.
  const EddyLoss four = eddy_loss(field.history(turning(4, 1.0), 16), can, speed);
  CHECK(four.order == Approx(4.0).epsilon(5e-3));
  CHECK(four.loss > 2 * loss.loss);
}

TEST_CASE("solid steel: beside the same piece of sheets, bound and plates", "[solver][losses]") {
  const double w = 6e-3, h = 5e-3, b = 0.8;
  Steel steel;
  steel.thickness = 0.5e-3;
  steel.density = 7850;
  steel.resistivity = 0.2e-6;
  steel.coercivity = 200;
  steel.law = ExponentialLaw{36, 1.5, 990};
  GivenField field(rectangle_mesh(0.03, h, w, 3, {RegionKind::steel, "steel", "pole piece", 0}),
                   reluctivity(steel));
  const MemberHistory history =
      field.uniform([b](double t) { return Vector2d(b * std::cos(t), 0.0); }, 32);
  const IronLoss sheets = iron_loss(history, stack_of(steel), speed);
  SolidSteel piece;
  piece.conductor = {{0}, false, 0.2e-6, 1.0};
  piece.steel = steel;
  const SolidSteelLoss solid = solid_steel_loss(history, piece, speed);
  // Without ends both are d²: (6/0.5)² times as much; w/L = 0.006 takes 0.4 %.
  CHECK(solid.resistance_limited.without_ends == Approx(sheets.classical * 144).epsilon(1e-6));
  CHECK(solid.hysteresis.hysteresis == Approx(sheets.hysteresis).epsilon(1e-9));
  CHECK(solid.hysteresis.classical == 0.0);
  const double mu = 1 / reluctivity(steel).at(b * b / 2).nu;
  const double delta = std::sqrt(2 * 0.2e-6 / (speed * mu));
  CHECK(solid.skin_depth == Approx(delta).epsilon(1e-6));
  CHECK(solid.size == Approx(w).epsilon(1e-9));
  CHECK(solid.thick);
  REQUIRE(solid.saturating_plate);
  CHECK(solid.linear_plate ==
        Approx(solid.resistance_limited.loss * linear_plate_factor(w, delta)).epsilon(1e-6));
  // Surface form for w >> δ: H_s² ρ/(2δ) on both faces, √2 H_s µ δ = the flux. (theory 8.9)
  const double hs = b * w / (std::sqrt(2.0) * mu * delta);
  CHECK(linear_plate_factor(w, delta) * std::pow(w * speed * b, 2) / (24 * 0.2e-6) * w ==
        Approx(2 * hs * hs * 0.2e-6 / (2 * delta)).epsilon(0.2));  // w = 4.4 δ
  CHECK(*solid.saturating_plate > 0.2 * solid.resistance_limited.loss);
  CHECK(*solid.saturating_plate < solid.resistance_limited.loss);
  // So slow that the skin does not matter.
  const SolidSteelLoss slow = solid_steel_loss(history, piece, speed / 1000);
  CHECK_FALSE(slow.thick);
  CHECK(slow.linear_plate == Approx(slow.resistance_limited.loss).epsilon(1e-4));
}

TEST_CASE("solid steel: a ring into which waves of flux enter by one face", "[solver][losses]") {
  // A back iron r1…r2 with A = a (r2 − r)/(r2 − r1) sin(pθ − t): all flux closes inside.
  const double r1 = 0.060, r2 = 0.065, a = 4e-3, rho = 0.2e-6;
  const int p = 6;
  Steel steel;
  steel.density = 7850;
  steel.resistivity = rho;
  steel.coercivity = 200;
  steel.law = ExponentialLaw{36, 1.5, 990};
  GivenField field(
      polar_mesh(Member::ring, spaced(r1, r2, 2), 120, 0.0,
                 {{RegionKind::steel, "steel", "back iron", -1}}, [](int, int) { return 0; }),
      reluctivity(steel));
  const MemberHistory history = field.history(
      [=](const Vector2d& x, double t) {
        return a * (r2 - x.norm()) / (r2 - r1) * std::sin(p * std::atan2(x[1], x[0]) - t);
      },
      16);
  SolidSteel iron;
  iron.conductor = {{0}, true, rho, 0.04};
  iron.steel = steel;
  const SolidSteelLoss loss = solid_steel_loss(history, iron, speed);
  const double radius = 0.5 * (r1 + r2), depth = r2 - r1;
  // ω² a²/(2ρ) of a third of the section, its inner half weighing a little less.
  const double limited = std::pow(speed * a, 2) / (2 * rho) * 2 * pi * radius * depth / 3;
  CHECK(loss.resistance_limited.without_ends == Approx(limited).epsilon(0.03));
  CHECK(loss.resistance_limited.order == Approx(p).epsilon(0.01));
  CHECK(loss.size == Approx(depth).epsilon(1e-3));
  CHECK(loss.thick);
  // Surface form, E_s = ω a: P/A = |E_s|² δ/(4ρ). (theory 8.11)
  const double surface = std::pow(speed * a, 2) * loss.skin_depth / (4 * rho) * 2 * pi * radius;
  const double k = cylinder_end_factor(p, radius, 0.04);
  CHECK(loss.linear_plate == Approx(surface * k).epsilon(0.05));
  REQUIRE(loss.saturating_plate);
  const double saturation = 0.75 * (flux_density_at(reluctivity(steel), 1e5) - mu0 * 1e5);
  CHECK(*loss.saturating_plate ==
        Approx(limited * k * saturating_plate_factor(a / depth, saturation)).epsilon(0.05));
}
