#!/usr/bin/python3
# tools/bench/peer.py — the gear of the benchmark by a general-purpose finite-element library.
# SPDX-License-Identifier: GPL-3.0-or-later
"""CPU time a position of the gear 'standard_exponential', remeshed at every position.

DOLFINx with PETSc and Gmsh, coded for speed as an experienced user would:
- one mesh a position: six-node curved triangles, fine in the gaps and at the corners, coarse elsewhere;
- forms compiled once and bound to each new mesh, element and dofmap code likewise;
- the linear part of the matrix assembled once a mesh, steel alone in each step;
- Newton with the exact tangent, started from the steel's potential at the last position, taken along in
  the frame of each member; backtracking on the energy if the residual does not fall;
- sparse direct factors; one thread.
Torque by the mean of the stress over half of each gap (Arkkio, Acta Polytechnica Scandinavica El. 59,
1987). Errors against tools/bench/references.json.

usage: peer.py --list [--quick]                names of the rows
       peer.py ROW [--quick]                   measures one, prints lines of CSV
       peer.py --try GAP CORNER MIDDLE COARSE FAR [STEPS [SOLVER]]   errors and times of one choice of sizes
       peer.py --versions
"""
import json
import logging
import os
import resource
import sys
import time
from dataclasses import dataclass
from math import pi
from pathlib import Path

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ[name] = "1"

import gmsh
import numpy as np
import ufl
from dolfinx import cpp, fem, jit, mesh
from dolfinx.fem.forms import FormMetaClass
from mpi4py import MPI
from petsc4py import PETSc
from scipy.interpolate import LinearNDInterpolator

from peer_gear import (MU_RECOIL, NU0, PIECE_IN, P_SUN, REMANENCE, SUN_OUT, curl, steel_energy,
                       steel_nu)
from peer_mesh import (DOMAIN, INNER, INNER_BAND, LINEAR, OUTER, OUTER_BAND, STEEL, Sizes, meshed,
                       start_gmsh)

logging.disable(logging.INFO)  # the form compiler talks on its first run
START_UP = time.process_time()  # s of CPU until all is loaded

# ------------------------------------------------------------------ forms, compiled once


COMPILER = {"form_compiler_params": {"scalar_type": "double"},
            "jit_params": {"cffi_extra_compile_args": ["-O3", "-march=native", "-g0"]}}


class CompiledForm:
    """A form of which only mesh, tags and coefficients change."""

    CLASS = type("Form", (FormMetaClass, cpp.fem.Form_float64), {})

    def __init__(self, form, coefficients):
        self.ufcx, module, self.code = jit.ffcx_jit(MPI.COMM_SELF, form, **COMPILER)
        self.ffi = module.ffi
        self.n_arguments = len(form.arguments())
        known = [c for c, _ in coefficients]
        own = form.coefficients()
        self.order = [coefficients[known.index(own[self.ufcx.original_coefficient_position[i]])][1]
                      for i in range(self.ufcx.num_coefficients)]

    def on(self, space, values, tags):
        """values: functions by name."""
        subdomains = {cpp.fem.IntegralType.cell: tags}
        return self.CLASS(self.ufcx, self.n_arguments * [space], [values[name] for name in self.order], [],
                          subdomains, space.mesh, self.ffi, self.code)


class CompiledSpace:
    def __init__(self, element):
        (self.element, self.dofmap), module, _ = jit.ffcx_jit(MPI.COMM_SELF, element, **COMPILER)
        self.ffi = module.ffi

    def on(self, domain):
        def address(x):
            return self.ffi.cast("uintptr_t", self.ffi.addressof(x))

        element = cpp.fem.FiniteElement(address(self.element))
        dofmap = cpp.fem.create_dofmap(domain.comm, address(self.dofmap), domain.topology, element)
        return cpp.fem.FunctionSpace(domain._mesh, element, dofmap)


