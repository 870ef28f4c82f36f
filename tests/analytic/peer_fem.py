#!/usr/bin/python3
# tests/analytic/peer_fem.py — a saturated gear by a general-purpose finite-element library, remeshed.
# SPDX-License-Identifier: GPL-3.0-or-later
"""Independent torque of the gear 'standard' (4/17/13); writes peer_fem.json.

DOLFINx (forms in UFL, PETSc matrices) on six-node curved triangles of Gmsh, geometry drawn here, a new
mesh for every position. Quadratic A_z, full Newton with backtracking on the energy, CHOLMOD for the
sparse factors, A_z = 0 on a circle of five times the gear's radius. Torque by the mean of the Maxwell
stress over the middle third of each gap (Arkkio, Acta Polytechnica Scandinavica El. 59 (1987)).

Steel: H = (k1 exp(k2 B^2) + k3) B (Brauer, IEEE Trans. Magn. 11 (1975) 81) up to the B where
dH/dB = 1/mu0, then a straight line of that slope.
Angles counter-clockwise, zero with a pole of outward remanence or a pole piece centred on +x; torque on
the named member, counter-clockwise positive, for the whole stack.

Run: /usr/bin/python3 peer_fem.py            convergence study, writes the JSON (about ten minutes)
     /usr/bin/python3 peer_fem.py time       CPU seconds of each part at the size that gives 0.1 %
"""
import json
import logging
import os
import platform
import sys
import time
from dataclasses import dataclass, replace
from math import cos, pi, radians, sin
from pathlib import Path

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(name, "1")  # CPU seconds of one core

import dolfinx
import gmsh
import numpy as np
import ufl
from dolfinx import fem, mesh
from dolfinx.io import gmshio
from mpi4py import MPI
from petsc4py import PETSc

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tools" / "bench"))
from peer_gear import (B_KNEE, CORE, H_KNEE, K1, K2, K3, MU_RECOIL, NU0, N_PIECES, PIECE_IN, PIECE_OUT,
                       P_RING, P_SUN, REMANENCE, RING_IN, RING_OUT, SEGMENTS_RING, SEGMENTS_SUN,
                       SUN_OUT, curl, steel_energy, steel_nu)

logging.disable(logging.INFO)  # the form compiler talks on its first run

VERSION = "1.0"
STACK = 0.025  # m

STEEL, LINEAR, INNER_BAND, OUTER_BAND = 1, 2, 3, 4  # cell tags
SUN_TAG, RING_TAG = 100, 200  # + segment


# ------------------------------------------------------------------ geometry and mesh


@dataclass(frozen=True)
class Sizes:
    """Element edges in mm, and what else is approximate."""

    gap: float  # in the gaps
    corner: float  # at the pole-piece corners
    growth: float  # per mm of distance from the gaps
    far: float = 5.0 * RING_OUT  # radius where A = 0
    degree: int = 4  # of polynomials that the quadrature integrates exactly


class Outline:
    """Points and arcs on concentric circles, drawn once each."""

    def __init__(self):
        self.geo = gmsh.model.geo
        self.origin = self.geo.addPoint(0, 0, 0)
        self.points, self.arcs = {}, {}

    def circle(self, r, angles):
        """Points and arcs at ascending angles [rad] round the circle r."""
        self.points[r] = [self.geo.addPoint(r * cos(t), r * sin(t), 0) for t in angles]
        ends = self.points[r][1:] + self.points[r][:1]
        self.arcs[r] = [self.geo.addCircleArc(a, self.origin, b) for a, b in zip(self.points[r], ends)]

    def loop(self, r):
        return self.geo.addCurveLoop(self.arcs[r])

    def annulus(self, r_in, r_out):
        return self.geo.addPlaneSurface([self.loop(r_out), self.loop(r_in)])

    def cells(self, r_in, r_out):
        """The annulus cut by radial lines through its points (as many inside as outside)."""
        rays = [self.geo.addLine(a, b) for a, b in zip(self.points[r_in], self.points[r_out])]
        next_rays = rays[1:] + rays[:1]
        return [
            self.geo.addPlaneSurface([self.geo.addCurveLoop([ray, out, -following, -inner])])
            for ray, out, following, inner in zip(rays, self.arcs[r_out], next_rays, self.arcs[r_in])
        ]


