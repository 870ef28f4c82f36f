// solver/post/clearance.cpp — how much of a running clearance is left when everything adds up.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/clearance.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "mesh/member_limits.h"

namespace lodegear {

namespace {

constexpr double mm = 1e-3;
const char* const usual = "usual value, no source";

// What faces a clearance.
struct Side {
  std::string name;
  std::vector<GapLoss> losses;
  std::optional<Member> turns_with;  // none: the housing
};

Side member_side(Member m, const ClearanceInput& input) { return {name_of(m), input.of(m), m}; }

Side sleeve_side(const Sleeve& sleeve, const ClearanceInput& input) {
  Side side{"sleeve", input.sleeves, std::nullopt};
  if (sleeve.turns_with == TurnsWith::sun) side.turns_with = Member::sun;
  if (sleeve.turns_with == TurnsWith::modulator) side.turns_with = Member::modulator;
  if (sleeve.turns_with == TurnsWith::ring) side.turns_with = Member::ring;
  if (side.turns_with) {
    const std::vector<GapLoss>& carrier = input.of(*side.turns_with);
    side.losses.insert(side.losses.end(), carrier.begin(), carrier.end());
  }
  return side;
}

}  // namespace

double ClearanceBudget::worst_case() const {
  double left = nominal;
  for (const GapLoss& loss : losses) left -= loss.value;
  return left;
}

double ClearanceBudget::likely() const {
  double certain = 0.0, squares = 0.0;
  for (const GapLoss& loss : losses) {
    (loss.certain ? certain : squares) += loss.certain ? loss.value : loss.value * loss.value;
  }
  return nominal - certain - std::sqrt(squares);
}

std::vector<GapLoss> ClearanceBudget::ranked() const {
  std::vector<GapLoss> list = losses;
  std::stable_sort(list.begin(), list.end(),
                   [](const GapLoss& a, const GapLoss& b) { return a.value > b.value; });
  return list;
}

const ClearanceBudget* tightest(const std::vector<ClearanceBudget>& budgets) {
  const auto found = std::min_element(budgets.begin(), budgets.end(),
                                      [](const ClearanceBudget& a, const ClearanceBudget& b) {
                                        return a.worst_case() < b.worst_case();
                                      });
  return found == budgets.end() ? nullptr : &*found;
}

std::vector<GapLoss> usual_tolerances(Member member, Making making) {
  const std::string of = std::string(", ") + name_of(member);
  std::vector<GapLoss> list = {
      {"bearing play" + of, 0.02 * mm, usual, false},
      {"run-out" + of, 0.03 * mm, usual, false},
      {"roundness" + of, (making == Making::printed ? 0.3 : 0.02) * mm, usual, false},
  };
  if (member == Member::modulator) return list;
  list.push_back({"size of the magnets" + of, 0.05 * mm, usual, false});
  list.push_back({"plating" + of, 0.02 * mm, usual, false});
  list.push_back({"glue line" + of, 0.1 * mm, usual, false});
  return list;
}

GapLoss thermal_growth(double radius_inner, double expansion_inner, double warming_inner,
                       double radius_outer, double expansion_outer, double warming_outer) {
  return {"thermal growth",
          expansion_inner * radius_inner * warming_inner -
              expansion_outer * radius_outer * warming_outer,
          "expansion × radius × warming", true};
}

double flat_face_sagitta(double radius, double width) {
  return radius - std::sqrt(radius * radius - width * width / 4);
}

std::vector<ClearanceBudget> clearance_budgets(const Gear& gear, const ClearanceInput& input) {
  std::vector<ClearanceBudget> budgets;
  const std::vector<Member> members = members_present(gear);
  for (std::size_t gap = 0; gap + 1 < members.size(); ++gap) {
    std::vector<Side> sides = {member_side(members[gap], input)};
    for (const Sleeve& sleeve : sleeves_between(gear, static_cast<int>(gap)))
      sides.push_back(sleeve_side(sleeve, input));
    sides.push_back(member_side(members[gap + 1], input));
    const std::vector<ClearPart> parts = clear_parts(gear, static_cast<int>(gap));
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
      if (sides[i].turns_with == sides[i + 1].turns_with) continue;  // nothing runs there
      ClearanceBudget budget;
      budget.name = sides[i].name + " to " + sides[i + 1].name;
      budget.nominal = parts[i].length();
      for (const Side* side : {&sides[i], &sides[i + 1]})
        budget.losses.insert(budget.losses.end(), side->losses.begin(), side->losses.end());
      budgets.push_back(std::move(budget));
    }
  }
  return budgets;
}

}  // namespace lodegear
