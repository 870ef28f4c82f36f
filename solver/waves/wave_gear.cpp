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

namespace {

// C = a − i b where a slot keeps it, and adding to it.
std::complex<double> amplitude(const OrderSlot& slot, const std::complex<double>* u) {
  const std::complex<double> value = u[slot.at];
  if (slot.kind == OrderSlot::Kind::direct) return value;
  if (slot.kind == OrderSlot::Kind::conjugate) return std::conj(value);
  return {value.real(), -u[slot.at + 1].real()};
}

void add_amplitude(const OrderSlot& slot, std::complex<double> more, std::complex<double>* u) {
  if (slot.kind == OrderSlot::Kind::direct) {
    u[slot.at] += more;
  } else if (slot.kind == OrderSlot::Kind::conjugate) {
    u[slot.at] += std::conj(more);
  } else {
    u[slot.at] += more.real();
    u[slot.at + 1] -= more.imag();
  }
}

// Written out: the library's product asks for infinities first.
std::complex<double> product(std::complex<double> a, std::complex<double> b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

}  // namespace

Eigen::VectorXcd WaveGear::orders(const Eigen::VectorXcd& u, std::size_t member,
                                  std::size_t gap) const {
  const auto& slots = port(member, gap).orders;
  Eigen::VectorXcd c(static_cast<Eigen::Index>(slots.size()));
  for (std::size_t k = 0; k < slots.size(); ++k)
    c[static_cast<Eigen::Index>(k)] = amplitude(slots[k], u.data() + first_[member]);
  return c;
}

void WaveGear::add_across(const std::vector<Eigen::VectorXcd>& phases, std::size_t gap,
                          std::size_t from, double factor, const Eigen::VectorXcd& u,
                          Eigen::VectorXcd& result) const {
  const bool outwards = from == gap;
  const std::size_t to = outwards ? gap + 1 : gap;
  const std::vector<OrderSlot>&here = port(from, gap).orders, &there = port(to, gap).orders;
  for (std::size_t k = 0; k < here.size(); ++k) {
    const auto order = static_cast<Eigen::Index>(k);
    const std::complex<double> phase = phases[gap][order];
    const std::complex<double> c =
        (factor * gaps_[gap].cross[order]) *
        product(amplitude(here[k], u.data() + first_[from]), outwards ? std::conj(phase) : phase);
    add_amplitude(there[k], c, result.data() + first_[to]);
  }
}

void WaveGear::add_gaps(const std::vector<Eigen::VectorXcd>& phases, const Eigen::VectorXcd& u,
                        Eigen::VectorXcd& result) const {
  for (std::size_t g = 0; g < gaps_.size(); ++g)
    for (std::size_t member : {g, g + 1}) {
      const auto& slots = port(member, g).orders;
      for (std::size_t k = 0; k < slots.size(); ++k)
        add_amplitude(slots[k],
                      gaps_[g].own[static_cast<Eigen::Index>(k)] *
                          amplitude(slots[k], u.data() + first_[member]),
                      result.data() + first_[member]);
      add_across(phases, g, member, 1.0, u, result);
    }
}

}  // namespace lodegear
