// solver/post/thermal_network.cpp — a small network of heat capacities and conductances.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/post/thermal_network.h"

#include <Eigen/LU>
#include <algorithm>
#include <stdexcept>

namespace lodegear {

using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

Eigen::Index size_of(const ThermalNetwork& network) {
  return static_cast<Eigen::Index>(network.nodes.size());
}

const ThermalNode& node_at(const ThermalNetwork& network, Eigen::Index i) {
  return network.nodes[static_cast<std::size_t>(i)];
}

void check_paths(const ThermalNetwork& network, const VectorXd& g) {
  std::vector<bool> reached;
  for (const ThermalNode& node : network.nodes) reached.push_back(node.fixed.has_value());
  for (bool grown = true; grown;) {
    grown = false;
    for (Eigen::Index i = 0; i < g.size(); ++i) {
      const ThermalLink& link = network.links[static_cast<std::size_t>(i)];
      const auto a = static_cast<std::size_t>(link.from), b = static_cast<std::size_t>(link.to);
      if (g[i] == 0.0 || reached[a] == reached[b]) continue;
      reached[a] = reached[b] = grown = true;
    }
  }
  const auto lost = std::find(reached.begin(), reached.end(), false);
  if (lost != reached.end())
    throw std::invalid_argument(
        "heat has no way out of " +
        network.nodes[static_cast<std::size_t>(lost - reached.begin())].name);
}

// Mean of the fixed temperatures; 20 °C where nothing is fixed.
double mean_fixed(const ThermalNetwork& network) {
  double sum = 0.0;
  int count = 0;
  for (const ThermalNode& node : network.nodes)
    if (node.fixed) {
      sum += *node.fixed;
      ++count;
    }
  return count ? sum / count : 20.0;
}

VectorXd flows_of(const ThermalNetwork& network, const VectorXd& g, const VectorXd& t) {
  VectorXd flows(g.size());
  for (Eigen::Index i = 0; i < g.size(); ++i) {
    const ThermalLink& link = network.links[static_cast<std::size_t>(i)];
    flows[i] = g[i] * (t[link.from] - t[link.to]);
  }
  return flows;
}

// Temperatures of all nodes with conductances g.
VectorXd solve(const ThermalNetwork& network, const VectorXd& g, const VectorXd& fixed) {
  const auto free = nodes_where(network, [](const ThermalNode& n) { return !n.fixed; });
  if (free.empty()) return fixed;
  const MatrixXd k = conductance_matrix(network, g);
  const VectorXd load = (sources(network) - k * fixed)(free);
  const Eigen::PartialPivLU<MatrixXd> factor(k(free, free));
  VectorXd x = factor.solve(load);
  x += factor.solve(load - k(free, free) * x);  // one refinement: balances close to round-off
  VectorXd t = fixed;
  t(free) = x;
  return t;
}

}  // namespace

bool ThermalNetwork::has_laws() const {
  return std::any_of(links.begin(), links.end(),
                     [](const ThermalLink& link) { return static_cast<bool>(link.law); });
}

VectorXd conductances(const ThermalNetwork& network, const VectorXd& t) {
  VectorXd g(static_cast<Eigen::Index>(network.links.size()));
  for (Eigen::Index i = 0; i < g.size(); ++i) {
    const ThermalLink& link = network.links[static_cast<std::size_t>(i)];
    g[i] = link.law ? link.law(t[link.from], t[link.to]) : link.conductance;
  }
  return g;
}

MatrixXd conductance_matrix(const ThermalNetwork& network, const VectorXd& g) {
  MatrixXd k = MatrixXd::Zero(size_of(network), size_of(network));
  for (Eigen::Index i = 0; i < g.size(); ++i) {
    const ThermalLink& link = network.links[static_cast<std::size_t>(i)];
    k(link.from, link.from) += g[i];
    k(link.to, link.to) += g[i];
    k(link.from, link.to) -= g[i];
    k(link.to, link.from) -= g[i];
  }
  return k;
}

VectorXd sources(const ThermalNetwork& network) {
  VectorXd p(size_of(network));
  for (Eigen::Index i = 0; i < p.size(); ++i) p[i] = node_at(network, i).source;
  return p;
}

std::vector<int> nodes_where(const ThermalNetwork& network,
                             const std::function<bool(const ThermalNode&)>& wanted) {
  std::vector<int> found;
  for (std::size_t i = 0; i < network.nodes.size(); ++i)
    if (wanted(network.nodes[i])) found.push_back(static_cast<int>(i));
  return found;
}

int ThermalNetwork::add_node(ThermalNode node) {
  nodes.push_back(std::move(node));
  return static_cast<int>(nodes.size()) - 1;
}

int ThermalNetwork::add_link(ThermalLink link) {
  links.push_back(std::move(link));
  return static_cast<int>(links.size()) - 1;
}

int ThermalNetwork::node(const std::string& name) const {
  const auto found =
      std::find_if(nodes.begin(), nodes.end(), [&](const auto& n) { return n.name == name; });
  return found == nodes.end() ? -1 : static_cast<int>(found - nodes.begin());
}

VectorXd uniform_start(const ThermalNetwork& network, double celsius) {
  VectorXd t(size_of(network));
  for (Eigen::Index i = 0; i < t.size(); ++i) t[i] = node_at(network, i).fixed.value_or(celsius);
  return t;
}

SteadyHeat steady_heat(const ThermalNetwork& network, int most_rounds) {
  const VectorXd fixed = uniform_start(network, 0.0);
  SteadyHeat heat;
  // A little above the surroundings: some film laws vanish at no difference.
  heat.temperatures = uniform_start(network, mean_fixed(network) + 10.0);
  while (!heat.converged && heat.rounds < most_rounds) {
    heat.conductances = conductances(network, heat.temperatures);
    if (heat.rounds == 0) check_paths(network, heat.conductances);
    const VectorXd next = solve(network, heat.conductances, fixed);
    const double change = (next - heat.temperatures).cwiseAbs().maxCoeff();
    heat.converged = change < 1e-8 || !network.has_laws();
    heat.temperatures = next;
    ++heat.rounds;
  }
  heat.flows = flows_of(network, heat.conductances, heat.temperatures);
  return heat;
}

double heat_into(const ThermalNetwork& network, const VectorXd& flows, int node) {
  double sum = 0.0;
  for (Eigen::Index i = 0; i < flows.size(); ++i) {
    const ThermalLink& link = network.links[static_cast<std::size_t>(i)];
    if (link.to == node) sum += flows[i];
    if (link.from == node) sum -= flows[i];
  }
  return sum;
}

}  // namespace lodegear
