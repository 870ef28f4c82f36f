#!/usr/bin/python3
# tests/analytic/end_effect_3d.py — torque of gears of finite length, by 3D finite elements.
# SPDX-License-Identifier: GPL-3.0-or-later
"""Three-dimensional field of magnetic gears with linear steel; writes end_effect_3d.json.

What is solved: with B = B_r - mu grad(phi) (phi is the magnetic scalar potential times mu0, mu the
relative permeability) div B = 0 becomes, for every test function v,

    int mu grad(phi).grad(v) dV = int B_r.grad(v) dV.

Trilinear elements in r, theta, z on a grid whose lines lie on every radius, every edge of a magnet
or a pole piece and every end of a member, so that the geometry is exact. The theta period is
2 pi/gcd(p_sun, p_ring), or half of it with the sign turned where both pole pairs over the gcd are odd;
without axial offset only z > 0 is solved. phi = 0 far away. The matrix goes to conjugate gradients
with algebraic multigrid (hypre's BoomerAMG through PETSc).

Torque and axial force on the sun come from the whole gap between sun and pole pieces, with air beyond
the ends: T = int r B_r B_theta dV / (mu0 g), F = int B_r B_z dV / (mu0 g), g the gap; that is the
slope of the discrete energy when the gap's elements are sheared. On the ring likewise with the sign
turned. 'ratio' is T / (T' L) with T' from the same grid in 2D and L the pole pieces' length.

Signs and units: SI; angles counter-clockwise; sun_angle = centre of a sun magnet with outward
remanence, ring_angle likewise, a pole piece is centred on 0. Run: /usr/bin/python3 end_effect_3d.py
[out.json]; without a name it overwrites the JSON beside it.
"""
import json
import os
import platform
import sys
import time
from dataclasses import asdict, dataclass, replace
from itertools import product
from math import gcd, pi
from pathlib import Path

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import numpy as np
import petsc4py

petsc4py.init([])
import scipy.sparse as sp
from petsc4py import PETSc
from scipy.sparse.linalg import spsolve

VERSION = "1.0"
MU0 = 4e-7 * pi
AIR, CORE, SUN, PIECES, RING, YOKE = range(6)


@dataclass(frozen=True)
class Gear:
    """Lengths in m, angles in rad, remanence in T.

    radii: core inner, sun magnets inner and outer, pole pieces inner and outer, ring magnets inner
    and outer, yoke outer. Without core (core False) the sun is hollow, without yoke the ring ends at
    its magnets. Magnets are radial and fill the pole, pole pieces fill `cover` of their pitch.
    """

    name: str
    p_sun: int
    p_ring: int
    radii: tuple
    length: float  # of the pole pieces
    sun_length: float = 0.0  # of sun magnets and core; 0 = as the pole pieces
    ring_length: float = 0.0
    sun_offset: float = 0.0  # of the middle of the sun, along z
    ring_offset: float = 0.0
    core: bool = True
    yoke: bool = True
    cover: float = 0.5
    remanence: float = 1.25
    recoil: float = 1.05
    steel: float = 1000.0
    steel_axial: float = 0.0  # 0 = as steel
    load_angle: float = pi / 2  # electrical

    @property
    def pieces(self):
        return self.p_sun + self.p_ring

    @property
    def sun_angle(self):
        return self.load_angle / self.p_sun

    def lengths(self):
        return self.sun_length or self.length, self.length, self.ring_length or self.length

    def ends(self):
        """(from, to) of sun, pole pieces, ring."""
        sun, mod, ring = self.lengths()
        return ((self.sun_offset - sun / 2, self.sun_offset + sun / 2), (-mod / 2, mod / 2),
                (self.ring_offset - ring / 2, self.ring_offset + ring / 2))

    @property
    def mirrored(self):
        return self.sun_offset == 0.0 and self.ring_offset == 0.0


@dataclass(frozen=True)
class Grid:
    """How fine: cells in the thinner gap, growth of neighbours, theta cells in a pole piece."""

    gap_cells: int = 3
    growth: float = 1.35
    piece_cells: int = 4
    coarsest: float = 0.28  # of the way between two lines, at most
    far: float = 1.6  # empty space around, in outer radii


# ---------------------------------------------------------------------------------------- the grid


