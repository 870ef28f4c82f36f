#!/usr/bin/python3
# tests/analytic/off_centre_fem.py — side pulls of a saturated gear whose sun sits off centre, remeshed.
# SPDX-License-Identifier: GPL-3.0-or-later
"""The gear of peer_fem.py with its sun moved along +x or −x; writes off_centre_fem.json.

Same library, mesh sizes and steel as there. The pull on all within a gap is the mean of Maxwell's stress
over the middle third of the gap, a band about the axis of modulator and ring:

    F = 1/t ∫ σ r̂ dS,   σ = (b bᵀ − |b|²/2)/µ0,   t = thickness of the band

(the stress integral with a weight that falls linearly across the band). Forces in N per metre of stack.

Run: /usr/bin/python3 off_centre_fem.py [out.json]        (some minutes)
"""
import json
import sys
from math import cos, pi, radians, sin
from pathlib import Path

import peer_fem
import ufl
from dolfinx import fem
from peer_fem import CORE, INNER_BAND, NU0, OUTER_BAND, PIECE_IN, PIECE_OUT, RING_IN, SUN_OUT, Problem, Sizes, curl

POSITIONS = [(22.5, 0.0, 0.0), (8.0, 0.0, 0.0)]  # sun, modulator, ring, degrees
SHIFTS = [0.0, 0.05, -0.05, 0.1, -0.1]  # of the sun along +x, mm
LEVELS = [Sizes(0.5, 0.2, 0.35), Sizes(0.35, 0.1, 0.35)]


def shifted_outline(shift):
    """Circles of the sun are drawn about (shift, 0)."""

    class Shifted(peer_fem.Outline):
        def circle(self, r, angles):
            if r not in (CORE, SUN_OUT):
                super().circle(r, angles)
                return
            centre = self.geo.addPoint(shift, 0, 0)
            self.points[r] = [self.geo.addPoint(shift + r * cos(t), r * sin(t), 0) for t in angles]
            ends = self.points[r][1:] + self.points[r][:1]
            self.arcs[r] = [self.geo.addCircleArc(a, centre, b) for a, b in zip(self.points[r], ends)]

    return Shifted


def pull_inside(problem, band):
    """(F_x, F_y) on all inside the band [N/m]."""
    x = ufl.SpatialCoordinate(problem.space.mesh)
    b = curl(problem.A)
    r = ufl.sqrt(ufl.dot(x, x))
    gap = PIECE_IN - SUN_OUT if band == INNER_BAND else RING_IN - PIECE_OUT
    normal_b = ufl.dot(b, x) / r
    stress = [b[i] * normal_b - 0.5 * ufl.dot(b, b) * x[i] / r for i in (0, 1)]
    return [NU0 / (1e-3 * gap / 3) * fem.assemble_scalar(fem.form(s * problem.dx(band))) for s in stress]


def pulls(angles_deg, shift, sizes):
    usual, peer_fem.Outline = peer_fem.Outline, shifted_outline(shift)
    angles = [radians(a) for a in angles_deg]
    try:
        domain, cell_tags = peer_fem.meshed(angles, sizes)
    finally:
        peer_fem.Outline = usual
    problem = Problem(domain, cell_tags, angles[0], angles[2], sizes.degree)
    problem.solve()
    return {"shift_x_mm": shift, "force_inside_inner_gap_N_per_m": pull_inside(problem, INNER_BAND),
            "force_inside_outer_gap_N_per_m": pull_inside(problem, OUTER_BAND)}


def main():
    result = {**peer_fem.environment(), "script": "tests/analytic/off_centre_fem.py", "positions": []}
    for angles in POSITIONS:
        record = dict(zip(("sun_angle_deg", "modulator_angle_deg", "ring_angle_deg"), angles))
        record["levels"] = [{**vars(sizes), "shifts": [pulls(angles, s, sizes) for s in SHIFTS]} for sizes in LEVELS]
        result["positions"].append(record)
        for level in record["levels"]:
            for shift in level["shifts"]:
                print(angles, shift, flush=True)
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(result, indent=1) + "\n")


if __name__ == "__main__":
    main()
