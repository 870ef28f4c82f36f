// cases/nudges.h — the inputs that a builder can change a little, and a case so changed.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "cases/case.h"

namespace lodegear {

/// An input and the changes of it that are looked at. SI units, °C, parts of one.
struct Nudge {
  std::string input;        ///< "inner gap"
  double now = 0.0;         ///< its value in the case
  double step = 0.0;        ///< > 0: what one would change it by in practice
  double difference = 0.0;  ///< > 0: what it is changed by, both ways, to find the slope
  std::string unit;         ///< of the three when shown: "mm", "T", "%" or "°C"
  double shown = 1.0;       ///< times this they are in that unit
  bool percent = true;      ///< whether a per cent of it means something
  bool given = true;        ///< false: follows from losses and cooling
  bool in_field = true;     ///< false: the plane field per metre stays as it is
  std::function<void(Case&, double change)> apply;
};

/// What moves with an input, so that all else stays as drawn. Stack length: all three members, at
/// both ends. Inner gap: the sun is drawn smaller or larger, the bore of its shaft stays. Outer
/// gap: the ring moves with its back iron. Magnet thickness: of the sun inwards into the hub, of
/// the ring outwards with the back iron. Pole piece thickness: outwards; the ring moves along. Pole
/// piece width, a share of the circle: the spans at both radii. Remanence: of one rotor; a step is
/// 3 %, about a grade (common practice, no source). Temperature: of the magnets of both rotors.
///
/// Sleeves stay, but for those beyond a pole piece that grows. Magnets that do not lie radially
/// (blocks turned in their pockets, or magnetised along their width) have no thickness here.
/// For a gear of sun, modulator and ring.
std::vector<Nudge> nudges_of(const Case& c);

}  // namespace lodegear