def joints(n, start):
    return [start + 2 * pi * (j - 0.5) / n for j in range(n)]


def draw(sun_angle, modulator_angle, ring_angle, far):
    """Surfaces by tag, and the entities that the size field wants."""
    o = Outline()
    third_in, third_out = (PIECE_IN - SUN_OUT) / 3, (RING_IN - PIECE_OUT) / 3
    bands = [SUN_OUT + third_in, SUN_OUT + 2 * third_in, PIECE_OUT + third_out, PIECE_OUT + 2 * third_out]
    edges = [modulator_angle + 2 * pi * (j + s) / N_PIECES for j in range(N_PIECES) for s in (-0.25, 0.25)]
    for r in (CORE, SUN_OUT):
        o.circle(r, joints(SEGMENTS_SUN, sun_angle))
    for r in (PIECE_IN, PIECE_OUT):
        o.circle(r, edges)
    for r in (RING_IN, RING_OUT):
        o.circle(r, joints(SEGMENTS_RING, ring_angle))
    for r in bands + [far]:
        o.circle(r, joints(4, 0.1))
    layer = o.cells(PIECE_IN, PIECE_OUT)
    tags = {
        STEEL: [o.geo.addPlaneSurface([o.loop(CORE)])] + layer[0::2],
        LINEAR: layer[1::2]
        + [o.annulus(SUN_OUT, bands[0]), o.annulus(bands[1], PIECE_IN), o.annulus(PIECE_OUT, bands[2]),
           o.annulus(bands[3], RING_IN), o.annulus(RING_OUT, far)],
        INNER_BAND: [o.annulus(bands[0], bands[1])],
        OUTER_BAND: [o.annulus(bands[2], bands[3])],
    }
    for j, surface in enumerate(o.cells(CORE, SUN_OUT)):
        tags[SUN_TAG + j] = [surface]
    for j, surface in enumerate(o.cells(RING_IN, RING_OUT)):
        tags[RING_TAG + j] = [surface]
    o.geo.synchronize()
    for tag, surfaces in tags.items():
        gmsh.model.addPhysicalGroup(2, surfaces, tag)
    return [arc for r in bands for arc in o.arcs[r]], o.points[PIECE_IN] + o.points[PIECE_OUT]


def set_sizes(sizes, gap_curves, corners):
    """Uniform in the gaps, finer towards the corners, coarser away.

    size      gap ____          ____ growth * distance
                      \\        /
       corner          \\______/
    """
    field = gmsh.model.mesh.field
    reach = 60.0
    steps = [
        ("Distance", {"NumPointsPerCurve": 200}, {"CurvesList": gap_curves}),
        ("Threshold", {"InField": 1, "SizeMin": sizes.gap, "SizeMax": sizes.gap + sizes.growth * reach,
                       "DistMin": 0.6, "DistMax": 0.6 + reach}, {}),
        ("Distance", {}, {"PointsList": corners}),
        ("Threshold", {"InField": 3, "SizeMin": sizes.corner,
                       "SizeMax": sizes.corner + sizes.growth * reach, "DistMin": 0.0, "DistMax": reach}, {}),
        ("Min", {}, {"FieldsList": [2, 4]}),
    ]
    for tag, (kind, numbers, lists) in enumerate(steps, start=1):
        field.add(kind, tag)
        for key, value in numbers.items():
            field.setNumber(tag, key, value)
        for key, value in lists.items():
            field.setNumbers(tag, key, value)
    field.setAsBackgroundMesh(len(steps))
    for option in ("MeshSizeFromPoints", "MeshSizeExtendFromBoundary", "MeshSizeFromCurvature"):
        gmsh.option.setNumber("Mesh." + option, 0)


