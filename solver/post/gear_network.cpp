// solver/post/gear_network.cpp — the thermal network of a concentric gear, from inside to outside.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "materials/constants.h"
#include "materials/input_error.h"
#include "materials/words.h"
#include "solver/post/gear_temperature.h"
#include "solver/post/heat_films.h"
#include "solver/post/heat_shell.h"

namespace lodegear {

namespace {

double square(double x) { return x * x; }

// Radii that differ by less than this share meet.
constexpr double touching = 1e-6;

struct Layer {
  std::string name;
  const ThermalPart* part = nullptr;
  TurnsWith side = TurnsWith::housing;
  double source = 0.0;
  int mean = -1, inside = -1, outside = -1;  // nodes

  double length = 0.0;
  double end_area() const {  // both faces, what is there of them
    const double filled = part->filler ? 1.0 : part->share;
    return 2 * pi * (square(part->outer_radius) - square(part->inner_radius)) * filled;
  }
};

std::vector<Layer> layers_of(const GearThermal& g) {
  std::vector<Layer> layers;
  const auto add = [&](const char* name, const ThermalPart& part, TurnsWith side, double source) {
    layers.push_back({.name = name,
                      .part = &part,
                      .side = side,
                      .source = source,
                      .length = part.length > 0 ? part.length : g.stack_length});
  };
  const PartLosses& p = g.losses;
  const double inner = p.inner_gap_windage / 2, outer = p.outer_gap_windage / 2;
  if (g.shaft) add("shaft", *g.shaft, TurnsWith::sun, p.shaft);
  if (g.sun_hub) add("sun hub", *g.sun_hub, TurnsWith::sun, p.sun_hub);
  add("sun magnets", g.sun_magnets, TurnsWith::sun, p.sun_magnets + inner);
  if (g.inner_wall) add("inner wall", *g.inner_wall, TurnsWith::housing, p.inner_wall);
  add("modulator", g.modulator, TurnsWith::modulator, p.modulator + inner + outer);
  if (g.outer_wall) add("outer wall", *g.outer_wall, TurnsWith::housing, p.outer_wall);
  add("ring magnets", g.ring_magnets, TurnsWith::ring, p.ring_magnets + outer);
  if (g.ring_body) add("ring body", *g.ring_body, TurnsWith::ring, p.ring_body);
  if (g.housing) add("housing", *g.housing, TurnsWith::housing, p.housing);
  return layers;
}

std::string millimetres(double metres) { return rounded_text(1e3 * metres, 3) + " mm"; }

void check_solid(const std::string& name, const HeatMaterial& m, std::vector<Complaint>& wrong) {
  if (!(m.conductivity > 0 && m.density > 0 && m.specific_heat > 0))
    wrong.push_back({{}, name, "conductivity, density and specific heat must be positive"});
}

void check_layers(const std::vector<Layer>& layers) {
  std::vector<Complaint> wrong;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    const ThermalPart& part = *layers[i].part;
    check_solid(layers[i].name, part.material, wrong);
    if (part.filler) check_solid(layers[i].name, *part.filler, wrong);
    if (!(part.inner_radius >= 0 && part.outer_radius > part.inner_radius))
      wrong.push_back({{}, layers[i].name, "the outer radius must exceed the inner one"});
    if (i > 0 && part.inner_radius < layers[i - 1].part->outer_radius * (1 - touching))
      wrong.push_back({{},
                       layers[i].name,
                       "begins at " + millimetres(part.inner_radius) + ", inside " +
                           layers[i - 1].name + ", which ends at " +
                           millimetres(layers[i - 1].part->outer_radius)});
    if (layers[i].length <= 0) wrong.push_back({{}, layers[i].name, "its length must be positive"});
    if (!(part.share > 0 && part.share <= 1))
      wrong.push_back({{}, layers[i].name, "its share must be above 0 and at most 1"});
    if (part.joint_inside <= 0)
      wrong.push_back({{}, layers[i].name, "the resistance of a joint must be positive"});
  }
  if (!wrong.empty()) throw InputError(std::move(wrong));
}

// Material and filler side by side.
double side_by_side(const ThermalPart& part, double of_material, double of_filler) {
  return part.share * of_material + (1 - part.share) * (part.filler ? of_filler : 0.0);
}
double radial_conductivity(const ThermalPart& part) {
  return side_by_side(part, part.material.conductivity,
                      part.filler ? part.filler->conductivity : 0.0);
}
double axial_conductivity(const HeatMaterial& m) {
  return m.axial_conductivity > 0 ? m.axial_conductivity : m.conductivity;
}
double axial_conductivity(const ThermalPart& part) {
  return side_by_side(part, axial_conductivity(part.material),
                      part.filler ? axial_conductivity(*part.filler) : 0.0);
}
double capacity(const Layer& layer) {
  const auto heat = [](const HeatMaterial& m) { return m.density * m.specific_heat; };
  const ThermalPart& part = *layer.part;
  return side_by_side(part, heat(part.material), part.filler ? heat(*part.filler) : 0.0) * pi *
         (square(part.outer_radius) - square(part.inner_radius)) * layer.length;
}

class Builder {
 public:
  explicit Builder(const GearThermal& gear) : gear_(gear), layers_(layers_of(gear)) {
    check_layers(layers_);
    for (Layer& layer : layers_) add_layer(layer);
    if (gear.end_caps) add_inside();
    ambient_ = add_part("ambient", 0.0, 0.0);
    network().nodes.back().fixed = gear.ambient;
    for (std::size_t i = 1; i < layers_.size(); ++i) join(layers_[i - 1], layers_[i]);
    for (std::size_t i = gear.shaft ? 1 : 0; i < layers_.size(); ++i) add_ends(layers_[i]);
    add_outside(layers_.back());
    if (gear.end_caps) join_caps();
    add_bearings();
    add_overhang();
    for (const ExtraPath& path : gear.extra_paths)
      link(path.from + " to " + path.to, named(path.from), named(path.to), path.conductance);
    add_limits();
    put_measured_values();
  }
  GearNetwork result() && { return std::move(result_); }

