// solver/field/newton.cpp — Newton's method on the saturable members of a gear at one position.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field/newton.h"

#include <cmath>

#include "solver/field/line_search.h"

namespace lodegear {

// From the trailing block of the factor: C = XᵀX with X = L₂₂⁻¹ Fᵀ.
Eigen::MatrixXd port_compliance(const MemberSystem& system, const Cholesky& factor) {
  if (system.n_amplitudes() == 0) return {};  // a member alone
  const Eigen::MatrixXd x = factor.trailing_forward(system.port_columns());
  Eigen::MatrixXd c = Eigen::MatrixXd::Zero(x.cols(), x.cols());
  c.selfadjointView<Eigen::Lower>().rankUpdate(x.transpose());
  c.triangularView<Eigen::StrictlyUpper>() = c.transpose();
  return c;
}

LinearMember::LinearMember(const MemberSystem& system, const Eigen::VectorXd& end_own)
    : factor(system.matrix().pattern(), system.port_nodes()) {
  factor.factorise(system.tangent(Eigen::VectorXd::Zero(system.n_nodes())));
  condensed.emplace(port_compliance(system, factor), end_own);
  magnet_amplitudes = system.amplitudes(factor.solve(system.source({0, 0})));
}

Eigen::VectorXd LinearMember::potential(const MemberSystem& system, const Eigen::VectorXd& source,
                                        const Eigen::VectorXd& q) const {
  const std::lock_guard lock(solving);
  return factor.solve(source - system.port_load(q));
}

Eigen::VectorXd LinearMember::free_amplitudes(const MemberSystem& system,
                                              const Eigen::VectorXd& source) const {
  const std::lock_guard lock(solving);
  return system.amplitudes(factor.solve(source));
}

SaturableMember::SaturableMember(const MemberSystem& system)
    : factor(system.matrix().pattern(), system.port_nodes()),
      a(Eigen::VectorXd::Zero(system.n_nodes())) {}

namespace {

class NewtonRun {
 public:
  NewtonRun(NewtonMembers members, PortSystem& ports, const SolverOptions& options,
            const Position& position, const Vectors& sources, const Vectors& free_amplitudes,
            Vectors& q)
      : systems_(members.systems),
        linear_(members.linear),
        saturable_(members.saturable),
        ports_(ports),
        options_(options),
        position_(position),
        sources_(sources),
        free_amplitudes_(free_amplitudes),
        q_(q) {
    for (const auto& member : saturable_) any_saturable_ = any_saturable_ || member;
  }

  SolveSummary run() {
    ports_.turn(position_);
    double residual = update_residual();
    summary_.residuals.push_back(residual);
    if (!have_tangents()) renew_tangents();
    join();
    // The first step is always taken: it also brings amplitudes and flux loads together.
    while (summary_.iterations == 0 || residual > options_.tolerance) {
      if (summary_.iterations == options_.most_iterations || !std::isfinite(residual))
        return not_converged(residual);
      const double before = residual;
      residual = step();
      ++summary_.iterations;
      summary_.residuals.push_back(residual);
      if (residual > options_.tolerance && residual > options_.worst_reduction * before) {
        renew_tangents();
        join();
      }
    }
    summary_.converged = true;
    return summary_;
  }

 private:
  SolveSummary not_converged(double residual) {
    tell_not_converged(residual, options_.tolerance, summary_);
    return summary_;
  }

  bool have_tangents() const {
    for (const auto& member : saturable_)
      if (member && !member->condensed) return false;
    return true;
  }

  // New tangents where there is none yet, and where much of the imbalance lies: a core that does
  // not saturate keeps its old one while the pole pieces get theirs.
  //
  // After a short step they are of where the whole step would have led, every other time or, if
  // that does not help, always for twenty steps.
  void renew_tangents() {
    led_astray_ = taken_ < short_step && (!led_astray_ || summary_.iterations / 20 % 2 == 1);
    double total = 0.0;
    for (const auto& member : saturable_)
      if (member) total += member->residual.squaredNorm();
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      if (!saturable_[i]) continue;
      SaturableMember& member = *saturable_[i];
      if (member.condensed && member.residual.squaredNorm() < 0.05 * total) continue;
      const Eigen::VectorXd at =
          led_astray_ ? Eigen::VectorXd(member.a + (1.0 - taken_) * direction_[i]) : member.a;
      member.factor.factorise(systems_[i].tangent(at));
      member.condensed.emplace(port_compliance(systems_[i], member.factor), ports_.end_own(i));
      ++summary_.factorisations;
    }
  }

