// tests/solver/thermal_test.cpp — thermal networks, shells and films.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/LU>
#include <catch2/catch.hpp>
#include <cmath>

#include "materials/constants.h"
#include "solver/post/heat_films.h"
#include "solver/post/heat_shell.h"
#include "solver/post/thermal_network.h"

using namespace lodegear;
using Catch::Matchers::Contains;
using Eigen::VectorXd;

namespace {

constexpr double rpm = 2 * pi / 60;

// A capacity of 200 J/K on 0.5 W/K to ambient: τ = 400 s; 4 W: 8 K above 20 °C in the end.
ThermalNetwork one_node() {
  ThermalNetwork net;
  net.add_node({"part", 200.0, 4.0, {}});
  net.add_node({"ambient", 0, 0, 20.0});
  net.add_link({"film", 0, 1, 0.5, {}});
  return net;
}

double sum_out(const ThermalNetwork& net, const SteadyHeat& heat) {
  double sum = 0.0;
  for (std::size_t i = 0; i < net.nodes.size(); ++i)
    if (net.nodes[i].fixed) sum += heat_into(net, heat.flows, static_cast<int>(i));
  return sum;
}

}  // namespace

TEST_CASE("network: a bridge of five conductances as by Kirchhoff's rules", "[solver][thermal]") {
  // By hand: 9B − 5C = 100, 11C − 5B = 200: B = 2100/74, C = 2300/74.
  ThermalNetwork net;
  const int a = net.add_node({"a", 0, 0, 100.0}), b = net.add_node({"b", 0, 0, {}});
  const int c = net.add_node({"c", 0, 0, {}}), d = net.add_node({"d", 0, 0, 0.0});
  net.add_link({"ab", a, b, 1, {}});
  net.add_link({"ac", a, c, 2, {}});
  net.add_link({"bd", b, d, 3, {}});
  net.add_link({"cd", c, d, 4, {}});
  net.add_link({"bc", b, c, 5, {}});
  const SteadyHeat heat = steady_heat(net);
  CHECK(heat.temperatures[b] == Approx(2100.0 / 74));
  CHECK(heat.temperatures[c] == Approx(2300.0 / 74));
  CHECK(heat.flows[4] == Approx(5 * (2100.0 - 2300.0) / 74));
  CHECK(sum_out(net, heat) == Approx(0.0).margin(1e-12));
}

TEST_CASE("network: one node warms and cools exponentially", "[solver][thermal]") {
  const ThermalNetwork net = one_node();
  CHECK(steady_heat(net).temperatures[0] == Approx(28.0));
  const HeatingCurve curve = heating_curve(net, uniform_start(net, 20.0), {0.0, 100.0, 400.0, 1e5});
  CHECK(curve.temperatures[0][0] == Approx(20.0));
  CHECK(curve.temperatures[1][0] == Approx(20 + 8 * (1 - std::exp(-0.25))).epsilon(1e-13));
  CHECK(curve.temperatures[2][0] == Approx(20 + 8 * (1 - std::exp(-1.0))).epsilon(1e-13));
  CHECK(curve.temperatures[3][0] == Approx(28.0));
  const FrozenNetwork frozen(net, uniform_start(net, 20.0));
  CHECK(frozen.time_constants()[0] == Approx(400.0));
}

TEST_CASE("network: two equal nodes have an even and an odd mode", "[solver][thermal]") {
  // C = 50 J/K each, 0.2 W/K each to ambient, 0.7 W/K between: rates 0.2/50 and (0.2 + 1.4)/50.
  ThermalNetwork net;
  for (const char* name : {"a", "b"}) net.add_node({name, 50.0, 0.0, {}});
  net.add_node({"ambient", 0, 0, 0.0});
  net.add_link({"", 0, 2, 0.2, {}});
  net.add_link({"", 1, 2, 0.2, {}});
  net.add_link({"", 0, 1, 0.7, {}});
  VectorXd start(3);
  start << 10.0, 2.0, 0.0;
  const VectorXd t = FrozenNetwork(net, start).after(start, 40.0);
  const double even = 6 * std::exp(-40 * 0.004), odd = 4 * std::exp(-40 * 0.032);
  CHECK(t[0] == Approx(even + odd).epsilon(1e-13));
  CHECK(t[1] == Approx(even - odd).epsilon(1e-13));
}

