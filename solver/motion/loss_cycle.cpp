// solver/motion/loss_cycle.cpp — the few positions from which every member's losses follow.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/motion/loss_cycle.h"

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>
#include <stdexcept>

#include "materials/constants.h"
#include "solver/motion/positions.h"

namespace lodegear {

int LossCycle::samples(std::size_t i) const {
  return static_cast<int>(positions.size()) * members[i].steps;
}

double LossCycle::period(std::size_t i) const {
  return step * members[i].steps * (members[i].half_wave ? 2 : 1);
}

namespace {

/// What a triangle is made of, seen from its own sector.
struct Content {
  const MeshRegion* region;
  Eigen::Vector2d remanence;  // T, turned back by the sector's angle
};

std::vector<Content> contents(const FieldMember& member) {
  std::vector<Content> list;
  const MemberMesh& mesh = member.mesh;
  for (int t = 0; t < mesh.triangles.rows(); ++t) {
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();
    for (int i = 0; i < 3; ++i) centre += mesh.nodes.row(mesh.triangles(t, i)).transpose() / 3;
    const RegionLaw& law = member.law(t);
    const int sector = t / mesh.triangles_per_sector;
    const double turn = -2 * pi * sector / mesh.n_sectors;
    list.push_back(
        {&member.region(t),
         Eigen::Rotation2Dd(turn) * Eigen::Vector2d(law.remanence * law.magnetisation.at(centre))});
  }
  return list;
}

bool same(const Content& a, const Content& b, int sign) {
  return a.region->kind == b.region->kind && a.region->material == b.region->material &&
         (a.remanence - sign * b.remanence).norm() < 1e-9;
}

/// Whether sector j + shift is made as sector j with all magnets times `sign`, for every j.
bool symmetric(const FieldMember& member, const std::vector<Content>& made, int shift, int sign) {
  const auto all = made.size();
  const auto by =
      static_cast<std::size_t>(shift) * static_cast<std::size_t>(member.mesh.triangles_per_sector);
  for (std::size_t t = 0; t < all; ++t)
    if (!same(made[t], made[(t + by) % all], sign)) return false;
  return true;
}

/// By which parts of a turn a member may be shifted: `parts` poles or pole pieces make a turn.
class Shifts {
 public:
  Shifts(const FieldMember& member, int parts, bool poles, bool use_symmetry) {
    const std::vector<Content> made = contents(member);
    const int n = member.mesh.n_sectors;
    for (int i = 0; i < parts; ++i) {
      const bool whole = i * n % parts == 0;
      const int sign = poles && i % 2 != 0 ? -1 : 1;
      shift_.push_back(i * n / parts);
      allowed_.push_back(i == 0 ||
                         (use_symmetry && whole && symmetric(member, made, i * n / parts, sign)));
    }
  }
  bool allowed(int parts) const { return allowed_[wrapped(parts)]; }
  int sectors(int parts) const { return shift_[wrapped(parts)]; }

 private:
  std::size_t wrapped(int parts) const {
    const int n = static_cast<int>(allowed_.size());
    return static_cast<std::size_t>((parts % n + n) % n);
  }
  std::vector<int> shift_;
  std::vector<bool> allowed_;
};

MemberCycle member_cycle(int n_sectors, int shift, int sign) {
  MemberCycle cycle;
  cycle.shift = shift;
  cycle.sign = sign;
  cycle.sectors = std::gcd(shift, n_sectors);
  cycle.steps = n_sectors / cycle.sectors;
  cycle.half_wave = sign < 0 && cycle.steps % 2 != 0;
  return cycle;
}

int period_in_steps(const MemberCycle& cycle) { return cycle.steps * (cycle.half_wave ? 2 : 1); }

/// Sun turned by a poles, modulator by b pole pieces, ring by c poles: the same gear, its magnets
/// times (−1)^a, further on in step by π (a n − 2 b p_s)/(p_s n) of phase.
struct Turns {
  int a, b, c;
};

class Symmetry {
 public:
  Symmetry(const FieldProblem& problem, const PoleCounts& counts, bool use_symmetry)
      : problem_(problem),
        counts_(counts),
        sun_(problem.members[0], 2 * counts.sun, true, use_symmetry),
        modulator_(problem.members[1], counts.pole_pieces, false, use_symmetry),
        ring_(problem.members[2], 2 * counts.ring, true, use_symmetry),
        common_(std::gcd(2 * counts.sun, counts.pole_pieces)) {}