def meshed(angles, sizes):
    """Mesh in m and its cell tags."""
    gmsh.initialize()
    gmsh.option.setNumber("General.Terminal", 0)
    set_sizes(sizes, *draw(*angles, sizes.far))
    gmsh.option.setNumber("Mesh.LcIntegrationPrecision", 1e-4)  # a third of the time of 1e-9
    gmsh.option.setNumber("Mesh.Algorithm", 6)
    gmsh.option.setNumber("Mesh.ElementOrder", 2)
    gmsh.model.mesh.generate(2)
    domain, cell_tags, _ = gmshio.model_to_mesh(gmsh.model, MPI.COMM_SELF, 0, gdim=2)
    gmsh.finalize()
    domain.geometry.x[:] *= 1e-3
    return domain, cell_tags


# ------------------------------------------------------------------ field


def magnets(domain, cell_tags, sun_angle, ring_angle):
    """nu (one per cell) and H_c = nu B_rem (two per cell), and tags without the magnets' own."""
    nu = fem.Function(fem.FunctionSpace(domain, ("DG", 0)))
    coercive = fem.Function(fem.VectorFunctionSpace(domain, ("DG", 0)))
    nu.x.array[:] = NU0
    values = coercive.x.array.reshape(-1, 2)
    marks = cell_tags.values.copy()
    for base, count, turned, turns in ((SUN_TAG, SEGMENTS_SUN, sun_angle, 1 - P_SUN),
                                       (RING_TAG, SEGMENTS_RING, ring_angle, 1 + P_RING)):
        chosen = (cell_tags.values >= base) & (cell_tags.values < base + count)
        direction = turned + turns * 2 * pi * (cell_tags.values[chosen] - base) / count
        cells = cell_tags.indices[chosen]
        nu.x.array[cells] = NU0 / MU_RECOIL
        values[cells] = NU0 / MU_RECOIL * REMANENCE * np.column_stack([np.cos(direction), np.sin(direction)])
        marks[chosen] = LINEAR
    return nu, coercive, mesh.meshtags(domain, 2, cell_tags.indices, marks)


