// cases/validation.cpp — what a validation comes down to.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validation.h"

#include <algorithm>

namespace lodegear {

const Eigen::VectorXd& after_bench(const Validation& validation) {
  const HeatingCurve& heating = validation.temperatures.heating;
  const auto at = std::lower_bound(heating.times.begin(), heating.times.end(),
                                   validation.gear.input.service.use.bench_time);
  return heating.temperatures.at(static_cast<std::size_t>(at - heating.times.begin()));
}

double plane_torque(const Validation& validation) {
  const SlipTorque& slip = *validation.gear.slip_torque;
  return of(slip.weakest ? *slip.weakest : slip.peak, validation.drive.output);
}

const Judgement* deciding(const Validation& validation) {
  const auto& all = validation.judgements;
  const auto worst = std::max_element(all.begin(), all.end(), [](const auto& a, const auto& b) {
    return a.judged != b.judged ? a.judged < b.judged : a.margin > b.margin;
  });
  return worst == all.end() ? nullptr : &*worst;
}

}  // namespace lodegear