def graded(a, b, at_a, at_b, growth, coarsest):
    """Points from a to b whose steps start at at_a, at_b and grow towards the middle."""
    total = b - a
    steps = [], []  # from either side
    h, done = [min(at_a, total / 2), min(at_b, total / 2)], 0.0
    top = max(coarsest * total, *h)
    while done + min(h) <= total * (1 + 1e-12):
        side = 0 if h[0] <= h[1] else 1
        steps[side].append(h[side])
        done += h[side]
        h[side] = min(h[side] * growth, top)
    steps = np.array(steps[0] + steps[1][::-1])
    return a + np.concatenate(([0.0], np.cumsum(steps))) * (total / steps.sum())


def lines(marks, sizes, growth, coarsest):
    """Grid lines through all marks; sizes are the steps wanted at them."""
    out = [np.array([marks[0]])]
    for a, b, h_a, h_b in zip(marks[:-1], marks[1:], sizes[:-1], sizes[1:]):
        out.append(graded(a, b, h_a, h_b, growth, coarsest)[1:])
    return np.concatenate(out)


def radial_lines(gear, grid):
    r = gear.radii
    h = min(r[3] - r[2], r[5] - r[4]) / grid.gap_cells
    inner = 0.15 * r[0] if r[0] > 0 else 0.1 * r[1]
    marks = [inner] + [x for x in r if x > inner] + [r[7] * (1 + grid.far)]
    sizes = [4 * h if i in (0, 1, len(marks) - 2) else h for i in range(len(marks) - 1)] + [0.2 * r[7]]
    sizes[0] = 0.2 * marks[1]
    return lines(marks, sizes, grid.growth, np.inf)


def axial_lines(gear, grid):
    r = gear.radii
    h = min(r[3] - r[2], r[5] - r[4]) / grid.gap_cells * 1.2
    ends = sorted({round(z, 12) for pair in gear.ends() for z in pair})
    far = grid.far * r[7]
    if gear.mirrored:
        ends = [0.0] + [z for z in ends if z > 0]
        marks, sizes = ends + [ends[-1] + far], [gear.length] + [h] * (len(ends) - 1) + [0.2 * r[7]]
    else:
        marks = [ends[0] - far] + ends + [ends[-1] + far]
        sizes = [0.2 * r[7]] + [h] * len(ends) + [0.2 * r[7]]
    return lines(marks, sizes, grid.growth, grid.coarsest)


def angular_lines(gear, grid):
    """Lines over one period, and the sign with which the field repeats after it."""
    g = gcd(gear.p_sun, gear.p_ring)
    odd = (gear.p_sun // g) % 2 == 1 and (gear.p_ring // g) % 2 == 1
    period = pi / g if odd else 2 * pi / g
    pitch = 2 * pi / gear.pieces
    edges = [pitch * (k + s * gear.cover / 2) for k in range(gear.pieces) for s in (-1, 1)]
    edges += [gear.sun_angle + (k + 0.5) * pi / gear.p_sun for k in range(2 * gear.p_sun)]
    edges += [(k + 0.5) * pi / gear.p_ring for k in range(2 * gear.p_ring)]
    marks = np.unique(np.round(np.mod(np.array(edges), period), 10))
    marks = marks[marks < period - 1e-9]
    marks = np.append(marks, marks[0] + period)
    widest = gear.cover * pitch / grid.piece_cells
    out = [marks[:1]]
    for a, b in zip(marks[:-1], marks[1:]):
        out.append(np.linspace(a, b, max(1, int(np.ceil((b - a) / widest - 1e-9))) + 1)[1:])
    return np.concatenate(out), period, -1.0 if odd else 1.0


def pole_sign(theta, centre, pairs):
    return np.where(np.cos(pairs * (theta - centre)) > 0, 1.0, -1.0)


def materials(gear, r, theta, z):
    """Relative permeability across and along z, and radial remanence, of every cell."""
    rm, tm, zm = ((x[:-1] + x[1:]) / 2 for x in (r, theta, z))
    R = gear.radii
    band = np.searchsorted(R, rm)  # 1 core, 2 sun, 3 gap, 4 pieces, 5 gap, 6 ring, 7 yoke
    (s0, s1), (m0, m1), (g0, g1) = gear.ends()
    in_sun, in_mod, in_ring = ((zm > a) & (zm < b) for a, b in ((s0, s1), (m0, m1), (g0, g1)))
    pitch = 2 * pi / gear.pieces
    in_piece = np.abs(np.mod(tm + pitch / 2, pitch) - pitch / 2) < gear.cover * pitch / 2
    shape = (len(rm), len(tm), len(zm))
    kind = np.zeros(shape, np.int8)

    def put(what, radial, axial, angular=np.ones(len(tm), bool)):
        kind[np.ix_(radial, angular, axial)] = what

    if gear.core:
        put(CORE, band == 1, in_sun)
    put(SUN, band == 2, in_sun)
    put(PIECES, band == 4, in_mod, in_piece)
    put(RING, band == 6, in_ring)
    if gear.yoke:
        put(YOKE, band == 7, in_ring)
    mu = np.ones(6)
    mu[[CORE, PIECES, YOKE]] = gear.steel
    mu[[SUN, RING]] = gear.recoil
    mu_z = mu.copy()
    if gear.steel_axial:
        mu_z[[CORE, PIECES, YOKE]] = gear.steel_axial
    remanence = (kind == SUN) * pole_sign(tm, gear.sun_angle, gear.p_sun)[None, :, None]
    remanence += (kind == RING) * pole_sign(tm, 0.0, gear.p_ring)[None, :, None]
    return mu[kind], mu_z[kind], gear.remanence * remanence


# -------------------------------------------------------------------------------------- the system

GAUSS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)]), np.array([5.0, 8.0, 5.0]) / 9.0


