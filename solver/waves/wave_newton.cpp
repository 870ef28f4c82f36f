// solver/waves/wave_newton.cpp — Newton's method on the saturable steel of a gear seen by waves.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/wave_newton.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <stdexcept>

#include "solver/field/line_search.h"

namespace lodegear {

namespace {

// How much the conjugate gradients reduce the residual in a Newton step: more would be undone by
// the next evaluation of the steel.
constexpr double reduction_in_step = 0.01;
constexpr int most_cg_iterations = 400;
// What a new preconditioner costs, in iterations and per steel boundary node of a sector: it is
// made by products of whole blocks, an iteration takes each block once.
constexpr double iterations_per_node = 0.6;
// Groups of bodies that hold less than this part of the imbalance keep their tangents: near the
// solution it is a few bodies at the knee of their steel that are still out of balance. All others
// get new ones after every step: a step by old tangents leads steel at the knee far beyond it, from
// where Newton comes back by a factor e a step.
constexpr double share_for_new_tangent = 0.003;
// Relative permeability that the first tangent from no field takes for all steel: with that of weak
// fields thin parts get ten times the flux they can carry, and come back from there step by step.
// From 2 to 500 it matters little. Then six to ten steps are enough, or, where steel carries more
// than this lets it, too few are many.
constexpr double first_permeability = 20.0;
constexpr int enough_from_weak_steel = 25;

double real_dot(const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) {
  return Eigen::Map<const Eigen::VectorXd>(reinterpret_cast<const double*>(a.data()), 2 * a.size())
      .dot(Eigen::Map<const Eigen::VectorXd>(reinterpret_cast<const double*>(b.data()),
                                             2 * b.size()));
}

class WaveNewtonRun {
 public:
  WaveNewtonRun(const WaveGear& gear, const SolverOptions& options, const Position& position,
                WaveState& state, bool from_weak_steel, int most_iterations)
      : gear_(gear),
        options_(options),
        state_(state),
        phases_(gear.phases(position)),
        from_weak_steel_(from_weak_steel),
        most_iterations_(most_iterations) {
    for (std::size_t i = 0; i < gear.n_members(); ++i)
      scale_ += gear.member(i).linear.source().squaredNorm();
    scale_ = std::sqrt(scale_);
    summary_.fast = true;
    saturable_ = false;
    for (std::size_t i = 0; i < gear.n_members(); ++i) {
      if (!state.bodies[i]) continue;
      saturable_ = true;
      cost_of_preconditioner_ =
          std::max(cost_of_preconditioner_,
                   iterations_per_node * static_cast<double>(gear.member(i).linear.n_boundary()));
    }
  }

  SolveSummary run() {
    from_nothing_ = state_.u.isZero(0.0);
    linear_load_ = linear_load(state_.u);
    double residual = update_residual();
    summary_.residuals.push_back(residual);
    if (!state_.preconditioner) renew();
    while (residual > options_.tolerance) {
      if (summary_.iterations == most_iterations_ || !std::isfinite(residual))
        return not_converged(residual);
      if (!step(residual)) return not_converged(residual);
      residual = residual_;
      from_nothing_ = false;
      ++summary_.iterations;
      summary_.residuals.push_back(residual);
      if (saturable_ && residual > options_.tolerance) renew();
    }
    state_.energy = 0.0;
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (state_.bodies[i]) state_.energy += gear_.member(i).bodies.energy(state_.bodies[i]->a);
      state_.energy += real_dot(0.5 * gear_.part(linear_load_, i) - gear_.member(i).linear.source(),
                                gear_.part(state_.u, i));
    }
    summary_.converged = true;
    return summary_;
  }

 private:
  SolveSummary not_converged(double residual) {
    tell_not_converged(residual, options_.tolerance, summary_);
    return summary_;
  }

  // (K + S) u
  Eigen::VectorXcd linear_load(const Eigen::VectorXcd& u) const {
    Eigen::VectorXcd load(u.size());
    for (std::size_t i = 0; i < gear_.n_members(); ++i)
      gear_.member(i).linear.times(gear_.part(u, i), gear_.part(load, i));
    gear_.add_gaps(phases_, u, load);
    return load;
  }