 private:
  ThermalNetwork& network() { return result_.network; }

  int add_part(const std::string& name, double heat_capacity, double source) {
    const int node = network().add_node({name, heat_capacity, source, std::nullopt});
    result_.parts.push_back(node);
    return node;
  }
  void link(const std::string& name, int from, int to, double conductance) {
    result_.paths.push_back(network().add_link({name, from, to, conductance, nullptr}));
  }
  void link(const std::string& name, int from, int to, ConductanceLaw law) {
    result_.paths.push_back(network().add_link({name, from, to, 0.0, std::move(law)}));
  }
  // A piece of a shell's network, which means nothing by itself.
  void link_inside(int from, int to, double conductance) {
    network().add_link({network().nodes[static_cast<std::size_t>(from)].name + ", within", from, to,
                        conductance, nullptr});
  }

  // Node of a part; complains in terms of what there is.
  int named(const std::string& name) {
    std::vector<std::string> names;
    for (int part : result_.parts) {
      names.push_back(network().nodes[static_cast<std::size_t>(part)].name);
      if (names.back() == name) return part;
    }
    throw InputError("there is no part " + in_quotes(name) + "; this gear has " +
                     listed(names, " and "));
  }

  void add_layer(Layer& layer) {
    const ThermalPart& part = *layer.part;
    const ShellConductances g = shell_conductances(
        {part.inner_radius, part.outer_radius, layer.length, radial_conductivity(part)});
    layer.mean = add_part(layer.name, capacity(layer), layer.source);
    layer.outside = network().add_node({layer.name + ", outer face", 0.0, 0.0, std::nullopt});
    link_inside(layer.mean, layer.outside, g.outer);
    if (part.inner_radius == 0.0) return;
    layer.inside = network().add_node({layer.name + ", inner face", 0.0, 0.0, std::nullopt});
    link_inside(layer.inside, layer.mean, g.inner);
    link_inside(layer.inside, layer.outside, g.across);
  }

