// solver/post/off_centre.cpp — how hard the members pull when they do not sit on one axis.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/off_centre.h"

#include <Eigen/Eigenvalues>
#include <cassert>
#include <cmath>
#include <complex>

#include "materials/constants.h"
#include "solver/field/newton.h"
#include "solver/gap/circle_orders.h"

namespace lodegear {

namespace {

using Complex = std::complex<double>;
using ComplexOrders = Eigen::VectorXcd;  // entry k-1 belongs to order k

// a_k − i b_k, so that A = Re Σ (…) e^{ikθ}.
ComplexOrders complex_orders(const Eigen::VectorXd& amplitudes, Eigen::Index n) {
  const Eigen::Index all = amplitudes.size() / 2;
  ComplexOrders u(n);
  for (Eigen::Index k = 0; k < n; ++k) u[k] = {amplitudes[k], -amplitudes[all + k]};
  return u;
}
Eigen::VectorXd real_orders(const ComplexOrders& u) {
  Eigen::VectorXd amplitudes(2 * u.size());
  amplitudes << u.real(), -u.imag();
  return amplitudes;
}

// The field of one gap, A = Re Σ α_k z^k + β_k z^−k, without powers that overflow.
struct GapExpansion {
  double r_inner = 0.0, r_outer = 0.0;
  ComplexOrders grows;   // α_k r_o^k: comes from outside
  ComplexOrders decays;  // conj β_k r_i^−k: comes from inside

  GapExpansion(const GapAnnulus& annulus, const GapField& gap)
      : r_inner(annulus.inner_radius), r_outer(annulus.outer_radius) {
    const ComplexOrders inner = complex_orders(gap.at_inner, annulus.orders);
    const ComplexOrders outer = complex_orders(gap.at_outer, annulus.orders);
    grows = decays = inner;
    for (Eigen::Index k = 1; k <= inner.size(); ++k) {
      const double p = passed(k);
      grows[k - 1] = (outer[k - 1] - p * inner[k - 1]) / (1 - p * p);
      decays[k - 1] = (inner[k - 1] - p * outer[k - 1]) / (1 - p * p);
    }
  }
  double passed(Eigen::Index k) const {
    return std::pow(r_inner / r_outer, static_cast<double>(k));
  }
};

// F_x − i F_y = 2π ν0 Σ k(k−1) α_k β_{k−1} for `grows` and `decays` of two fields. (theory 14.7)
Complex pull(const GapExpansion& at, const ComplexOrders& grows, const ComplexOrders& decays) {
  Complex sum = 0.0;
  for (Eigen::Index k = 2; k <= grows.size(); ++k)
    sum += static_cast<double>(k * (k - 1)) * at.passed(k - 1) * grows[k - 1] *
           std::conj(decays[k - 2]);
  return 2 * pi * nu0 / at.r_outer * sum;
}

// What the displacement d of the inner circle adds to the amplitudes there: from the field that
// grows outwards and from the one that decays.                                        (theory 14.5)
struct Displaced {
  ComplexOrders grows, decays;
  Displaced(const GapExpansion& gap, Complex d) : grows(gap.grows), decays(gap.decays) {
    const Eigen::Index n = grows.size();
    for (Eigen::Index j = 1; j <= n; ++j) {
      const auto order = static_cast<double>(j);
      grows[j - 1] =
          j < n ? (order + 1) * d / gap.r_outer * gap.passed(j) * gap.grows[j] : Complex(0.0);
      decays[j - 1] =
          j > 1 ? -(order - 1) * std::conj(d) / gap.r_inner * gap.decays[j - 2] : Complex(0.0);
    }
  }
};

struct Block {
  Eigen::Index start = 0, size = 0;
};

int row_of(Member m) { return 2 * static_cast<int>(m); }

}  // namespace

struct OffCentre::Inside {
  const FieldProblem& problem;
  std::vector<MemberSystem> systems;
  std::vector<std::unique_ptr<LinearMember>> linear;  // null where saturable
  mutable PortSystem ports;

