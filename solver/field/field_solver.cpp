// solver/field/field_solver.cpp — condensed once, solved at every position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/field_solver.h"

#include <cmath>
#include <mutex>
#include <optional>

#include "solver/field/member_system.h"
#include "solver/field/port_system.h"
#include "solver/gap/circle_orders.h"
#include "solver/linear/cholesky.h"

namespace lodegear {

namespace {

using Vectors = std::vector<Eigen::VectorXd>;

// C = F T⁻¹ Fᵀ from the trailing block of the factor: C = XᵀX with X = L₂₂⁻¹ Fᵀ.
Eigen::MatrixXd compliance(const MemberSystem& system, const Cholesky& factor) {
  const Eigen::MatrixXd x = factor.trailing_forward(system.port_columns());
  Eigen::MatrixXd c = Eigen::MatrixXd::Zero(x.cols(), x.cols());
  c.selfadjointView<Eigen::Lower>().rankUpdate(x.transpose());
  c.triangularView<Eigen::StrictlyUpper>() = c.transpose();
  return c;
}

// A member without saturable steel: done once, then only its amplitudes matter.
struct LinearMember {
  Cholesky factor;
  CondensedMember condensed;
  Eigen::VectorXd free_amplitudes;  // c_0 = F T⁻¹ f
  mutable std::mutex solving;       // the factor serves one thread at a time

  LinearMember(const MemberSystem& system, const Eigen::VectorXd& end_own, Cholesky&& factored)
      : factor(std::move(factored)),
        condensed(system.ports(), compliance(system, factor), end_own),
        free_amplitudes(system.amplitudes(factor.solve(system.source()))) {}

  static std::unique_ptr<LinearMember> make(const MemberSystem& system,
                                            const Eigen::VectorXd& end_own) {
    Cholesky factor(system.matrix().pattern(), system.port_nodes());
    factor.factorise(system.tangent(Eigen::VectorXd::Zero(system.n_nodes())));
    return std::make_unique<LinearMember>(system, end_own, std::move(factor));
  }
  Eigen::VectorXd potential(const MemberSystem& system, const Eigen::VectorXd& q) const {
    const std::lock_guard lock(solving);
    return factor.solve(system.source() - system.port_load(q));
  }
};

// A member with saturable steel, as one thread sees it.
struct SaturableMember {
  Cholesky factor;
  std::optional<CondensedMember> condensed;
  Eigen::VectorXd a;         // Wb/m
  Eigen::VectorXd residual;  // f − g(A) − Σ Fᵀ q
  double energy = 0.0;       // W − f·A

