// solver/waves/steel_bodies.cpp — the saturable steel of all sectors of a member, worked on
// together. SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/waves/steel_bodies.h"

#include <algorithm>
#include <map>
#include <string>

#include "solver/linear/lane_clones.h"

namespace lodegear {

namespace {

constexpr int w = lane_width;
using Row = double[lane_width];

}  // namespace

SteelBodies::SteelBodies(const FieldMember& member, const Sector& sector)
    : n_bodies_(sector.n_sectors),
      nodes_per_sector_(member.mesh.nodes_per_sector),
      n_boundary_(static_cast<int>(sector.boundary.size())),
      elements_(numbered(member, sector)),
      pattern_(static_cast<int>(sector.steel.size()), n_boundary_ + static_cast<int>(upper_.size()),
               elements_) {
  add_points(member, sector);
}

SteelBodies::Elements SteelBodies::numbered(const FieldMember& member, const Sector& sector) {
  const int n_inner = static_cast<int>(sector.steel.size());
  const CutSector cut(member.mesh, {&sector.steel, &sector.boundary}, sector.steel_triangles,
                      n_inner);
  upper_ = cut.upper;
  Elements elements;
  for (int t = 0; t < cut.triangles.rows(); ++t)
    elements.emplace_back(cut.triangles.row(t).begin(), cut.triangles.row(t).end());
  // Inner nodes in the order of their elimination.
  const std::vector<int> order = LanePattern::elimination_order(
      n_inner, n_boundary_ + static_cast<int>(upper_.size()), elements);
  std::vector<int> place(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    place[static_cast<std::size_t>(order[i])] = static_cast<int>(i);
    inner_nodes_.push_back(sector.steel[static_cast<std::size_t>(order[i])]);
  }
  for (std::vector<int>& element : elements)
    for (int& node : element)
      if (node >= 0 && node < n_inner) node = place[static_cast<std::size_t>(node)];
  return elements;
}

void SteelBodies::add_points(const FieldMember& member, const Sector& sector) {
  std::map<std::string, int> law_of_material;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    const int triangle = sector.steel_triangles[e];
    const auto [law, is_new] = law_of_material.try_emplace(member.region(triangle).material,
                                                           static_cast<int>(laws_.size()));
    if (is_new) laws_.push_back(member.law(triangle).reluctivity);
    law_.push_back(law->second);
    for (const ElementPoint& at : element_points(member.mesh, triangle)) {
      SteelPoint point{};
      point.weight = at.weight;
      int pair = 0;
      for (int i = 0; i < 6; ++i) {
        point.bx[i] = at.bx[i];
        point.by[i] = at.by[i];
        for (int j = 0; j <= i; ++j)
          point.products[pair++] = at.weight * (at.bx[i] * at.bx[j] + at.by[i] * at.by[j]);
      }
      points_.push_back(point);
    }
    std::array<int, 21> entries{};
    int pair = 0;
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j) {
        const int a = elements_[e][static_cast<std::size_t>(i)];
        const int b = elements_[e][static_cast<std::size_t>(j)];
        entries[static_cast<std::size_t>(pair++)] = a < 0 || b < 0 ? -1 : pattern_.entry(a, b);
      }
    entries_.push_back(entries);
  }
}

void SteelBodies::scatter(const Eigen::MatrixXd& boundary, Lanes& x) const {
  const int first = n_inner();
  for (int body = 0; body < n_bodies_; ++body) {
    for (int i = 0; i < n_boundary_; ++i) x.at(body, first + i) = boundary(body, i);
    const int after = (body + 1) % n_bodies_;
    for (std::size_t c = 0; c < upper_.size(); ++c)
      x.at(body, first + n_boundary_ + static_cast<int>(c)) = boundary(after, upper_[c]);
  }
}

void SteelBodies::gather(const Lanes& x, Eigen::MatrixXd& boundary) const {
  const int first = n_inner();
  for (int body = 0; body < n_bodies_; ++body) {
    for (int i = 0; i < n_boundary_; ++i) boundary(body, i) += x.at(body, first + i);
    const int after = (body + 1) % n_bodies_;
    for (std::size_t c = 0; c < upper_.size(); ++c)
      boundary(after, upper_[c]) += x.at(body, first + n_boundary_ + static_cast<int>(c));
  }
}

