// solver/waves/kept_members.h — condensed members that do not change from one gear to the next.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>

#include "mesh/last_used.h"
#include "solver/waves/wave_gear.h"

namespace lodegear {

/// All that a member's waves and steel depend on.
struct WaveMemberOrder {
  FieldMember member;
  int orders_inside = 0, orders_outside = 0;
  bool operator==(const WaveMemberOrder&) const = default;
};

class KeptMembers : public LastUsed<WaveMemberOrder, std::shared_ptr<const WaveMember>> {
 public:
  using LastUsed::LastUsed;
};

}  // namespace lodegear