def line_matrices(x, weight):
    """Per cell, with weight(x): mass (n,2,2), stiffness (n,2,2), and int weight N_i' (n,2)."""
    h = np.diff(x)
    points = x[:-1, None] + h[:, None] * (GAUSS[0] + 1) / 2
    w = weight(points) * GAUSS[1] / 2 * h[:, None]
    t = (points - x[:-1, None]) / h[:, None]
    shapes = np.stack([1 - t, t], axis=-1)
    mass = np.einsum("ng,ngi,ngj->nij", w, shapes, shapes)
    slopes = np.array([-1.0, 1.0])[None, :] / h[:, None]
    total = w.sum(1)
    return mass, total[:, None, None] * slopes[:, :, None] * slopes[:, None, :], total[:, None] * slopes


class System:
    """Matrix and load over the nodes (r, theta, z); the last theta line is the first, times sign."""

    def __init__(self, gear, r, theta, z, sign, closed):
        self.r, self.theta, self.z, self.sign = r, theta, z, sign
        self.shape = (len(r), len(theta) - 1, len(z))
        self.n_cells = (len(r) - 1, len(theta) - 1, len(z) - 1)
        self.mu, self.mu_z, self.remanence = materials(gear, r, theta, z)
        self.fixed = np.zeros(self.shape, bool)
        self.fixed[-1] = True
        if closed:  # far ends; z = 0 is a plane of symmetry
            self.fixed[:, :, -1] = True
            self.fixed[:, :, 0] |= z[0] < 0

    def scattered(self, values, a, b, c, into):
        """Adds values of cells at their corner (a, b, c)."""
        n = self.n_cells
        into[a:a + n[0], :, c:c + n[2]] += np.roll(values, b, axis=1)

    def assemble(self):
        mr, kr, lr = line_matrices(self.r, lambda x: x)
        mi, _, _ = line_matrices(self.r, lambda x: 1 / x)
        mt, kt, _ = line_matrices(self.theta, np.ones_like)
        mz, kz, _ = line_matrices(self.z, np.ones_like)
        corners = list(product((0, 1), repeat=3))
        nr, nt, nz = self.shape
        stencil = np.zeros((3, 3, 3, nr, nt, nz))
        load = np.zeros(self.shape)
        # The last theta cell's upper nodes are the first line times sign: rows and columns there.
        flip = np.ones(self.n_cells[1])
        flip[-1] = self.sign
        for a, b, c in corners:
            for d, e, f in corners:
                k = (self.mu * (kr[:, a, d][:, None, None] * mt[:, b, e][None, :, None] * mz[:, c, f]
                                + mi[:, a, d][:, None, None] * kt[:, b, e][None, :, None] * mz[:, c, f])
                     + self.mu_z * (mr[:, a, d][:, None, None] * mt[:, b, e][None, :, None]
                                    * kz[:, c, f]))
                if b != e:
                    k = k * flip[None, :, None]
                self.scattered(k, a, b, c, stencil[d - a + 1, e - b + 1, f - c + 1])
            half_t = np.diff(self.theta) / 2 * (flip if b else 1.0)
            half_z = np.diff(self.z) / 2
            v = self.remanence * lr[:, a][:, None, None] * half_t[None, :, None] * half_z
            self.scattered(v, a, b, c, load)
        return stencil, load

    def matrix(self):
        stencil, load = self.assemble()
        nr, nt, nz = self.shape
        n = nr * nt * nz
        index = np.arange(n, dtype=np.int32).reshape(self.shape)
        free = ~self.fixed
        columns = np.empty((n, 27), np.int32)
        values = np.empty((n, 27))
        for s, (i, j, k) in enumerate(np.ndindex(3, 3, 3)):
            at = index[np.ix_(np.clip(np.arange(nr) + i - 1, 0, nr - 1),
                              np.mod(np.arange(nt) + j - 1, nt),
                              np.clip(np.arange(nz) + k - 1, 0, nz - 1))]
            v = stencil[i, j, k] * free * free.reshape(-1)[at]
            columns[:, s] = at.reshape(-1)
            values[:, s] = v.reshape(-1)
        values[:, 13] += self.fixed.reshape(-1)
        del stencil
        matrix = sp.csr_matrix((values.reshape(-1), columns.reshape(-1),
                                np.arange(0, 27 * n + 1, 27, dtype=np.int32)), shape=(n, n))
        matrix.eliminate_zeros()
        matrix.sum_duplicates()
        return matrix, (load * free).reshape(-1)

    def gap_integrals(self, phi, r_in, r_out):
        """int r B_r B_theta dV and int B_r B_z dV over the cells between two radii, divided by g."""
        phi = phi.reshape(self.shape)
        phi = np.concatenate([phi, self.sign * phi[:, :1]], axis=1)
        i0, i1 = np.searchsorted(self.r, (r_in + 1e-9, r_out + 1e-9)) - 1
        phi = phi[i0:i1 + 1]
        r = self.r[i0:i1 + 1]
        h = np.diff(r)[:, None, None], np.diff(self.theta)[None, :, None], np.diff(self.z)[None, None, :]
        volume = h[0] * h[1] * h[2]
        torque = force = 0.0
        pts = (np.array([-1, 1]) / np.sqrt(3) + 1) / 2

        def mixed(values, axis, t):
            n = values.shape[axis]
            return ((1 - t) * values.take(range(n - 1), axis) + t * values.take(range(1, n), axis))

        for u, v, w in product(pts, repeat=3):
            radius = (r[:-1] + u * np.diff(r))[:, None, None]
            b_r = -mixed(mixed(np.diff(phi, axis=0), 1, v), 2, w) / h[0]
            b_t = -mixed(mixed(np.diff(phi, axis=1), 0, u), 2, w) / h[1] / radius
            b_z = -mixed(mixed(np.diff(phi, axis=2), 0, u), 1, v) / h[2]
            torque += np.sum(radius * radius * b_r * b_t * volume) / 8
            force += np.sum(radius * b_r * b_z * volume) / 8
        return torque / (r_out - r_in) / MU0, force / (r_out - r_in) / MU0


