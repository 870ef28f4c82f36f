// tests/mesh/mesh_plan_test.cpp — annuli, orders, and how gaps are split.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh/mesh_plan.h"

#include <catch2/catch.hpp>

#include "gears.h"
#include "mesh/check_gear.h"
#include "mesh/member_limits.h"

using namespace lodegear;
using Catch::WithinAbs;
using Catch::WithinRel;

TEST_CASE("mesh plan: the annulus is the middle two fifths of a gap", "[mesh][mesh_plan]") {
  const MeshPlan plan = mesh_plan(standard_gear(), {});
  REQUIRE(plan.gaps.size() == 2);
  CHECK_THAT(plan.gaps[0].inner_radius, WithinAbs(30.3 * mm, 1e-15));
  CHECK_THAT(plan.gaps[0].outer_radius, WithinAbs(30.7 * mm, 1e-15));
  CHECK_THAT(plan.gaps[1].inner_radius, WithinAbs(37.3 * mm, 1e-15));
  CHECK_THAT(plan.gaps[1].outer_radius, WithinAbs(37.7 * mm, 1e-15));
}

TEST_CASE("mesh plan: orders follow radius over gap, ripple order and the bounds",
          "[mesh][mesh_plan]") {
  Gear gear = standard_gear();
  CHECK(mesh_plan(gear, {}).gaps[0].orders > 136);  // LCM(8, 17), the first ripple order
  gear.sun->pole_pairs = 3;
  gear.modulator->pole_pieces = 16;  // LCM(6, 16) = 48: the gaps decide, 30.5 and 37.5 times 1 mm
  const MeshPlan plan = mesh_plan(gear, {});
  CHECK_THAT(1.0 * plan.gaps[1].orders / plan.gaps[0].orders,
             WithinRel(37.5 / 30.5, 0.02));  // rounded up to whole orders
  gear.sun->outer_radius = 30.9 * mm;
  CHECK(mesh_plan(gear, {}).gaps[0].orders == 260);  // the most
  gear.sun->outer_radius = 20 * mm;                  // 11 mm of gap: the ripple order decides again
  gear.sun->inner_radius = 14 * mm;
  CHECK(mesh_plan(gear, {}).gaps[0].orders > 48);
  CHECK(mesh_plan(gear, {}).gaps[0].orders < 60);
  gear.modulator.reset();                           // 18 mm of gap and no ripple order
  CHECK(mesh_plan(gear, {}).gaps[0].orders == 24);  // the fewest
}

TEST_CASE("mesh plan: asked orders win", "[mesh][mesh_plan]") {
  Resolution resolution;
  resolution.orders_inner_gap = 40;
  const MeshPlan plan = mesh_plan(standard_gear(), resolution);
  CHECK(plan.gaps[0].orders == 40);
  CHECK(plan.gaps[1].orders == mesh_plan(standard_gear(), {}).gaps[1].orders);
}

TEST_CASE("mesh plan: beside a sleeve the annulus lies in the wider clear part",
          "[mesh][mesh_plan]") {
  Gear gear = standard_gear();
  gear.sleeves.push_back({Gap::inner, 30.2 * mm, 30.5 * mm, "can", TurnsWith::housing});
  const MeshPlan plan = mesh_plan(gear, {});
  CHECK_THAT(plan.gaps[0].inner_radius, WithinAbs(30.65 * mm, 1e-15));
  CHECK_THAT(plan.gaps[0].outer_radius, WithinAbs(30.85 * mm, 1e-15));
  CHECK(member_limits(gear, plan, Member::sun).sleeves.size() == 1);
  CHECK(member_limits(gear, plan, Member::modulator).sleeves.empty());
}

TEST_CASE("mesh plan: gap circles have at least 2.5 edges an order, more when finer",
          "[mesh][mesh_plan]") {
  const Gear gear = standard_gear();
  for (double fineness : {0.5, 1.0, 2.0}) {
    Resolution resolution;
    resolution.fineness = fineness;
    const MeshPlan plan = mesh_plan(gear, resolution);
    const MemberLimits limits = member_limits(gear, plan, Member::modulator);
    CHECK(limits.inner.n_edges >= 2.5 * plan.gaps[0].orders * std::max(1.0, fineness));
    CHECK(limits.outer.n_edges >= 2.5 * plan.gaps[1].orders * std::max(1.0, fineness));
  }
}

TEST_CASE("mesh plan: a solid hub is meshed to the axis, a missing one to a bore in air",
          "[mesh][mesh_plan]") {
  Gear gear = standard_gear();
  MeshPlan plan = mesh_plan(gear, {});
  CHECK(member_limits(gear, plan, Member::sun).inner.radius == 0.0);
  // Ring: 0.3 of the pole pitch 2π·44/26 beyond the magnets.
  CHECK_THAT(member_limits(gear, plan, Member::ring).outer.radius,
             WithinAbs((44 + 0.3 * 2 * pi * 44 / 26) * mm, 1e-15));
  gear.sun->iron.reset();
  CHECK_THAT(member_limits(gear, plan, Member::sun).inner.radius,
             WithinAbs((24 - 0.3 * 2 * pi * 24 / 8) * mm, 1e-15));
  gear.sun->pole_pairs = 1;
  CHECK_THAT(member_limits(gear, plan, Member::sun).inner.radius, WithinAbs(7.2 * mm, 1e-15));
}

TEST_CASE("gap clearance: the magnetic gap counts steel and magnets, the running one the sleeve",
          "[mesh][check_gear]") {
  Gear gear = standard_gear();
  gear.sleeves = {{Gap::inner, 30.2 * mm, 30.5 * mm, "can", TurnsWith::housing},
                  {Gap::outer, 37.7 * mm, 38 * mm, "bandage", TurnsWith::ring}};
  const GapClearance inner = gap_clearance(gear, Gap::inner);
  CHECK_THAT(inner.magnetic, WithinAbs(1 * mm, 1e-15));
  CHECK_THAT(inner.running_inner, WithinAbs(0.2 * mm, 1e-15));
  CHECK_THAT(inner.running_outer, WithinAbs(0.5 * mm, 1e-15));
  const GapClearance outer = gap_clearance(gear, Gap::outer);  // the bandage lies on the ring
  CHECK_THAT(outer.running_inner, WithinAbs(0.7 * mm, 1e-15));
  CHECK_THAT(outer.running_outer, WithinAbs(0.7 * mm, 1e-15));
  gear.modulator.reset();
  gear.sleeves.clear();
  CHECK_THAT(gap_clearance(gear, Gap::inner).magnetic, WithinAbs(8 * mm, 1e-15));
}