  explicit Inside(const FieldProblem& p)
      : problem(p), systems(member_systems(p)), ports(p, systems) {
    for (std::size_t i = 0; i < systems.size(); ++i)
      linear.push_back(systems[i].linear()
                           ? std::make_unique<LinearMember>(systems[i], ports.end_own(i))
                           : nullptr);
  }

  static std::vector<MemberSystem> member_systems(const FieldProblem& problem) {
    std::vector<MemberSystem> systems;
    for (std::size_t i = 0; i < problem.members.size(); ++i)
      systems.emplace_back(problem.members[i], i > 0 ? problem.gaps[i - 1].orders : 0,
                           i < problem.gaps.size() ? problem.gaps[i].orders : 0);
    return systems;
  }

  CondensedMember tangent_member(std::size_t i, const Eigen::VectorXd& a) const {
    Cholesky factor(systems[i].matrix().pattern(), systems[i].port_nodes());
    factor.factorise(systems[i].tangent(a));
    return {port_compliance(systems[i], factor), ports.end_own(i)};
  }

  double angle(const FieldSolution& s, std::size_t i) const {
    return s.position.of(problem.members[i].mesh.member);
  }

  // Where the port of member i towards gap g lies among its amplitudes.
  Block block(std::size_t i, std::size_t g) const {
    const Eigen::Index size = 2 * problem.gaps[g].orders;
    return {g < i || i == 0 ? 0 : 2 * problem.gaps[g - 1].orders, size};
  }

