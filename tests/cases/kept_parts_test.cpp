// tests/cases/kept_parts_test.cpp — members that stay the same are not made again.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <array>
#include <catch2/catch.hpp>
#include <string>

#include "case_texts.h"
#include "cases/kept_parts.h"
#include "cases/run_case.h"

using namespace lodegear;

namespace {

std::array<double, 3> torques_at_30(const Case& c, KeptParts* kept) {
  const PreparedCase prepared = prepared_case(c, kept);
  const FieldSolution field = prepared.solver->solve({0.0, 0.1, 0.0});
  REQUIRE(field.summary.converged);
  return {field.torque(Member::sun), field.torque(Member::modulator), field.torque(Member::ring)};
}

std::string with(const std::string& old, const std::string& now) {
  std::string text = short_case;
  return text.replace(text.find(old), old.size(), now);
}

Case with_ring_up_to(const std::string& radius) {
  return read(with("outer_radius_mm = 44", "outer_radius_mm = " + radius));
}

}  // namespace

TEST_CASE("kept members: only what changed is meshed and condensed, to the same bits",
          "[cases][kept]") {
  KeptParts kept;
  CHECK(torques_at_30(with_ring_up_to("44"), &kept) == torques_at_30(with_ring_up_to("44"), {}));
  CHECK(kept.meshes.n_found() == 0);

  const Case other = with_ring_up_to("45");
  CHECK(torques_at_30(other, &kept) == torques_at_30(other, {}));
  CHECK(kept.meshes.n_found() == 2);  // sun and modulator
  CHECK(kept.members.n_found() == 2);
}

TEST_CASE("kept members: another grade makes another member", "[cases][kept]") {
  KeptParts kept;
  const Case c = read(short_case);
  const Case stronger = read(with("grade = \"N42\"", "grade = \"N48\""));
  const auto before = torques_at_30(c, &kept), after = torques_at_30(stronger, &kept);
  CHECK(kept.meshes.n_found() == 2);  // modulator and ring; a mesh names its materials
  CHECK(kept.members.n_found() == 2);
  CHECK(before != after);
  CHECK(after == torques_at_30(stronger, {}));
}

TEST_CASE("kept members: those not used for long are given up", "[cases][kept]") {
  LastUsed<int, int> squares(2);
  const auto square = [&squares](int x) { return squares.of(x, [x] { return x * x; }); };
  for (int x : {1, 2, 1, 3, 1, 2}) CHECK(square(x) == x * x);
  CHECK(squares.n_found() == 2);  // 1 twice; 2 was given up for 3
}
