// tests/cases/input_effects_test.cpp — what a small change of each input does.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input_effects.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "case_texts.h"
#include "cases/effects_of_case.h"
#include "cases/ends_of_case.h"
#include "cases/run_case.h"
#include "cases/thermal_of_case.h"
#include "cases/validate_case.h"
#include "cases/validation_csv.h"
#include "cases/validation_text.h"
#include "mesh/check_gear.h"
#include "mesh/ladder.h"
#include "tests/support/small_case.h"

using namespace lodegear;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

RunOptions with_threads(int n) {
  RunOptions options;
  options.threads = n;
  return options;
}

Nudge nudge_named(const Case& c, const std::string& input) {
  for (const Nudge& nudge : nudges_of(c))
    if (nudge.input == input) return nudge;
  FAIL("there is no input " << input);
  return {};
}

const InputEffect& effect_of(const Validation& v, const std::string& input) {
  const auto found = std::find_if(v.effects.begin(), v.effects.end(),
                                  [&](const InputEffect& e) { return e.input == input; });
  REQUIRE(found != v.effects.end());
  return *found;
}

/// Effects on a case whose slip curve alone is computed, on the usual mesh; nothing is judged.
Validation with_effects(const std::string& text) {
  Validation v;
  Case c = read(text);
  v.drive = drive_of(c);
  c.running.reset();
  v.gear = run_case(c);
  v.gear.input.running = read(text).running;
  add_input_effects(v, {}, with_threads(2));
  return v;
}

/// Expected on the bench of a whole run on a fine mesh, N·m.
double fine_bench(Case c, Member output) {
  c.running.reset();
  c.accuracy = {5e-4, true};
  const CaseResult result = run_case(c);
  return of(result.slip_torque->peak, output) * end_effect(*ends_input(c)).ratio;
}

}  // namespace

TEST_CASE("input effects: a slope is the difference quotient, open by what its sides differ",
          "[cases][effects]") {
  const Case c = read(short_case);
  Nudge nudge = nudge_named(c, "inner gap");
  nudge.step = 0.2e-3;
  nudge.difference = 0.1e-3;
  const double r = c.gear.sun->outer_radius;
  // f = x + k x², x how much the sun is smaller in 0.1 mm.
  const FigureOfCase bent = [r](const Case& changed) {
    const double x = (r - changed.gear.sun->outer_radius) / 0.1e-3;
    return 5 + x + 0.25 * x * x;
  };
  for (const int threads : {1, 2}) {
    const auto found = slopes(c, {nudge}, 5.0, bent, with_threads(threads));
    CHECK_THAT(found[0].slope, WithinRel(2.0, 1e-6));
    CHECK_THAT(found[0].open, WithinRel(0.5, 1e-6));
  }
  // One side only: open by what half of the way says otherwise, 2 · 1.25 against 2 · 1.125.
  const auto one = slopes(
      c, {nudge}, 5.0,
      [&](const Case& changed) {
        if (changed.gear.sun->outer_radius > r) throw std::runtime_error("no");
        return bent(changed);
      },
      with_threads(1));
  CHECK_THAT(one[0].slope, WithinRel(2.5, 1e-6));
  CHECK_THAT(one[0].open, WithinRel(0.25, 1e-6));
  const auto none = slopes(
      c, {nudge}, 5.0, [](const Case&) -> double { throw std::runtime_error("no luck"); },
      with_threads(1));
  CHECK(none[0].why_none == "no luck");
}

TEST_CASE("input effects: what is changed is changed, and the rest stays", "[cases][effects]") {
  for (const char* text : {short_case, block_case}) {
    const Case c = read(text);
    for (const Nudge& nudge : nudges_of(c)) {
      INFO(nudge.input);
      CHECK(nudge.now > 0.0);
      Case changed = c;
      nudge.apply(changed, nudge.difference);
      CHECK(check_gear(changed.gear).empty());
      for (const Gap gap : {Gap::inner, Gap::outer}) {
        const bool this_gap = nudge.input == (gap == Gap::inner ? "inner gap" : "outer gap");
        CHECK_THAT(gap_clearance(changed.gear, gap).magnetic - gap_clearance(c.gear, gap).magnetic,
                   WithinAbs(this_gap ? nudge.difference : 0.0, 2e-6));  // corners of blocks
      }
      for (const Nudge& again : nudges_of(changed)) {
        const auto before = nudge_named(c, again.input);
        const bool same = again.input == nudge.input;
        CHECK_THAT(again.now - before.now,
                   WithinAbs(same ? nudge.difference : 0.0, 2e-6 + 1e-9 * before.now));
      }
    }
  }
}

TEST_CASE(
    "input effects: plane torque goes as the stack and, with linear steel, as both remanences",
    "[cases][effects][slow]") {
  const Case c = read(small_case);
  const Resolution coarse = resolution_for(c.gear, 0.0, false);
  const FigureOfCase torque = [&](const Case& changed) {
    return torque_at(changed, coarse, Member::modulator, 0.5 * 3.14159265358979);
  };
  const double base = torque(c);
  const Nudge stack = nudge_named(c, "stack length");
  const std::vector<Nudge> nudges = {stack, nudge_named(c, "sun remanence"),
                                     nudge_named(c, "ring remanence")};
  const auto found = slopes(c, nudges, base, torque, with_threads(2));
  // Exactly, but for rounding and the residual of Newton's method.
  CHECK_THAT(found[0].slope / base, WithinRel(stack.step / stack.now, 1e-8));
  CHECK(found[0].open < 1e-8 * base);
  // T = Σ B_r B_r: the product of both rotors drives the gear; that of a rotor with itself is the
  // cogging, below a hundredth at these angles.
  double sum = 0.0;
  for (const std::size_t i : {1u, 2u})
    sum += found[i].slope / base * nudges[i].now / nudges[i].step;
  CHECK_THAT(sum, WithinRel(2.0, 0.01));
}

