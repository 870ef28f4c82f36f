// solver/post/part_forces.h — what every magnet, pole piece and iron of a member feels.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "solver/field/field_problem.h"
#include "solver/field/field_solution.h"

namespace lodegear {

/// Magnetic load on one part, per metre of stack, in the member's frame.
///
/// Parts that touch are thought cut apart by a slit of air too thin to change the field; the load
/// is the stress on the part's own side of it. So it is the load that glue, a pocket or a band has
/// to carry. In steel that is of one piece with other steel (a bridge) the cut is imaginary, and
/// the load is what would pull it open there. (theory 14.1, 14.2)
struct PartLoad {
  std::string part;   ///< "magnet", "pole piece", "hub" … as in MeshRegion; or "ideal iron"
  int index = -1;     ///< which around the member, from 0 on +x; −1 = goes around the axis
  double area = 0.0;  ///< of the cross-section, m²
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();  ///< of the area, m
  Eigen::Vector2d force = Eigen::Vector2d::Zero();   ///< N/m
  double torque = 0.0;  ///< about the member's axis, counter-clockwise, N·m/m

  double radial() const;      ///< outward at the part's centre, N/m; 0 if it goes around the axis
  double tangential() const;  ///< counter-clockwise there, N/m; likewise
  double couple() const;      ///< about the part's own centre, counter-clockwise, N·m/m
};

/// Loads on all parts of a member, in the order of its regions, iron cut out of the mesh last; of a
/// solution whose potentials are filled. Everything is a part that is not as permeable as air; a
/// missing magnet is none. By construction the loads add up to the stress on the member's boundary
/// circles, so to the torque and force of the gap harmonics.
std::vector<PartLoad> part_loads(const FieldProblem& problem, const FieldSolution& solution,
                                 Member member);

// ---- over a cycle -------------------------------------------------------------------------------

/// The extremes of a part's load over many positions, per metre of stack.
struct PartExtremes {
  PartLoad first;             ///< as at the first position: which part, its area and centre
  double most_outward = 0.0;  ///< largest radial(), N/m; negative if it is always drawn inwards
  double most_inward = 0.0;   ///< largest −radial(), N/m; negative if always drawn outwards
  double most_shear = 0.0;    ///< largest |tangential()|, N/m
  double most_couple = 0.0;   ///< largest |couple()|, N·m/m
  double mean_radial = 0.0;   ///< N/m
};
/// `loads`: of one member, one list a position, all of the same mesh. Empty in, empty out.
std::vector<PartExtremes> part_extremes(const std::vector<std::vector<PartLoad>>& loads);

/// Side of a part on which it rests: magnets of a sun on the hub within, of a ring without.
enum class Seat { within, without };

/// m r ω² per metre of stack [N/m], always outward: density kg/m³, radius of the centre m, rad/s.
double centrifugal_load(double area, double density, double radius, double angular_speed);

/// The largest pull off its seat [N/m], at least 0, with `centrifugal` N/m added outward.
double pull_off(const PartExtremes& part, Seat seat, double centrifugal = 0.0);

}  // namespace lodegear