  // g − (K + S) u − loads of the steel; of its inner nodes the negative of `load` remains.
  double update_residual() {
    rest_ = -linear_load_;
    double inner = 0.0;
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      const WaveMember& member = gear_.member(i);
      gear_.part(rest_, i) += member.linear.source();
      if (!state_.bodies[i]) continue;
      BodiesState& bodies = *state_.bodies[i];
      member.bodies.loads(bodies.a, bodies.load);
      add_gathered(i, bodies.load, -1.0, rest_);
      for (int g = 0; g < bodies.load.n_groups(); ++g)
        inner += inner_square(member.bodies, bodies.load, g);
    }
    return residual_ = std::sqrt(rest_.squaredNorm() + inner) / scale_;
  }

  static double inner_square(const SteelBodies& bodies, const Lanes& load, int group) {
    const double* x = load.group(group);
    return Eigen::Map<const Eigen::VectorXd>(x, bodies.n_inner() * lane_width).squaredNorm();
  }

  // u += factor · (what stands on the kept places, added up on the boundary).
  void add_gathered(std::size_t i, const Lanes& x, double factor, Eigen::VectorXcd& u) const {
    const WaveMember& member = gear_.member(i);
    Eigen::MatrixXd boundary =
        Eigen::MatrixXd::Zero(member.bodies.n_bodies(), member.linear.n_boundary());
    member.bodies.gather(x, boundary);
    member.linear.add_boundary(factor * boundary, gear_.part(u, i));
  }

  void scatter(std::size_t i, const Eigen::VectorXcd& u, Lanes& x) const {
    const WaveMember& member = gear_.member(i);
    Eigen::MatrixXd boundary;
    member.linear.boundary_of(gear_.part(u, i), boundary);
    member.bodies.scatter(boundary, x);
  }

  // Square of the imbalance within the bodies of each group and on their boundary.
  std::vector<double> imbalance_of_groups(std::size_t i) const {
    const WaveMember& member = gear_.member(i);
    const Lanes& load = state_.bodies[i]->load;
    Eigen::MatrixXd boundary;
    member.linear.boundary_of(gear_.part(rest_, i), boundary);
    std::vector<double> squares;
    for (int g = 0; g < load.n_groups(); ++g) {
      const int first = g * lane_width, n = std::min(lane_width, load.n_bodies() - first);
      squares.push_back(inner_square(member.bodies, load, g) +
                        boundary.middleRows(first, n).squaredNorm());
    }
    return squares;
  }

