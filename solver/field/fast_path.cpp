// solver/field/fast_path.cpp — members of equal sectors, wave by wave.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/field_solver.h"
#include "solver/field/solver_path.h"
#include "solver/waves/wave_newton.h"

namespace lodegear {

namespace {

struct FastState : PathState {
  explicit FastState(const WaveGear& gear) : waves(gear) {}
  WaveState waves;
};

struct FastField : ReducedField {
  Eigen::VectorXcd u;
  std::vector<Lanes> steel;  // A at all places of each member's bodies
};

// Cosine amplitudes, then sine amplitudes, of C = a − i b.
Eigen::VectorXd amplitudes(const Eigen::VectorXcd& c) {
  Eigen::VectorXd result(2 * c.size());
  result << c.real(), -c.imag();
  return result;
}

class FastPath : public SolverPath {
 public:
  FastPath(const FieldProblem& problem, const SolverOptions& options, KeptMembers* kept)
      : problem_(problem), options_(options), gear_(problem, kept) {}

  std::unique_ptr<PathState> cold_state() const override {
    return std::make_unique<FastState>(gear_);
  }

  FieldSolution solve(const Position& position, PathState& path_state) const override {
    WaveState& state = dynamic_cast<FastState&>(path_state).waves;
    FieldSolution solution;
    solution.position = position;
    solution.summary = wave_newton(gear_, options_, position, state);
    for (std::size_t g = 0; g < problem_.gaps.size(); ++g)
      add_gap(problem_, g, amplitudes(gear_.orders(state.u, g, g)),
              amplitudes(gear_.orders(state.u, g + 1, g)), solution);
    read_torques(problem_, solution);
    solution.functional = state.energy;
    auto reduced = std::make_shared<FastField>();
    reduced->u = state.u;
    for (const auto& bodies : state.bodies) reduced->steel.push_back(bodies ? bodies->a : Lanes());
    solution.reduced = std::move(reduced);
    return solution;
  }

  void fill_potentials(FieldSolution& solution) const override {
    const auto& reduced = dynamic_cast<const FastField&>(*solution.reduced);
    solution.a.clear();
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      solution.a.emplace_back(Eigen::VectorXd::Zero(problem_.members[i].mesh.nodes.rows()));
      gear_.member(i).linear.fill_potentials(gear_.part(reduced.u, i), solution.a.back());
      if (reduced.steel[i].n_places() > 0)
        gear_.member(i).bodies.inner_to_nodes(reduced.steel[i], solution.a.back());
    }
  }

 private:
  const FieldProblem& problem_;
  const SolverOptions options_;
  WaveGear gear_;
};

}  // namespace

std::string fast_path_misfit(const FieldProblem& problem) {
  if (!problem.applied_field.isZero()) return "a field is applied from outside";
  for (const FieldMember& member : problem.members)
    if (const auto why = unequal_sectors(member)) return *why;
  return {};
}

std::unique_ptr<SolverPath> fast_path(const FieldProblem& problem, const SolverOptions& options,
                                      KeptMembers* kept) {
  return std::make_unique<FastPath>(problem, options, kept);
}

}  // namespace lodegear