  std::vector<Complex> gap_pulls(const FieldSolution& s, const std::vector<GapExpansion>& gaps,
                                 const std::vector<const CondensedMember*>& condensed,
                                 const std::vector<Complex>& displacement) const;
};

// The change of the pull on all within each gap, if what lies inside gap g moves by displacement[g]
// relative to what lies outside.
std::vector<Complex> OffCentre::Inside::gap_pulls(
    const FieldSolution& s, const std::vector<GapExpansion>& gaps,
    const std::vector<const CondensedMember*>& condensed,
    const std::vector<Complex>& displacement) const {
  Vectors rhs;
  for (const MemberSystem& system : systems)
    rhs.emplace_back(Eigen::VectorXd::Zero(system.n_amplitudes()));
  for (std::size_t g = 0; g < gaps.size(); ++g) {
    const Displaced add(gaps[g], displacement[g]);
    const double length = std::log(gaps[g].r_outer / gaps[g].r_inner);
    ComplexOrders below = add.grows, above = add.grows;
    for (Eigen::Index k = 1; k <= below.size(); ++k) {
      const double x = static_cast<double>(k) * length;
      const Complex sum = add.grows[k - 1] + add.decays[k - 1];
      const Complex difference = add.grows[k - 1] - add.decays[k - 1];
      below[k - 1] = -(sum + difference / std::tanh(x));
      above[k - 1] = difference * (2 * std::exp(-x) / std::expm1(-2 * x));  // −…/sinh x
    }
    const Block in = block(g, g), out = block(g + 1, g);
    rhs[g].segment(in.start, in.size) += turned(real_orders(below), -angle(s, g));
    rhs[g + 1].segment(out.start, out.size) += turned(real_orders(above), -angle(s, g + 1));
  }
  const Vectors q = ports.solve(rhs);
  std::vector<Complex> pulls;
  for (std::size_t g = 0; g < gaps.size(); ++g) {
    const std::size_t i = g + 1;  // read on the outer circle, which keeps its axis
    const Block out = block(i, g);
    const Eigen::VectorXd c = -condensed[i]->times(q[i]);
    const ComplexOrders u =
        complex_orders(turned(c.segment(out.start, out.size), angle(s, i)), out.size / 2);
    ComplexOrders load =
        complex_orders(turned(q[i].segment(out.start, out.size), angle(s, i)), out.size / 2);
    ComplexOrders grows = u, decays = u;
    for (Eigen::Index k = 1; k <= u.size(); ++k) {
      load[k - 1] /= pi * nu0 * static_cast<double>(k);
      grows[k - 1] = 0.5 * (u[k - 1] + load[k - 1]);
      // Where waves of the inner circle have died away, so has what they carry.
      decays[k - 1] = 0.5 * (u[k - 1] - load[k - 1]) / gaps[g].passed(k);
    }
    pulls.push_back(pull(gaps[g], grows, gaps[g].decays) + pull(gaps[g], gaps[g].grows, decays));
  }
  return pulls;
}

OffCentre::OffCentre(const FieldProblem& problem) : inside_(std::make_unique<Inside>(problem)) {}
OffCentre::~OffCentre() = default;

OffCentrePull OffCentre::at(const FieldSolution& solution) const {
  const Inside& in = *inside_;
  const std::size_t n = in.systems.size();
  assert(solution.a.size() == n);
  std::vector<CondensedMember> tangents;
  tangents.reserve(n);
  std::vector<const CondensedMember*> condensed;
  for (std::size_t i = 0; i < n; ++i) {
    if (!in.linear[i]) tangents.push_back(in.tangent_member(i, solution.a[i]));
    condensed.push_back(in.linear[i] ? &*in.linear[i]->condensed : &tangents.back());
  }
  in.ports.set(solution.position, condensed);
  std::vector<GapExpansion> gaps;
  for (std::size_t g = 0; g + 1 < n; ++g) gaps.emplace_back(in.problem.gaps[g], solution.gaps[g]);

  OffCentrePull result;
  const auto rows = [&](std::size_t i) { return row_of(in.problem.members[i].mesh.member); };
  for (std::size_t g = 0; g + 1 < n; ++g) {
    const Eigen::Vector2d force = gap_force(solution.gaps[g]);
    result.centred.segment<2>(rows(g)) += force;
    result.centred.segment<2>(rows(g + 1)) -= force;
  }
  for (std::size_t moved = 0; moved < n; ++moved)
    for (int axis : {0, 1}) {
      const Complex by = axis == 0 ? Complex(1, 0) : Complex(0, 1);
      std::vector<Complex> displacement(gaps.size(), 0.0);
      if (moved < gaps.size()) displacement[moved] += by;
      if (moved > 0) displacement[moved - 1] -= by;
      const std::vector<Complex> pulls = in.gap_pulls(solution, gaps, condensed, displacement);
      for (std::size_t g = 0; g < gaps.size(); ++g) {
        const Eigen::Vector2d change(pulls[g].real(), -pulls[g].imag());
        result.gradient.block<2, 1>(rows(g), rows(moved) + axis) += change;
        result.gradient.block<2, 1>(rows(g + 1), rows(moved) + axis) -= change;
      }
    }
  return result;
}

Eigen::Vector2d OffCentrePull::centred_on(Member pulled) const {
  return centred.segment<2>(row_of(pulled));
}

Eigen::Matrix2d OffCentrePull::gradient_of(Member pulled, Member moved) const {
  return gradient.block<2, 2>(row_of(pulled), row_of(moved));
}

double OffCentrePull::negative_stiffness(Member moved) const {
  const Eigen::Matrix2d own = gradient_of(moved, moved);
  return Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d>(0.5 * (own + own.transpose()))
      .eigenvalues()
      .maxCoeff();
}

double dipole_pull_in_bore(double b_1, double r, double bore_radius, double d) {
  const double moment = b_1 * r * r, x = d / bore_radius;
  return 4 * pi * nu0 * moment * moment * d / std::pow(bore_radius, 4) / std::pow(1 - x * x, 3);
}

double pull_gradient_of_uniform_gap(double r, double gap, double b) {
  return pi * r * b * b * nu0 / (2 * gap);
}

}  // namespace lodegear
