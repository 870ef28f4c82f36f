// solver/post/end_factors.h — what finite length does to eddy currents computed without ends.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

/// Loss of a plate of `width` and `length` [m], insulated all round, in a uniform changing field
/// normal to it, over that of the same piece of an endless strip of that width; resistance-limited:
///
///   F = 1 − (192/π⁵)(w/L) Σ_{n odd} tanh(nπL/(2w))/n⁵,      F(w, L) w² = F(L, w) L² (theory 8.7)
///
/// Source: the stream function of the currents is Prandtl's of a bar in torsion; Timoshenko,
/// Goodier, Theory of Elasticity, 3rd ed. (1970), §109.
double plate_end_factor(double width, double length);

/// The same for a thin cylinder in a field of `order` (pole pairs; need not be whole) over
/// `length`, which the cylinder outreaches by `overhang` at each end:
///
///   K = 1 − tanh x / (x (1 + tanh x tanh(p l/r))),   x = p L/(2 r) (theory 8.8)
///
/// Source: Russell, Norsworthy, Proc. IEE 105A (1958) 163 (from memory; derived anew in the
/// theory).
double cylinder_end_factor(double order, double radius, double length, double overhang = 0.0);

}  // namespace lodegear