class Problem:
    """Newton on the energy of one position. The linear part of the matrix is assembled once."""

    def __init__(self, domain, cell_tags, sun_angle, ring_angle, degree):
        nu, coercive, tags = magnets(domain, cell_tags, sun_angle, ring_angle)
        self.dx = ufl.Measure("dx", domain, subdomain_data=tags, metadata={"quadrature_degree": degree})
        steel = self.dx(STEEL)
        linear = self.dx(LINEAR) + self.dx(INNER_BAND) + self.dx(OUTER_BAND)
        space = fem.FunctionSpace(domain, ("CG", 2))
        self.A = fem.Function(space)
        u, v = ufl.TrialFunction(space), ufl.TestFunction(space)
        b = curl(self.A)
        b2 = ufl.dot(b, b) + 1e-12  # T^2: keeps sqrt differentiable at zero
        self.residual = fem.form(steel_nu(b2) * ufl.inner(b, curl(v)) * steel)
        self.slope = fem.form(ufl.derivative(steel_nu(b2) * ufl.inner(b, curl(v)) * steel, self.A, u))
        self.start = fem.form(fem.Constant(domain, NU0 / 30) * ufl.inner(curl(u), curl(v)) * steel)
        self.energy_steel = fem.form(steel_energy(b2) * steel)
        radius = domain.geometry.x.max() * (1 - 1e-6)
        far = fem.locate_dofs_geometrical(space, lambda x: np.hypot(x[0], x[1]) > radius)
        self.bc = fem.dirichletbc(PETSc.ScalarType(0), far, space)
        self._matrices(fem.form(nu * ufl.inner(curl(u), curl(v)) * linear),
                       fem.form(nu * ufl.inner(curl(u), curl(v)) * (linear + steel)))
        self.f = fem.petsc.assemble_vector(fem.form(ufl.inner(coercive, curl(v)) * self.dx(LINEAR)))
        fem.petsc.set_bc(self.f, [self.bc])
        self.unknowns = space.dofmap.index_map.size_global
        self.space, self.bands = space, (INNER_BAND, OUTER_BAND)
        self.seconds = {"assembly": 0.0, "factor": 0.0}
        self._solver()

    def _matrices(self, linear_part, everywhere):
        """J and the linear part K on the pattern of all cells, so that J = steel + K adds arrays."""
        self.J = fem.petsc.assemble_matrix(everywhere, bcs=[self.bc])
        self.J.assemble()
        self.K = self.J.duplicate()
        fem.petsc.assemble_matrix(self.K, linear_part, bcs=[self.bc])
        self.K.assemble()

    def _solver(self):
        self.ksp = PETSc.KSP().create(MPI.COMM_SELF)
        self.ksp.setType("preonly")
        pc = self.ksp.getPC()
        pc.setType("cholesky")
        pc.setFactorSolverType("cholmod")

    def gradient(self):
        g = fem.petsc.assemble_vector(self.residual)
        g.axpy(1.0, self.K * self.A.vector)
        g.axpy(-1.0, self.f)
        fem.petsc.set_bc(g, [self.bc], self.A.vector, 1.0)
        return g

    def energy(self):
        a = self.A.vector
        return fem.assemble_scalar(self.energy_steel) + 0.5 * a.dot(self.K * a) - self.f.dot(a)

    def step(self, g, steel):
        """Solution s of J s = g, J = K and the form of the steel."""
        start = time.process_time()
        self.J.zeroEntries()
        fem.petsc.assemble_matrix(self.J, steel, bcs=[])
        self.J.assemble()
        self.J.axpy(1.0, self.K, PETSc.Mat.Structure.SAME_NONZERO_PATTERN)
        self.J.setOption(PETSc.Mat.Option.SPD, True)
        self.seconds["assembly"] += time.process_time() - start
        start = time.process_time()
        self.ksp.setOperators(self.J)
        s = g.duplicate()
        self.ksp.solve(g, s)
        self.seconds["factor"] += time.process_time() - start
        return s

    def solve(self, tolerance=1e-9, limit=40):
        """Newton from the field with steel of permeability 30; returns the number of factorisations."""
        scale = self.f.norm()
        self.A.vector.axpy(1.0, self.step(self.f, self.start))
        g, energy = self.gradient(), self.energy()
        for iteration in range(2, limit + 1):
            s = self.step(g, self.slope)
            before, slope, length = self.A.vector.copy(), g.dot(s), 1.0
            while True:
                self.A.vector.waxpy(-length, s, before)
                trial = self.energy()
                round_off = 1e-12 * abs(energy)
                if trial <= energy - 1e-4 * length * slope + round_off or length < 1e-3:
                    break
                length *= 0.5
            g, energy = self.gradient(), trial
            if g.norm() < tolerance * scale:
                return iteration
        raise RuntimeError(f"not converged after {limit} steps: residual {g.norm() / scale:.1e}")

    def torque_inside(self, band):
        """Torque [N m] on all inside the band, mean of the stress over it."""
        x = ufl.SpatialCoordinate(self.space.mesh)
        b = curl(self.A)
        r = ufl.sqrt(ufl.dot(x, x))
        thickness = 1e-3 * (PIECE_IN - SUN_OUT if band == INNER_BAND else RING_IN - PIECE_OUT) / 3
        stress = (b[0] * x[0] + b[1] * x[1]) * (b[1] * x[0] - b[0] * x[1]) / r
        return STACK * NU0 / thickness * fem.assemble_scalar(fem.form(stress * self.dx(band)))


def solved(angles_deg, sizes, tolerance=1e-9):
    """Torques of one position [N m] with what they cost [CPU s]."""
    angles = [radians(a) for a in angles_deg]
    clock = [time.process_time()]
    domain, cell_tags = meshed(angles, sizes)
    clock.append(time.process_time())
    problem = Problem(domain, cell_tags, angles[0], angles[2], sizes.degree)
    clock.append(time.process_time())
    steps = problem.solve(tolerance)
    clock.append(time.process_time())
    inner, outer = (problem.torque_inside(band) for band in problem.bands)
    clock.append(time.process_time())
    seconds = dict(zip(("mesh", "set_up", "newton", "torque"), np.diff(clock).round(3).tolist()))
    seconds.update({k: round(v, 3) for k, v in problem.seconds.items()})
    return {"torque_sun_Nm": inner, "torque_modulator_Nm": outer - inner, "torque_ring_Nm": -outer,
            "unknowns": problem.unknowns, "triangles": len(cell_tags.values), "newton_steps": steps,
            "cpu_seconds": seconds}


