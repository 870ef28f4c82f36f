#!/usr/bin/python3
# tests/analytic/subdomain_gear.py — exact 2D torque of gears with ideal iron, by matched series.
# SPDX-License-Identifier: GPL-3.0-or-later
"""Subdomain solution of a magnetic gear with ideal iron; writes subdomain_gear.json.

Idea: Lubin, Mezani, Rezzoug, IEEE Trans. Magn. 46(7) (2010) 2611 (Fourier series in magnets and
gaps, cosine series in the slot openings, matched on the openings). Written afresh, with three changes:

* the modulator repeats itself after 2 pi/Q, so the problem falls apart into Q small ones: in the
  one of index q only the orders n = q + kQ occur;
* the unknown is w = r dA/dr on the two faces of an opening, zero on the iron. It is written as
  (1 - xi^2)^(-1/3) times Gegenbauer polynomials C_j^(1/6)(xi), xi = -1..1 across the opening, because
  w grows like d^(-1/3) towards a pole-piece corner (Meixner's edge condition). Their Fourier
  transforms are Bessel functions (Gradshteyn, Ryzhik 7.321); a dozen do the work of
  thousands of cosines. basis 'cosine' is the plain method, kept as a check;
* A is matched in the Galerkin sense, which makes the small systems symmetric.

Signs and units: SI per metre of stack; A_z in Wb/m; angles counter-clockwise; torque acts on the
named member, counter-clockwise positive; B_r = dA/dtheta / r, B_theta = -dA/dr. sun_angle = centre
of a sun magnet with outward remanence, ring_angle likewise, modulator_angle = centre of a pole piece.
Recoil permeability 1, iron everywhere inside r1 and outside r6. Run: /usr/bin/python3 subdomain_gear.py
"""
import json
import platform
import sys
from dataclasses import dataclass
from math import pi
from pathlib import Path

import numpy as np
import scipy
from scipy.special import gammaln, jv

VERSION = "1.0"
MU0 = 4e-7 * pi


@dataclass(frozen=True)
class Gear:
    """r1..r6 in m: sun magnets r1-r2, pole pieces r3-r4, ring magnets r5-r6; remanence in T."""

    name: str
    p_sun: int
    n_pole_pieces: int
    p_ring: int
    radii: tuple
    pattern: str  # 'radial' (full pole arcs) or 'halbach' (continuous, flux towards the modulator)
    br_sun: float = 1.2
    br_ring: float = 1.2
    opening: float = 0.5  # part of the pole-piece pitch that is air


# ------------------------------------------------------------------ functions on one opening


def corner_transforms(kappa, count):
    """int (1-xi^2)^(-1/3) C_j^(1/6)(xi) exp(-i kappa xi) dxi, scaled: (-i)^j J_(j+1/6)(kappa)/kappa^(1/6).

    Returns (count, len(kappa)). Only function 0 has a mean.
    """
    lam = 1.0 / 6.0
    size = np.abs(kappa)
    small = size < 1e-9
    x = np.where(small, 1.0, size)
    out = np.empty((count, len(kappa)), complex)
    for j in range(count):
        value = jv(j + lam, x) / x**lam
        # J_nu(x)/x^lam -> 2^-lam / Gamma(1 + lam) for j = 0, zero for the others
        value[small] = np.exp(-lam * np.log(2.0) - gammaln(1.0 + lam)) if j == 0 else 0.0
        out[j] = (-1j) ** j * value * np.where(kappa < 0, (-1.0) ** j, 1.0)
    return out


def cosine_transforms(kappa, count):
    """The same of cos(j pi (xi+1)/2), j < count: the plain subdomain method."""
    out = np.empty((count, len(kappa)), complex)
    for j in range(count):
        nu = j * pi / 2.0
        out[j] = 1j**j * np.sinc((kappa - nu) / pi) + (-1j) ** j * np.sinc((kappa + nu) / pi)
    return out


BASES = {"corner": corner_transforms, "cosine": cosine_transforms}


