// solver/field/field_solver.cpp — condensed once, solved at every position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/field_solver.h"

#include <algorithm>
#include <cmath>
#include <mutex>
#include <stdexcept>

#include "solver/field/solver_path.h"
#include "solver/gap/circle_orders.h"
#include "solver/linear/one_thread.h"

namespace lodegear {

void add_gap(const FieldProblem& problem, std::size_t g, const Eigen::VectorXd& inner,
             const Eigen::VectorXd& outer, FieldSolution& solution) {
  const GapAnnulus& gap = problem.gaps[g];
  const auto angle = [&](std::size_t i) {
    return solution.position.of(problem.members[i].mesh.member);
  };
  solution.gaps.push_back(
      {gap.inner_radius, gap.outer_radius, turned(inner, angle(g)), turned(outer, angle(g + 1))});
}

void read_torques(const FieldProblem& problem, FieldSolution& solution) {
  double carried = 0.0;  // torque through the gap below
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    const double above = i < solution.gaps.size() ? gap_torque(solution.gaps[i]) : 0.0;
    const Member name = problem.members[i].mesh.member;
    (name == Member::sun         ? solution.torque_sun
     : name == Member::modulator ? solution.torque_modulator
                                 : solution.torque_ring) = above - carried;
    carried = above;
  }
}

namespace {

// Amplitudes (laboratory frame) of all orders on one circle of a gap.
Eigen::VectorXd circle_amplitudes(const BoundaryCircle& circle, const Eigen::VectorXd& a,
                                  double angle) {
  const Eigen::VectorXd on_circle = a(circle.nodes);
  return turned(circle_orders(circle, 1, resolved_orders(circle)) * on_circle, angle);
}

// Above K each side sees only air: its waves pass the other circle unhindered.
void add_high_orders(const FieldProblem& problem, std::size_t g, FieldSolution& solution) {
  GapField& gap = solution.gaps[g];
  const MemberMesh& below = problem.members[g].mesh;
  const MemberMesh& above = problem.members[g + 1].mesh;
  const Eigen::VectorXd inner =
      circle_amplitudes(*below.outer, solution.a[g], solution.position.of(below.member));
  const Eigen::VectorXd outer =
      circle_amplitudes(*above.inner, solution.a[g + 1], solution.position.of(above.member));
  const Eigen::Index n = std::min(inner.size(), outer.size()) / 2, k0 = gap.n_orders();
  if (n <= k0) return;
  Eigen::VectorXd at_inner(2 * n), at_outer(2 * n);
  at_inner << gap.at_inner.head(k0), Eigen::VectorXd::Zero(n - k0), gap.at_inner.tail(k0),
      Eigen::VectorXd::Zero(n - k0);
  at_outer << gap.at_outer.head(k0), Eigen::VectorXd::Zero(n - k0), gap.at_outer.tail(k0),
      Eigen::VectorXd::Zero(n - k0);
  for (Eigen::Index k = k0 + 1; k <= n; ++k) {
    const double passed = std::pow(gap.r_inner / gap.r_outer, static_cast<double>(k));
    for (const bool sine : {false, true}) {
      const double ci = inner[(sine ? inner.size() / 2 : 0) + k - 1];
      const double co = outer[(sine ? outer.size() / 2 : 0) + k - 1];
      at_inner[(sine ? n : 0) + k - 1] = ci + passed * co;
      at_outer[(sine ? n : 0) + k - 1] = co + passed * ci;
    }
  }
  gap.at_inner = at_inner;
  gap.at_outer = at_outer;
}

}  // namespace

struct FieldSolver::Inside {
  FieldProblem problem;
  SolverOptions options;
  std::string misfit;                // why not the fast path
  std::unique_ptr<SolverPath> fast;  // where it fits
  mutable std::once_flag built;      // the reference path is built when first needed
  mutable std::unique_ptr<SolverPath> reference;