TEST_CASE("network: a node without capacity is two resistances in a row", "[solver][thermal]") {
  ThermalNetwork net;
  net.add_node({"part", 30.0, 0.0, {}});
  net.add_node({"face", 0.0, 1.5, {}});
  net.add_node({"ambient", 0, 0, 10.0});
  net.add_link({"", 0, 1, 2.0, {}});
  net.add_link({"", 1, 2, 0.5, {}});
  // The part ends at 10 + 1.5/0.5 = 13; its rate is 0.4/30.
  VectorXd start(3);
  start << 50.0, 0.0, 0.0;
  const VectorXd t = FrozenNetwork(net, start).after(start, 60.0);
  const double part = 13 + 37 * std::exp(-60 * 0.4 / 30);
  CHECK(t[0] == Approx(part).epsilon(1e-13));
  CHECK(t[1] == Approx((2 * part + 0.5 * 10 + 1.5) / 2.5).epsilon(1e-13));
}

TEST_CASE("network: what is insulated warms at P/C and has no steady state", "[solver][thermal]") {
  ThermalNetwork net;
  net.add_node({"lonely magnet", 80.0, 2.0, {}});
  net.add_node({"ambient", 0, 0, 20.0});
  const HeatingCurve curve = heating_curve(net, uniform_start(net, 20.0), {600.0});
  CHECK(curve.temperatures[0][0] == Approx(20 + 2 * 600.0 / 80));
  CHECK_THROWS_WITH(steady_heat(net), Contains("lonely magnet"));
  CHECK(std::isinf(FrozenNetwork(net, uniform_start(net, 20.0)).time_constants()[0]));
}

TEST_CASE("network: a body that only radiates cools as the fourth power says",
          "[solver][thermal]") {
  // Into black nothing: C dT/dt = −a T⁴, so 1/T³ = 1/T0³ + 3 a t/C.
  ThermalNetwork net;
  net.add_node({"body", 100.0, 0.0, {}});
  net.add_node({"nothing", 0, 0, -273.15});
  net.add_link(
      {"", 0, 1, 0, [](double t, double) { return 0.05 * radiation_film(1.0, t, -273.15); }});
  const double a = 0.05 * 5.6704e-8, start = 500.0;
  const HeatingCurve curve =
      heating_curve(net, uniform_start(net, start - 273.15), {100.0, 1000.0, 20000.0});
  for (std::size_t i = 0; i < 3; ++i) {
    const double exact = 1 / std::cbrt(1 / std::pow(start, 3) + 3 * a * curve.times[i] / 100.0);
    // The tolerance of 0.02 K bounds the cruder of two methods; 0.05 K allows for its sum over
    // steps.
    CHECK(curve.temperatures[i][0] + 273.15 == Approx(exact).margin(0.05));
  }
}

TEST_CASE("network: a limit is passed when the exponential says so", "[solver][thermal]") {
  const ThermalNetwork net = one_node();
  const VectorXd cold = uniform_start(net, 20.0);
  const auto reached = first_limit(net, cold, {{0, 27.9, "far"}, {0, 26.0, "near"}}, 1e5);
  REQUIRE(reached);
  CHECK(reached->limit.reason == "near");
  CHECK(reached->time == Approx(-400 * std::log(1 - 6.0 / 8)).epsilon(1e-9));
  CHECK_FALSE(first_limit(net, cold, {{0, 28.1, "never"}}, 1e5));
  CHECK_FALSE(first_limit(net, cold, {{0, 26.0, "later"}}, 500.0));
  CHECK(first_limit(net, cold, {{0, 19.0, "at once"}}, 1e5)->time == 0.0);
}

TEST_CASE("network: a repeating cycle ends in the analytic saw of one node", "[solver][thermal]") {
  // 300 s with 10 W, 500 s with none; with x = e^(−t/τ): hottest = 20 K (1 − x_on)/(1 − x_on
  // x_off).
  const ThermalNetwork net = one_node();
  VectorXd on(2), off(2);
  on << 10.0, 0.0;
  off << 0.0, 0.0;
  const PeriodicHeat heat = periodic_heat(net, {{300.0, on}, {500.0, off}});
  const double x_on = std::exp(-300.0 / 400), x_off = std::exp(-500.0 / 400);
  const double hottest = 20 * (1 - x_on) / (1 - x_on * x_off);
  CHECK(heat.hottest[0] == Approx(20 + hottest).epsilon(1e-12));
  CHECK(heat.coolest[0] == Approx(20 + hottest * x_off).epsilon(1e-12));
  CHECK(heat.starts[1][0] == Approx(heat.hottest[0]));
}

