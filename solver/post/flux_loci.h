// solver/post/flux_loci.h — A and B over one period in each member's own frame, with their rates.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <string>
#include <vector>

#include "solver/fem/triangle.h"
#include "solver/motion/loss_cycle.h"

namespace lodegear {

/// Time series over columns: one row a node or point, one column a sample.
using TimeSeries = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

/// Turns even samples into their rate at the samples: rate = samples · spectral_rate(...). Exact
/// for every order below half the number of samples in a period (the order at just half is
/// dropped). `samples` cover `period`, or, with half_wave, half of it, after which the sign
/// changes. Unit: 1/(unit of period). Source: Trefethen, Spectral Methods in MATLAB (2000),
/// chapter 3.
Eigen::MatrixXd spectral_rate(int samples, double period, bool half_wave);

/// What one member sees over its period: A at the nodes of all its parts but air, in the sectors
/// that stand for all. Rates are per rad of phase (LossCycle); times phase_speed they are per
/// second.
struct MemberHistory {
  const FieldMember* member = nullptr;
  MemberCycle cycle;
  double period = 0.0;  ///< rad of phase

  /// Triangles of the first `cycle.sectors` sectors, air left out. Triangle t of the member has the
  /// loss of triangle t mod (sectors·triangles_per_sector).
  std::vector<int> triangles;
  std::vector<int> row;  ///< by node: row of `a`, −1 = not kept
  TimeSeries a;          ///< Wb/m
  TimeSeries a_rate;     ///< Wb/m per rad
  /// ∂/∂φ of ∫A dS over each region of the *whole* member, Wb·m per rad; row = region. True in sums
  /// over all copies of a region: single ones are other copies in every step of the cycle.
  TimeSeries region_integral_rate;
  Eigen::VectorXd region_area;  ///< m²

  int samples() const { return static_cast<int>(a.cols()); }
  int copies() const { return member->mesh.n_sectors / cycle.sectors; }
};

/// Takes the potentials of the positions of a cycle, one after the other, and puts them in order.
/// Every value is read once; kept are two doubles for each value of a node that is not in air, the
/// same number with symmetry and without. The rates cost samples² a node: with many more positions
/// than LossSampling plans, take every second or third.
class HistoryRecorder {
 public:
  /// Both must outlive the histories.
  HistoryRecorder(const FieldProblem& problem, const LossCycle& cycle);
  /// The solution at cycle.positions[position], potentials filled. Any order, each once; not from
  /// several threads at a time.
  void record(int position, const FieldSolution& solution);
  /// As above with the potentials alone, one vector a member.
  void record(int position, const std::vector<Eigen::VectorXd>& a);
  /// All members', rates included. Call when every position is recorded.
  std::vector<MemberHistory> histories() &&;

 private:
  void record_member(std::size_t i, int position, const Eigen::VectorXd& a);

  const FieldProblem& problem_;
  const LossCycle& cycle_;
  std::vector<MemberHistory> histories_;
  std::vector<Eigen::SparseMatrix<double, Eigen::RowMajor>> region_weights_;  // ∫φ_i dS
};

/// From solutions in the order of the positions, potentials filled.
std::vector<MemberHistory> member_histories(const FieldProblem& problem, const LossCycle& cycle,
                                            const std::vector<FieldSolution>& solutions);

/// B at the six quadrature points of one triangle, exact for the elements' A.
struct TriangleLoci {
  Eigen::Matrix<double, n_quadrature, 1> weight;  ///< m²
  Eigen::Matrix<double, n_quadrature, 2> x;       ///< m
  TimeSeries bx, by;                              ///< T; row = point
  TimeSeries bx_rate, by_rate;                    ///< T per rad
};
TriangleLoci triangle_loci(const MemberHistory& history, int triangle);

/// Numbers of the regions of one part ("magnet", "pole piece", "hub", …).
std::vector<int> regions_of(const MemberMesh& mesh, const std::string& part);
/// Of the regions of whole bodies (magnets, pole pieces, wedges) those whose bodies stand for all;
/// every node of theirs is kept. Throws std::invalid_argument for a region without number.
std::vector<int> bodies_that_stand_for_all(const MemberHistory& history,
                                           const std::vector<int>& regions);
/// Those of `history.triangles` that lie in the regions.
std::vector<int> triangles_in(const MemberHistory& history, const std::vector<int>& regions);

}  // namespace lodegear