namespace {

// Eight bodies at one point of one element: flux density, its square, and the law there.
struct PointState {
  Row x, y, square, nu, slope;
};

inline void flux_density(const double* bx, const double* by, const double* const* a,
                         PointState& at) {
  for (int l = 0; l < w; ++l) at.x[l] = at.y[l] = 0.0;
  for (int i = 0; i < 6; ++i)
    for (int l = 0; l < w; ++l) {
      at.x[l] += bx[i] * a[i][l];
      at.y[l] += by[i] * a[i][l];
    }
  for (int l = 0; l < w; ++l) at.square[l] = at.x[l] * at.x[l] + at.y[l] * at.y[l];
}

void apply_law(const Reluctivity& law, PointState& at) {
  for (int l = 0; l < w; ++l) {
    const ReluctivityPoint point = law.without_energy(at.square[l]);
    at.nu[l] = point.nu;
    at.slope[l] = point.dnu_db2;
  }
}

// Six rows of eight values; the axis, place −1, has a row of its own.
struct ElementRows {
  double* row[6];
  ElementRows(const int* places, double* values, double* axis) {
    for (int i = 0; i < 6; ++i)
      row[i] = places[i] < 0 ? axis : values + static_cast<std::ptrdiff_t>(places[i]) * w;
  }
};

LODEGEAR_LANE_CLONES
void add_loads(const SteelPoint* points, const ElementRows& a, const ElementRows& load,
               const Reluctivity& law) {
  for (const SteelPoint* p = points; p != points + n_quadrature; ++p) {
    PointState at;
    flux_density(p->bx, p->by, a.row, at);
    apply_law(law, at);
    for (int l = 0; l < w; ++l) {
      at.x[l] *= p->weight * at.nu[l];
      at.y[l] *= p->weight * at.nu[l];
    }
    for (int i = 0; i < 6; ++i)
      for (int l = 0; l < w; ++l) load.row[i][l] += p->bx[i] * at.x[l] + p->by[i] * at.y[l];
  }
}

// ν I + 2 ν′ b bᵀ over the pairs of an element's nodes.                               (theory 2.3)
LODEGEAR_LANE_CLONES
void add_tangents(const SteelPoint* points, const ElementRows& a, const Reluctivity& law,
                  Row* element) {
  for (const SteelPoint* p = points; p != points + n_quadrature; ++p) {
    PointState at;
    flux_density(p->bx, p->by, a.row, at);
    apply_law(law, at);
    Row along[6], steep;
    for (int i = 0; i < 6; ++i)
      for (int l = 0; l < w; ++l) along[i][l] = p->bx[i] * at.x[l] + p->by[i] * at.y[l];
    int pair = 0;
    for (int i = 0; i < 6; ++i) {
      for (int l = 0; l < w; ++l) steep[l] = 2 * p->weight * at.slope[l] * along[i][l];
      for (int j = 0; j <= i; ++j, ++pair)
        for (int l = 0; l < w; ++l)
          element[pair][l] += p->products[pair] * at.nu[l] + steep[l] * along[j][l];
    }
  }
}

}  // namespace

void SteelBodies::loads(const Lanes& a, Lanes& load) const {
  std::fill(load.values().begin(), load.values().end(), 0.0);
  for (int g = 0; g < a.n_groups(); ++g)
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      Row zero = {}, nobody = {};
      // The potentials are only read.
      const ElementRows values(elements_[e].data(), const_cast<double*>(a.group(g)), zero);
      add_loads(&points_[e * n_quadrature], values,
                ElementRows(elements_[e].data(), load.group(g), nobody), law_of(e));
    }
}

double SteelBodies::energy(const Lanes& a) const {
  double total = 0.0;
  for (int g = 0; g < a.n_groups(); ++g)
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      Row zero = {};
      const ElementRows values(elements_[e].data(), const_cast<double*>(a.group(g)), zero);
      for (std::size_t q = 0; q < n_quadrature; ++q) {
        const SteelPoint& p = points_[e * n_quadrature + q];
        PointState at;
        flux_density(p.bx, p.by, values.row, at);
        for (int l = 0; l < w && g * w + l < n_bodies_; ++l)
          total += p.weight * law_of(e).at(at.square[l]).energy;
      }
    }
  return total;
}

void SteelBodies::tangent(const Lanes& a, int group, LaneCholesky& factor,
                          const Reluctivity* instead) const {
  double* const entries = factor.entries().group(group);
  std::fill(entries, entries + static_cast<std::ptrdiff_t>(factor.entries().n_places()) * w, 0.0);
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    Row zero = {}, element[21] = {};
    const ElementRows values(elements_[e].data(), const_cast<double*>(a.group(group)), zero);
    add_tangents(&points_[e * n_quadrature], values, instead ? *instead : law_of(e), element);
    for (std::size_t pair = 0; pair < 21; ++pair) {
      if (entries_[e][pair] < 0) continue;
      double* const target = entries + static_cast<std::ptrdiff_t>(entries_[e][pair]) * w;
      for (int l = 0; l < w; ++l) target[l] += element[pair][l];
    }
  }
}

void SteelBodies::inner_to_nodes(const Lanes& a, Eigen::VectorXd& nodes) const {
  for (int body = 0; body < n_bodies_; ++body)
    for (int i = 0; i < n_inner(); ++i)
      nodes[body * nodes_per_sector_ + inner_nodes_[static_cast<std::size_t>(i)]] = a.at(body, i);
}

}  // namespace lodegear