TEST_CASE("shell: surfaces, mean and peak of an even source are those of the radial solution",
          "[solver][thermal][shell]") {
  // k T'' + k T'/r + q = 0 between r1 and r2 with films to 15 °C inside, 40 °C outside, solved here
  // for a and b of T = a + b ln r − q r²/(4k) as two linear equations.
  for (double r1 : {0.002, 0.02, 0.0295}) {
    const double r2 = 0.03, length = 0.05, k = 0.3, source = 6.0, g1 = 0.4, g2 = 0.25;
    const double q = source / (pi * (r2 * r2 - r1 * r1) * length), kl = 2 * pi * k * length;
    const auto heat_out = [&](double r) { return Eigen::Vector2d(-kl, q * r * r * kl / (2 * k)); };
    // Outward flow at r: −2πkL b + πqL r². Inside: −flow(r1) = g1 (T1 − 15); outside flow = g2 (T2
    // − 40).
    Eigen::Matrix2d m;
    Eigen::Vector2d rhs;
    m << g1, g1 * std::log(r1) + heat_out(r1)[0], g2, g2 * std::log(r2) - heat_out(r2)[0];
    rhs << g1 * (15 + q * r1 * r1 / (4 * k)) - heat_out(r1)[1],
        g2 * (40 + q * r2 * r2 / (4 * k)) + heat_out(r2)[1];
    const Eigen::Vector2d ab = m.inverse() * rhs;
    const auto exact = [&](double r) { return ab[0] + ab[1] * std::log(r) - q * r * r / (4 * k); };
    double mean = 0.0, peak = -1e9;
    const int n = 20000;
    for (int i = 0; i < n; ++i) {
      const double r = r1 + (r2 - r1) * (i + 0.5) / n;
      mean += exact(r) * 2 * r * (r2 - r1) / n / (r2 * r2 - r1 * r1);
      peak = std::max(peak, exact(r));
    }

    const HeatShell shell{r1, r2, length, k};
    const ShellConductances g = shell_conductances(shell);
    ThermalNetwork net;
    net.add_node({"inner", 0, 0, {}});
    net.add_node({"mean", 0, source, {}});
    net.add_node({"outer", 0, 0, {}});
    net.add_node({"bore", 0, 0, 15.0});
    net.add_node({"room", 0, 0, 40.0});
    net.add_link({"", 0, 1, g.inner, {}});
    net.add_link({"", 1, 2, g.outer, {}});
    net.add_link({"", 0, 2, g.across, {}});
    net.add_link({"", 0, 3, g1, {}});
    net.add_link({"", 2, 4, g2, {}});
    const VectorXd t = steady_heat(net).temperatures;
    CHECK(t[0] == Approx(exact(r1)).epsilon(1e-9));  // cancellation in thin shells
    CHECK(t[2] == Approx(exact(r2)).epsilon(1e-9));
    CHECK(t[1] == Approx(mean).epsilon(1e-7));  // 20 000 rings
    CHECK(hottest_in_shell(shell, source, t[0], t[2]) == Approx(peak).epsilon(1e-6));
    CHECK(shell_temperature(shell, source, t[0], t[2], 0.0298) == Approx(exact(0.0298)));
  }
}

TEST_CASE("shell: a solid bar and a thin sheet are the textbook cases",
          "[solver][thermal][shell]") {
  // Bar: mean minus surface P/(8πkL), axis minus surface P/(4πkL). Sheet: mean P t/(12 k A) above
  // its equally warm faces.
  const HeatShell bar{0.0, 0.01, 0.1, 20.0};
  CHECK(shell_conductances(bar).outer == Approx(8 * pi * 20.0 * 0.1));
  CHECK(hottest_in_shell(bar, 5.0, 0.0, 50.0) == Approx(50 + 5.0 / (4 * pi * 20.0 * 0.1)));
  const HeatShell sheet{1.0, 1.001, 0.1, 20.0};
  const ShellConductances g = shell_conductances(sheet);
  CHECK(g.inner + g.outer == Approx(12 * 20.0 * 2 * pi * 1.0005 * 0.1 / 0.001).epsilon(1e-6));
  CHECK(g.across == Approx(-(g.inner + g.outer) / 6).epsilon(1e-3));  // thin: −2, 6 and 6 kA/t
}

