# tools/bench/peer_mesh.py — the gear of the peer, drawn and meshed anew for every position.
# SPDX-License-Identifier: GPL-3.0-or-later
"""Geometry of the case 'standard' and its meshes of six-node curved triangles, by Gmsh."""
from dataclasses import dataclass
from math import cos, pi, sin

import gmsh
import numpy as np
import ufl
from dolfinx import cpp, mesh
from mpi4py import MPI

from peer_gear import (CORE, N_PIECES, PIECE_IN, PIECE_OUT, P_RING, P_SUN, RING_IN, RING_OUT,
                       SEGMENTS_RING, SEGMENTS_SUN, SUN_OUT)

# ------------------------------------------------------------------ bands and tags

INNER_BAND = (SUN_OUT, 0.5 * (SUN_OUT + PIECE_IN))  # beside the magnets, away from corners of steel
OUTER_BAND = (0.5 * (PIECE_OUT + RING_IN), RING_IN)
STEEL, LINEAR, INNER, OUTER = 1, 2, 3, 4  # cell tags


# ------------------------------------------------------------------ mesh


@dataclass(frozen=True)
class Sizes:
    """Edges of triangles in mm. Between the points where they are given they change linearly."""

    gap: float  # on the circles of the gaps
    corner: float  # at the corners of the pole pieces
    middle: float  # half-way between two of these corners
    coarse: float  # on the other side of the magnets
    far: float  # radius of the circle where A = 0


class Outline:
    """Points, arcs and faces between concentric circles. An arc may be in two halves."""

    def __init__(self, axis_size):
        self.geo = gmsh.model.geo
        self.origin = self.geo.addPoint(0, 0, 0, axis_size)
        self.points, self.arcs = {}, {}

    def _point(self, r, angle, size):
        return self.geo.addPoint(r * cos(angle), r * sin(angle), 0, size)

    def circle(self, r, angles, size, middle=None):
        """Arcs between points of one size, with a point of size `middle` in each if one is given."""
        points = [self._point(r, t, size) for t in angles]
        ends = points[1:] + points[:1]
        if middle:
            next_angles = angles[1:] + [angles[0] + 2 * pi]
            halves = [self._point(r, 0.5 * (t + u), middle) for t, u in zip(angles, next_angles)]
            self.arcs[r] = [[self._arc(a, m), self._arc(m, b)] for a, m, b in zip(points, halves, ends)]
        else:
            self.arcs[r] = [[self._arc(a, b)] for a, b in zip(points, ends)]
        self.points[r] = points

    def _arc(self, a, b):
        return self.geo.addCircleArc(a, self.origin, b)

    def _loop(self, r):
        return self.geo.addCurveLoop([half for arc in self.arcs[r] for half in arc])

    def disc(self, r):
        return self.geo.addPlaneSurface([self._loop(r)])

    def annulus(self, inner, outer):
        return self.geo.addPlaneSurface([self._loop(outer), self._loop(inner)])

    def _ray(self, inner, outer, j, angle, middle):
        a, b = self.points[inner][j], self.points[outer][j]
        if not middle:
            return [self.geo.addLine(a, b)]
        half = self._point(0.5 * (inner + outer), angle, middle)
        return [self.geo.addLine(a, half), self.geo.addLine(half, b)]

    def cells(self, inner, outer, angles, middle=None):
        """The annulus cut by radial lines through its points, as many inside as outside."""
        rays = [self._ray(inner, outer, j, t, middle) for j, t in enumerate(angles)]
        faces = []
        for ray, out, following, within in zip(rays, self.arcs[outer], rays[1:] + rays[:1], self.arcs[inner]):
            back = [-line for line in reversed(following)] + [-arc for arc in reversed(within)]
            faces.append(self.geo.addPlaneSurface([self.geo.addCurveLoop(ray + out + back)]))
        return faces


def joints(n, start):
    return [start + 2 * pi * (j - 0.5) / n for j in range(n)]