  Inside(FieldProblem p, SolverOptions o, KeptMembers* kept) : problem(std::move(p)), options(o) {
    hold_to_one_thread();
    misfit = options.path == SolverPathChoice::reference ? "reference path, as asked for"
                                                         : fast_path_misfit(problem);
    if (misfit.empty())
      fast = fast_path(problem, options, kept);
    else if (options.path == SolverPathChoice::fast)
      throw std::invalid_argument("the fast path does not fit: " + misfit);
    else
      robust();
  }

  const SolverPath& robust() const {
    std::call_once(built, [this] { reference = reference_path(problem, options); });
    return *reference;
  }
};

struct SolverState::Inside {
  const void* owner = nullptr;  // the solver it belongs to
  std::unique_ptr<PathState> fast, reference;
};

SolverState::SolverState() : inside_(std::make_unique<Inside>()) {}
SolverState::~SolverState() = default;
SolverState::SolverState(SolverState&&) noexcept = default;
SolverState& SolverState::operator=(SolverState&&) noexcept = default;

FieldSolver::FieldSolver(FieldProblem problem, SolverOptions options, KeptMembers* kept)
    : inside_(std::make_unique<Inside>(std::move(problem), options, kept)) {}
FieldSolver::~FieldSolver() = default;
FieldSolver::FieldSolver(FieldSolver&&) noexcept = default;

const FieldProblem& FieldSolver::problem() const { return inside_->problem; }

bool FieldSolver::linear() const {
  for (const FieldMember& member : inside_->problem.members)
    for (const RegionLaw& law : member.laws)
      if (!law.reluctivity.linear()) return false;
  return true;
}

int FieldSolver::n_unknowns() const {
  Eigen::Index n = 0;
  for (const FieldMember& member : inside_->problem.members) n += member.mesh.nodes.rows();
  return static_cast<int>(n);
}

std::string FieldSolver::path() const {
  return inside_->fast ? "fast" : "reference: " + inside_->misfit;
}

FieldSolution FieldSolver::solve(const Position& position) const {
  SolverState cold;
  return solve(position, cold);
}

FieldSolution FieldSolver::solve(const Position& position, SolverState& state) const {
  const Inside& in = *inside_;
  SolverState::Inside& s = *state.inside_;
  if (s.owner != inside_.get()) {
    s = SolverState::Inside{};
    s.owner = inside_.get();
  }
  const auto by = [&](const SolverPath& path, std::unique_ptr<PathState>& start) {
    if (!start) start = path.cold_state();
    FieldSolution solution = path.solve(position, *start);
    if (!solution.summary.converged) start.reset();  // never start from a bad field
    return solution;
  };
  if (!in.fast) return by(in.robust(), s.reference);
  FieldSolution solution = by(*in.fast, s.fast);
  if (solution.summary.converged || in.options.path == SolverPathChoice::fast) return solution;
  return by(in.robust(), s.reference);
}

void FieldSolver::fill_potentials(FieldSolution& solution) const {
  const Inside& in = *inside_;
  (solution.summary.fast ? *in.fast : in.robust()).fill_potentials(solution);
  double level = 0.0;  // the mean on the outermost circle there is
  for (std::size_t i = in.problem.members.size(); i-- > 0;) {
    Eigen::VectorXd& a = solution.a[i];
    const auto mean = [&](const BoundaryCircle& circle) {
      double sum = 0.0;  // corner nodes weigh 1, mid-edge nodes 2 in the exact mean
      for (std::size_t n = 0; n < circle.nodes.size(); ++n)
        sum += (n % 2 == 0 ? 1.0 : 2.0) * a[circle.nodes[n]];
      return sum / (1.5 * static_cast<double>(circle.nodes.size()));
    };
    const MemberMesh& mesh = in.problem.members[i].mesh;
    if (mesh.outer || mesh.inner) a.array() += level - mean(mesh.outer ? *mesh.outer : *mesh.inner);
    level = mesh.inner ? mean(*mesh.inner) : 0.0;
  }
  for (std::size_t g = 0; g < solution.gaps.size(); ++g) add_high_orders(in.problem, g, solution);
}

}  // namespace lodegear
