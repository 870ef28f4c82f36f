// solver/post/demagnetisation.h — what the magnets bear, and what is left of them.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <vector>

#include "materials/magnet.h"
#include "solver/field/field_problem.h"

namespace lodegear {

/// The largest opposing field in each triangle of one member's magnets, over all positions shown to
/// it: h = −H·e = (B_r − B·e)/(µ0 µ_rec) with e along the remanence, mean over the triangle.
///                                                                                    (theory 10.1)
struct OpposingField {
  std::vector<int> triangle;
  std::vector<double> area;       ///< m²
  std::vector<double> remanence;  ///< T, of the recoil line with which the field was solved
  std::vector<double> h;          ///< A/m; negative where the field never opposes
};

/// The magnets of a member, with nothing seen yet; empty without magnets.
OpposingField opposing_field(const FieldMember& member);
/// Takes in one position: `a` at the member's nodes.
void add_position(const FieldMember& member, const Eigen::VectorXd& a, OpposingField& field);

/// What becomes of magnets that bore `field`, solved with the remanence of `solved_at` °C, if they
/// are at `celsius` instead. All fields of a gear scale with the remanence while its steel stays as
/// it is, so h(T) = h · B_r(T)/B_r(solved).
struct Demagnetisation {
  /// 1 − h/h_k of the worst triangle; below 0 some is lost for good.
  double margin = 0.0;
  double volume_lost = 0.0;     ///< share of the magnets' volume beyond the knee
  double remanence_left = 1.0;  ///< mean B_r′/B_r afterwards
};
/// None if the knee of the material is not known.
std::optional<Demagnetisation> demagnetisation(const OpposingField& field,
                                               const MagnetMaterial& magnet, double solved_at,
                                               double celsius,
                                               double squareness = usual_squareness);

/// The temperatures between which at most `share` of the volume is beyond the knee, °C. An end that
/// is not reached between −100 °C and 350 °C is not set.
struct SafeTemperatures {
  std::optional<double> lowest;   ///< cold harms ferrite
  std::optional<double> highest;  ///< heat harms the rest
  bool none = false;              ///< already at the temperature of the field too much is lost
};
std::optional<SafeTemperatures> safe_temperatures(const OpposingField& field,
                                                  const MagnetMaterial& magnet, double solved_at,
                                                  double share = 0.01,
                                                  double squareness = usual_squareness);

/// For FieldMember::weakened: what is left of the remanence of every triangle of the mesh,
///   B_r′ = J(h) + χ µ0 h,  as a part of B_r                                          (theory 10.2)
/// (1 outside magnets and where nothing is lost).
std::vector<double> weakening(const FieldMember& member, const OpposingField& field,
                              const MagnetMaterial& magnet, double solved_at, double celsius,
                              double squareness = usual_squareness);

/// Least HcJ at 20 °C, A/m, that would keep every triangle `margin` away from the knee at
/// `celsius`: to choose a grade by.
double coercivity_needed(const OpposingField& field, const MagnetMaterial& magnet, double solved_at,
                         double celsius, double margin = 0.1, double squareness = usual_squareness);

}  // namespace lodegear