def limit_of_sum(F, factors, tail):
    """sum over columns of conj(F_i) factors F_j, where column k carries terms like k^(-1-tail) far out.

    F: (functions, columns) ordered outwards; the rest beyond the last column is extrapolated from
    the second half of them.
    """
    half = F.shape[1] // 2
    first = (F[:, :half].conj() * factors[:half]) @ F[:, :half].T
    second = (F[:, half:].conj() * factors[half:]) @ F[:, half:].T
    return first + second * (1.0 + 1.0 / (2.0**tail - 1.0))


# ------------------------------------------------------------------ the modulator as seen by the gaps


class ModulatorResponse:
    """w on the openings for given A of the magnets alone, in the frame of the opening at angle 0.

    For every Bloch index q: unknowns c = (shared mean, j = 1.. at r3, j = 1.. at r4).
    The mean of w is the same on both faces because no current flows in the opening.
    """

    def __init__(self, gear, basis="corner", n_functions=16, n_orders=60000):
        r1, _, r3, r4, _, r6 = gear.radii
        self.gear, self.n_functions = gear, n_functions
        self.Q = gear.n_pole_pieces
        self.half = gear.opening * pi / self.Q
        self.log_sun, self.log_ring = np.log(r3 / r1), np.log(r6 / r4)
        self.transforms = BASES[basis]
        # F F / n: F falls like n^(-2/3) for corner functions, n^(-2) for cosines (but the constant)
        self.tail = 4.0 / 3.0 if basis == "corner" else 2.0
        self.slot = self._slot_matrices(np.log(r4 / r3), n_orders)
        self.inverse, self.known_faces = {}, {}
        self.n_orders = n_orders

    def _slot_matrices(self, log_slot, n_orders):
        """h sum_k A_k D_ik for unit c: own face (coth), other face (1/sinh); and the mean term."""
        k = np.arange(1, 2 * int(n_orders * self.half / pi) + 1)
        nu = k * pi / (2.0 * self.half)
        F = self.transforms(k * pi / 2.0, self.n_functions)
        D = (np.exp(-1j * k * pi / 2.0) * F).real  # F of a real function: conj is exp(+i kappa xi)
        x = np.minimum(nu * log_slot, 300.0)
        own = self.half * limit_of_sum(D, 1.0 / (nu * np.tanh(x)), self.tail)
        other = self.half * (D / (nu * np.sinh(x))) @ D.T
        mean = self.transforms(np.zeros(1), self.n_functions)[0, 0].real
        return own, other, self.half * mean**2 * log_slot / 2.0

    def _gap_matrix(self, orders, log_gap):
        F = self.transforms(orders * self.half, self.n_functions)
        n = np.where(orders == 0, 1, np.abs(orders)).astype(float)
        g = np.where(orders == 0, 0.0, 1.0 / (n * np.tanh(np.minimum(n * log_gap, 300.0))))
        return self.Q * self.half**2 / (2.0 * pi) * limit_of_sum(F, g, self.tail)

    def _system(self, q):
        m, Q = self.n_functions, self.Q
        k_max = self.n_orders // (2 * Q) * 2
        k = np.concatenate([[0], np.repeat(np.arange(1, k_max + 1), 2)])
        k[2::2] *= -1
        orders = q + Q * k  # outwards: 0, 1, -1, 2, -2 ...
        own, other, mean_term = self.slot
        sun = self._gap_matrix(orders, self.log_sun) + own
        ring = self._gap_matrix(orders, self.log_ring) + own
        full = np.block([[sun, -other], [-other, ring]])  # equations: +continuity at r3, - at r4
        full[0, 0] += mean_term
        join = np.zeros((2 * m, 2 * m - 1))
        join[0, 0] = join[m, 0] = 1.0
        join[1:m, 1:m] = np.eye(m - 1)
        join[m + 1 :, m:] = np.eye(m - 1)
        if q == 0:  # no net current: the mean of w vanishes
            join = join[:, 1:]
        return join, join.T @ full @ join

    def openings(self, q, sun, ring):
        """Coefficients (n_functions,) of w at r3 and r4 from A of the magnets alone.

        sun, ring: (orders, A_n) with orders congruent q, A_n at r3 and r4.
        """
        if q not in self.inverse:
            join, matrix = self._system(q)
            self.inverse[q] = (join, np.linalg.inv(matrix))
        join, inverse = self.inverse[q]
        loads = []
        for sign, (orders, A) in ((-1.0, sun), (1.0, ring)):
            loads.append(sign * self.half * (self.faces(orders).conj() @ A))
        c = join @ (inverse @ (join.T @ np.concatenate(loads)))
        return c[: self.n_functions], c[self.n_functions :]

    def faces(self, orders):
        """(n_functions, orders): transform of each function at the orders."""
        key = orders.tobytes()
        if key not in self.known_faces:
            self.known_faces[key] = self.transforms(orders * self.half, self.n_functions)
        return self.known_faces[key]

    def orders_of(self, coefficients, orders):
        """w_n of all openings together."""
        return self.Q * self.half / (2.0 * pi) * (coefficients @ self.faces(orders))


