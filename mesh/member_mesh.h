// mesh/member_mesh.h — one member of the gear, meshed once in its own frame.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "mesh/gear.h"

namespace lodegear {

enum class RegionKind { air, steel, magnet, sleeve };

/// A part of the cross-section with one material.
struct MeshRegion {
  RegionKind kind = RegionKind::air;
  std::string material = air_name;
  std::string
      part;  ///< "magnet", "pole piece", "bridge", "hub", "back iron", "wedge", "sleeve", "air"
  int index = -1;  ///< which magnet or pole piece around the member, from 0 on +x; −1 = only one
  bool operator==(const MeshRegion&) const = default;
};

/// A full circle of element edges with evenly spaced nodes, on which a member meets a gap, the bore
/// or the outside. `nodes` runs counter-clockwise, corner and mid-edge nodes in turn, starting with
/// a corner node: 2·n_edges entries. Node i lies at first_angle + i·π/n_edges.
struct BoundaryCircle {
  double radius = 0.0;       // m
  double first_angle = 0.0;  // rad
  std::vector<int> nodes;
  int n_edges() const { return static_cast<int>(nodes.size() / 2); }
  bool operator==(const BoundaryCircle&) const = default;
};

/// How well-shaped the triangles are.
struct MeshQuality {
  double smallest_angle = 0.0;  ///< rad, of the straight-sided triangles
  double smallest_jacobian_ratio =
      0.0;            ///< min/max of the Jacobian in an element, 1 = straight; > 0
  double area = 0.0;  ///< m², curved
  bool operator==(const MeshQuality&) const = default;
};

/// Six-node triangles: corners counter-clockwise, then the mid-edge nodes of edges 0-1, 1-2, 2-0.
/// A mesh of n_sectors equal sectors is numbered sector by sector: node j·nodes_per_sector + i is
/// node i turned by j·2π/n_sectors (a node on the axis, if there is one, comes last, alone), and
/// triangle j·triangles_per_sector + t is triangle t turned likewise. So the symmetry is exact.
struct MemberMesh {
  Member member = Member::sun;
  Eigen::Matrix<double, Eigen::Dynamic, 2> nodes;                    // N×2, m
  Eigen::Matrix<int, Eigen::Dynamic, 6, Eigen::RowMajor> triangles;  // T×6
  std::vector<int> region;                                           // T, into regions
  std::vector<MeshRegion> regions;
  int n_sectors = 1;
  int nodes_per_sector = 0;
  int triangles_per_sector = 0;
  std::optional<BoundaryCircle> inner;  ///< towards the inner gap or the bore; none for a solid hub
                                        ///< or where the field stands normal on ideal iron
  std::optional<BoundaryCircle> outer;  ///< towards the outer gap or the outside; none as above
  MeshQuality quality;
  bool operator==(const MemberMesh& other) const;
};

}  // namespace lodegear