def solved(matrix, load):
    """Conjugate gradients with algebraic multigrid; returns the solution and the iterations."""
    a = PETSc.Mat().createAIJ(matrix.shape, csr=(matrix.indptr, matrix.indices, matrix.data))
    a.setOption(PETSc.Mat.Option.SPD, True)
    options = PETSc.Options("pc_hypre_")
    options["type"] = "boomeramg"
    for key, value in {"strong_threshold": 0.5, "coarsen_type": "HMIS", "interp_type": "ext+i",
                       "P_max": 4, "agg_nl": 1}.items():
        options[f"boomeramg_{key}"] = value
    ksp = PETSc.KSP().create()
    ksp.setOperators(a)
    ksp.setType("cg")
    ksp.getPC().setType("hypre")
    ksp.setTolerances(rtol=1e-9, max_it=400)
    ksp.setFromOptions()
    b = PETSc.Vec().createWithArray(load)
    x = a.createVecLeft()
    ksp.solve(b, x)
    if ksp.getConvergedReason() <= 0:
        raise RuntimeError(f"no solution: {ksp.getConvergedReason()}")
    out = x.getArray().copy(), ksp.getIterationNumber()
    for thing in (ksp, a, x, b):
        thing.destroy()
    return out


def solve(gear, grid):
    """Ratio, torques of sun and ring in 3D and 2D, axial force on the sun."""
    start = time.process_time()
    r, z = radial_lines(gear, grid), axial_lines(gear, grid)
    theta, period, sign = angular_lines(gear, grid)
    sectors = 2 * pi / period
    R = gear.radii
    flat = System(gear, r, theta, np.array([-0.5, 0.5]) * 1e-6, sign, closed=False)
    matrix, load = flat.matrix()
    phi = spsolve(matrix.tocsc(), load)
    plane = [1e6 * sectors * flat.gap_integrals(phi, a, b)[0] for a, b in ((R[2], R[3]), (R[4], R[5]))]
    whole = System(gear, r, theta, z, sign, closed=True)
    matrix, load = whole.matrix()
    phi, iterations = solved(matrix, load)
    both_sides = sectors * (2 if z[0] == 0.0 else 1)
    sun, ring = (np.array(whole.gap_integrals(phi, a, b)) * both_sides
                 for a, b in ((R[2], R[3]), (R[4], R[5])))
    result = {
        "torque_sun_Nm": sun[0], "torque_ring_Nm": -ring[0],
        "plane_torque_sun_Nm_per_m": plane[0], "plane_torque_ring_Nm_per_m": -plane[1],
        "unknowns": int(np.sum(~whole.fixed)), "grid_lines": list(whole.shape),
        "iterations": iterations, "cpu_seconds": round(time.process_time() - start, 1)}
    if gear.load_angle:
        result["ratio"] = sun[0] / (plane[0] * gear.length)
        result["ratio_ring"] = ring[0] / (plane[1] * gear.length)
    if not gear.mirrored:
        result["axial_force_sun_N"] = sun[1]
        result["axial_force_ring_N"] = -ring[1]
    return result


