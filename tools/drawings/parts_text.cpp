// tools/drawings/parts_text.cpp — the parts list as a table for programs and one for people.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <map>

#include "cases/csv_files.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"
#include "mesh/member_limits.h"
#include "tools/drawings/parts_list.h"
#include "tools/drawings/section_parts.h"

namespace lodegear {

namespace {

constexpr int line_width = 92;

std::string csv(const std::vector<ListedPart>& list) {
  std::string text =
      "member,part,description,material,count,mass_each_kg,mass_kg,price_each,price\n";
  for (const ListedPart& p : list) {
    text += p.member + "," + p.part + "," + text_cell(p.description) + "," + text_cell(p.material) +
            "," + std::to_string(p.count);
    for (const auto& value : {p.mass, p.price})
      text += value ? "," + cell(*value) + "," + cell(*value * p.count) : std::string(",,");
    text += "\n";
  }
  return text;
}

std::string mass_text(double kg) {
  return kg < 1.0 ? significant(1000 * kg, 3) + " g" : significant(kg, 3) + " kg";
}

std::string table(const std::vector<ListedPart>& list) {
  std::vector<std::vector<std::string>> rows = {
      {"count", "part", "of", "what", "material", "each", "together"}};
  double mass = 0.0;
  for (const ListedPart& p : list) {
    rows.push_back({std::to_string(p.count), p.part, p.member, p.description, p.material,
                    p.mass ? mass_text(*p.mass) : "", p.mass ? mass_text(*p.mass * p.count) : ""});
    mass += p.mass.value_or(0.0) * p.count;
  }
  return text_table(rows, 2, false) + "  together " + mass_text(mass) +
         " as far as densities are known\n";
}

/// The same magnet may go into sun and ring.
std::string magnets_to_buy(const std::vector<ListedPart>& list) {
  std::map<std::string, int> counts;
  double money = 0.0;
  bool priced = true;
  for (const ListedPart& p : list) {
    if (p.part != "magnet") continue;
    counts[p.material + ", " + p.description] += p.count;
    priced = priced && p.price;
    money += p.price.value_or(0.0) * p.count;
  }
  if (counts.empty()) return {};
  std::string text = "\nMagnets by size and grade\n";
  for (const auto& [what, n] : counts) text += "  " + std::to_string(n) + " × " + what + "\n";
  if (priced) text += "  together " + rounded_text(money, 2) + " at the prices given\n";
  return text + wrapped(
                    "Order some over: one in thirty breaks or is weak (engineering judgement, "
                    "no source). Measure each against the reference magnet.",
                    "  ", line_width);
}

double largest_face(const MagnetRotor& rotor) {
  const double length = rotor.active_length / rotor.axial_rows;
  if (const auto* b = std::get_if<BlockMagnets>(&rotor.shape))
    return length * (b->axis == BlockAxis::thickness ? b->width : b->thickness);
  if (std::holds_alternative<SpokeMagnets>(rotor.shape))
    return length * (rotor.outer_radius - rotor.inner_radius);
  const auto& arcs = std::get<ArcMagnets>(rotor.shape);
  return length * arcs.coverage * 2 * std::numbers::pi * rotor.outer_radius / n_magnets(rotor);
}

std::string forces(const Case& c) {
  std::string text;
  for (const Member member : members_present(c.gear)) {
    if (member == Member::modulator) continue;
    const MagnetRotor& rotor = rotor_of(c.gear, member);
    const double b = remanence(c.magnets.at(rotor.magnet).material, 20.0);
    const double pull = strongest_pull(b, largest_face(rotor));
    text += "  " + std::string(name_of(member)) + ": two magnets face to face, or one on thick " +
            "steel: at most " + significant(pull, 2) + " N (as the weight of " +
            significant(pull / 9.80665, 2) + " kg)\n";
  }
  if (text.empty()) return {};
  return "\nForces to expect during assembly\n" + text +
         wrapped(
             "An upper bound, B²A/2µ0 with the remanence at 20 °C over the whole pole face; "
             "thin magnets reach a third to two thirds of it (from memory). What a rotor feels "
             "when it goes "
             "into the gear stands in bench_sheet.txt: put it in along the axis, in a guide, "
             "with screws that hold it back.",
             "  ", line_width);
}

}  // namespace

Files parts_files(const Case& c, const DrawOptions& options) {
  const std::vector<ListedPart> list = parts_list(c, options);
  return {
      {"parts.csv", csv(list)},
      {"parts.txt", "Parts: " + c.name + "\n\n" + table(list) + magnets_to_buy(list) + forces(c)}};
}

}  // namespace lodegear
