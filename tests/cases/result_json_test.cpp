// tests/cases/result_json_test.cpp — the summary that programs read.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cases/sha256.h"
#include "cases/summary_json.h"
#include "result_of_tests.h"
#include "tests/support/small_case.h"

using namespace lodegear;

namespace {

nlohmann::json summary(const CaseResult& result) {
  return nlohmann::json::parse(summary_json(result, {{"result.h5", "abc"}}));
}

}  // namespace

TEST_CASE("sha256: as the standard's examples", "[cases][result]") {
  // FIPS 180-4 and NIST's example values for "abc" and the empty message.
  CHECK(sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("summary.json: every figure has value, unit and origin", "[cases][result]") {
  const auto json = summary(small_result());
  int figures = 0;
  const std::function<void(const nlohmann::json&)> visit = [&](const nlohmann::json& node) {
    if (node.is_object() && node.contains("value") && node.contains("unit")) {
      ++figures;
      CHECK(node["value"].is_number());
      CHECK_FALSE(node["unit"].get<std::string>().empty());
      CHECK_FALSE(node["how"].get<std::string>().empty());
    } else if (node.is_structured()) {
      for (const auto& child : node) visit(child);
    }
  };
  visit(json);
  CHECK(figures > 40);
  CHECK(json["case"]["sha256"] == sha256(small_case));
  CHECK(json["files"]["result.h5"]["sha256"] == "abc");
}

TEST_CASE("summary.json: figures are those of the result", "[cases][result]") {
  const CaseResult& result = small_result();
  const auto json = summary(result);
  CHECK(json["gear"]["poles"] == "2/5/3");
  CHECK(json["slip_torque"]["members"]["modulator"]["peak"]["value"].get<double>() ==
        of(result.slip_torque->peak, Member::modulator));
  CHECK(json["speed_ratios"][1]["input_over_output"]["value"].get<double>() == 2.5);
  CHECK(json["running_curves"].size() == 3);
  CHECK(json["running_curves"][0]["purpose"] == "no load");
  // Ripple repeats LCM(2·2, 5) = 20 times a turn: the first order there is.
  CHECK(json["running_curves"][0]["members"]["sun"]["spectrum"]["orders"][0]["order"] == 20);
  CHECK(json["assumed"].size() == result.input.assumed.size());
  CHECK(json["solver"]["exit_code"] == 0);
}

TEST_CASE("summary.json: a hole takes the figures that need it, and says so", "[cases][result]") {
  const auto json = summary(result_with_hole());
  CHECK(json["slip_torque"].is_null());
  CHECK(json["stiffness"].is_null());
  CHECK(json["solver"]["not_converged"] == 1);
  CHECK(json["solver"]["exit_code"] == 3);
  CHECK(json["running_curves"][0]["members"]["sun"]["percent_of_slip"].is_null());
}

TEST_CASE("summary.json: members that are absent are null", "[cases][result]") {
  CaseResult result = small_result();
  result.input.gear.ring.reset();
  CHECK(summary(result)["slip_torque"]["members"]["ring"].is_null());
  CHECK(summary(result)["gear"]["ring_pole_pairs"].is_null());
}