  explicit SaturableMember(const MemberSystem& system)
      : factor(system.matrix().pattern(), system.port_nodes()),
        a(Eigen::VectorXd::Zero(system.n_nodes())) {}
};

}  // namespace

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
      linear.push_back(systems[i].linear() ? LinearMember::make(systems[i], ports.end_own(i))
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

namespace {

// One Newton solve at one position.
class NewtonRun {
 public:
  NewtonRun(const std::vector<MemberSystem>& systems,
            const std::vector<std::unique_ptr<LinearMember>>& linear, PortSystem& ports,
            const SolverOptions& options, const Position& position, Vectors applied,
            std::vector<std::optional<SaturableMember>>& saturable, Vectors& q)
      : systems_(systems),
        linear_(linear),
        ports_(ports),
        options_(options),
        position_(position),
        applied_(std::move(applied)),
        saturable_(saturable),
        q_(q) {
    ports_.turn(position);
  }

  SolveSummary run() {
    SolveSummary summary;
    double before = update_residual();
    summary.residuals.push_back(before);
    bool fresh = false;  // tangent belongs to the present field
    bool consistent = false;
    if (!ready_to_step()) fresh = renew_tangents(summary);
    join();
    while (!(before <= options_.tolerance && consistent)) {
      if (summary.iterations == options_.most_iterations) return give_up(summary, before);
      step(consistent);
      consistent = true;
      ++summary.iterations;
      const double after = update_residual();
      summary.residuals.push_back(after);
      if (!std::isfinite(after)) return give_up(summary, after);
      const bool slow = after > options_.worst_reduction * before;
      before = after;
      if (before <= options_.tolerance) break;
      if (slow && any_saturable()) {
        fresh = renew_tangents(summary);
        join();
      } else {
        fresh = false;
      }
    }
    (void)fresh;
    summary.converged = true;
    return summary;
  }

 private:
  bool any_saturable() const {
    for (const auto& member : saturable_)
      if (member) return true;
    return false;
  }
  bool ready_to_step() const {
    for (const auto& member : saturable_)
      if (member && !member->condensed) return false;
    return true;
  }

  SolveSummary give_up(SolveSummary& summary, double residual) const {
    summary.message = "not converged after " + std::to_string(summary.iterations) +
                      " steps: load out of balance " + std::to_string(residual);
    return summary;
  }

  bool renew_tangents(SolveSummary& summary) {
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      if (!saturable_[i]) continue;
      SaturableMember& member = *saturable_[i];
      member.factor.factorise(systems_[i].tangent(member.a));
      member.condensed.emplace(systems_[i].ports(), compliance(systems_[i], member.factor),
                               ports_.end_own(i));
      ++summary.factorisations;
    }
    return true;
  }

  void join() {
    std::vector<const CondensedMember*> condensed;
    for (std::size_t i = 0; i < systems_.size(); ++i)
      condensed.push_back(saturable_[i] ? &*saturable_[i]->condensed : &linear_[i]->condensed);
    ports_.set(position_, condensed);
  }

  // Relative load out of balance; 0 where every member is linear.
  double update_residual() {
    double sum = 0.0, scale = 0.0;
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      if (!saturable_[i]) continue;
      SaturableMember& member = *saturable_[i];
      double energy = 0.0;
      const Eigen::VectorXd internal = systems_[i].internal_load(member.a, &energy);
      const Eigen::VectorXd outside = systems_[i].port_load(q_[i]);
      member.residual = systems_[i].source() - internal - outside;
      member.energy = energy - systems_[i].source().dot(member.a);
      sum += member.residual.squaredNorm();
      scale += systems_[i].source().squaredNorm() + outside.squaredNorm();
    }
    return scale > 0 ? std::sqrt(sum / scale) : 0.0;
  }

  // Newton's direction: A + dA, q + dq; then as far along it as the energy falls.
  void step(bool consistent) {
    Vectors direction(systems_.size()), rhs(systems_.size());
    const Vectors gap = ports_.compliance_times(q_);
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      if (saturable_[i]) {
        direction[i] = saturable_[i]->factor.solve(saturable_[i]->residual);
        rhs[i] = systems_[i].amplitudes(saturable_[i]->a + direction[i]);
      } else {
        rhs[i] = linear_[i]->free_amplitudes - linear_[i]->condensed.times(q_[i]);
      }
      rhs[i] -= gap[i] + 2 * applied_[i];
    }
    const Vectors dq = ports_.solve(rhs);
    for (std::size_t i = 0; i < systems_.size(); ++i)
      if (saturable_[i]) direction[i] -= saturable_[i]->factor.solve(systems_[i].port_load(dq[i]));
    advance(direction, dq, consistent);
  }

  double slope(const Vectors& direction) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < systems_.size(); ++i)
      if (saturable_[i]) sum -= saturable_[i]->residual.dot(direction[i]);
    return sum;
  }

  void move(const Vectors& direction, const Vectors& dq, double by) {
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      if (saturable_[i]) saturable_[i]->a += by * direction[i];
      q_[i] += by * dq[i];
    }
  }

  // φ(t) = energy along the direction is convex: find t where its slope is at most half as steep as
  // at the start, by bracketing and bisection. While amplitudes and loads do not yet belong
  // together (first step at a new position) φ has no meaning and the whole step is taken.
  void advance(const Vectors& direction, const Vectors& dq, bool consistent) {
    const double start = consistent && any_saturable() ? slope(direction) : 0.0;
    move(direction, dq, 1.0);
    if (!(start < 0)) return;
    double low = 0.0, high = 0.0, at = 1.0;
    for (int trial = 0; trial < 40; ++trial) {
      update_residual();
      const double here = slope(direction);
      if (std::abs(here) <= 0.5 * -start || (here < 0 && at == 1.0)) return;
      (here < 0 ? low : high) = at;
      const double next = 0.5 * (low + high);
      move(direction, dq, next - at);
      at = next;
    }
  }

  const std::vector<MemberSystem>& systems_;
  const std::vector<std::unique_ptr<LinearMember>>& linear_;
  PortSystem& ports_;
  const SolverOptions& options_;
  Position position_;
  Vectors applied_;
  std::vector<std::optional<SaturableMember>>& saturable_;
  Vectors& q_;
};

}  // namespace

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
      NewtonRun(in.systems, in.linear, ports, in.options, position, applied, s.saturable, s.q)
          .run();
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
    solution.functional += s.saturable[i] ? s.saturable[i]->energy
                                          : 0.5 * s.q[i].dot(in.linear[i]->condensed.times(s.q[i]));
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
