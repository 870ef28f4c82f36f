// tests/cases/validation_test.cpp — the verdict, and what stands behind it, on whole cases.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>

#include "case_texts.h"
#include "cases/judgements.h"
#include "cases/thermal_of_case.h"
#include "cases/validate_case.h"
#include "cases/validation_text.h"
#include "materials/constants.h"
#include "materials/input_error.h"
#include "tests/support/varied_gears.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

// 4/17/13 of short_case with all that validate asks for; invented.
const std::string& service_text() {
  static const std::string text =
      "[use]\nload_Nm = 4\n[build]\nsun_carrier = \"PETG\"\n"
      "[[bearing]]\nturns = \"sun\"\nbore_mm = 10\n"
      "[[bearing]]\nturns = \"modulator\"\nbore_mm = 12\n"
      "[require]\nslip_torque_Nm = 5\nefficiency_percent = 60\nouter_diameter_mm = 120\n"
      "active_mass_kg = 3\nmagnet_temperature_C = 70\n";
  return text;
}

const Validation& validated() {
  static const Validation v =
      validate_case(read(with_more(short_case, service_text())), Catalogue());
  return v;
}

const Judgement& judged(const Validation& v, const std::string& what) {
  const auto found = std::find_if(v.judgements.begin(), v.judgements.end(), [&](const auto& j) {
    return j.what.find(what) != std::string::npos;
  });
  REQUIRE(found != v.judgements.end());
  return *found;
}

}  // namespace

TEST_CASE("validation: input power is output power and all losses", "[cases][validation][slow]") {
  const Validation& v = validated();
  REQUIRE(v.at_work);
  double magnetic = 0.0;
  for (const PartLoss& part : v.losses) magnetic += part.loss.total();
  const double friction = total_power(v.at_work->friction);
  CHECK_THAT(magnetic + friction + v.at_work->output_power,
             WithinRel(v.at_work->input_power, 1e-9));
  CHECK(v.at_work->efficiency == v.at_work->output_power / v.at_work->input_power);
  // And all of it is heat somewhere.
  CHECK_THAT(v.temperatures.heat_in, WithinRel(magnetic + friction, 1e-9));
  CHECK_THAT(v.temperatures.heat_out, WithinRel(v.temperatures.heat_in, 1e-6));
}

TEST_CASE("validation: the bench torque is the plane one less the ends, within its band",
          "[cases][validation][slow]") {
  const Validation& v = validated();
  REQUIRE(v.ends);
  CHECK_THAT(v.slip_torque.expected, WithinRel(plane_torque(v) * v.ends->ratio, 1e-12));
  CHECK(v.ends->ratio < 1.0);
  CHECK(v.slip_torque.low < v.slip_torque.expected * v.ends->low / v.ends->ratio + 1e-12);
  CHECK(v.slip_torque.high > v.slip_torque.expected);
  // A longer stack has more torque for its length, and magnets that stand out win some back.
  REQUIRE(v.lengths.size() == 5);
  for (std::size_t i = 0; i < v.lengths.size(); ++i) {
    CHECK(v.lengths[i].with_overhang > v.lengths[i].torque);
    if (i == 0) continue;
    CHECK(v.lengths[i].torque / v.lengths[i].length >
          v.lengths[i - 1].torque / v.lengths[i - 1].length);
  }
  CHECK_THAT(v.lengths[1].torque, WithinRel(v.slip_torque.expected, 1e-6));
  for (const AxialPull& pull : v.axial_pulls) CHECK(pull.pull > 0.0);  // back to the middle
}

TEST_CASE("validation: magnets are solved as warm as they become", "[cases][validation][slow]") {
  const Validation& v = validated();
  for (const MagnetHealth& m : v.magnets) {
    const double found = v.temperatures.of(std::string(name_of(m.member)) + " magnets");
    CHECK_THAT(m.temperature, WithinAbs(found, 1.01));  // solved anew from 1 K on
    REQUIRE(m.slipping);
    CHECK(m.slipping->margin <= m.in_use->margin);
  }
  CHECK(v.torque_after_slip <= 1.0);
}

TEST_CASE("validation: a requirement is judged by its band", "[cases][validation][slow]") {
  Validation v = validated();
  Requirements& require = v.gear.input.service.require;
  const auto judge = [&](double wanted) {
    require.slip_torque = wanted;
    v.judgements = judgements(v);
    return judged(v, "slip torque on").judged;
  };
  CHECK(judge(0.99 * v.slip_torque.low) == Judged::pass);
  CHECK(judge(0.5 * (v.slip_torque.low + v.slip_torque.expected)) == Judged::unsure);
  CHECK(judge(1.01 * v.slip_torque.expected) == Judged::fail);
  CHECK(deciding(v)->judged == Judged::fail);
  CHECK_FALSE(judged(v, "slip torque on").help.empty());
  CHECK(exit_code(v) == 1);
  require.slip_torque.reset();
  v.judgements = judgements(v);
  for (const Judgement& j : v.judgements) CHECK(j.what.find("slip torque on") == std::string::npos);
}