def draw(angles, sizes):
    """Faces with the tag of their cells, and with the direction of their remanence or None."""
    sun, modulator, ring = angles
    o = Outline(2 * sizes.coarse)
    sun_joints, ring_joints = joints(SEGMENTS_SUN, sun), joints(SEGMENTS_RING, ring)
    pieces = [modulator + 2 * pi * (j + s) / N_PIECES for j in range(N_PIECES) for s in (-0.25, 0.25)]
    o.circle(CORE, sun_joints, sizes.coarse)
    o.circle(SUN_OUT, sun_joints, sizes.gap)
    o.circle(INNER_BAND[1], joints(4, sun), sizes.gap)
    o.circle(PIECE_IN, pieces, sizes.corner, sizes.gap)
    o.circle(PIECE_OUT, pieces, sizes.corner, sizes.gap)
    o.circle(OUTER_BAND[0], joints(4, ring), sizes.gap)
    o.circle(RING_IN, ring_joints, sizes.gap)
    o.circle(RING_OUT, ring_joints, sizes.coarse)
    o.circle(sizes.far, joints(4, 0.0), 0.4 * sizes.far)
    faces = [(o.disc(CORE), STEEL, None)]
    for j, face in enumerate(o.cells(CORE, SUN_OUT, sun_joints)):
        faces.append((face, LINEAR, sun + (1 - P_SUN) * 2 * pi * j / SEGMENTS_SUN))
    for j, face in enumerate(o.cells(PIECE_IN, PIECE_OUT, pieces, sizes.middle)):
        faces.append((face, STEEL if j % 2 == 0 else LINEAR, None))
    for j, face in enumerate(o.cells(RING_IN, RING_OUT, ring_joints)):
        faces.append((face, LINEAR, ring + (1 + P_RING) * 2 * pi * j / SEGMENTS_RING))
    for band, tag in ((INNER_BAND, INNER), (OUTER_BAND, OUTER)):
        faces.append((o.annulus(*band), tag, None))
    for circles in ((INNER_BAND[1], PIECE_IN), (PIECE_OUT, OUTER_BAND[0]), (RING_OUT, sizes.far)):
        faces.append((o.annulus(*circles), LINEAR, None))
    o.geo.synchronize()
    gmsh.model.mesh.embed(0, [o.origin], 2, faces[0][0])
    return faces


DOMAIN = ufl.Mesh(ufl.VectorElement("Lagrange", ufl.triangle, 2))
TO_DOLFINX = np.array(cpp.io.perm_gmsh(mesh.CellType.triangle, 6))
SIX_NODE_TRIANGLE = 9  # Gmsh's number of the type


@dataclass
class Meshed:
    domain: mesh.Mesh  # m
    tags: np.ndarray  # one a cell
    magnet: np.ndarray  # whether the cell is one
    direction: np.ndarray  # of its remanence, rad


def start_gmsh():
    gmsh.initialize()
    for option, value in (("General.Terminal", 0), ("Mesh.ElementOrder", 2), ("Mesh.Algorithm", 5),
                          ("Mesh.LcIntegrationPrecision", 1e-3), ("Mesh.MeshSizeFromCurvature", 0)):
        gmsh.option.setNumber(option, value)


def meshed(angles, sizes):
    gmsh.clear()
    faces = draw(angles, sizes)
    gmsh.model.mesh.generate(2)
    numbers, points, _ = gmsh.model.mesh.getNodes()
    place = np.zeros(int(numbers.max()) + 1, dtype=np.int64)
    place[numbers] = np.arange(len(numbers))
    nodes = [gmsh.model.mesh.getElementsByType(SIX_NODE_TRIANGLE, face)[1] for face, _, _ in faces]
    cells = place[np.concatenate(nodes).reshape(-1, 6)][:, TO_DOLFINX]
    points = 1e-3 * points.reshape(-1, 3)[:, :2]
    used, cells = np.unique(cells, return_inverse=True)  # centres of arcs are nodes of nothing
    domain = mesh.create_mesh(MPI.COMM_SELF, cells.reshape(-1, 6), points[used], DOMAIN)
    original = domain.topology.original_cell_index
    counts = [len(n) // 6 for n in nodes]

    def by_cell(values):
        return np.repeat(np.array(values), counts)[original]

    return Meshed(domain, by_cell([tag for _, tag, _ in faces]).astype(np.int32),
                  by_cell([direction is not None for _, _, direction in faces]),
                  by_cell([direction or 0.0 for _, _, direction in faces]))
