// mesh/check_parts.h — the checks of which check_gear is made.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "materials/input_error.h"
#include "mesh/gear.h"

namespace lodegear {

/// Collects complaints.
class Complaints {
 public:
  void add(const std::string& key, const std::string& text) { list_.push_back({{}, key, text}); }
  /// Adds unless `good`; false then. A comparison with a number that is none counts as bad.
  bool require(bool good, const std::string& key, const std::string& text) {
    if (!good) add(key, text);
    return good;
  }
  const std::vector<Complaint>& list() const { return list_; }

 private:
  std::vector<Complaint> list_;
};

/// "36.4 mm", to a tenth of a micrometre; "8.571°".
std::string mm_text(double metres);
std::string deg_text(double radians);

// Parts that meet must meet; a slit thinner than this is a slip of the pen and cannot be meshed.
inline constexpr double thinnest_slit = 1e-6;  // m
// Round-off of radii that went through millimetres and sums.
inline constexpr double touching = 1e-10;  // m

/// False for a clear distance that is negative or a slit too thin, with touching allowed.
bool is_clear_or_touching(double distance);

/// Complains about a rotor by itself; true if it can be drawn.
bool check_rotor(const MagnetRotor& rotor, Member member, Complaints& complaints);
/// Complains about the pole pieces by themselves; true if they can be drawn.
bool check_modulator(const Modulator& modulator, Complaints& complaints);
/// Complains about gaps and sleeves. All members present can be drawn.
void check_gaps(const Gear& gear, Complaints& complaints);

/// The entry that sets the outermost or innermost radius of a member's steel and magnets.
std::string surface_key(const Gear& gear, Member member, bool outer);

}  // namespace lodegear