TEST_CASE("validation: a load beyond the slip torque cannot be carried",
          "[cases][validation][slow]") {
  Case c = read(with_more(short_case, service_text()));
  c.service.use.load = 1e3;
  const Validation v = validate_case(c, Catalogue());
  CHECK_FALSE(v.at_work);
  CHECK(judged(v, "slip torque over load").judged == Judged::fail);
  CHECK(judged(v, "efficiency").judged == Judged::fail);
  CHECK_THAT(validation_text(v), Contains("cannot carry this load"));
}

TEST_CASE("validation: the text begins with the verdict and ends with the cautions",
          "[cases][validation][slow]") {
  const std::string text = validation_text(validated());
  CHECK(text.find("Verdict: ") < text.find("Expected on the bench"));
  for (const char* part : {"the ends of the stack leave", "Losses at 1000 rpm", "Efficiency",
                           "Temperatures", "through a slip", "Side pull", "Clearance", "Motion",
                           "0.5 mT", "Never for hoisting", "Local codes"})
    CHECK_THAT(text, Contains(part));
}

TEST_CASE("validation: a case without slip or running, or with two members, is refused",
          "[cases][validation]") {
  Case c = read(short_case);
  c.slip.reset();
  CHECK_THROWS_WITH(validate_case(c, Catalogue()), Contains("[sun], [modulator] and [ring]"));
}

TEST_CASE("validation: sheets stacked the wrong way are told", "[cases][validation][slow]") {
  Case c = read(with_more(short_case, service_text()));
  c.service.build.sheets_stacked = SheetsStacked::radially;
  const Validation v = validate_case(c, Catalogue());
  CHECK_THAT(validation_text(v), Contains("sheet"));
  CHECK(v.cautions.size() > validated().cautions.size());
}

TEST_CASE("validation: facts of the trade about a printed gear on a bench",
          "[cases][validation][slow]") {
  // Common practice, no source: at 4.5 N·m, for twenty minutes, laminated pole pieces and magnets
  // stay within a few kelvin of the room; friction is a large part of the loss and total efficiency
  // near 85 %; solid pole pieces lose many times as much.
  Case c = read(with_more(short_case, service_text()));
  c.service.use.load = 4.5;
  c.service.use.bench_time = 20 * 60;
  c.running->input_speed = 300 * 2 * pi / 60;  // by hand or a small motor
  const Validation v = validate_case(c, Catalogue());
  REQUIRE(v.at_work);
  const Eigen::VectorXd& warm = v.temperatures.heating.temperatures.back();
  for (std::size_t i = 0; i < v.temperatures.names.size(); ++i) {
    INFO(v.temperatures.names[i] << " " << warm[static_cast<Eigen::Index>(i)] << " °C");
    CHECK(warm[static_cast<Eigen::Index>(i)] < v.gear.input.service.use.ambient + 6.0);
  }
  INFO("efficiency " << v.at_work->efficiency << ", friction " << v.at_work->friction_loss
                     << " W, magnetic " << v.at_work->magnetic_loss << " W");
  CHECK(v.at_work->efficiency > 0.75);
  CHECK(v.at_work->efficiency < 0.99);
  CHECK(v.at_work->friction_loss > 0.5 * v.at_work->magnetic_loss);
  REQUIRE(v.solid_poles);
  CHECK(v.solid_poles->solid_estimate > 5 * v.solid_poles->as_built);
}

TEST_CASE("validation: 20 gears by lot get a verdict", "[cases][validation][long]") {
  for (int number = 0; number < 20; ++number) {
    INFO("gear " << number << " of seed 41");
    const Validation v = validate_case(read(varied_gear(41, number)), Catalogue());
    REQUIRE(deciding(v) != nullptr);
    CHECK(v.slip_torque.expected > 0.0);
    CHECK(std::isfinite(v.temperatures.steady.sum()));
    REQUIRE(v.at_work);
    CHECK(v.at_work->efficiency > 0.0);
    CHECK(v.at_work->efficiency < 1.0);
    CHECK(v.gear.solver->path() == "fast");
    std::cout << number << ": " << name_of(deciding(v)->judged) << ", " << deciding(v)->what << ", "
              << deciding(v)->figure << std::endl;
  }
}
