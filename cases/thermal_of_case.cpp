// cases/thermal_of_case.cpp — a case as heat, friction and scales see it.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/thermal_of_case.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "cases/members.h"
#include "mesh/member_limits.h"
#include "solver/fem/element_table.h"

namespace lodegear {

namespace {

// W/(m·K), kg/m³, J/(kg·K) where a material of the case's own gives none (from memory).
constexpr double steel_conducts = 48, steel_density = 7850, steel_heat = 470;
constexpr double magnet_conducts = 8.5, magnet_density = 7500, magnet_heat = 460;
// A shaft whose material nobody gave: plain steel. A ring without back iron sits in this much
// carrier, m.
constexpr double carrier_wall = 5e-3;
constexpr double usual_bore = 15e-3;  // m

void complete(HeatMaterial& m, double conducts, double density, double heat) {
  if (!(m.conductivity > 0)) m.conductivity = conducts;
  if (!(m.density > 0)) m.density = density;
  if (!(m.specific_heat > 0)) m.specific_heat = heat;
}

HeatMaterial steel_of(const Case& c, const std::string& label) {
  HeatMaterial material;
  material.name = label;
  if (const auto found = c.steels.find(label); found != c.steels.end())
    material = heat_material(found->second.material);
  complete(material, steel_conducts, steel_density, steel_heat);
  return material;
}

HeatMaterial magnet_of(const Case& c, const std::string& label) {
  HeatMaterial material = heat_material(c.magnets.at(label).material);
  complete(material, magnet_conducts, magnet_density, magnet_heat);
  return material;
}

HeatMaterial carrier_of(const Case& c, Member m) {
  return heat_material(c.service.build.carriers[static_cast<std::size_t>(m)]);
}

double ring_area(double inner, double outer) { return pi * (outer * outer - inner * inner); }

/// Share of a member's band that a part of its mesh fills.
double share_of(const CaseResult& gear, Member member, const char* part, double inner,
                double outer) {
  for (const FieldMember& m : gear.solver->problem().members) {
    if (m.mesh.member != member) continue;
    double area = 0.0;
    for (int t = 0; t < m.mesh.triangles.rows(); ++t)
      if (m.region(t).part == part) area += triangle_area(m.mesh, t);
    return std::clamp(area / ring_area(inner, outer), 0.05, 1.0);
  }
  return 1.0;
}

ThermalPart magnets(const CaseResult& gear, const MagnetRotor& rotor, Member m) {
  ThermalPart part;
  part.inner_radius = rotor.inner_radius;
  part.outer_radius = rotor.outer_radius;
  part.material = magnet_of(gear.input, rotor.magnet);
  part.length = rotor.active_length;
  part.share = share_of(gear, m, "magnet", part.inner_radius, part.outer_radius);
  if (part.share < 0.999) part.filler = carrier_of(gear.input, m);
  return part;
}

std::optional<ThermalPart> wall(const Case& c, Gap gap, double below, double above) {
  for (const Sleeve& sleeve : c.gear.sleeves) {
    const auto material = c.others.find(sleeve.material);
    if (sleeve.gap != gap || sleeve.turns_with != TurnsWith::housing || material == c.others.end())
      continue;
    ThermalPart part;
    part.inner_radius = std::max(sleeve.inner_radius, below);
    part.outer_radius = std::min(sleeve.outer_radius, above);
    part.material = heat_material(material->second);
    return part;
  }
  return std::nullopt;
}

void add_inside(const CaseResult& gear, GearThermal& thermal) {
  const MagnetRotor& sun = *gear.input.gear.sun;
  const double shaft = gear.input.service.build.shaft_diameter / 2;
  double begins = std::min(shaft, 0.9 * sun.inner_radius);
  if (begins > 0.0) {
    thermal.shaft.emplace();
    thermal.shaft->outer_radius = begins;
    thermal.shaft->material = steel_of(gear.input, "");
  } else if (sun.iron) {
    begins = std::min(sun.iron->inner_radius, 0.9 * sun.inner_radius);
  }
  ThermalPart hub;
  hub.inner_radius = begins;
  hub.outer_radius = sun.inner_radius;
  hub.material =
      sun.iron ? steel_of(gear.input, sun.iron->material) : carrier_of(gear.input, Member::sun);
  thermal.sun_hub = hub;
}

double active_length(const Gear& g, Member m) {
  return m == Member::modulator ? g.modulator->active_length : rotor_of(g, m).active_length;
}

/// kg/m³ of magnets and steel over the length of the stack; 0 of all else.
double density_of(const Case& c, const MeshRegion& region) {
  if (const auto m = c.magnets.find(region.material);
      region.kind == RegionKind::magnet && m != c.magnets.end())
    return m->second.material.density > 0 ? m->second.material.density : magnet_density;
  if (const auto s = c.steels.find(region.material); s != c.steels.end())
    return s->second.stacking_factor *
           (s->second.material.density > 0 ? s->second.material.density : steel_density);
  return 0.0;
}

}  // namespace

Drive drive_of(const Case& c) {
  Drive drive;
  drive.held = c.running->held;
  drive.input = c.running->input;
  for (const Member m : members_inside_out)
    if (m != drive.held && m != drive.input) drive.output = m;
  return drive;
}

GearThermal thermal_of(const CaseResult& gear, const MemberSpeeds& speeds) {
  const Case& c = gear.input;
  const Gear& g = c.gear;
  GearThermal thermal;
  thermal.stack_length = gear.stack_length;
  thermal.speeds = speeds;
  thermal.ambient = c.service.use.ambient;
  if (c.service.use.fan) thermal.fan = gentle_fan;
  for (const Measured& one : c.service.measured)
    (one.is_path ? thermal.measured_conductances : thermal.measured_temperatures)[one.name] =
        one.value;
  add_inside(gear, thermal);
  thermal.sun_magnets = magnets(gear, *g.sun, Member::sun);
  thermal.modulator.inner_radius = g.modulator->inner_radius;
  thermal.modulator.outer_radius = g.modulator->outer_radius;
  thermal.modulator.material = steel_of(c, g.modulator->material);
  thermal.modulator.share =
      share_of(gear, Member::modulator, "pole piece", thermal.modulator.inner_radius,
               thermal.modulator.outer_radius);
  thermal.modulator.filler = carrier_of(c, Member::modulator);
  thermal.ring_magnets = magnets(gear, *g.ring, Member::ring);
  thermal.inner_wall =
      wall(c, Gap::inner, thermal.sun_magnets.outer_radius, thermal.modulator.inner_radius);
  thermal.outer_wall =
      wall(c, Gap::outer, thermal.modulator.outer_radius, thermal.ring_magnets.inner_radius);
  ThermalPart body;
  body.inner_radius = thermal.ring_magnets.outer_radius;
  body.outer_radius = g.ring->iron ? std::max(g.ring->iron->outer_radius, body.inner_radius + 1e-4)
                                   : body.inner_radius + carrier_wall;
  body.material = g.ring->iron ? steel_of(c, g.ring->iron->material) : carrier_of(c, Member::ring);
  thermal.ring_body = body;
  return thermal;
}

std::vector<FrictionPart> friction_of(const CaseResult& gear, const Drive& drive) {
  std::vector<FrictionPart> parts;
  for (const Bearing& bearing : gear.input.service.build.bearings) parts.emplace_back(bearing);
  if (parts.empty())
    for (const Member m : {drive.input, drive.output}) {
      Bearing bearing;
      bearing.name = std::string(name_of(m)) + " bearings, assumed";
      bearing.sides = {turning_with(m), TurnsWith::housing};
      bearing.count = 2;
      bearing.bore = usual_bore;
      bearing.load = 10.0;
      bearing.seal_torque = usual_rubbing_seals;
      parts.emplace_back(bearing);
    }
  const Gear& g = gear.input.gear;
  const auto windage = [&](const char* name, TurnsWith inside, TurnsWith outside, double inner,
                           double outer) {
    GapWindage gap;
    gap.name = name;
    gap.inside = inside;
    gap.outside = outside;
    gap.inner_radius = inner;
    gap.outer_radius = outer;
    gap.length = gear.stack_length;
    if (outer > inner) parts.emplace_back(gap);
  };
  windage("inner gap windage", TurnsWith::sun, TurnsWith::modulator, g.sun->outer_radius,
          g.modulator->inner_radius);
  windage("outer gap windage", TurnsWith::modulator, TurnsWith::ring, g.modulator->outer_radius,
          g.ring->inner_radius);
  return parts;
}

std::vector<PartMass> active_masses(const CaseResult& gear) {
  std::vector<PartMass> masses;
  for (const FieldMember& member : gear.solver->problem().members) {
    const MemberMesh& mesh = member.mesh;
    const double length = active_length(gear.input.gear, mesh.member);
    std::map<std::string, std::map<int, PartMass>> parts;  // by part and index
    for (int t = 0; t < mesh.triangles.rows(); ++t) {
      const MeshRegion& region = member.region(t);
      const double density = density_of(gear.input, region);
      if (density <= 0.0) continue;
      PartMass& part = parts[region.part][region.index];
      const double volume = triangle_area(mesh, t) * length;
      part.one += density * volume;
      part.volume += volume;
    }
    for (const auto& [name, all] : parts) {
      PartMass part = std::max_element(all.begin(), all.end(), [](const auto& a, const auto& b) {
                        return a.second.one < b.second.one;
                      })->second;
      part.member = mesh.member;
      part.part = name;
      part.count = static_cast<int>(all.size());
      masses.push_back(part);
    }
  }
  return masses;
}

double outer_diameter(const Gear& gear) {
  double radius = 0.0;
  if (gear.modulator) radius = gear.modulator->outer_radius;
  if (gear.ring) radius = gear.ring->iron ? gear.ring->iron->outer_radius : gear.ring->outer_radius;
  if (gear.sun) radius = std::max(radius, gear.sun->outer_radius);
  return 2 * radius;
}

}  // namespace lodegear