# ------------------------------------------------------------------ what is stored

POSITIONS = [(22.5, 0.0, 0.0), (8.0, 0.0, 0.0), (10.0, 5.0, 3.0)]  # sun, modulator, ring, degrees
LEVELS = [Sizes(1.0, 0.5, 0.5), Sizes(0.5, 0.2, 0.35), Sizes(0.35, 0.1, 0.35), Sizes(0.25, 0.05, 0.35),
          Sizes(0.18, 0.025, 0.3)]
QUICK = Sizes(1.5, 0.6, 0.7)  # within 0.1 % of slip torque at all positions
MEMBERS = ("sun", "modulator", "ring")


def torques(result):
    return np.array([result[f"torque_{m}_Nm"] for m in MEMBERS])


def study(angles):
    """One position on all levels; error from the last two, the far circle and the quadrature."""
    levels = [solved(angles, sizes) for sizes in LEVELS]
    base = LEVELS[2]
    varied = {
        "far_circle_twice_as_far": solved(angles, replace(base, far=2 * base.far)),
        "quadrature_degree_8": solved(angles, replace(base, degree=8)),
    }
    change = {k: (torques(r) - torques(levels[2])).tolist() for k, r in varied.items()}
    last = np.abs(torques(levels[-1]) - torques(levels[-2]))
    worst = [last.max()] + [np.abs(c).max() for c in change.values()]
    record = dict(zip((f"{m}_angle_deg" for m in MEMBERS), angles))
    record.update({f"torque_{m}_Nm": float(t) for m, t in zip(MEMBERS, torques(levels[-1]))})
    record["estimated_error_Nm"] = float(max(worst))
    record["changes_Nm"] = change
    record["levels"] = [{**vars(s), **r} for s, r in zip(LEVELS, levels)]
    print(angles, torques(levels[-1]).round(5), f"+- {max(worst):.1e} N m", flush=True)
    return record


def environment():
    return {"script": "tests/analytic/peer_fem.py", "version": VERSION, "library": "DOLFINx",
            "library_version": dolfinx.__version__, "petsc": ".".join(map(str, PETSc.Sys.getVersion())),
            "gmsh": gmsh.__version__, "python": platform.python_version()}


def print_times(repeats=5):
    """CPU seconds of each part at the quick size, least of several runs, one core."""
    print(json.dumps(environment()))
    for angles in POSITIONS:
        runs = [solved(angles, QUICK, tolerance=1e-5) for _ in range(repeats + 1)][1:]  # 0: compiles
        least = {k: min(r["cpu_seconds"][k] for r in runs) for k in runs[0]["cpu_seconds"]}
        total = least["mesh"] + least["set_up"] + least["newton"] + least["torque"]
        print(angles, runs[0]["unknowns"], "unknowns,", runs[0]["newton_steps"], "factorisations,",
              torques(runs[0]).round(4), least, f"together {total:.2f} CPU s")


def main():
    if sys.argv[1:] == ["time"]:
        print_times()
        return
    result = {
        **environment(),
        "gear": {"p_sun": P_SUN, "n_pole_pieces": N_PIECES, "p_ring": P_RING,
                 "radii_mm": [CORE, SUN_OUT, PIECE_IN, PIECE_OUT, RING_IN, RING_OUT],
                 "segments_sun": SEGMENTS_SUN, "segments_ring": SEGMENTS_RING, "remanence_T": REMANENCE,
                 "recoil_permeability": MU_RECOIL, "stack_mm": 1e3 * STACK, "opening": 0.5,
                 "steel_k1_k2_k3": [K1, K2, K3], "steel_knee_T": B_KNEE, "steel_knee_A_per_m": H_KNEE},
        "positions": [study(angles) for angles in POSITIONS],
    }
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(result, indent=1) + "\n")


if __name__ == "__main__":
    main()