  // New tangents where there is none yet, and where much of the imbalance lies.
  void renew() {
    led_astray_ = taken_ < short_step && (!led_astray_ || summary_.iterations > 20);
    const double enough = share_for_new_tangent * std::pow(residual_ * scale_, 2);
    const bool first = !state_.preconditioner;  // then no body has a factor either
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (!state_.bodies[i]) continue;
      if (led_astray_) {
        BodiesState& bodies = *state_.bodies[i];
        bodies.kept = bodies.a;
        add(bodies.direction, 1.0 - taken_, bodies.kept);
      }
      const std::vector<double> imbalance = imbalance_of_groups(i);
      bool any = false;
      for (std::size_t g = 0; g < imbalance.size(); ++g) {
        if (!first && imbalance[g] < enough) continue;
        renew_group(i, static_cast<int>(g));
        any = true;
      }
      if (any) ++summary_.factorisations;
    }
    if (first) renew_preconditioner();
  }

  void renew_group(std::size_t i, int group) {
    static const Reluctivity weak = Reluctivity::constant(nu0 / first_permeability);
    BodiesState& bodies = *state_.bodies[i];
    gear_.member(i).bodies.tangent(led_astray_ ? bodies.kept : bodies.a, group, bodies.factor,
                                   from_nothing_ && from_weak_steel_ ? &weak : nullptr);
    if (!bodies.factor.factorise(group))
      throw std::runtime_error("the tangent of the steel is not positive definite");
    bodies.factor.subtract_from_schur(bodies.mean, group);
  }

  void renew_preconditioner() {
    std::vector<Eigen::MatrixXd> means(gear_.n_members());
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (!state_.bodies[i]) continue;
      BodiesState& bodies = *state_.bodies[i];
      const Eigen::MatrixXd change = bodies.factor.mean_schur();
      for (int g = 0; g < bodies.load.n_groups(); ++g) bodies.factor.subtract_from_schur(change, g);
      bodies.mean += change;
      means[i] = bodies.mean;
    }
    state_.preconditioner.emplace(gear_, means);
    state_.wear = {};
  }

  // (K + S + tangents of the steel, inner nodes eliminated) z for M z = r, and what the linear part
  // has beyond M.
  void tangent_times(const Eigen::VectorXcd& r, const Eigen::VectorXcd& z,
                     const Eigen::VectorXcd& beyond, Eigen::VectorXcd& result) {
    result = r + beyond;
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (!state_.bodies[i]) continue;
      BodiesState& bodies = *state_.bodies[i];
      scatter(i, z, bodies.kept);
      bodies.factor.times_schur(bodies.kept, bodies.product);
      add_gathered(i, bodies.product, 1.0, result);
    }
  }

  // Preconditioned conjugate gradients for tangent · x = r. No product with the tangent itself is
  // needed: M z = r is known, and what the tangent has beyond M is cheap. False if they stall.
  bool solve(Eigen::VectorXcd r, double reduction, Eigen::VectorXcd& x) {
    Eigen::VectorXcd z, beyond, p, times_z, times_p;
    const double eliminated = state_.preconditioner->eliminate(phases_, r, x);
    double old = 0.0, end = 0.0;
    int n = 0;
    for (;; ++n) {
      state_.preconditioner->solve(phases_, r, z, beyond);
      const double now = real_dot(r, z);
      if (n == most_cg_iterations || !std::isfinite(now)) return false;
      if (n == 0) end = reduction * reduction * (now + eliminated);
      if (now <= end) break;
      tangent_times(r, z, beyond, times_z);
      if (n == 0) {
        p = z;
        times_p = times_z;
      } else {
        p = z + (now / old) * p;
        times_p = times_z + (now / old) * times_p;
      }
      const double along = now / real_dot(p, times_p);
      x += along * p;
      r -= along * times_p;
      old = now;
    }
    summary_.inner_iterations += n;
    state_.wear.add(n);
    return true;
  }

  // Newton's direction, then as far along it as the energy falls.
  bool step(double residual) {
    Eigen::VectorXcd rhs = rest_, direction;
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (!state_.bodies[i]) continue;
      BodiesState& bodies = *state_.bodies[i];
      const std::ptrdiff_t inner = gear_.member(i).bodies.n_inner() * lane_width;
      for (int g = 0; g < bodies.load.n_groups(); ++g) {
        const double* load = bodies.load.group(g);
        double* x = bodies.direction.group(g);
        for (std::ptrdiff_t p = 0; p < inner; ++p) x[p] = -load[p];
        std::fill(x + inner, x + bodies.load.n_places() * lane_width, 0.0);
      }
      bodies.factor.forward(bodies.direction);
      add_gathered(i, bodies.direction, 1.0, rhs);
    }
    const double enough = 0.1 * options_.tolerance / residual;
    if (!solve(rhs, saturable_ ? std::max(reduction_in_step, enough) : enough, direction))
      return false;
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (!state_.bodies[i]) continue;
      BodiesState& bodies = *state_.bodies[i];
      scatter(i, direction, bodies.direction);
      bodies.factor.backward(bodies.direction);
    }
    advance(direction);
    if (saturable_ && state_.wear.extra_iterations > cost_of_preconditioner_)
      renew_preconditioner();
    return true;
  }

  double slope(const Eigen::VectorXcd& direction) const {
    double sum = -real_dot(rest_, direction);
    for (std::size_t i = 0; i < gear_.n_members(); ++i) {
      if (!state_.bodies[i]) continue;
      const BodiesState& bodies = *state_.bodies[i];
      const int inner = gear_.member(i).bodies.n_inner() * lane_width;
      for (int g = 0; g < bodies.load.n_groups(); ++g) {
        const double *load = bodies.load.group(g), *x = bodies.direction.group(g);
        for (int p = 0; p < inner; ++p) sum += load[p] * x[p];
      }
    }
    return sum;
  }

  void move(const Eigen::VectorXcd& direction, const Eigen::VectorXcd& load, double by) {
    state_.u += by * direction;
    linear_load_ += by * load;
    for (auto& bodies : state_.bodies)
      if (bodies) add(bodies->direction, by, bodies->a);
  }
  static void add(const Lanes& direction, double by, Lanes& a) {
    for (std::size_t p = 0; p < a.values().size(); ++p) a.values()[p] += by * direction.values()[p];
  }

  // From no field at all the step is taken whole: steel saturated too much leads back in a few
  // steps, steel not saturated yet asks for many small ones.
  void advance(const Eigen::VectorXcd& direction) {
    const Eigen::VectorXcd load = linear_load(direction);
    const double start = slope(direction), before = residual_;
    taken_ = 1.0;
    move(direction, load, 1.0);
    update_residual();
    if (!saturable_ || !(start < 0) || from_nothing_ || leaps(direction, before)) return;
    taken_ = search_back(
        start, [&] { return slope(direction); },
        [&](double by) {
          move(direction, load, by);
          update_residual();
        });
    leaps_.searched(taken_);
  }

  // Whether the whole step just taken stands, or was the last of those tried in vain.
  bool leaps(const Eigen::VectorXcd& direction, double before) {
    const Leaps::Now now = leaps_.after_whole_step(before, residual_);
    if (now == Leaps::Now::begin) {
      kept_u_ = state_.u - direction;
      kept_steel_.clear();
      for (const auto& bodies : state_.bodies) {
        kept_steel_.push_back(bodies ? bodies->a : Lanes());
        if (bodies) add(bodies->direction, -1.0, kept_steel_.back());
      }
    } else if (now == Leaps::Now::give_up) {
      state_.u = kept_u_;
      for (std::size_t i = 0; i < state_.bodies.size(); ++i)
        if (state_.bodies[i]) state_.bodies[i]->a = kept_steel_[i];
      linear_load_ = linear_load(state_.u);
      update_residual();
    }
    return now != Leaps::Now::search;
  }

  const WaveGear& gear_;
  const SolverOptions& options_;
  WaveState& state_;
  const std::vector<Eigen::VectorXcd> phases_;
  const bool from_weak_steel_;
  const int most_iterations_;
  Eigen::VectorXcd linear_load_, rest_;
  SolveSummary summary_;
  double scale_ = 0.0, residual_ = 0.0;
  double taken_ = 1.0;  // part of the last step
  Leaps leaps_;
  Eigen::VectorXcd kept_u_;  // where the leaps began
  std::vector<Lanes> kept_steel_;
  bool led_astray_ = false;              // the tangents are of where it would have led
  double cost_of_preconditioner_ = 0.0;  // in iterations
  bool saturable_ = false, from_nothing_ = false;
};

}  // namespace

WaveState::WaveState(const WaveGear& gear) : u(Eigen::VectorXcd::Zero(gear.n_unknowns())) {
  for (std::size_t i = 0; i < gear.n_members(); ++i) {
    bodies.emplace_back();
    if (!gear.member(i).bodies.empty()) bodies.back().emplace(gear.member(i).bodies);
  }
}

// From the last solution if there is one; then, and where that leads nowhere, from no field with
// weak steel; and at last from no field with steel as it is.
SolveSummary wave_newton(const WaveGear& gear, const SolverOptions& options,
                         const Position& position, WaveState& state) {
  const auto run = [&](bool from_weak_steel, int most_iterations) {
    return WaveNewtonRun(gear, options, position, state, from_weak_steel, most_iterations).run();
  };
  if (!state.u.isZero(0.0)) {
    const SolveSummary warm = run(false, options.most_iterations);
    if (warm.converged) return warm;
    state = WaveState(gear);
  }
  const SolveSummary weak = run(true, std::min(enough_from_weak_steel, options.most_iterations));
  if (weak.converged) return weak;
  state = WaveState(gear);
  return run(false, options.most_iterations);
}

}  // namespace lodegear
