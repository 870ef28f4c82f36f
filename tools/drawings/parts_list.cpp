// tools/drawings/parts_list.cpp — counting, weighing and naming the parts of a case.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "tools/drawings/parts_list.h"

#include <cmath>
#include <map>

#include "cases/units.h"
#include "materials/constants.h"
#include "materials/words.h"
#include "mesh/magnet_patterns.h"
#include "mesh/member_limits.h"
#include "tools/drawings/placement.h"
#include "tools/drawings/section_parts.h"

namespace lodegear {

namespace {

std::string mm(double metres) { return rounded_text(to_mm(metres), 3); }

double magnet_length(const MagnetRotor& rotor) { return rotor.active_length / rotor.axial_rows; }

std::string size_of(const MagnetRotor& rotor) {
  const std::string length = mm(magnet_length(rotor));
  if (const auto* b = std::get_if<BlockMagnets>(&rotor.shape))
    return "block " + mm(b->width) + " × " + mm(b->thickness) + " × " + length + " mm";
  if (const auto* s = std::get_if<SpokeMagnets>(&rotor.shape))
    return "block " + mm(s->width) + " × " + mm(rotor.outer_radius - rotor.inner_radius) + " × " +
           length + " mm, ends round";
  const auto& arcs = std::get<ArcMagnets>(rotor.shape);
  return "arc R " + mm(rotor.outer_radius) + " / r " + mm(rotor.inner_radius) + ", " +
         rounded_text(360.0 * arcs.coverage / n_magnets(rotor), 3) + "°, " + length + " mm long";
}

/// How magnet i is to be ordered. Turned end for end a magnet points to the mirror image of its
/// direction; a block besides may be turned over, an arc may not.
std::string magnetised(const MagnetRotor& rotor, const PlacedMagnet& m) {
  if (m.law == Magnetisation::Law::turning) return "one ring, magnetised as a whole";
  if (std::holds_alternative<SpokeMagnets>(rotor.shape))
    return "magnetised through " + mm(std::get<SpokeMagnets>(rotor.shape).width) + " mm";
  const auto* block = std::get_if<BlockMagnets>(&rotor.shape);
  if (!block) {
    const std::string how = m.law == Magnetisation::Law::radial ? "along the radius" : "straight";
    const std::string face = north_face(std::abs(m.direction));
    if (face == "out" || face == "in") return "magnetised " + how + ", north " + face;
    return "magnetised straight, " + rounded_text(std::abs(to_deg(m.direction)), 1) +
           "° off its middle line";
  }
  const double in_body = m.direction - body_angle(rotor, m.index);
  const double off = to_deg(std::abs(std::remainder(in_body, pi)));
  if (off < 0.01) return "magnetised through " + mm(block->thickness) + " mm";
  if (off > 89.99) return "magnetised through " + mm(block->width) + " mm";
  return "magnetised " + rounded_text(off, 1) + "° off its thickness";
}

std::optional<double> price_of(Member member, const DrawOptions& options) {
  return member == Member::sun ? options.sun_magnet_price : options.ring_magnet_price;
}

void add_magnets(std::vector<ListedPart>& list, const Case& c, const MagnetRotor& rotor,
                 Member member, const DrawOptions& options) {
  const MagnetInUse& magnet = c.magnets.at(rotor.magnet);
  double volume = 0.0;
  for (const FlatPart& part : section_parts(c.gear, member))
    if (part.label.part == "magnet") volume = std::max(volume, area(part) * magnet_length(rotor));
  std::map<std::string, int> by_order;
  for (const PlacedMagnet& m : placement(rotor, member))
    if (m.strength > 0.0) by_order[magnetised(rotor, m)] += rotor.axial_rows;
  for (const auto& [how, n] : by_order) {
    ListedPart part{
        name_of(member), "magnet", size_of(rotor) + ", " + how, magnet.grade, n, {}, {}};
    if (magnet.material.density > 0.0) part.mass = volume * magnet.material.density;
    part.price = price_of(member, options);
    list.push_back(part);
  }
}

/// Density of a stack, kg/m³.
std::optional<double> steel_density(const Case& c, const std::string& material) {
  const auto steel = c.steels.find(material);
  if (steel == c.steels.end() || steel->second.material.density <= 0.0) return std::nullopt;
  return steel->second.stacking_factor * steel->second.material.density;
}
std::string grade_of(const Case& c, const std::string& material) {
  const auto steel = c.steels.find(material);
  return steel == c.steels.end() ? material : steel->second.grade;
}

void add_steel(std::vector<ListedPart>& list, const Case& c, Member member,
               const std::string& wanted, double length) {
  std::vector<FlatPart> parts = section_parts(c.gear, member);
  std::erase_if(parts, [&](const FlatPart& p) { return p.label.part != wanted; });
  if (parts.empty()) return;
  const std::string& material = parts.front().label.material;
  const bool around = parts.front().label.index < 0;  // what blocks cut through is still one part
  double sum = 0.0;
  for (const FlatPart& part : parts) sum += area(part);
  ListedPart listed{name_of(member),
                    wanted,
                    mm(length) + " mm long",
                    grade_of(c, material),
                    around ? 1 : static_cast<int>(parts.size()),
                    {},
                    {}};
  if (const auto density = steel_density(c, material))
    listed.mass = *density * length * sum / listed.count;
  list.push_back(listed);
}

void add_pole_pieces(std::vector<ListedPart>& list, const Case& c) {
  const Modulator& m = *c.gear.modulator;
  const std::vector<FlatPart> parts = laminations(c.gear);
  const int sheets = sheets_in_stack(c), around = laminations_around(c.gear);
  double sum = 0.0;
  for (const FlatPart& part : parts) sum += area(part);
  ListedPart listed{"modulator", "lamination", {}, grade_of(c, m.material), around, {}, {}};
  const auto density = steel_density(c, m.material);
  if (density) listed.mass = sum * m.active_length * *density;
  if (sheets > 0) {
    listed.count = around * sheets;
    listed.description = mm(c.steels.at(m.material).material.thickness) + " mm sheet, " +
                         std::to_string(sheets) + " in each of " + std::to_string(around) +
                         (around == 1 ? " stack of " : " stacks of ") + mm(m.active_length) + " mm";
    if (listed.mass) *listed.mass /= sheets;
  } else {
    listed.part = m.bridge ? "pole pieces in one" : "pole piece";
    listed.description = "solid, " + mm(m.active_length) + " mm long";
  }
  list.push_back(listed);
}

void add_sleeves(std::vector<ListedPart>& list, const Case& c) {
  for (const Sleeve& s : c.gear.sleeves) {
    ListedPart listed{"gear",
                      "sleeve",
                      "⌀ " + mm(2 * s.inner_radius) + " / " + mm(2 * s.outer_radius) + " mm",
                      s.material,
                      1,
                      {},
                      {}};
    list.push_back(listed);
  }
}

void add_bought(std::vector<ListedPart>& list, const Case& c) {
  const Build& build = c.service.build;
  if (c.gear.modulator && build.rod_diameter > 0.0)
    list.push_back({"modulator",
                    "rod",
                    "⌀ " + mm(build.rod_diameter) + " mm, the stack and both end rings long",
                    "stainless",
                    c.gear.modulator->pole_pieces,
                    {},
                    {}});
  for (const Bearing& b : build.bearings)
    list.push_back({"gear", "bearing", "bore " + mm(b.bore) + " mm", "", b.count, {}, {}});
}

}  // namespace

int sheets_in_stack(const Case& c) {
  if (!c.gear.modulator) return 0;
  const auto steel = c.steels.find(c.gear.modulator->material);
  if (steel == c.steels.end() || steel->second.material.thickness <= 0.0) return 0;
  return static_cast<int>(
      std::lround(c.gear.modulator->active_length * steel->second.stacking_factor /
                  steel->second.material.thickness));
}

double strongest_pull(double remanence, double face) {
  return remanence * remanence * face / (2 * mu0);
}

std::vector<ListedPart> parts_list(const Case& c, const DrawOptions& options) {
  std::vector<ListedPart> list;
  for (const Member member : members_present(c.gear)) {
    if (member == Member::modulator) {
      add_pole_pieces(list, c);
      continue;
    }
    const MagnetRotor& rotor = rotor_of(c.gear, member);
    add_magnets(list, c, rotor, member, options);
    for (const char* part : {"hub", "wedge", "back iron"})
      add_steel(list, c, member, part, rotor.active_length);
  }
  add_sleeves(list, c);
  add_bought(list, c);
  return list;
}

}  // namespace lodegear