  void add_inside() {
    const EndCaps& caps = *gear_.end_caps;
    if (!(caps.thickness > 0 && caps.radius > 0 && caps.joint > 0))
      throw InputError("end caps: thickness, radius and joint must be positive");
    std::vector<Complaint> wrong;
    check_solid("end caps", caps.material, wrong);
    if (!wrong.empty()) throw InputError(std::move(wrong));
    const double heat = caps.material.density * caps.material.specific_heat;
    caps_ = add_part("end caps", 2 * pi * square(caps.radius) * caps.thickness * heat,
                     gear_.losses.end_caps);
    inside_air_ = add_part("inside air", 0.0, 0.0);
  }

  // A gap with its film, or a joint where the radii meet.
  void join(const Layer& a, const Layer& b) {
    const double r1 = a.part->outer_radius, r2 = b.part->inner_radius;
    const double length = std::min(a.length, b.length);
    double conductance = 2 * pi * r2 * length / b.part->joint_inside;
    if (r2 > r1 * (1 + touching)) {
      const GapFlow flow{r1, r2, gear_.speeds.of(a.side), gear_.speeds.of(b.side)};
      const double mean_area = 2 * pi * length * (r2 - r1) / std::log(r2 / r1);
      conductance = gap_film(flow, gear_.gap_fluid) * mean_area;
    }
    link(a.name + " to " + b.name, a.outside, b.inside, conductance);
  }

  // Faces at both ends; half the length of the part lies before them, in the mean L/6.
  void add_ends(const Layer& layer) {
    const double area = layer.end_area();
    const double before = layer.length / (6 * axial_conductivity(*layer.part));
    if (gear_.end_caps) {
      if (&layer == &layers_.back()) return;  // covered by the caps
      link(layer.name + " ends to inside air", layer.mean, inside_air_,
           area / (1 / gear_.inside_film + before));
      return;
    }
    link(layer.name + " ends to ambient", layer.mean, ambient_,
         [film = face_film(2 * layer.part->outer_radius, gear_.speeds.of(layer.side)), area,
          before](double t, double ambient) { return area / (1 / film(t, ambient) + before); });
  }

  // Upright face in the open: the strongest of still air, turning and wind, and radiation.
  ConductanceLaw face_film(double height, double speed) const {
    return [height, speed, fan = gear_.fan.value_or(0.0), emissivity = gear_.emissivity](
               double t, double ambient) {
      const double turning = rotating_film_disc(speed, air_at(0.5 * (t + ambient)));
      return std::max({natural_film_plate(height, t, ambient), turning, fan}) +
             radiation_film(emissivity, t, ambient);
    };
  }

  // Side of a cylinder in the open, without radiation.
  ConductanceLaw side_film(double diameter, double speed) const {
    return [diameter, speed, fan = gear_.fan.value_or(0.0)](double t, double ambient) {
      const double turning = rotating_film_cylinder(diameter, speed, air_at(0.5 * (t + ambient)));
      return std::max({natural_film_cylinder(diameter, t, ambient), turning, fan});
    };
  }

  void add_outside(const Layer& layer) {
    const double diameter = 2 * layer.part->outer_radius, area = pi * diameter * layer.length;
    link(layer.name + " to ambient, air", layer.outside, ambient_,
         [film = side_film(diameter, gear_.speeds.of(layer.side)), area](double t, double ambient) {
           return area * film(t, ambient);
         });
    link(layer.name + " to ambient, radiation", layer.outside, ambient_,
         [emissivity = gear_.emissivity, area](double t, double ambient) {
           return area * radiation_film(emissivity, t, ambient);
         });
  }

  void join_caps() {
    const EndCaps& caps = *gear_.end_caps;
    const double face = 2 * pi * square(caps.radius), k = caps.material.conductivity;
    const double half = 0.5 * caps.thickness / k;  // m²K/W, middle to face
    link("inside air to end caps", inside_air_, caps_, face / (1 / gear_.inside_film + half));
    link("end caps to ambient", caps_, ambient_,
         [film = face_film(2 * caps.radius, 0.0), face, half](double t, double ambient) {
           return face / (1 / film(t, ambient) + half);
         });
    // Mean to rim of an evenly warmed disc 1/(8πkt), then the joint, at both ends.
    const double to_rim =
        1 / (8 * pi * k * caps.thickness) + caps.joint / (2 * pi * caps.radius * caps.thickness);
    link(layers_.back().name + " to end caps", layers_.back().mean, caps_, 2 / to_rim);
  }

