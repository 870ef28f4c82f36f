// solver/field/field_solver.cpp — condensed once, solved at every position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/field_solver.h"

#include <optional>

#include "solver/field/newton.h"
#include "solver/gap/circle_orders.h"

namespace lodegear {

struct FieldSolver::Inside {
  FieldProblem problem;
  SolverOptions options;
  std::vector<MemberSystem> systems;
  std::vector<std::unique_ptr<LinearMember>> linear;  // null where saturable
  Vectors
      applied;  // amplitudes of twice the applied potential, a member over its ports, body frame 0

  explicit Inside(FieldProblem p, SolverOptions o) : problem(std::move(p)), options(o) {
    for (std::size_t i = 0; i < problem.members.size(); ++i) {
      const int inside = i > 0 ? problem.gaps[i - 1].orders : 0;
      const int outside = i < problem.gaps.size() ? problem.gaps[i].orders : 0;
      systems.emplace_back(problem.members[i], inside, outside);
    }
    const PortSystem ports(problem, systems);
    for (std::size_t i = 0; i < systems.size(); ++i)
      linear.push_back(systems[i].linear()
                           ? std::make_unique<LinearMember>(systems[i], ports.end_own(i))
                           : nullptr);
  }

  // The applied field as amplitudes: A = B_x y − B_y x on the outermost circle.        (theory 3.6)
  Eigen::VectorXd applied_amplitudes(std::size_t i, double angle) const {
    const MemberSystem& system = systems[i];
    Eigen::VectorXd c = Eigen::VectorXd::Zero(system.n_amplitudes());
    if (i + 1 < systems.size() || system.ports().empty()) return c;
    const Port& port = system.ports().back();
    if (port.beyond != Beyond::open_air || port.side != Port::Side::outer) return c;
    const double r = problem.members[i].mesh.outer->radius;
    Eigen::VectorXd on_port = Eigen::VectorXd::Zero(2 * port.n_orders);
    on_port[0] = -problem.applied_field[1] * r;
    on_port[port.n_orders] = problem.applied_field[0] * r;
    c.tail(2 * port.n_orders) = turned(on_port, -angle);
    return c;
  }
};

struct SolverState::Inside {
  const void* owner = nullptr;  // the solver it belongs to
  std::vector<std::optional<SaturableMember>> saturable;
  Vectors q;
};

SolverState::SolverState() : inside_(std::make_unique<Inside>()) {}
SolverState::~SolverState() = default;
SolverState::SolverState(SolverState&&) noexcept = default;
SolverState& SolverState::operator=(SolverState&&) noexcept = default;

FieldSolver::FieldSolver(FieldProblem problem, SolverOptions options)
    : inside_(std::make_unique<Inside>(std::move(problem), options)) {}
FieldSolver::~FieldSolver() = default;
FieldSolver::FieldSolver(FieldSolver&&) noexcept = default;

const FieldProblem& FieldSolver::problem() const { return inside_->problem; }

bool FieldSolver::linear() const {
  for (const MemberSystem& system : inside_->systems)
    if (!system.linear()) return false;
  return true;
}

int FieldSolver::n_unknowns() const {
  Eigen::Index n = 0;
  for (const MemberSystem& system : inside_->systems) n += system.n_nodes();
  return static_cast<int>(n);
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
    for (std::size_t i = 0; i < in.systems.size(); ++i) {
      s.saturable.emplace_back();
      if (!in.linear[i]) s.saturable.back().emplace(in.systems[i]);
      s.q.push_back(Eigen::VectorXd::Zero(in.systems[i].n_amplitudes()));
    }
  }
  Vectors applied;
  for (std::size_t i = 0; i < in.systems.size(); ++i)
    applied.push_back(in.applied_amplitudes(i, position.of(in.problem.members[i].mesh.member)));

  PortSystem ports(in.problem, in.systems);
  FieldSolution solution;
  solution.position = position;
  solution.summary =
      newton({in.systems, in.linear, s.saturable}, ports, in.options, position, applied, s.q);
  solution.flux_loads = s.q;

  const Vectors c = ports.compliance_times(s.q);
  for (std::size_t g = 0; g < in.problem.gaps.size(); ++g) {
    const GapAnnulus& gap = in.problem.gaps[g];
    const double inner = position.of(in.problem.members[g].mesh.member);
    const double outer = position.of(in.problem.members[g + 1].mesh.member);
    solution.gaps.push_back({gap.inner_radius, gap.outer_radius,
                             turned(c[g].tail(2 * gap.orders), inner),
                             turned(c[g + 1].head(2 * gap.orders), outer)});
  }
  double carried = 0.0;  // torque through the gap below
  for (std::size_t i = 0; i < in.systems.size(); ++i) {
    const double above = i < solution.gaps.size() ? gap_torque(solution.gaps[i]) : 0.0;
    const Member name = in.problem.members[i].mesh.member;
    (name == Member::sun         ? solution.torque_sun
     : name == Member::modulator ? solution.torque_modulator
                                 : solution.torque_ring) = above - carried;
    carried = above;
    solution.a.push_back(s.saturable[i] ? s.saturable[i]->a : Eigen::VectorXd());
    solution.functional += 0.5 * s.q[i].dot(c[i]);
    solution.functional += s.saturable[i]
                               ? s.saturable[i]->energy
                               : 0.5 * s.q[i].dot(in.linear[i]->condensed->times(s.q[i]));
  }
  if (!solution.summary.converged) state = SolverState();  // never start from a bad field
  return solution;
}

void FieldSolver::fill_potentials(FieldSolution& solution) const {
  const Inside& in = *inside_;
  double level = 0.0;
  for (std::size_t i = in.systems.size(); i-- > 0;) {
    Eigen::VectorXd& a = solution.a[i];
    if (a.size() == 0) a = in.linear[i]->potential(in.systems[i], solution.flux_loads[i]);
    const auto mean = [&](const BoundaryCircle& circle) {
      double sum = 0.0;  // corner nodes weigh 1, mid-edge nodes 2 in the exact mean
      for (std::size_t n = 0; n < circle.nodes.size(); ++n)
        sum += (n % 2 == 0 ? 1.0 : 2.0) * a[circle.nodes[n]];
      return sum / (1.5 * static_cast<double>(circle.nodes.size()));
    };
    const MemberMesh& mesh = in.problem.members[i].mesh;
    if (mesh.outer) a.array() += level - mean(*mesh.outer);
    level = mesh.inner ? mean(*mesh.inner) : 0.0;
  }
}

}  // namespace lodegear