# --------------------------------------------------------------------------------------- the gears


def sized(name, p_sun, p_ring, radii, lengths, **changes):
    """One gear of each length; radii and lengths in mm."""
    radii_m = tuple(round(r * 1e-3, 9) for r in radii)
    return [Gear(f"{name}, {length:g} mm", p_sun, p_ring, radii_m, length * 1e-3, **changes)
            for length in lengths]


def gears():
    a = (30, 45, 50, 51, 59, 60, 65, 72)
    a2 = (30, 45, 50, 52, 60, 62, 67, 74)
    b = (10, 30, 36, 37, 42, 43, 48, 56)
    b2 = (10, 30, 36, 38, 43, 45, 50, 58)
    c = (8, 16, 22, 23, 29, 30, 35, 42)
    c2 = (8, 16, 22, 24, 30, 32, 37, 44)
    d = (40, 60, 66, 67, 75, 76, 81, 90)
    e = (80, 100, 108, 110, 122, 124, 132, 145)
    f = (30, 42, 46, 47, 52, 53, 56, 62)
    bare = {"core": False, "yoke": False}
    out = sized("4/26/22", 4, 22, a, (25, 50, 100, 200, 400))
    out += sized("4/26/22 laminated", 4, 22, a, (25, 50, 100), steel_axial=25.0)
    out += sized("4/26/22 steel 30", 4, 22, a, (25, 72), steel=30.0)
    out += sized("4/26/22 no core", 4, 22, a, (25, 72), core=False)
    out += sized("4/26/22 no yoke", 4, 22, a, (25, 72), yoke=False)
    out += sized("4/26/22 bare", 4, 22, a, (25, 72), **bare)
    out += sized("4/26/22 gaps 2 mm", 4, 22, a2, (25, 74))
    out += sized("4/26/22 gaps 2 mm bare", 4, 22, a2, (25, 74), **bare)
    out += sized("4/26/22 pieces 0.4", 4, 22, a, (25,), cover=0.4)
    out += sized("4/26/22 pieces 0.6", 4, 22, a, (25,), cover=0.6)
    out += sized("4/26/22 magnets 31 mm", 4, 22, a, (25,), sun_length=0.031, ring_length=0.031)
    out += sized("4/26/22 sun 31 mm", 4, 22, a, (25,), sun_length=0.031)
    out += sized("4/26/22 ring 31 mm", 4, 22, a, (25,), ring_length=0.031)
    out += sized("4/26/22 magnets 19 mm", 4, 22, a, (25,), sun_length=0.019, ring_length=0.019)
    out += sized("4/21/17", 4, 17, b, (16.8, 56))
    out += sized("4/21/17 bare", 4, 17, b, (16.8, 56), **bare)
    out += sized("2/13/11", 2, 11, c, (12.6, 42))
    out += sized("2/13/11 bare", 2, 11, c, (12.6, 42), **bare)
    out += sized("2/13/11 gaps 2 mm", 2, 11, c2, (13.2, 44))
    out += sized("2/13/11 gaps 2 mm no yoke", 2, 11, c2, (13.2, 44), yoke=False)
    out += sized("2/13/11 magnets 20.6 mm", 2, 11, c, (12.6,), sun_length=0.0206, ring_length=0.0206)
    # The ring's order is the sun's fifth harmonic: much of the torque at one position is cogging.
    out += sized("2/12/10", 2, 10, c, (12.6, 42))
    out += sized("2/12/10 bare", 2, 10, c, (12.6,), **bare)
    out += sized("4/21/17 gaps 2 mm", 4, 17, b2, (17.4,))
    out += sized("6/26/20", 6, 20, d, (27, 90))
    out += sized("6/26/20 bare", 6, 20, d, (27, 90), **bare)
    out += sized("8/28/20 gaps 2 mm", 8, 20, e, (43.5, 145))
    out += sized("8/28/20 gaps 2 mm no core", 8, 20, e, (43.5, 145), core=False)
    out += sized("8/28/20 gaps 2 mm magnets 53.5 mm", 8, 20, e, (43.5,), sun_length=0.0535,
                 ring_length=0.0535)
    out += sized("10/25/15", 10, 15, f, (18.6, 62))
    out += sized("10/25/15 bare", 10, 15, f, (18.6, 62), **bare)
    for offset in (2, 5):
        for name, angle in (("at rest", 0.0), ("at slip", pi / 2)):
            out += sized(f"4/26/22 sun {offset} mm aside {name}", 4, 22, a, (25,),
                         sun_offset=offset * 1e-3, load_angle=angle)
    for who, moved in (("ring", {"ring_offset": 0.005}),
                       ("sun and ring", {"sun_offset": 0.005, "ring_offset": 0.005})):
        out += sized(f"4/26/22 {who} 5 mm aside at rest", 4, 22, a, (25,), load_angle=0.0, **moved)
    for name, angle in (("at rest", 0.0), ("at slip", pi / 2)):
        out += sized(f"2/13/11 gaps 2 mm bare sun 3 mm aside {name}", 2, 11, c2, (13.2,),
                     sun_offset=0.003, load_angle=angle, **bare)
    return out


