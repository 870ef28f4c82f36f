// solver/post/thermal_network.h — a small network of heat capacities and conductances.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace lodegear {

/// Conductance [W/K] at the temperatures [°C] of the two ends: films, radiation.
using ConductanceLaw = std::function<double(double from, double to)>;

struct ThermalNode {
  std::string name;
  double capacity = 0.0;        ///< J/K; 0 = follows its neighbours at once
  double source = 0.0;          ///< W
  std::optional<double> fixed;  ///< °C: ambient, or a measured temperature
};

struct ThermalLink {
  std::string name;
  int from = 0, to = 0;      ///< nodes
  double conductance = 0.0;  ///< W/K; may be negative inside a shell's network
  ConductanceLaw law;        ///< stands in place of `conductance` if given
};

/// Nodes joined by links. Temperatures are in °C, in the order of the nodes, throughout.
struct ThermalNetwork {
  std::vector<ThermalNode> nodes;
  std::vector<ThermalLink> links;

  /// Each returns the index of what it added.
  int add_node(ThermalNode node);
  int add_link(ThermalLink link);
  /// Index of the node of that name, −1 = none.
  int node(const std::string& name) const;
  bool has_laws() const;
};

/// Conductance of each link [W/K] at given temperatures.
Eigen::VectorXd conductances(const ThermalNetwork& network, const Eigen::VectorXd& temperatures);
/// K of K T = heat that leaves each node [W]: symmetric, every row sums to zero.
Eigen::MatrixXd conductance_matrix(const ThermalNetwork& network,
                                   const Eigen::VectorXd& conductances);
/// Source of each node [W].
Eigen::VectorXd sources(const ThermalNetwork& network);
/// Indices of the nodes that are `wanted`.
std::vector<int> nodes_where(const ThermalNetwork& network,
                             const std::function<bool(const ThermalNode&)>& wanted);

/// Steady temperatures, with the conductances and heat flows that belong to them.
struct SteadyHeat {
  Eigen::VectorXd temperatures;  ///< °C, by node
  Eigen::VectorXd conductances;  ///< W/K, by link
  Eigen::VectorXd flows;         ///< W, by link, positive from → to
  int rounds = 0;                ///< in which the laws were brought up to date
  bool converged = false;        ///< last change below 1e-8 K
};

/// Solves Σ G (T_neighbour − T) + P = 0 at every node that is not fixed (theory 13.1). Laws are
/// iterated; every round conserves energy to round-off. Throws std::invalid_argument, naming the
/// node, where heat has no way to a fixed temperature.
SteadyHeat steady_heat(const ThermalNetwork& network, int most_rounds = 200);

/// Heat that flows from the network into one fixed node at given flows [W].
double heat_into(const ThermalNetwork& network, const Eigen::VectorXd& flows, int node);

/// The network with its conductances frozen at given temperatures: a linear system, solved exactly
/// in time by its modes (theory 13.2), so no step and no step error. Nodes without capacity are
/// eliminated beforehand.
class FrozenNetwork {
 public:
  FrozenNetwork(const ThermalNetwork& network, const Eigen::VectorXd& at);
  /// Temperatures after `seconds` with constant sources; nodes without capacity have settled.
  Eigen::VectorXd after(const Eigen::VectorXd& start, double seconds) const;
  /// The same with other sources [W, by node] than those of the network.
  Eigen::VectorXd after(const Eigen::VectorXd& start, double seconds,
                        const Eigen::VectorXd& sources) const;
  /// Modes' time constants [s], the slowest first; infinite for what is insulated.
  Eigen::VectorXd time_constants() const;

 private:
  std::vector<int> massive_, massless_;
  Eigen::VectorXd fixed_;            // °C by node, 0 where free
  Eigen::VectorXd sources_;          // W by node
  Eigen::VectorXd from_fixed_;       // W by node, what fixed nodes would send to nodes at 0 °C
  Eigen::MatrixXd settle_, spread_;  // K_zz⁻¹ and K_zz⁻¹ K_zc
  Eigen::VectorXd root_capacity_, decay_;
  Eigen::MatrixXd modes_;
};

/// Temperatures at chosen times.
struct HeatingCurve {
  std::vector<double> times;                  ///< s
  std::vector<Eigen::VectorXd> temperatures;  ///< °C by node, at each time
};

/// Heating from `start` (by node; what is given for fixed nodes is ignored). Without laws exact.
/// With laws the conductances are held over steps at their value in the middle of the step; steps
/// are chosen such that holding them at the step's start instead would move no node by more than
/// `tolerance` kelvins. The error left is of second order: below 0.003 K at the usual tolerance in
/// the two gears of the tests. `times` ascending, ≥ 0.
HeatingCurve heating_curve(const ThermalNetwork& network, const Eigen::VectorXd& start,
                           const std::vector<double>& times, double tolerance = 0.02);

/// Every free node at one temperature, fixed nodes at theirs.
Eigen::VectorXd uniform_start(const ThermalNetwork& network, double celsius);

/// A temperature that a node must not pass.
struct TemperatureLimit {
  int node = 0;
  double celsius = 0.0;
  std::string reason;  ///< e.g. "working temperature of N42"
};
/// The limit that is passed first, and when.
struct LimitReached {
  TemperatureLimit limit;
  double time = 0.0;  ///< s; 0 = already passed at the start
};
/// Looks within `longest` seconds; none = no limit is passed.
std::optional<LimitReached> first_limit(const ThermalNetwork& network, const Eigen::VectorXd& start,
                                        const std::vector<TemperatureLimit>& limits, double longest,
                                        double tolerance = 0.02);

/// A time in which the sources are constant.
struct HeatInterval {
  double duration = 0.0;    ///< s
  Eigen::VectorXd sources;  ///< W, by node
};
/// A cycle of intervals that has repeated until nothing changes from one cycle to the next.
struct PeriodicHeat {
  std::vector<Eigen::VectorXd> starts;  ///< °C by node, at the start of each interval
  Eigen::VectorXd coolest, hottest;     ///< by node, over the cycle
};
/// Exact for the conductances as they are at the steady state of the mean sources, at which they
/// are held. Every node needs a way to a fixed temperature.
PeriodicHeat periodic_heat(const ThermalNetwork& network, const std::vector<HeatInterval>& cycle);

}  // namespace lodegear
