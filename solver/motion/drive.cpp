// solver/motion/drive.cpp — which member is held, driven and loaded, and how fast all then turn.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/drive.h"

#include <cmath>
#include <stdexcept>

namespace lodegear {

TurnsWith turning_with(Member member) {
  return member == Member::sun         ? TurnsWith::sun
         : member == Member::modulator ? TurnsWith::modulator
                                       : TurnsWith::ring;
}

double MemberSpeeds::of(TurnsWith part) const {
  switch (part) {
    case TurnsWith::sun:
      return sun;
    case TurnsWith::modulator:
      return modulator;
    case TurnsWith::ring:
      return ring;
    case TurnsWith::housing:
      break;
  }
  return 0.0;
}

std::array<Drive, 6> all_drives() {
  using enum Member;
  return {{{modulator, sun, ring},
           {modulator, ring, sun},
           {ring, sun, modulator},
           {ring, modulator, sun},
           {sun, ring, modulator},
           {sun, modulator, ring}}};
}

MemberSpeeds speeds_in_step(const PoleCounts& counts, const Drive& drive, double input_speed) {
  if (drive.held == drive.input || drive.held == drive.output || drive.input == drive.output)
    throw std::invalid_argument("held member, input and output must be three different members");
  const double output_speed = -electrical_factor(counts, drive.input) * input_speed /
                              electrical_factor(counts, drive.output);
  MemberSpeeds speeds;
  const auto set = [&](Member member, double speed) {
    (member == Member::sun         ? speeds.sun
     : member == Member::modulator ? speeds.modulator
                                   : speeds.ring) = speed;
  };
  set(drive.input, input_speed);
  set(drive.output, output_speed);
  return speeds;
}

double relative_speed(const MemberSpeeds& speeds) {
  return std::abs(speeds.sun - speeds.modulator);
}

}  // namespace lodegear
