// cases/effects_text.h — what small changes do, for a person at a screen.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/validation.h"

namespace lodegear {

/// A table of all inputs under a heading; empty without any.
std::string effects_text(const Validation& validation);

/// The three that help most, as a sentence for the verdict; empty if none does.
std::string most_helpful(const Validation& validation);

}  // namespace lodegear
