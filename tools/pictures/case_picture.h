// tools/pictures/case_picture.h — what there is to see of a case at one load angle.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cases/run_case.h"
#include "tools/pictures/field_picture.h"

namespace lodegear {

/// What a picture of a case shows.
enum class Subject {
  flux_density,
  loss,          ///< W/m³, mean over a cycle in step, at the speed of the case
  margin,        ///< of the magnets from the knee, at this position
  worst_margin,  ///< the same, the worst of a cycle in step
};
/// "flux-density", "loss", "margin", "worst-margin".
const std::vector<std::string>& subject_names();
Subject subject_of(const std::string& name);

/// A case solved at one position, and the numbers to be shown.
struct CasePicture {
  Subject subject = Subject::flux_density;
  PreparedCase prepared;
  FieldSolution solution;  ///< potentials filled
  TriangleNumbers values;  ///< empty for the flux density
};

/// The members in step at the load angle [electrical rad], from where the case has them. Throws
/// InputError if the case has not what the subject needs, std::runtime_error without a solution.
CasePicture case_picture(const Case& c, Subject subject, double load_angle, int threads);

/// The bytes of a file: ".svg", ".png" (without the scale) or ".vtu".
std::string picture_file(const CasePicture& picture, const Case& c, const std::string& ending,
                         int size);

}  // namespace lodegear
