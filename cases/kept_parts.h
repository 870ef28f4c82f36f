// cases/kept_parts.h — members of gears solved before.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "mesh/kept_meshes.h"
#include "solver/waves/kept_members.h"

namespace lodegear {

/// For the next gear to use where it has the same members. For one thread.
struct KeptParts {
  static constexpr std::size_t most = 12;  // a gear and the one before, on two rungs
  KeptMeshes meshes{most};
  KeptMembers members{most};
};

}  // namespace lodegear
