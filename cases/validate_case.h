// cases/validate_case.h — from a case to everything that decides whether the gear may be built.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "cases/run_case.h"
#include "cases/validation.h"
#include "materials/catalogue.h"

namespace lodegear {

/// Computes the plane model, what its ends cost, losses, drag, temperatures (with the magnets as
/// warm as they become), what the magnets bear, forces, and judges all against [require].
/// The case must have sun, modulator and ring and compute slip and running; throws InputError
/// otherwise, and std::runtime_error if a mesh cannot be made or a position that is needed has no
/// solution.
Validation validate_case(const Case& c, const Catalogue& catalogue, const RunOptions& options = {});

}  // namespace lodegear