class Compiled:
    """All code that is generated; made once a process."""

    def __init__(self):
        elements = {"A": ufl.FiniteElement("Lagrange", ufl.triangle, 2),
                    "nu": ufl.FiniteElement("DG", ufl.triangle, 0),
                    "coercive": ufl.VectorElement("DG", ufl.triangle, 0)}
        self.spaces = {name: CompiledSpace(e) for name, e in elements.items()}
        symbols = [(ufl.Coefficient(ufl.FunctionSpace(DOMAIN, e)), name) for name, e in elements.items()]
        a, nu, coercive = (symbol for symbol, _ in symbols)
        u, v = ufl.TrialFunction(a.ufl_function_space()), ufl.TestFunction(a.ufl_function_space())
        dx = ufl.Measure("dx", DOMAIN, metadata={"quadrature_degree": 4})
        plain = ufl.Measure("dx", DOMAIN, metadata={"quadrature_degree": 2})  # exact but for the curves
        b = curl(a)
        b2 = ufl.dot(b, b) + 1e-12  # T^2: keeps sqrt differentiable at zero
        steel = steel_nu(b2) * ufl.inner(b, curl(v)) * dx(STEEL)
        x = ufl.SpatialCoordinate(DOMAIN)
        stress = (b[0] * x[0] + b[1] * x[1]) * (b[1] * x[0] - b[0] * x[1]) / ufl.sqrt(ufl.dot(x, x))
        everywhere = plain(STEEL) + plain(LINEAR) + plain(INNER) + plain(OUTER)
        forms = {
            "linear": nu * ufl.inner(curl(u), curl(v)) * everywhere,
            "load": ufl.inner(coercive, curl(v)) * plain(LINEAR),
            "residual": steel,
            "slope": ufl.derivative(steel, a, u),
            "energy": steel_energy(b2) * dx(STEEL),
            "inner": stress * dx(INNER),
            "outer": stress * dx(OUTER),
        }
        self.forms = {name: CompiledForm(form, symbols) for name, form in forms.items()}


# ------------------------------------------------------------------ one position


class SteelStart:
    """The steel's potential at the last position, in the frame of each member."""

    def __init__(self):
        self.interpolation = None

    @staticmethod
    def in_body(x, angles):
        inside = np.hypot(x[:, 0], x[:, 1]) < 1e-3 * 0.5 * (SUN_OUT + PIECE_IN)
        turn = np.exp(-1j * np.where(inside, angles[0], angles[1]))
        z = (x[:, 0] + 1j * x[:, 1]) * turn
        return np.column_stack([z.real, z.imag])

    def keep(self, x, angles, values):
        self.interpolation = LinearNDInterpolator(self.in_body(x, angles), values)

    def at(self, x, angles):
        values = self.interpolation(self.in_body(x, angles))
        outside = np.isnan(values)  # a hair beyond the hull of the last nodes
        if outside.any():
            points = self.interpolation.points
            for i in np.flatnonzero(outside):
                distance = np.sum((points - self.in_body(x[i:i + 1], angles)) ** 2, axis=1)
                values[i] = self.interpolation.values[np.argmin(distance), 0]
        return values


BoundaryValues = type("BoundaryValues", (fem.DirichletBCMetaClass, cpp.fem.DirichletBC_float64), {})


