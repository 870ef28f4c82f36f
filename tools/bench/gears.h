// tools/bench/gears.h — the gears that are measured.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <string>

#include "cases/case.h"

namespace lodegear::bench {

/// "standard" and "vat_stirrer": the example cases of that name.
/// "standard_exponential": the steel of `standard` replaced by the exponential law that
///   tests/analytic/peer_fem.py uses, so that another program can solve the very same problem.
/// "standard_linear": its steel replaced by one of constant permeability, 1000.
Case bench_case(const std::string& name);

/// The gear of `c` with radii and spans drawn at random: magnets and pole pieces up to a fifth
/// thinner or thicker, spans of the pole pieces up to a fifth narrower or wider, gaps as they were.
/// The same seed and number give the same design. What does not fit is drawn again.
Case varied_case(const Case& c, std::uint64_t seed, int number);

}  // namespace lodegear::bench
