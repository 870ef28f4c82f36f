// solver/post/heat_films.h — how heat leaves a surface: films of air, radiation, fins.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "solver/post/air.h"

namespace lodegear {

// Film coefficients in W/(m²K). Correlations of this kind scatter by ±20 to 30 % about the
// measurements they were fitted to, more on real bodies with feet, screws and guards.

/// A gap between coaxial cylinders, ω in rad/s of the inner and outer side, signed.
struct GapFlow {
  double inner_radius = 0.0, outer_radius = 0.0;  // m
  double inner_speed = 0.0, outer_speed = 0.0;
};

/// Taylor number of the gap g = r_o − r_i, 0 where Rayleigh's criterion says that the flow is
/// stable (angular momentum rising outwards) or the sides turn oppositely and equally fast:
///   Ta² = g³ (ω_i r_i² − ω_o r_o²)(ω_i + ω_o)/(r_i ν²);   outer side at rest: Ta = Re √(g/r_i).
///                                                                                (theory 13.5)
/// Source of the criterion for two turning cylinders: Chandrasekhar, Hydrodynamic and Hydromagnetic
/// Stability (1961), §71 (narrow gap, from memory).
double taylor_number(const GapFlow& gap, double kinematic_viscosity);

/// Nusselt number on twice the gap: 2 below Ta 41, then 0.202 Ta^0.63 Pr^0.27, above 100
/// 0.386 Ta^0.5 Pr^0.27, never below 2. It jumps by some per cent at 41 and 100. Source: laws after
/// Taylor and Gazley as usual for machines; Howey, Childs, Holmes, IEEE Trans. Ind. Electron. 59(3)
/// (2012) 1367 reviews them.                                                       (theory 13.6)
double gap_nusselt(double taylor, double prandtl);

/// (Nu/2) k/g: conductance per area of the gap, at its logarithmic mean radius.
double gap_film(const GapFlow& gap, const Fluid& fluid);

/// Natural convection around a horizontal cylinder in the open, surface and ambient in °C, air at
/// their mean:  Nu = {0.60 + 0.387 Ra^(1/6)/[1 + (0.559/Pr)^(9/16)]^(8/27)}².       (theory 13.7)
/// Source: Churchill, Chu, Int. J. Heat Mass Transfer 18 (1975) 1049; Ra up to 1e12.
double natural_film_cylinder(double diameter, double surface, double ambient);
/// The Nusselt number alone.
double churchill_chu_nusselt(double rayleigh, double prandtl);

/// Upright flat faces of height h: 1.42 (ΔT/h)^¼, laminar air. Source: simplified laws in
/// Holman, Heat Transfer, table 7-2 (from memory).                                  (theory 13.8)
double natural_film_plate(double height, double surface, double ambient);

/// A cylinder that turns in the open, where turning dominates: Nu = 0.133 Re^(2/3) Pr^(1/3),
/// Re = ω D²/(2ν). Source: Kays, Bjorklund, Trans. ASME 80 (1958) 70 (from memory).  (theory 13.9)
double rotating_film_cylinder(double diameter, double speed, const Fluid& fluid);

/// A disc that turns in the open, laminar: Nu = 0.36 √(ωR²/ν) on R, so h does not depend on R.
/// Source: Cobb, Saunders, Proc. R. Soc. A 236 (1956) 343 (from memory).           (theory 13.10)
double rotating_film_disc(double speed, const Fluid& fluid);

/// ε σ (T1² + T2²)(T1 + T2) with surroundings that are large and at `ambient`.     (theory 13.11)
double radiation_film(double emissivity, double surface, double ambient);

/// A bar standing out into the open, film h on its side [W/(m²K)], tip insulated: its conductance
/// [W/K] is k A m tanh(m l), m² = 4h/(k d).                                        (theory 13.12)
double fin_conductance(double diameter, double length, double conductivity, double film);

}  // namespace lodegear
