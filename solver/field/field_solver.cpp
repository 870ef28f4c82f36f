// solver/field/field_solver.cpp — condensed once, solved at every position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/field_solver.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

#include "solver/field/newton.h"
#include "solver/gap/circle_orders.h"
#include "solver/linear/one_thread.h"

namespace lodegear {

struct FieldSolver::Inside {
  FieldProblem problem;
  SolverOptions options;
  std::vector<MemberSystem> systems;
  std::vector<std::unique_ptr<LinearMember>> linear;  // null where saturable

  explicit Inside(FieldProblem p, SolverOptions o) : problem(std::move(p)), options(o) {
    hold_to_one_thread();
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

  // Amplitudes (laboratory frame) of the gap orders above K on one circle of a gap.
  Eigen::VectorXd high_orders(std::size_t member, Port::Side side,
                              const FieldSolution& solution) const {
    const MemberSystem& system = systems[member];
    const double angle = solution.position.of(problem.members[member].mesh.member);
    for (std::size_t i = 0; i < system.air_orders().size(); ++i) {
      const AirOrders& air = system.air_orders()[i];
      if (air.side != side || air.last < air.first) continue;
      const Eigen::VectorXd amplitudes = system.air_amplitudes(i, solution.a[member]);
      const Eigen::Index n = amplitudes.size() / 2;
      Eigen::VectorXd all = Eigen::VectorXd::Zero(2 * air.last);  // from order 1, to be turned
      all.segment(air.first - 1, n) = amplitudes.head(n);
      all.tail(n) = amplitudes.tail(n);
      return turned(all, angle);
    }
    return {};
  }

  // Above K each side sees only air: its waves pass the other circle unhindered.
  void add_high_orders(std::size_t g, FieldSolution& solution) const {
    GapField& gap = solution.gaps[g];
    const Eigen::VectorXd inner = high_orders(g, Port::Side::outer, solution);
    const Eigen::VectorXd outer = high_orders(g + 1, Port::Side::inner, solution);
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

  // The applied field in the frame of member i; it enters through the outermost member alone.
  Eigen::Vector2d applied_on(std::size_t i, const Position& position) const {
    if (i + 1 < systems.size()) return {0, 0};
    return Eigen::Rotation2Dd(-position.of(problem.members[i].mesh.member)) * problem.applied_field;
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
  Vectors sources, free_amplitudes(in.systems.size());
  for (std::size_t i = 0; i < in.systems.size(); ++i) {
    const Eigen::Vector2d applied = in.applied_on(i, position);
    sources.push_back(in.systems[i].source(applied));
    if (in.linear[i])
      free_amplitudes[i] = applied.isZero()
                               ? in.linear[i]->magnet_amplitudes
                               : in.linear[i]->free_amplitudes(in.systems[i], sources[i]);
  }

  PortSystem ports(in.problem, in.systems);
  FieldSolution solution;
  solution.position = position;
  solution.summary = newton({in.systems, in.linear, s.saturable}, ports, in.options, position,
                            sources, free_amplitudes, s.q);
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
    if (a.size() == 0) {
      const Eigen::VectorXd source = in.systems[i].source(in.applied_on(i, solution.position));
      a = in.linear[i]->potential(in.systems[i], source, solution.flux_loads[i]);
    }
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
  for (std::size_t g = 0; g < solution.gaps.size(); ++g) in.add_high_orders(g, solution);
}

}  // namespace lodegear