  /// Every way in which the gear repeats `ripples` ripple periods on.
  std::vector<Turns> ways(int ripples) const {
    std::vector<Turns> found;
    const Turns one = one_ripple();
    for (int t = 0; t < common_; ++t) {
      Turns turns{ripples * one.a + t * 2 * counts_.sun / common_,
                  ripples * one.b + t * counts_.pole_pieces / common_, 0};
      turns.c = 2 * turns.b - turns.a;  // the load angle stays
      if (sun_.allowed(turns.a) && modulator_.allowed(turns.b) && ring_.allowed(turns.c))
        found.push_back(turns);
    }
    return found;
  }

  /// Of each member by itself the way with the shortest period: where the gear also repeats around
  /// the axis at one instant, the ways differ by that.
  std::vector<MemberCycle> members(const std::vector<Turns>& ways) const {
    std::vector<MemberCycle> best;
    for (std::size_t i = 0; i < 3; ++i) {
      std::optional<MemberCycle> shortest;
      for (const Turns& turns : ways) {
        const MemberCycle cycle = member_cycle(problem_.members[i].mesh.n_sectors,
                                               sectors(i, turns), turns.a % 2 != 0 ? -1 : 1);
        if (!shortest || period_in_steps(cycle) < period_in_steps(*shortest)) shortest = cycle;
      }
      best.push_back(*shortest);
    }
    return best;
  }

 private:
  /// Some a, b with a n − 2 b p_s = gcd(2 p_s, n).
  Turns one_ripple() const {
    const int n = counts_.pole_pieces, poles = 2 * counts_.sun;
    int a = 0;
    while ((a * n - common_) % poles != 0) ++a;
    return {a, (a * n - common_) / poles, 0};
  }
  int sectors(std::size_t member, const Turns& turns) const {
    return member == 0   ? sun_.sectors(turns.a)
           : member == 1 ? modulator_.sectors(turns.b)
                         : ring_.sectors(turns.c);
  }

  const FieldProblem& problem_;
  PoleCounts counts_;
  Shifts sun_, modulator_, ring_;
  int common_;
};

void check(const FieldProblem& problem) {
  static constexpr std::array whole{Member::sun, Member::modulator, Member::ring};
  bool fits = problem.members.size() == whole.size();
  for (std::size_t i = 0; fits && i < whole.size(); ++i)
    fits = problem.members[i].mesh.member == whole[i];
  if (!fits) throw std::invalid_argument("losses in step need sun, modulator and ring");
  if (!problem.applied_field.isZero())
    throw std::invalid_argument("losses in step are not planned for a field from outside");
}

}  // namespace

LossCycle loss_cycle(const FieldProblem& problem, const PoleCounts& counts, Member held,
                     double delta, const LossSampling& sampling) {
  check(problem);
  const Symmetry symmetry(problem, counts, sampling.use_symmetry);
  int ripples = 1;
  std::vector<Turns> ways = symmetry.ways(ripples);
  while (ways.empty()) ways = symmetry.ways(++ripples);  // whole turns of all end it

  LossCycle cycle;
  cycle.step = 2 * pi * ripples / ripples_per_turn(counts, true);
  cycle.members = symmetry.members(ways);
  int shortest = period_in_steps(cycle.members.front());
  for (const MemberCycle& member : cycle.members)
    shortest = std::min(shortest, period_in_steps(member));
  const int n = std::max({1, sampling.positions, (sampling.per_period + shortest - 1) / shortest});
  cycle.positions = running_positions(counts, held, delta, cycle.step, n);
  const Position from = synchronous_position(counts, held, delta, 0.0);
  const Position to = synchronous_position(counts, held, delta, 1.0);
  cycle.rate = {to.sun - from.sun, to.modulator - from.modulator, to.ring - from.ring};
  return cycle;
}

double phase_speed(const LossCycle& cycle, Member input, double speed) {
  const double rate = cycle.rate.of(input);
  if (std::abs(rate) < 1e-9) throw std::invalid_argument("the held member cannot be the input");
  return speed / rate;
}

}  // namespace lodegear
