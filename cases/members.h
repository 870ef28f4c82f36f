// cases/members.h — going through the members of a gear.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>

#include "mesh/gear.h"

namespace lodegear {

/// From inside to outside.
inline constexpr std::array members_inside_out = {Member::sun, Member::modulator, Member::ring};

inline bool has(const Gear& gear, Member m) {
  return m == Member::sun         ? gear.sun.has_value()
         : m == Member::modulator ? gear.modulator.has_value()
                                  : gear.ring.has_value();
}

}  // namespace lodegear