# ------------------------------------------------------------------ magnets


def pole_harmonics(pattern, p, br, n_max, side):
    """[(n, b_r, b_theta)]: B_rem = b_r cos nt, b_theta sin nt; side +1: strong side outside."""
    if pattern == "halbach":
        return [(p, br, -side * br)]
    return [(q * p, 4.0 * br / (pi * q) * np.sin(q * pi / 2.0), 0.0) for q in range(1, n_max // p + 1, 2)]


def sun_potential(gear, n, b_r, b_t):
    """A at r3 of the sun alone when the face r3 is closed iron: Green's function of the layer.

    (1/sinh nL) int_r1^r2 [b_r cosh - b_t sinh](n ln(s/r1)) ds, L = ln(r3/r1)
    """
    r1, r2, r3 = gear.radii[:3]
    scale = 2.0 * (r1 / r3) ** n / (1.0 - (r1 / r3) ** (2 * n))  # 1/sinh nL
    up = (r2 * (r2 / r1) ** n - r1) / (n + 1.0)  # int (s/r1)^n ds
    down = np.log(r2 / r1) * r1 if n == 1 else (r1 - r2 * (r1 / r2) ** n) / (n - 1.0)
    return scale / 2.0 * (b_r * (up + down) - b_t * (up - down))


def ring_potential(gear, n, b_r, b_t):
    """A at r4 of the ring alone when the face r4 is closed iron.

    (1/sinh nL) int_r5^r6 [b_r cosh + b_t sinh](n ln(r6/s)) ds, L = ln(r6/r4)
    """
    r4, r5, r6 = gear.radii[3:]
    scale = 2.0 * (r4 / r6) ** n / (1.0 - (r4 / r6) ** (2 * n))
    up = np.log(r6 / r5) * r6 if n == 1 else (r5 * (r6 / r5) ** n - r6) / (n - 1.0)  # int (r6/s)^n ds
    down = (r6 - r5 * (r5 / r6) ** n) / (n + 1.0)
    return scale / 2.0 * (b_r * (up + down) + b_t * (up - down))


# ------------------------------------------------------------------ one gear, any position


class GearField:
    def __init__(self, gear, n_source=1200, **response):
        self.gear = gear
        self.response = ModulatorResponse(gear, **response)
        self.sun = self._sources(gear.p_sun, gear.br_sun, n_source, +1, sun_potential)
        self.ring = self._sources(gear.p_ring, gear.br_ring, n_source, -1, ring_potential)

    def _sources(self, p, br, n_max, side, potential):
        """orders (both signs) and A_n at angle zero: f sin nt = sum of f/(2i) e^{int}."""
        orders, values = [], []
        for n, b_r, b_t in pole_harmonics(self.gear.pattern, p, br, n_max, side):
            f = potential(self.gear, n, b_r, b_t)
            orders += [n, -n]
            values += [f / 2j, -f / 2j]
        return np.array(orders), np.array(values)

    def solve(self, sun_angle=0.0, modulator_angle=0.0, ring_angle=0.0):
        return Position(self, sun_angle, modulator_angle, ring_angle)


class Position:
    """Field of one position. All orders are taken about the centre of an opening, `origin`."""

    def __init__(self, field, sun_angle, modulator_angle, ring_angle):
        self.gear, self.response = field.gear, field.response
        Q = self.gear.n_pole_pieces
        self.origin = modulator_angle + pi / Q
        self.sun = self._turned(field.sun, sun_angle - self.origin)
        self.ring = self._turned(field.ring, ring_angle - self.origin)
        classes = np.union1d(self.sun[0] % Q, self.ring[0] % Q)
        self.coefficients = {
            int(q): self.response.openings(int(q), self._class(self.sun, q), self._class(self.ring, q))
            for q in classes
        }

    @staticmethod
    def _turned(source, angle):
        return source[0], source[1] * np.exp(-1j * source[0] * angle)

    def _class(self, source, q):
        chosen = source[0] % self.gear.n_pole_pieces == q
        return source[0][chosen], source[1][chosen]

    def opening_orders(self, orders, face):
        """w_n at r3 (face 0) or r4 (face 1)."""
        w = np.zeros(len(orders), complex)
        for q, pair in self.coefficients.items():
            chosen = orders % self.gear.n_pole_pieces == q
            if np.any(chosen):
                w[chosen] = self.response.orders_of(pair[face], orders[chosen])
        return w

    def torques(self):
        """Torque on sun, modulator, ring [N m/m]: stress on the circles r3 and r4.

        T = -(1/mu0) oint dA/dtheta w dtheta; the part of A made by w itself drops out.
        """
        carried = []
        for face, (orders, A) in enumerate((self.sun, self.ring)):
            w = self.opening_orders(orders, face)
            carried.append(-2.0 * pi / MU0 * np.sum(1j * orders * A * w.conj()).real)
        return carried[0], carried[1] - carried[0], -carried[1]

    def coenergy(self):
        """Part of 1/(2 mu0) int B_rem . B that depends on the position [J/m]."""
        parts = []
        for face, (orders, A) in enumerate((self.sun, self.ring)):
            parts.append(pi / MU0 * np.sum(A.conj() * self.opening_orders(orders, face)).real)
        return parts[0] - parts[1]

    def gap_orders(self, gap, r, n_max):
        """(orders -n_max..n_max, B_r,n, B_theta,n) on the circle r in gap 'inner' or 'outer'."""
        r1, _, r3, r4, _, r6 = self.gear.radii
        orders = np.arange(-n_max, n_max + 1)
        n = np.where(orders == 0, 1, np.abs(orders)).astype(float)
        inner = gap == "inner"
        source = self.sun if inner else self.ring
        w = self.opening_orders(orders, 0 if inner else 1)
        w[orders == 0] = 0.0
        # distance in ln r from the pole-piece face, and from there to the back iron
        to_face = np.log(r3 / r) if inner else np.log(r / r4)
        depth = np.log(r3 / r1) if inner else np.log(r6 / r4)
        decay = np.exp(-n * to_face)
        echo = np.exp(-2.0 * n * (depth - to_face))
        full = 1.0 - np.exp(-2.0 * n * depth)
        sign = 1.0 if inner else -1.0
        A = sign * w / n * decay * (1.0 + echo) / full  # cosh/(n sinh) of the response
        slope = w * decay * (1.0 - echo) / full  # r dA/dr of the response
        at = source[0] + n_max
        inside = (at >= 0) & (at <= 2 * n_max)
        k = np.abs(source[0][inside])
        A[at[inside]] += source[1][inside] * np.cosh(k * to_face)
        slope[at[inside]] -= sign * source[1][inside] * k * np.sinh(k * to_face)
        return orders, 1j * orders * A / r, -slope / r

    def amplitudes(self, gap, r, listed):
        """{n: [|B_r,n|, |B_theta,n|]} of the real series, T."""
        orders, b_r, b_t = self.gap_orders(gap, r, max(listed))
        zero = max(listed)
        return {str(n): [2 * abs(b_r[zero + n]), 2 * abs(b_t[zero + n])] for n in listed}

    def field_at(self, gap, r, angles, n_max=2500):
        """B_r, B_theta [T] at absolute angles [rad]."""
        orders, b_r, b_t = self.gap_orders(gap, r, n_max)
        waves = np.exp(1j * np.outer(np.asarray(angles) - self.origin, orders))
        return (waves @ b_r).real, (waves @ b_t).real

    def force(self, gap, r, n_max=2500):
        """Force (x, y) [N/m] on all inside the circle r: (r/2 mu0) oint (B_r + i B_t)^2 e^{i t} dt."""
        orders, b_r, b_t = self.gap_orders(gap, r, n_max)
        b = b_r + 1j * b_t
        pairs = b[:-1][::-1]  # orders n and -1-n together give e^{-i phi}
        total = pi * r / MU0 * np.sum(b[:-1] * pairs)
        value = total * np.exp(1j * self.origin)
        return float(value.real), float(value.imag)


# ------------------------------------------------------------------ the gears of the tests

LOW_COGGING = Gear("low_cogging", 4, 21, 17, (0.030, 0.036, 0.037, 0.042, 0.043, 0.048), "radial")
CONTINUOUS = Gear("continuous_halbach", 4, 21, 17, LOW_COGGING.radii, "halbach")
UNBALANCED = Gear("unbalanced", 2, 11, 9, (0.020, 0.026, 0.027, 0.031, 0.032, 0.036), "radial")

DEGREE = pi / 180.0
# (sun, modulator, ring) angles in rad
SUN_TURNED = [(d * DEGREE, 0.0, 0.0) for d in (0, 5, 10, 15, 20, 22.5, 25, 30, 35, 40, 45)]
RING_TURNED = [(0.0, 0.0, d * DEGREE) for d in (1, 3, 5, 90 / 17, 8)]
MIXED = [(0.02, 0.0, 0.0), (0.10, 0.0, 0.0), (0.30, 0.0, 0.0), (0.30, 0.0, 0.01), (0.0, 0.02, 0.05)]
CASES = [
    (LOW_COGGING, SUN_TURNED + RING_TURNED + MIXED, (4, 12, 17, 20, 25, 28, 33, 36, 38),
     (4, 17, 25, 38, 51, 59, 67, 85)),
    (CONTINUOUS, MIXED, (4, 17, 25), (4, 17, 38)),
    (UNBALANCED, [(t, 0.0, 0.0) for t in (0.02, 0.10, 0.30, 0.70, pi / 4)], (2, 6, 9, 13), (2, 9, 20, 27)),
]
FINE = dict(basis="corner", n_functions=32, n_orders=60000)
COARSE = dict(basis="corner", n_functions=16, n_orders=20000)
PROBE_DEGREES = (0, 10, 20, 30, 45, 60, 90)


def ripple(field, load_angle, n=256):
    """Mean and peak-to-peak of the torques in synchronous motion over one ripple period, ring and sun
    turning, modulator at rest; load_angle = p_sun sun_angle + p_ring ring_angle [rad]."""
    gear = field.gear
    period = 2.0 * pi / np.lcm(2 * gear.p_sun, gear.n_pole_pieces)
    rows = []
    for i in range(n):
        turn = period * i / n
        rows.append(field.solve(load_angle / gear.p_sun + turn, 0.0,
                                -gear.p_sun / gear.p_ring * turn).torques())
    rows = np.array(rows)
    return rows.mean(axis=0).tolist(), np.ptp(rows, axis=0).tolist(), float(np.degrees(period))


def cogging_of_sun(gear, n=64):
    """Sun's torque with unmagnetised ring magnets: amplitude of its fundamental and half of peak to
    peak [N m/m]."""
    field = GearField(Gear(**{**gear.__dict__, "br_ring": 0.0}), **FINE)
    period = 2.0 * pi / np.lcm(2 * gear.p_sun, gear.n_pole_pieces)
    torque = [field.solve(sun_angle=period * i / n).torques()[0] for i in range(n)]
    return float(2.0 / n * abs(np.fft.fft(torque)[1])), float(np.ptp(torque) / 2.0)


def plain_series(gear, angles):
    """Torques of the plain method with 40, 80, 160 cosines, and Aitken's limit of the three."""
    t = np.array([GearField(gear, basis="cosine", n_functions=n, n_orders=40000).solve(*angles).torques()
                  for n in (40, 80, 160)])
    return (t[2] - (t[2] - t[1]) ** 2 / (t[2] - 2 * t[1] + t[0])).tolist()


def virtual_work(field, angles, step=1e-4):
    """Torques as slopes of the co-energy over each angle: another route than the stress."""
    slopes = []
    for i in range(3):
        moved = [[a + sign * step * (j == i) for j, a in enumerate(angles)] for sign in (1, -1)]
        ahead, behind = (field.solve(*m).coenergy() for m in moved)
        slopes.append(float((ahead - behind) / (2.0 * step)))
    return slopes


def fields(position, inner_orders, outer_orders):
    """Gap orders and values at angles on the mid-gap circles, forces on the circles."""
    out = {}
    radii = position.gear.radii
    for gap, r, listed in (("inner", (radii[1] + radii[2]) / 2, inner_orders),
                           ("outer", (radii[3] + radii[4]) / 2, outer_orders)):
        amplitudes = position.amplitudes(gap, r, listed)
        b_r, b_t = position.field_at(gap, r, np.radians(PROBE_DEGREES))
        out[gap + "_gap"] = {
            "radius_m": r,
            "order": list(listed),
            "B_r_T": [amplitudes[str(n)][0] for n in listed],
            "B_theta_T": [amplitudes[str(n)][1] for n in listed],
            "probe_angle_deg": list(PROBE_DEGREES),
            "probe_B_r_T": b_r.tolist(),
            "probe_B_theta_T": b_t.tolist(),
            "force_on_inside_N_per_m": list(position.force(gap, r)),
        }
    return out


def record(gear, angles, inner_orders, outer_orders):
    fine, coarse = GearField(gear, **FINE), GearField(gear, **COARSE)
    rows, change = [], 0.0
    for sun, modulator, ring in angles:
        position = fine.solve(sun, modulator, ring)
        torques = position.torques()
        rough = coarse.solve(sun, modulator, ring).torques()
        change = max(change, np.max(np.abs(np.subtract(torques, rough))))
        rows.append({
            "sun_angle_rad": sun, "modulator_angle_rad": modulator, "ring_angle_rad": ring,
            "torque_sun_Nm_per_m": torques[0], "torque_modulator_Nm_per_m": torques[1],
            "torque_ring_Nm_per_m": torques[2],
            **fields(position, inner_orders, outer_orders),
        })
    mean, peak_to_peak, period = ripple(fine, pi / 2)
    fundamental, half_peak_to_peak = cogging_of_sun(gear)
    check = max(angles, key=lambda a: abs(fine.solve(*a).torques()[0]))
    print(f"{gear.name}: largest change of a torque from the coarse to the fine orders {change:.1e} N m/m, "
          f"{change / abs(mean[0]):.1e} of the sun's slip torque")
    return {
        "name": gear.name, "p_sun": gear.p_sun, "n_pole_pieces": gear.n_pole_pieces, "p_ring": gear.p_ring,
        "radii_m": list(gear.radii), "pattern": gear.pattern, "remanence_sun_T": gear.br_sun,
        "remanence_ring_T": gear.br_ring, "recoil_permeability": 1.0, "opening": gear.opening,
        "estimated_error_Nm_per_m": float(change),
        "cogging_sun_fundamental_Nm_per_m": fundamental,
        "cogging_sun_half_peak_to_peak_Nm_per_m": half_peak_to_peak,
        "check_angles_rad": list(check),
        "check_by_virtual_work_Nm_per_m": virtual_work(fine, check),
        "check_by_plain_series_Nm_per_m": plain_series(gear, check),
        "mean_at_90_deg_Nm_per_m": mean, "ripple_at_90_deg_Nm_per_m": peak_to_peak,
        "ripple_period_sun_deg": period,
        "positions": rows,
    }


def main():
    result = {
        "script": "tests/analytic/subdomain_gear.py", "version": VERSION,
        "method": "subdomain with corner functions; "
                  "idea: Lubin, Mezani, Rezzoug, IEEE Trans. Magn. 46(7) 2611, 2010",
        "python": platform.python_version(), "numpy": np.__version__, "scipy": scipy.__version__,
        "orders": FINE, "orders_of_error_estimate": COARSE,
        "gears": [record(*case) for case in CASES],
    }
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".json")
    path.write_text(json.dumps(result, indent=1) + "\n")


if __name__ == "__main__":
    main()
