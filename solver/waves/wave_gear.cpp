// solver/waves/wave_gear.cpp — members seen wave by wave, tied across the gaps.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/wave_gear.h"

#include <cmath>
#include <complex>

#include "solver/gap/annulus.h"
#include "solver/waves/kept_members.h"

namespace lodegear {

namespace {

// The inverse of the compliance (3.3) has its form again, times (π ν0 k)² and with the cross term
// turned round.
GapStiffness stiffness_of(const GapAnnulus& gap) {
  const auto [own, cross] = annulus_compliance(gap.inner_radius, gap.outer_radius, gap.orders);
  const Eigen::ArrayXd square = open_air_compliance(gap.orders).array().square().inverse();
  return {own.array() * square, -(cross.array() * square)};
}

}  // namespace

WaveGear::WaveGear(const FieldProblem& problem, KeptMembers* kept)
    : core_(problem.members.size() - 1) {
  first_.push_back(0);
  for (std::size_t i = 0; i < problem.members.size(); ++i) {
    const int inside = i > 0 ? problem.gaps[i - 1].orders : 0;
    const int outside = i < problem.gaps.size() ? problem.gaps[i].orders : 0;
    const auto condensed = [&] {
      return std::make_shared<const WaveMember>(problem.members[i], inside, outside);
    };
    members_.push_back(kept ? kept->of({problem.members[i], inside, outside}, condensed)
                            : condensed());
    names_.push_back(problem.members[i].mesh.member);
    if (names_.back() == Member::modulator) core_ = i;
    first_.push_back(first_.back() + members_.back()->linear.n_unknowns());
  }
  for (const GapAnnulus& gap : problem.gaps) gaps_.push_back(stiffness_of(gap));
}

std::vector<Eigen::VectorXcd> WaveGear::phases(const Position& position) const {
  std::vector<Eigen::VectorXcd> all;
  for (std::size_t g = 0; g < gaps_.size(); ++g) {
    const double angle = position.of(names_[g]) - position.of(names_[g + 1]);
    Eigen::VectorXcd phase(gaps_[g].own.size());
    for (Eigen::Index k = 0; k < phase.size(); ++k)
      phase[k] = std::polar(1.0, static_cast<double>(k + 1) * angle);
    all.push_back(std::move(phase));
  }
  return all;
}

const WavePort& WaveGear::port(std::size_t member, std::size_t gap) const {
  const auto& ports = members_[member]->linear.ports();
  return gap == member ? ports.back() : ports.front();  // outwards comes last
}

Eigen::VectorXcd WaveGear::orders(const Eigen::VectorXcd& u, std::size_t member,
                                  std::size_t gap) const {
  const auto& slots = port(member, gap).orders;
  Eigen::VectorXcd c(static_cast<Eigen::Index>(slots.size()));
  const std::complex<double>* const at = u.data() + first_[member];
  for (std::size_t k = 0; k < slots.size(); ++k) {
    const std::complex<double>& value = at[slots[k].at];
    c[static_cast<Eigen::Index>(k)] = slots[k].kind == OrderSlot::Kind::direct ? value
                                      : slots[k].kind == OrderSlot::Kind::conjugate
                                          ? std::conj(value)
                                          : std::complex<double>(value.real(), -(&value)[1].real());
  }
  return c;
}

void WaveGear::add_orders(const Eigen::VectorXcd& c, std::size_t member, std::size_t gap,
                          Eigen::VectorXcd& u) const {
  const auto& slots = port(member, gap).orders;
  std::complex<double>* const at = u.data() + first_[member];
  for (std::size_t k = 0; k < slots.size(); ++k) {
    std::complex<double>& value = at[slots[k].at];
    const std::complex<double> more = c[static_cast<Eigen::Index>(k)];
    if (slots[k].kind == OrderSlot::Kind::direct) value += more;
    if (slots[k].kind == OrderSlot::Kind::conjugate) value += std::conj(more);
    if (slots[k].kind != OrderSlot::Kind::standing) continue;
    value += more.real();
    (&value)[1] -= more.imag();
  }
}

Eigen::VectorXcd WaveGear::across(const std::vector<Eigen::VectorXcd>& phases, std::size_t gap,
                                  std::size_t from, const Eigen::VectorXcd& c) const {
  Eigen::VectorXcd load = gaps_[gap].cross.array() * c.array();
  if (from == gap)  // outwards
    load.array() *= phases[gap].array().conjugate();
  else
    load.array() *= phases[gap].array();
  return load;
}

void WaveGear::add_gaps(const std::vector<Eigen::VectorXcd>& phases, const Eigen::VectorXcd& u,
                        Eigen::VectorXcd& result) const {
  for (std::size_t g = 0; g < gaps_.size(); ++g) {
    const Eigen::VectorXcd inner = orders(u, g, g), outer = orders(u, g + 1, g);
    const auto own = gaps_[g].own.array();
    add_orders((own * inner.array()).matrix() + across(phases, g, g + 1, outer), g, g, result);
    add_orders((own * outer.array()).matrix() + across(phases, g, g, inner), g + 1, g, result);
  }
}

}  // namespace lodegear
