# tools/bench/peer_gear.py — the gear and the steel of the independent finite-element solutions.
# SPDX-License-Identifier: GPL-3.0-or-later
"""The gear 'standard' (4/17/13) and Brauer's law, for UFL; tests/analytic/peer_fem.py uses them too.

Steel: H = (k1 exp(k2 B^2) + k3) B (Brauer, IEEE Trans. Magn. 11 (1975) 81) up to the B where
dH/dB = 1/mu0, then a straight line of that slope.
"""
from math import pi

import numpy as np
import ufl

MU0 = 4e-7 * pi
NU0 = 1.0 / MU0

# ------------------------------------------------------------------ the gear, mm and T

P_SUN, N_PIECES, P_RING = 4, 17, 13
CORE, SUN_OUT, PIECE_IN, PIECE_OUT, RING_IN, RING_OUT = 24.0, 30.0, 31.0, 37.0, 38.0, 44.0
SEGMENTS_SUN, SEGMENTS_RING = 24, 52
REMANENCE, MU_RECOIL = 1.30, 1.05

# ------------------------------------------------------------------ the steel

K1, K2, K3 = 3.5, 2.14, 95.0  # A/m per T, 1/T^2, A/m per T


def knee():
    """B where dH/dB = 1/mu0, by Newton in x = k2 B^2: k1 e^x (1 + 2x) + k3 = nu0."""
    x = 9.0
    for _ in range(50):
        value = K1 * np.exp(x) * (1 + 2 * x) + K3 - NU0
        x -= value / (K1 * np.exp(x) * (3 + 2 * x))
    return float(np.sqrt(x / K2))


B_KNEE = knee()
H_KNEE = float((K1 * np.exp(K2 * B_KNEE**2) + K3) * B_KNEE)


def curl(a):
    return ufl.as_vector((a.dx(1), -a.dx(0)))


def steel_nu(b2):
    b = ufl.sqrt(b2)
    return ufl.conditional(b2 < B_KNEE**2, K1 * ufl.exp(K2 * b2) + K3, NU0 + (H_KNEE - NU0 * B_KNEE) / b)


def steel_energy(b2):
    """int_0^B H dB."""
    b = ufl.sqrt(b2)
    below = K1 / (2 * K2) * (ufl.exp(K2 * b2) - 1) + K3 * b2 / 2
    at_knee = K1 / (2 * K2) * (np.exp(K2 * B_KNEE**2) - 1) + K3 * B_KNEE**2 / 2
    beyond = at_knee + H_KNEE * (b - B_KNEE) + NU0 / 2 * (b - B_KNEE) ** 2
    return ufl.conditional(b2 < B_KNEE**2, below, beyond)
