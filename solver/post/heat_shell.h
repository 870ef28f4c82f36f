// solver/post/heat_shell.h — conduction through a hollow cylinder that heats itself evenly.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

/// Radii and length in m, conductivity in W/(m·K). inner_radius 0 = solid bar.
struct HeatShell {
  double inner_radius = 0.0, outer_radius = 0.0, length = 0.0;
  double conductivity = 0.0;
};

/// Three conductances [W/K] between the inner surface, the outer surface and a node that has the
/// mean temperature and takes the source. Exact for a steady, uniform source and radial flow.
/// `across` is negative: a source in between bends the profile. A solid bar has `outer` alone.
///
/// The T-network behind it (theory 13.3), with D = r2² − r1²:
///   R_out = [1 − 2 r1² ln(r2/r1)/D]/(4πkL),  R_in = [2 r2² ln(r2/r1)/D − 1]/(4πkL),
///   R_mean = −[r1² + r2² − 4 r1² r2² ln(r2/r1)/D]/(8πkLD)
/// joined in a point of no meaning, which is eliminated. Derived from the radial heat equation; a
/// network of this kind: Mellor, Roberts, Turner, IEE Proc. B 138 (1991) 205 (from memory).
struct ShellConductances {
  double inner = 0.0;   ///< inner surface – mean
  double outer = 0.0;   ///< outer surface – mean
  double across = 0.0;  ///< inner surface – outer surface
};
ShellConductances shell_conductances(const HeatShell& shell);

/// Hottest temperature inside, given the surfaces' [°C] and the even source [W]. A solid bar: on
/// its axis.                                                                        (theory 13.4)
double hottest_in_shell(const HeatShell& shell, double source, double inner_surface,
                        double outer_surface);

/// Temperature at radius r of the same shell.
double shell_temperature(const HeatShell& shell, double source, double inner_surface,
                         double outer_surface, double r);

}  // namespace lodegear
