// tools/drawings/placement.h — where every magnet goes and which way it points.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "mesh/gear.h"
#include "mesh/magnet_patterns.h"

namespace lodegear {

/// One place of a rotor; with several rows along the axis all magnets there are alike. Angles in
/// rad, counter-clockwise, seen with the axis towards the eye.
struct PlacedMagnet {
  Member member = Member::sun;
  int index = 0;           ///< as in [[sun.odd_magnet]]; people read index + 1
  double angle = 0.0;      ///< of its centre in the member's own frame
  double direction = 0.0;  ///< of magnetisation at the centre, from the local outward radius,
                           ///< in (−π, π]
  Magnetisation::Law law = Magnetisation::Law::uniform;
  double strength = 1.0;  ///< 0 = nothing goes here
  int order = 0;          ///< comes as the order-th of its rotor, from 1
  int number() const { return index + 1; }
};

/// All places of a rotor, counter-clockwise from magnet 1, which lies on, or next after, +x.
std::vector<PlacedMagnet> placement(const MagnetRotor& rotor, Member member);

/// Where north is: "out", "in", "clockwise", "counter-clockwise", "60° clockwise from out".
std::string north_face(double direction);

/// What a marked magnet, held with its north towards the rotor from the gap, feels: "push",
/// "pull" or "sideways".
std::string felt_in_gap(const PlacedMagnet& magnet);

/// placement.csv: member,number,index,angle_deg,direction_deg,north_face,order,magnetised,
/// strength_percent. direction_deg is what pattern = "directions" of a case takes.
std::string placement_csv(const Gear& gear);

/// placement.txt: how to mark, the order of assembly, and the list that finds a wrong one.
std::string placement_text(const Gear& gear, const std::string& case_name);

}  // namespace lodegear