class PositionProblem:
    def __init__(self, compiled, angles, sizes, solver):
        self.seconds = {"mesh": time.process_time()}
        self.angles = angles
        m = meshed(angles, sizes)
        self._lap("mesh", "set-up")
        spaces = {name: s.on(m.domain) for name, s in compiled.spaces.items()}
        self.space = spaces["A"]
        functions = {name: cpp.fem.Function_float64(space) for name, space in spaces.items()}
        nu = np.where(m.magnet, NU0 / MU_RECOIL, NU0)
        nu[m.tags == STEEL] = 0.0
        functions["nu"].x.array[:] = nu
        coercive = functions["coercive"].x.array.reshape(-1, 2)
        coercive[:] = (m.magnet * NU0 / MU_RECOIL * REMANENCE)[:, None] * np.column_stack(
            [np.cos(m.direction), np.sin(m.direction)])
        tags = mesh.meshtags(m.domain, 2, np.arange(len(m.tags), dtype=np.int32), m.tags)
        self.forms = {name: f.on(self.space, functions, tags) for name, f in compiled.forms.items()}
        self.a = functions["A"].x.array  # seen by the forms
        x = self.space.tabulate_dof_coordinates()[:, :2]
        steel_cells = self.space.dofmap.list().array.reshape(-1, 6)[m.tags == STEEL]
        self.steel = np.unique(steel_cells)
        self.steel_x = x[self.steel]
        far = np.flatnonzero(np.hypot(x[:, 0], x[:, 1]) > 1e-3 * sizes.far * (1 - 1e-6)).astype(np.int32)
        self.far = far
        self.bc = BoundaryValues(np.array(0.0), far, self.space)
        self.unknowns = self.space.dofmap.index_map.size_global
        self._matrices(solver)
        self._lap("set-up", "newton")

    def _lap(self, ended, begun):
        now = time.process_time()
        self.seconds[ended] = now - self.seconds[ended]
        self.seconds[begun] = now

    def _matrices(self, solver):
        self.linear = fem.petsc.assemble_matrix(self.forms["linear"], bcs=[self.bc])
        self.linear.assemble()
        self.matrix = self.linear.duplicate()
        self.matrix.setOption(PETSc.Mat.Option.SPD, True)
        self.load = self._vector("load")
        self.ksp = PETSc.KSP().create(MPI.COMM_SELF)
        self.ksp.setType("preonly")
        pc = self.ksp.getPC()
        pc.setType("cholesky")
        pc.setFactorSolverType(solver)
        self.ksp.setOperators(self.matrix)
        self.potential = PETSc.Vec().createWithArray(self.a, comm=MPI.COMM_SELF)

    def _vector(self, name):
        vector = fem.petsc.assemble_vector(self.forms[name])
        vector.array_w[self.far] = 0.0
        return vector

    def residual(self):
        g = self._vector("residual")
        g.axpy(1.0, self.linear * self.potential)
        g.axpy(-1.0, self.load)
        g.array_w[self.far] = 0.0
        return g

    def energy(self):
        quadratic = 0.5 * self.potential.dot(self.linear * self.potential)
        return fem.assemble_scalar(self.forms["energy"]) + quadratic - self.load.dot(self.potential)

    def renew_tangent(self):
        self.linear.copy(self.matrix, PETSc.Mat.Structure.SAME_NONZERO_PATTERN)
        fem.petsc.assemble_matrix(self.matrix, self.forms["slope"], bcs=[])
        self.matrix.assemble()
        self.ksp.setOperators(self.matrix)

    def first_step(self, start):
        """The tangent needs A in the steel alone, so the first step brings all of A from the start."""
        if start.interpolation is not None:
            self.a[self.steel] = start.at(self.steel_x, self.angles)
        self.renew_tangent()
        rhs = self.load.copy()
        rhs.axpy(-1.0, self._vector("residual"))
        rhs.axpy(1.0, self.matrix * self.potential)
        rhs.axpy(-1.0, self.linear * self.potential)
        rhs.array_w[self.far] = 0.0
        self.ksp.solve(rhs, self.potential)

    def solve(self, start, tolerance=1e-4, limit=40):
        """Newton until the load out of balance is small; returns the number of factorisations. The
        tolerance leaves 0.001 % of slip torque."""
        scale = self.load.norm()
        self.first_step(start)
        g = self.residual()
        step = g.duplicate()
        for iteration in range(1, limit):
            if g.norm() < tolerance * scale:
                start.keep(self.steel_x, self.angles, self.a[self.steel])
                self._lap("newton", "torque")
                return iteration
            self.renew_tangent()
            self.ksp.solve(g, step)
            g = self._advanced(g, step)
        raise RuntimeError(f"not converged after {limit} steps: {g.norm() / scale:.1e}")

    def _advanced(self, g, step):
        """Along the step as far as the residual falls, else as far as the energy does."""
        before, norm = self.potential.copy(), g.norm()
        self.potential.axpy(-1.0, step)
        new = self.residual()
        if new.norm() < norm:
            return new
        before.copy(self.potential)
        energy, slope, length = self.energy(), g.dot(step), 1.0
        while length > 1e-3:
            self.potential.waxpy(-length, step, before)
            if self.energy() <= energy - 1e-4 * length * slope:
                break
            length *= 0.5
        return self.residual()

    def torques(self):
        """On sun, modulator and ring, N m per metre."""
        inside = [NU0 / (1e-3 * (band[1] - band[0])) * fem.assemble_scalar(self.forms[name])
                  for name, band in (("inner", INNER_BAND), ("outer", OUTER_BAND))]
        self._lap("torque", "end")
        del self.seconds["end"]
        return np.array([inside[0], inside[1] - inside[0], -inside[1]])


    def give_back(self):
        """PETSc's memory; Python would do it later."""
        for thing in (self.ksp, self.matrix, self.linear, self.load, self.potential):
            thing.destroy()


# ------------------------------------------------------------------ rows

GEAR = "standard_exponential"
STEPS = 24  # a period of the slip curve: 15 electrical degrees from position to position
CHOICES = {"0.1 %": Sizes(1.45, 0.8, 2.5, 6.0, 88.0), "0.25 %": Sizes(1.75, 1.2, 3.0, 6.0, 88.0)}


