// tools/bench/reference.h — torques of a refined solution, what errors are measured against.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>

#include "cases/case_result.h"
#include "solver/motion/torque_curve.h"

namespace lodegear::bench {

/// The slip curve of a gear on a mesh finer than the default one (fineness 1.25). N·m per metre;
/// kept in tools/bench/references.json.
class Reference {
 public:
  /// Throws std::runtime_error if there is none for the gear.
  explicit Reference(const std::string& gear);

  /// Size of the peak on each member.
  const PerMember& slip_torque() const { return slip_; }
  /// Torque on a member, `load_angle` in electrical rad.
  double torque(Member m, double load_angle) const;

  /// Largest difference of the torques at a load angle, part of slip torque.
  double error(const PerMember& torques, double load_angle) const;
  /// Of a whole curve: even samples a member over one electrical period, looked at between them.
  double error(const std::array<PeriodicCurve, 3>& curves) const;
  /// Largest difference of slip torques, part of slip torque.
  double slip_error(const PerMember& slip_torque) const;

 private:
  std::vector<PeriodicCurve> curves_;  // one a member
  PerMember slip_{};
};

/// Size of the largest torque along each curve.
PerMember peaks(const std::array<PeriodicCurve, 3>& curves);
/// One curve a member from the torques at even positions over one electrical period.
std::array<PeriodicCurve, 3> curves_of(const std::vector<PerMember>& torques);

/// Computes the references of all gears anew and writes them; takes some minutes.
void write_references(int threads);

}  // namespace lodegear::bench