  // K/W from the mean of the shaft to one of its ends, warmed evenly along the stack.
  double shaft_resistance() const {
    const Layer& axis = layers_.front();
    const ThermalPart& part = *axis.part;
    return (axis.length / 6 + gear_.shaft_reach) /
           (axial_conductivity(part) * pi *
            (square(part.outer_radius) - square(part.inner_radius)));
  }

  void add_bearings() {
    const Layer& axis = layers_.front();
    const int seat = !gear_.bearing_seat.empty() ? named(gear_.bearing_seat)
                     : gear_.end_caps            ? caps_
                                                 : layers_.back().mean;
    auto& nodes = network().nodes;
    nodes[static_cast<std::size_t>(axis.mean)].source += gear_.losses.bearings / 2;
    nodes[static_cast<std::size_t>(seat)].source += gear_.losses.bearings / 2;
    if (gear_.bearings <= 0 || seat == axis.mean) return;
    link(axis.name + " to " + nodes[static_cast<std::size_t>(seat)].name + ", bearings", axis.mean,
         seat, gear_.bearings / (gear_.resistance_of_bearing + shaft_resistance()));
  }

  void add_overhang() {
    if (gear_.shaft_overhang <= 0 || gear_.overhangs <= 0) return;
    const Layer& axis = layers_.front();
    const double diameter = 2 * axis.part->outer_radius;
    link(
        axis.name + " to ambient, overhang", axis.mean, ambient_,
        [film = side_film(diameter, gear_.speeds.of(axis.side)), diameter,
         k = axial_conductivity(*axis.part), length = gear_.shaft_overhang, count = gear_.overhangs,
         emissivity = gear_.emissivity, before = shaft_resistance()](double t, double ambient) {
          const double h = film(t, ambient) + radiation_film(emissivity, t, ambient);
          return count / (1 / fin_conductance(diameter, length, k, h) + before);
        });
  }

  void add_limits() {
    const auto add = [&](int node, const HeatMaterial& m) {
      if (m.limit && node >= 0)
        result_.limits.push_back(
            {node, *m.limit,
             network().nodes[static_cast<std::size_t>(node)].name + ": " + m.limit_reason});
    };
    // A carrier softens first where it touches what is hot.
    for (const Layer& layer : layers_)
      for (int node : {layer.mean, layer.inside, layer.outside}) {
        add(node, layer.part->material);
        if (layer.part->filler) add(node, *layer.part->filler);
      }
    if (gear_.end_caps) add(caps_, gear_.end_caps->material);
    for (const auto& extra : gear_.extra_limits)
      result_.limits.push_back(
          {named(extra.node), extra.celsius, extra.node + ": " + extra.reason});
  }

  void put_measured_values() {
    for (const auto& [name, celsius] : gear_.measured_temperatures)
      network().nodes[static_cast<std::size_t>(named(name))].fixed = celsius;
    for (const auto& [name, conductance] : gear_.measured_conductances) {
      std::vector<std::string> names;
      bool found = false;
      for (int path : result_.paths) {
        ThermalLink& l = network().links[static_cast<std::size_t>(path)];
        names.push_back(in_quotes(l.name));
        if (l.name != name) continue;
        found = true;
        l.conductance = conductance;
        l.law = nullptr;
      }
      if (!found)
        throw InputError("there is no path " + in_quotes(name) + "; this gear has " +
                         listed(names, " and "));
    }
  }

  const GearThermal& gear_;
  std::vector<Layer> layers_;
  GearNetwork result_;
  int ambient_ = -1, caps_ = -1, inside_air_ = -1;
};

}  // namespace

GearNetwork gear_network(const GearThermal& gear) { return Builder(gear).result(); }

std::vector<std::string> node_names(const GearThermal& gear) {
  const GearNetwork built = gear_network(gear);
  std::vector<std::string> names;
  for (int part : built.parts)
    names.push_back(built.network.nodes[static_cast<std::size_t>(part)].name);
  return names;
}

}  // namespace lodegear