TEST_CASE("film: the gap between concentric parts at hobby speeds", "[solver][thermal][film]") {
  // Computed by hand from the published laws for air with ν 1.7e-5 m²/s, k 0.027 W/(m·K), Pr 0.71
  // and an inner radius of 30 mm, outer side at rest; printed to the digits given.
  struct Row {
    double gap_mm, speed_rpm, taylor, nusselt, film;
  };
  const Fluid air{.density = 1, .viscosity = 1.7e-5, .conductivity = 0.027, .prandtl = 0.71};
  for (const Row& row :
       {Row{0.5, 1500, 18, 2.0, 54}, Row{0.5, 6000, 72, 2.7, 73}, Row{1.0, 300, 10, 2.0, 27},
        Row{1.0, 1500, 51, 2.2, 29}, Row{1.0, 3000, 101, 3.5, 48}, Row{1.5, 1500, 93, 3.2, 29},
        Row{1.5, 3000, 186, 4.8, 43}}) {
    const GapFlow gap{0.03, 0.03 + 1e-3 * row.gap_mm, row.speed_rpm * rpm, 0.0};
    const double taylor = taylor_number(gap, 1.7e-5);
    CHECK(taylor == Approx(row.taylor).margin(0.5));
    CHECK(gap_nusselt(taylor, 0.71) == Approx(row.nusselt).margin(0.05));
    CHECK(gap_film(gap, air) == Approx(row.film).margin(0.5));
  }
}

TEST_CASE("film: a gap mixes only where the inner side turns faster", "[solver][thermal][film]") {
  CHECK(taylor_number({0.03, 0.032, 0.0, 300.0}, 1.7e-5) == 0.0);
  CHECK(taylor_number({0.03, 0.032, 300.0, 290.0}, 1.7e-5) == 0.0);  // 0.27 against 0.297 m²/s
  CHECK(taylor_number({0.03, 0.032, 300.0, 100.0}, 1.7e-5) > 0.0);
  CHECK(taylor_number({0.03, 0.032, -300.0, 0.0}, 1.7e-5) ==
        Approx(taylor_number({0.03, 0.032, 300.0, 0.0}, 1.7e-5)));
}

TEST_CASE("film: natural convection around a warm pipe as in a textbook",
          "[solver][thermal][film]") {
  // Incropera, DeWitt, Fundamentals of Heat and Mass Transfer, example 9.4 (from memory): pipe of
  // 0.1 m at 165 °C in air at 23 °C, Ra 5.073e6, Pr 0.697: Nu 23.3, h 7.29 W/(m²K).
  CHECK(churchill_chu_nusselt(5.073e6, 0.697) == Approx(23.3).epsilon(0.01));
  CHECK(natural_film_cylinder(0.1, 165, 23) == Approx(7.29).epsilon(0.03));  // our air tables
  // The short law for laminar air, 1.32 (ΔT/D)^¼ (Holman, table 7-2, from memory).
  CHECK(natural_film_cylinder(0.1, 50, 20) ==
        Approx(1.32 * std::pow(30 / 0.1, 0.25)).epsilon(0.15));  // two fits to one cloud of points
}

TEST_CASE("film: turning cylinders and faces", "[solver][thermal][film]") {
  // By hand, in air with ν 1.6e-5 m²/s, k 0.026 W/(m·K), Pr 0.71, ω 100 rad/s. Cylinder of 0.1 m:
  // Re 31 250, Re^⅔ 992.1, Pr^⅓ 0.8921, Nu 117.7, h 30.6. Face: √(ω/ν) 2500 /m, h 0.36·0.026·2500
  // = 23.4.
  const Fluid air{.density = 1, .viscosity = 1.6e-5, .conductivity = 0.026, .prandtl = 0.71};
  CHECK(rotating_film_cylinder(0.1, 100, air) == Approx(30.6).epsilon(1e-3));
  CHECK(rotating_film_cylinder(0.1, -100, air) == Approx(30.6).epsilon(1e-3));
  CHECK(rotating_film_disc(100, air) == Approx(23.4));
  CHECK(rotating_film_disc(0, air) == 0.0);
  CHECK(natural_film_plate(0.1, 36, 20) == Approx(1.42 * 3.5566).epsilon(1e-4));  // 160^¼
}

TEST_CASE("film: radiation and fins in their limits", "[solver][thermal][film]") {
  CHECK(radiation_film(0.9, 20.0, 20.0) == Approx(4 * 0.9 * 5.6704e-8 * std::pow(293.15, 3)));
  // A fin that is short for its film loses h π d l; a long one does not care how long it is.
  CHECK(fin_conductance(0.01, 0.001, 50, 5) == Approx(5 * pi * 0.01 * 0.001).epsilon(1e-3));
  CHECK(fin_conductance(0.01, 9.0, 50, 5) == Approx(fin_conductance(0.01, 10.0, 50, 5)));
}