TEST_CASE("input effects: gaps and sizes agree with whole runs on fine meshes",
          "[cases][effects][slow]") {
  const Validation v = with_effects(short_case);
  const Case& c = v.gear.input;
  for (const char* input : {"inner gap", "sun magnet thickness", "pole piece width"}) {
    Nudge nudge = nudge_named(c, input);
    const auto at = [&](double change) {
      Case changed = c;
      nudge.apply(changed, change);
      return fine_bench(changed, v.drive.output);
    };
    const double less = at(-nudge.difference), more = at(nudge.difference);
    const double expected =
        (more - less) / (0.5 * (more + less)) * 0.5 * nudge.step / nudge.difference;
    const InputEffect& effect = effect_of(v, input);
    const double found = effect.step < 0 ? -effect.torque->part : effect.torque->part;
    INFO(input << ": " << found << " ± " << effect.torque->open << ", fine " << expected);
    // A coarse mesh at the angle of the peak: a twentieth, and what the sides
    // differ by. The fine runs are open by up to 5e-4 each over the same difference; what the
    // coarse mesh is off by, some 2e-3, changes a little with the shapes, too.
    const double fine_open = 2 * 5e-4 * nudge.step / nudge.difference;
    CHECK_THAT(found,
               WithinAbs(expected, 0.05 * std::abs(expected) + effect.torque->open + fine_open));
  }
}

TEST_CASE("input effects: with ends the stack's is what their formula says",
          "[cases][effects][slow]") {
  const Validation v = with_effects(short_case);
  const Nudge stack = nudge_named(v.gear.input, "stack length");
  const auto effective = [&](double change) {
    Case c = v.gear.input;
    stack.apply(c, change);
    return end_effect(*ends_input(c)).effective_length;
  };
  const InputEffect& effect = effect_of(v, "stack length");
  const double expected = (effective(1e-4) - effective(-1e-4)) / 2e-4 * 1e-3 / effective(0.0);
  CHECK_THAT(effect.torque->part, WithinRel(expected, 0.02));  // a difference of 3 % of the length
  CHECK(*effect.torque_percent > 1.0);  // the ends cost a long stack no more than a short one
}

TEST_CASE("input effects: those of the requirement that decides stand first and are told",
          "[cases][effects][slow]") {
  std::string text = std::string(short_case) + "[use]\nload_Nm = 4\n[require]\n";
  for (std::size_t at = 0; (at = text.find("\"N42\"", at)) != std::string::npos;)
    text.replace(at, 5, "\"N42SH\"");  // of which no slip takes anything
  const auto with = [&](const std::string& require) {
    return validate_case(read(text + require), Catalogue());
  };
  const Validation torque = with("slip_torque_Nm = 50\n");
  REQUIRE(deciding(torque)->kind == Wanted::torque);
  CHECK(torque.effects_on == deciding(torque)->what);
  CHECK_THAT(validation_text(torque), Contains("Computed, by step: ") && Contains("What a small"));
  for (std::size_t i = 1; i < torque.effects.size(); ++i)
    CHECK(torque.effects[i - 1].margin->part >= torque.effects[i].margin->part);
  for (const InputEffect& e : torque.effects) CHECK(e.margin->part >= 0.0);  // the way that helps
  CHECK(effect_of(torque, "stack length").step > 0.0);
  CHECK(effect_of(torque, "inner gap").step < 0.0);
  CHECK(effect_of(torque, "magnet temperature").step < 0.0);

  const Validation mass = with("active_mass_kg = 0.5\n");
  REQUIRE(deciding(mass)->kind == Wanted::mass);
  // A millimetre less of 25 takes a twenty-fifth of the mass.
  const InputEffect& shorter = effect_of(mass, "stack length");
  CHECK(shorter.step < 0.0);
  CHECK_THAT(shorter.margin->part, WithinRel(mass.active_mass / 0.5 / 25, 0.01));
  CHECK_THAT(effect_of(mass, "sun remanence").margin->part, WithinAbs(0.0, 1e-12));

  const Validation losses = with("efficiency_percent = 99\n");
  REQUIRE(deciding(losses)->kind == Wanted::losses);
  CHECK(losses.why_torque_only.empty());
  CHECK(losses.effects.front().margin->part > 0.0);
  CHECK_THAT(small_changes_csv(losses), Contains("inner gap,mm,"));

  const Validation clearance = with("clearance_mm = 3\n");
  REQUIRE(deciding(clearance)->kind == Wanted::clearance);
  // A tenth of a millimetre more of 3 that are wanted.
  CHECK_THAT(clearance.effects.front().margin->part, WithinRel(0.1 / 3, 0.01));
  CHECK_THAT(clearance.effects.front().input, Contains("gap"));
}