  void join() {
    std::vector<const CondensedMember*> condensed;
    for (std::size_t i = 0; i < systems_.size(); ++i)
      condensed.push_back(saturable_[i] ? &*saturable_[i]->condensed : &*linear_[i]->condensed);
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
      member.residual = sources_[i] - internal - outside;
      member.energy = energy - sources_[i].dot(member.a);
      sum += member.residual.squaredNorm();
      scale += sources_[i].squaredNorm() + outside.squaredNorm();
    }
    return scale > 0 ? std::sqrt(sum / scale) : 0.0;
  }

  // Newton's direction: A + dA, q + dq; then as far along it as the energy falls. The new
  // imbalance.
  double step() {
    direction_.assign(systems_.size(), {});
    Vectors& direction = direction_;
    Vectors rhs(systems_.size());
    const Vectors gap = ports_.compliance_times(q_);
    for (std::size_t i = 0; i < systems_.size(); ++i) {
      if (saturable_[i]) {
        direction[i] = saturable_[i]->factor.solve(saturable_[i]->residual);
        rhs[i] = systems_[i].amplitudes(saturable_[i]->a + direction[i]);
      } else {
        rhs[i] = free_amplitudes_[i] - linear_[i]->condensed->times(q_[i]);
      }
      rhs[i] -= gap[i];
    }
    const Vectors dq = ports_.solve(rhs);
    for (std::size_t i = 0; i < systems_.size(); ++i)
      if (saturable_[i]) direction[i] -= saturable_[i]->factor.solve(systems_[i].port_load(dq[i]));
    return advance(direction, dq);
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

  // While amplitudes and loads do not yet belong together (first step at a new position) the energy
  // has no meaning and the whole step is taken.
  double advance(const Vectors& direction, const Vectors& dq) {
    const double start = summary_.iterations > 0 && any_saturable_ ? slope(direction) : 0.0;
    const double before = summary_.residuals.back();
    move(direction, dq, 1.0);
    double residual = update_residual();
    taken_ = 1.0;
    if (!(start < 0)) return residual;
    const Leaps::Now now = leaps_.after_whole_step(before, residual);
    if (now == Leaps::Now::begin) keep_start(direction, dq);
    if (now == Leaps::Now::give_up) residual = back_to_start();
    if (now != Leaps::Now::search) return residual;
    taken_ = search_back(
        start, [&] { return slope(direction); },
        [&](double by) {
          move(direction, dq, by);
          residual = update_residual();
        });
    leaps_.searched(taken_);
    return residual;
  }

  // Where the leaps began, a whole step ago.
  void keep_start(const Vectors& direction, const Vectors& dq) {
    move(direction, dq, -1.0);
    kept_q_ = q_;
    kept_a_.clear();
    for (const auto& member : saturable_) kept_a_.push_back(member ? member->a : Eigen::VectorXd());
    move(direction, dq, 1.0);
  }
  double back_to_start() {
    q_ = kept_q_;
    for (std::size_t i = 0; i < systems_.size(); ++i)
      if (saturable_[i]) saturable_[i]->a = kept_a_[i];
    return update_residual();
  }

  const std::vector<MemberSystem>& systems_;
  const std::vector<std::unique_ptr<LinearMember>>& linear_;
  std::vector<std::optional<SaturableMember>>& saturable_;
  PortSystem& ports_;
  const SolverOptions& options_;
  Position position_;
  const Vectors& sources_;
  const Vectors& free_amplitudes_;
  Vectors& q_;
  SolveSummary summary_;
  bool any_saturable_ = false;
  Vectors direction_;   // of the last step
  double taken_ = 1.0;  // part of it
  Leaps leaps_;
  Vectors kept_a_, kept_q_;  // where the leaps began
  bool led_astray_ = false;  // the tangents are of where it would have led
};

}  // namespace

SolveSummary newton(NewtonMembers members, PortSystem& ports, const SolverOptions& options,
                    const Position& position, const Vectors& sources,
                    const Vectors& free_amplitudes, Vectors& q) {
  return NewtonRun(members, ports, options, position, sources, free_amplitudes, q).run();
}

}  // namespace lodegear
