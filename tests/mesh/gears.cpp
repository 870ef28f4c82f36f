// tests/mesh/gears.cpp — one gear for every shape and every kind of steel, sleeve and member.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "gears.h"

namespace lodegear {

namespace {

Gear changed(const std::function<void(Gear&)>& change) {
  Gear gear = standard_gear();
  change(gear);
  return gear;
}

void set_blocks(MagnetRotor& rotor, const BlockMagnets& blocks, MagnetPattern pattern, double inner,
                double outer) {
  rotor.shape = blocks;
  rotor.pattern = std::move(pattern);
  rotor.inner_radius = inner;
  rotor.outer_radius = outer;
}

void add_rotors_with_blocks(std::vector<NamedGear>& list) {
  list.push_back({"flat blocks that touch a round hub", changed([](Gear& g) {
                    set_blocks(*g.sun, block(10 * mm, 5 * mm, 26.5 * mm), AlternatingParallel{},
                               24 * mm, 30 * mm);
                  })});
  list.push_back({"two blocks a pole with glue", changed([](Gear& g) {
                    BlockMagnets b = block(5 * mm, 4 * mm, 26.05 * mm, 0.05 * mm);
                    b.blocks_per_pole = 2;
                    b.block_pitch = 14 * degree;
                    set_blocks(*g.sun, b, AlternatingParallel{}, 24 * mm, 29 * mm);
                  })});
  list.push_back({"three blocks a pole in pockets of the hub", changed([](Gear& g) {
                    BlockMagnets b = block(5 * mm, 4 * mm, 27 * mm, 0.1 * mm);
                    b.blocks_per_pole = 3;
                    set_blocks(*g.sun, b, AlternatingParallel{}, 24 * mm, 30 * mm);
                    g.sun->iron->outer_radius = 27 * mm;
                  })});
  list.push_back(
      {"turned Halbach blocks without hub, turned blocks in back iron", changed([](Gear& g) {
         BlockMagnets b = block(5 * mm, 4 * mm, 26.3 * mm, 0.05 * mm);
         b.turned_to_pattern = true;
         set_blocks(*g.sun, b, SteppedHalbach{6, FluxSide::outward}, 22 * mm, 30 * mm);
         g.sun->iron.reset();
         BlockMagnets c = block(4 * mm, 4 * mm, 41 * mm, 0.05 * mm);
         c.turned_to_pattern = true;
         set_blocks(*g.ring, c, SteppedHalbach{4, FluxSide::inward}, 38 * mm, 44 * mm);
         g.ring->iron = Iron{43 * mm, 47 * mm, "steel"};
       })});
  list.push_back({"blocks whose hub just covers their outer faces", changed([](Gear& g) {
                    set_blocks(*g.sun, block(10 * mm, 5 * mm, 26.5 * mm), AlternatingParallel{},
                               24 * mm, 30 * mm);
                    g.sun->iron->outer_radius = 29.04 * mm;
                  })});
  list.push_back({"five turned blocks a pole pair", changed([](Gear& g) {
                    BlockMagnets b = block(5 * mm, 4 * mm, 26.3 * mm);
                    b.turned_to_pattern = true;
                    set_blocks(*g.sun, b, DirectionList{{0, 1, 2, 3, 4}, 5}, 22 * mm, 30 * mm);
                    g.sun->iron.reset();
                  })});
  list.push_back({"blocks that nothing repeats", changed([](Gear& g) {
                    g.modulator.reset();
                    g.ring.reset();
                    BlockMagnets b = block(9 * mm, 8 * mm, 26.3 * mm);
                    b.turned_to_pattern = true;
                    set_blocks(*g.sun, b, DirectionList{{0, 1, 2, 3, 4}, 5}, 20 * mm, 33 * mm);
                    g.sun->pole_pairs = 1;
                    g.sun->iron->outer_radius = 20 * mm;
                  })});
}

void add_other_rotors(std::vector<NamedGear>& list) {
  list.push_back({"standard", standard_gear()});
  list.push_back({"ideal iron", ideal_iron_gear()});
  list.push_back({"blocks in ideal iron", changed([](Gear& g) {
                    set_blocks(*g.sun, block(10 * mm, 5 * mm, 26.5 * mm, 0.1 * mm),
                               AlternatingParallel{}, 23.9 * mm, 30 * mm);
                    g.sun->iron = Iron{0.0, 26 * mm, ideal_iron_name};
                  })});
  list.push_back({"spokes in sun and ring", changed([](Gear& g) {
                    g.sun->pattern = g.ring->pattern = AlternatingParallel{};
                    g.sun->inner_radius = 12 * mm;
                    g.sun->shape = SpokeMagnets{5 * mm, "steel"};
                    g.sun->iron.reset();
                    g.ring->outer_radius = 50 * mm;
                    g.ring->shape = SpokeMagnets{3 * mm, "steel"};
                  })});
  list.push_back({"hollow hub, back iron, arcs with gaps", changed([](Gear& g) {
                    g.sun->iron->inner_radius = 15 * mm;
                    g.sun->shape = ArcMagnets{0.9};
                    g.ring->shape = ArcMagnets{0.8};
                    g.ring->pattern = AlternatingRadial{};
                    g.ring->iron = Iron{44 * mm, 48 * mm, "steel"};
                  })});
  list.push_back({"continuous Halbach, no hub", changed([](Gear& g) {
                    g.sun->pattern = ContinuousHalbach{FluxSide::outward};
                    g.sun->iron.reset();
                  })});
  list.push_back({"pole centre on a joint", changed([](Gear& g) {
                    g.sun->pattern = SteppedHalbach{6, FluxSide::outward, PoleCentre::on_joint};
                  })});
  list.push_back({"one pole pair alone", changed([](Gear& g) {
                    g.modulator.reset();
                    g.ring.reset();
                    g.sun->pole_pairs = 1;
                    g.sun->pattern = AlternatingParallel{};
                  })});
  list.push_back(
      {"coupling with a can", changed([](Gear& g) {
         g.modulator.reset();
         g.sleeves.push_back({Gap::inner, 33 * mm, 34 * mm, "plastic", TurnsWith::housing});
       })});
  list.push_back({"hub and back iron as thin as foil", changed([](Gear& g) {
                    g.sun->iron = Iron{23.97 * mm, 24 * mm, "steel"};
                    g.ring->iron = Iron{44 * mm, 44.03 * mm, "steel"};
                  })});
  list.push_back({"ring alone", changed([](Gear& g) {
                    g.sun.reset();
                    g.modulator.reset();
                  })});
}

Gear with_pole(const PoleShape& shape, std::optional<Bridge> bridge) {
  return changed([&](Gear& g) {
    g.modulator->shape = shape;
    g.modulator->bridge = bridge;
  });
}

void add_modulators(std::vector<NamedGear>& list) {
  SectorPole rounded = sector_pole(11 * degree, 10 * degree);
  rounded.corner_inner = 0.5 * mm;
  rounded.corner_outer = 1.0 * mm;
  rounded.hole = RodHole{2 * mm, 34 * mm};
  const RoundBar bar{6 * mm, 34 * mm};
  for (const auto& [place, name] : {std::pair{BridgePlace::inner, "inner"},
                                    {BridgePlace::middle, "middle"},
                                    {BridgePlace::outer, "outer"}}) {
    const Bridge bridge{place, 0.4 * mm};
    list.push_back({std::string("rounded pieces with a hole and a bridge, ") + name,
                    with_pole(rounded, bridge)});
    list.push_back({std::string("sharp pieces and a bridge, ") + name,
                    with_pole(sector_pole(10 * degree, 11 * degree), bridge)});
    list.push_back({std::string("round bars and a bridge, ") + name, with_pole(bar, bridge)});
  }
  list.push_back({"round bars", with_pole(bar, std::nullopt)});
  list.push_back({"modulator alone", changed([](Gear& g) {
                    g.sun.reset();
                    g.ring.reset();
                  })});
  list.push_back({"sleeves on sun and ring", changed([](Gear& g) {
                    g.sleeves = {{Gap::inner, 30 * mm, 30.3 * mm, "steel can", TurnsWith::sun},
                                 {Gap::outer, 37.6 * mm, 38 * mm, "bandage", TurnsWith::ring}};
                  })});
  list.push_back({"modulator and ring", changed([](Gear& g) {
                    g.sun.reset();
                    g.sleeves = {{Gap::inner, 29 * mm, 30 * mm, "wall", TurnsWith::housing}};
                  })});
}

}  // namespace

std::vector<NamedGear> gears_of_every_shape() {
  std::vector<NamedGear> list;
  add_other_rotors(list);
  add_rotors_with_blocks(list);
  add_modulators(list);
  return list;
}

}  // namespace lodegear