FINE = Grid(gap_cells=4, growth=1.25, piece_cells=6)
COARSE = Grid(gap_cells=3, growth=1.35, piece_cells=4)
FINEST = Grid(gap_cells=6, growth=1.2, piece_cells=8)
WIDER = replace(FINE, far=2.4)
# Solved again coarser, finer and with more empty space around: what the ratio still moves by.
MOVED = ("4/26/22, 25 mm", "4/26/22 bare, 25 mm", "2/13/11, 12.6 mm", "2/13/11 bare, 12.6 mm")


def described(gear):
    """The gear as it stands in the JSON, every length as it is taken."""
    d = asdict(gear) | {"n_pole_pieces": gear.pieces}
    d["sun_length"], d["length"], d["ring_length"] = gear.lengths()
    units = {"radii": "m", "length": "m", "sun_length": "m", "ring_length": "m", "sun_offset": "m",
             "ring_offset": "m", "remanence": "T", "load_angle": "rad", "steel": "mu",
             "steel_axial": "mu", "recoil": "mu"}
    return {f"{k}_{units[k]}" if k in units else k: v for k, v in d.items()}


def rounded(x):
    if isinstance(x, dict):
        return {k: rounded(v) for k, v in x.items()}
    return float(f"{x:.6g}") if isinstance(x, float) else x


def main():
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".json")
    start, rows = time.process_time(), []
    for gear in gears():
        row = described(gear) | solve(gear, FINE)
        if gear.name in MOVED:
            row["ratio_on_other_grids"] = {
                name: solve(gear, grid)["ratio"]
                for name, grid in (("coarse", COARSE), ("finest", FINEST), ("wider", WIDER))}
        rows.append(rounded(row))
        print(row["name"], row.get("ratio"), row.get("axial_force_sun_N"), row["cpu_seconds"], flush=True)
    head = {"script": "tests/analytic/end_effect_3d.py", "version": VERSION,
            "petsc": ".".join(map(str, PETSc.Sys.getVersion())), "numpy": np.__version__,
            "python": platform.python_version(),
            "grids": {"fine": asdict(FINE), "coarse": asdict(COARSE), "finest": asdict(FINEST),
                      "wider": asdict(WIDER)},
            "cpu_seconds": round(time.process_time() - start, 1), "gears": rows}
    out.write_text(json.dumps(head, indent=1) + "\n")


if __name__ == "__main__":
    main()