class References:
    def __init__(self):
        file = Path(__file__).with_name("references.json")
        gear = json.loads(file.read_text())["gears"][GEAR]
        self.curves = np.array([gear[f"torque_{m}_Nm_per_m"] for m in ("sun", "modulator", "ring")])
        fine = np.array([self._fine(curve) for curve in self.curves])
        self.slip = np.abs(fine).max(axis=1)

    @staticmethod
    def _fine(curve, factor=32):
        """The trigonometric polynomial through even samples, at more places."""
        spectrum = np.fft.rfft(curve)
        spectrum[-1] *= 0.5 if len(curve) % 2 == 0 else 1.0
        return factor * np.fft.irfft(spectrum, factor * len(curve))

    def error(self, torques, step):
        exact = self.curves[:, step * self.curves.shape[1] // STEPS]
        return float(np.max(np.abs(torques - exact) / self.slip))

    def slip_error(self, before, middle, after):
        """Top of the parabola through three positions."""
        slope, bend = 0.5 * (after - before), after - 2 * middle + before
        return float(np.max(np.abs(np.abs(middle - 0.5 * slope**2 / bend) / self.slip - 1)))


@dataclass
class Run:
    unknowns: int
    seconds: list  # of CPU, one a position, the first (cold) left out
    parts: dict  # medians of them
    factorisations: float
    position_error: float
    slip_error: float


def run(compiled, sizes, steps, solver):
    """Positions 0, 1, ... of the slip curve, one after the other; the first only to start from."""
    references, start = References(), SteelStart()
    seconds, parts, factorisations, torques, errors = [], [], [], {}, []
    for step in range(steps + 1):
        begin = time.process_time()
        problem = PositionProblem(compiled, (2 * pi * step / STEPS / P_SUN, 0.0, 0.0), sizes, solver)
        n = problem.solve(start)
        torques[step] = problem.torques()
        problem.give_back()
        seconds.append(time.process_time() - begin)
        parts.append(problem.seconds)
        factorisations.append(n)
        errors.append(references.error(torques[step], step % STEPS))
    medians = {name: float(np.median([p[name] for p in parts[1:]])) for name in parts[0]}
    return Run(problem.unknowns, seconds[1:], medians, float(np.mean(factorisations[1:])), max(errors),
               references.slip_error(torques[5], torques[6], torques[7]))


def csv_line(accuracy, sizes, solver, r):
    parts = "; ".join(f"{name} {value:.3f}" for name, value in r.parts.items())
    settings = f"edges {sizes.gap:g} {sizes.corner:g} {sizes.middle:g} {sizes.coarse:g} mm; {solver}"
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024e-6
    cells = [f"position warm at {accuracy}", GEAR, "general-purpose library", settings, r.unknowns,
             f"{np.median(r.seconds):.4g}", "CPU s", f"{min(r.seconds):.4g}", f"{max(r.seconds):.4g}",
             len(r.seconds), f"{100 * r.slip_error:.2g}", f"{100 * r.position_error:.2g}", f"{peak:.0f}",
             f"remeshed; {parts}; {r.factorisations:.1f} factorisations"]
    return ",".join(map(str, cells))


def start_up_line():
    cells = ["start of the program", "", "general-purpose library", "", "", f"{START_UP:.4g}", "CPU s",
             f"{START_UP:.4g}", f"{START_UP:.4g}", 1, "", "", "", "Python and its modules; in no other row"]
    return ",".join(map(str, cells))


def versions():
    import dolfinx
    petsc = ".".join(map(str, PETSc.Sys.getVersion()))
    return f"peer       DOLFINx {dolfinx.__version__}, PETSc {petsc}, Gmsh {gmsh.__version__}, " \
           f"Python {sys.version.split()[0]}"


ROWS = {  # accuracy and sparse solver; the first two are the quick ones
    "peer/start-up": None,
    "peer/0.1/cholmod": ("0.1 %", "cholmod"),
    "peer/0.25/cholmod": ("0.25 %", "cholmod"),
    "peer/0.1/mumps": ("0.1 %", "mumps"),
}


def measure(row, quick):
    if not ROWS[row]:
        print(start_up_line())
        return
    accuracy, solver = ROWS[row]
    compiled = Compiled()
    run(compiled, CHOICES[accuracy], 7, solver)  # code is generated and caches are filled
    r = run(compiled, CHOICES[accuracy], 8 if quick else 24, solver)
    print(csv_line(accuracy, CHOICES[accuracy], solver, r))


def try_sizes(words):
    sizes = Sizes(*map(float, words[:5]))
    steps = int(words[5]) if len(words) > 5 else 12
    solver = words[6] if len(words) > 6 else "cholmod"
    compiled = Compiled()
    r = run(compiled, sizes, steps, solver)
    parts = {name: round(value, 4) for name, value in r.parts.items()}
    print(f"{r.unknowns} unknowns, slip torque {100 * r.slip_error:.3f} %, worst position "
          f"{100 * r.position_error:.3f} %, median {np.median(r.seconds):.3f} CPU s {parts}, "
          f"{r.factorisations:.1f} factorisations")


def main():
    words = [w for w in sys.argv[1:] if w != "--quick"]
    quick = "--quick" in sys.argv
    if words == ["--versions"]:
        print(versions())
    elif words == ["--list"]:
        print("\n".join(list(ROWS)[: 2 if quick else None]))
    elif len(words) == 1 and words[0] in ROWS:
        start_gmsh()
        measure(words[0], quick)
    elif words[:1] == ["--try"] and len(words) >= 6:
        start_gmsh()
        try_sizes(words[1:])
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main()
