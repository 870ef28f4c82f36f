// solver/field/reference_path.cpp — the robust path: every member whole, direct factors.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Geometry>
#include <optional>

#include "solver/field/field_solver.h"
#include "solver/field/newton.h"
#include "solver/field/solver_path.h"
#include "solver/linear/one_thread.h"

namespace lodegear {

namespace {

struct ReferenceState : PathState {
  std::vector<std::optional<SaturableMember>> saturable;
  Vectors q;
};

struct ReferenceField : ReducedField {
  Vectors a;           // of saturable members
  Vectors flux_loads;  // q a member, body frame, over its ports
};

class ReferencePath : public SolverPath {
 public:
  ReferencePath(const FieldProblem& problem, const SolverOptions& options)
      : problem_(problem), options_(options) {
    hold_to_one_thread();
    for (std::size_t i = 0; i < problem.members.size(); ++i) {
      const int inside = i > 0 ? problem.gaps[i - 1].orders : 0;
      const int outside = i < problem.gaps.size() ? problem.gaps[i].orders : 0;
      systems_.emplace_back(problem.members[i], inside, outside);
    }
    const PortSystem ports(problem, systems_);
    for (std::size_t i = 0; i < systems_.size(); ++i)
      linear_.push_back(systems_[i].linear()
                            ? std::make_unique<LinearMember>(systems_[i], ports.end_own(i))
                            : nullptr);
  }

  std::unique_ptr<PathState> cold_state() const override {
    auto state = std::make_unique<ReferenceState>();
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      state->saturable.emplace_back();
      if (!linear_[i]) state->saturable.back().emplace(systems_[i]);
      state->q.push_back(Eigen::VectorXd::Zero(systems_[i].n_amplitudes()));
    }
    return state;
  }

  FieldSolution solve(const Position& position, PathState& state) const override;
  void fill_potentials(FieldSolution& solution) const override;

 private:
  // The applied field in the frame of member i; it enters through the outermost member alone.
  Eigen::Vector2d applied_on(std::size_t i, const Position& position) const {
    if (i + 1 < systems_.size()) return {0, 0};
    return Eigen::Rotation2Dd(-position.of(problem_.members[i].mesh.member)) *
           problem_.applied_field;
  }

  const FieldProblem& problem_;
  const SolverOptions options_;
  std::vector<MemberSystem> systems_;
  std::vector<std::unique_ptr<LinearMember>> linear_;  // null where saturable
};

FieldSolution ReferencePath::solve(const Position& position, PathState& path_state) const {
  auto& state = dynamic_cast<ReferenceState&>(path_state);
  Vectors sources, free_amplitudes(systems_.size());
  for (std::size_t i = 0; i < systems_.size(); ++i) {
    const Eigen::Vector2d applied = applied_on(i, position);
    sources.push_back(systems_[i].source(applied));
    if (linear_[i])
      free_amplitudes[i] = applied.isZero() ? linear_[i]->magnet_amplitudes
                                            : linear_[i]->free_amplitudes(systems_[i], sources[i]);
  }

  PortSystem ports(problem_, systems_);
  FieldSolution solution;
  solution.position = position;
  solution.summary = newton({systems_, linear_, state.saturable}, ports, options_, position,
                            sources, free_amplitudes, state.q);
  const Vectors c = ports.compliance_times(state.q);
  for (std::size_t g = 0; g < problem_.gaps.size(); ++g) {
    const Eigen::Index n = 2 * problem_.gaps[g].orders;
    add_gap(problem_, g, c[g].tail(n), c[g + 1].head(n), solution);
  }
  read_torques(problem_, solution);
  auto reduced = std::make_shared<ReferenceField>();
  reduced->flux_loads = state.q;
  for (std::size_t i = 0; i < systems_.size(); ++i) {
    reduced->a.push_back(state.saturable[i] ? state.saturable[i]->a : Eigen::VectorXd());
    solution.functional += 0.5 * state.q[i].dot(c[i]);
    solution.functional += state.saturable[i]
                               ? state.saturable[i]->energy
                               : 0.5 * state.q[i].dot(linear_[i]->condensed->times(state.q[i]));
  }
  solution.reduced = std::move(reduced);
  return solution;
}

void ReferencePath::fill_potentials(FieldSolution& solution) const {
  const auto& reduced = dynamic_cast<const ReferenceField&>(*solution.reduced);
  solution.a = reduced.a;
  for (std::size_t i = 0; i < systems_.size(); ++i)
    if (linear_[i])
      solution.a[i] = linear_[i]->potential(
          systems_[i], systems_[i].source(applied_on(i, solution.position)), reduced.flux_loads[i]);
}

}  // namespace

std::unique_ptr<SolverPath> reference_path(const FieldProblem& problem,
                                           const SolverOptions& options) {
  return std::make_unique<ReferencePath>(problem, options);
}

}  // namespace lodegear
