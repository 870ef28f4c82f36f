// cases/summary_json.cpp — every figure with unit and origin, for programs that read on.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/summary_json.h"

#include "cases/figures.h"
#include "cases/json_figure.h"
#include "cases/members.h"
#include "cases/sha256.h"
#include "cases/units.h"
#include "cases/versions.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

/// One entry a member, null where the gear has none.
template <class Entry>
Json per_member(const Gear& gear, Entry entry) {
  Json all = Json::object();
  for (Member m : members_inside_out) all[name_of(m)] = has(gear, m) ? Json(entry(m)) : Json();
  return all;
}

Json case_json(const CaseResult& result) {
  const Case& c = result.input;
  return {{"name", c.name},
          {"notes", c.notes},
          {"file_name", c.path.filename().string()},
          {"sha256", sha256(c.source_text)}};
}

Json versions_json(const CaseResult& result) {
  Json all = {{"lodegear", result.version}};
  for (const auto& [name, version] : library_versions()) all[name] = version;
  return all;
}

Json gear_json(const CaseResult& result) {
  const Gear& gear = result.input.gear;
  Json json = {{"kind", kind_of_machine(gear)}, {"poles", pole_text(gear)}};
  json["sun_pole_pairs"] = gear.sun ? Json(gear.sun->pole_pairs) : Json();
  json["pole_pieces"] = gear.modulator ? Json(gear.modulator->pole_pieces) : Json();
  json["ring_pole_pairs"] = gear.ring ? Json(gear.ring->pole_pairs) : Json();
  json["stack_length"] = figure(result.stack_length, "m", "what all members have in common");
  return json;
}

Json ratios_json(const CaseResult& result) {
  if (!result.speed_ratios) return nullptr;
  Json all = Json::array();
  for (const SpeedRatio& ratio : *result.speed_ratios)
    all.push_back(
        {{"held", name_of(ratio.held)},
         {"input", name_of(ratio.input)},
         {"output", name_of(ratio.output)},
         {"input_over_output", figure(ratio.input_over_output, "1",
                                      "pole counts; negative: the output turns the other way")}});
  return all;
}

Json gaps_json(const CaseResult& result) {
  const char* how = "geometry of the case, magnets expected at their nominal size";
  Json all = Json::array();
  for (const GapClearance& gap : result.clearances)
    all.push_back({{"magnetic", figure(gap.magnetic, "m", how)},
                   {"running_inner", figure(gap.running_inner, "m", how)},
                   {"running_outer", figure(gap.running_outer, "m", how)}});
  return all;
}

Json slip_json(const CaseResult& result) {
  if (!result.slip_torque) return nullptr;
  const SlipTorque& slip = *result.slip_torque;
  const std::string how = how_slip_torque(result.input) + "; " + torque_caution;
  const std::string running = std::string(
                                  "in step at the load angle of the peak, over one ripple "
                                  "period or the cycle; ") +
                              torque_caution;
  const auto optional_of = [](const std::optional<PerMember>& values, Member m) {
    return values ? std::optional<double>(of(*values, m)) : std::nullopt;
  };
  return {{"load_angle", figure(to_deg(slip.load_angle), "° electrical", how)},
          {"peak_reached", slip.peak_reached},
          {"members", per_member(result.input.gear, [&](Member m) {
             return Json{
                 {"peak", figure(of(slip.peak, m), "N·m", how)},
                 {"peak_error", figure(optional_of(slip.error, m), "N·m", how_error)},
                 {"mean", figure(optional_of(slip.mean, m), "N·m", "mean " + running)},
                 {"weakest", figure(optional_of(slip.weakest, m), "N·m", "smallest " + running)}};
           })}};
}

Json stiffness_json(const CaseResult& result) {
  if (!result.stiffness) return nullptr;
  const std::string how = std::string("slope of the slip curve at load angle 0; ") + torque_caution;
  return {{"per_load_angle", figure(result.stiffness->per_load_angle, "N·m/rad electrical", how)},
          {"members", per_member(result.input.gear, [&](Member m) {
             return figure(of(result.stiffness->per_turn, m), "N·m/rad",
                           how + "; about its own axis, the others held");
           })}};
}

Json spectrum_json(const RunningCurve& curve, const Ripple& ripple) {
  Json orders = Json::array();
  const int step = curve.full_cycle ? 1 : curve.ripples_per_turn;
  for (std::size_t j = 0; j < ripple.amplitudes.size(); ++j)
    orders.push_back(
        {{"order", static_cast<int>(j + 1) * step}, {"amplitude", ripple.amplitudes[j]}});
  return {{"unit", "N·m"},
          {"order_of",
           curve.full_cycle ? "per cycle" : "per turn of the sun relative to the modulator"},
          {"orders", orders}};
}

constexpr const char* how_ripple_bound =
    "bound: the gaps are tied by fewer harmonics than ripple of this order needs; it falls as "
    "exp(-LCM g/r)";

Json running_json(const CaseResult& result, const RunningCurve& curve, const std::string& purpose) {
  const std::string how =
      "trigonometric polynomial through " + std::to_string(curve.points.size()) + " positions of " +
      (curve.full_cycle ? "the whole cycle" : "one ripple period") + "; " + torque_caution;
  Json json = {{"purpose", purpose},
               {"load_angle", figure(to_deg(curve.load_angle), "° electrical", "as asked")},
               {"ripples_per_turn", curve.ripples_per_turn},
               {"full_cycle", curve.full_cycle},
               {"positions", curve.points.size()}};
  if (purpose == "slip") json["load_angle"]["how"] = "of the peak of the slip curve";
  json["members"] = per_member(result.input.gear, [&](Member m) {
    if (!curve.ripple) return Json();
    const Ripple& ripple = (*curve.ripple)[static_cast<std::size_t>(m)];
    const auto bar = [m](const std::optional<PerMember>& values) {
      return values ? std::optional<double>(of(*values, m)) : std::nullopt;
    };
    if (curve.ripple_below)
      return Json{{"mean", figure(ripple.mean, "N·m", how)},
                  {"peak_to_peak_below", figure(bar(curve.ripple_below), "N·m", how_ripple_bound)}};
    return Json{{"mean", figure(ripple.mean, "N·m", how)},
                {"peak_to_peak_error", figure(bar(curve.ripple_error), "N·m", how_error)},
                {"smallest", figure(ripple.smallest, "N·m", how)},
                {"largest", figure(ripple.largest, "N·m", how)},
                {"peak_to_peak", figure(ripple.peak_to_peak, "N·m", how)},
                {"percent_of_slip", figure(percent_of_slip(result, m, ripple.peak_to_peak), "%",
                                           "peak to peak, of the slip torque on this member")},
                {"spectrum", spectrum_json(curve, ripple)}};
  });
  return json;
}

Json running_list_json(const CaseResult& result) {
  Json all = Json::array();
  for (const RunningCurve& curve : result.running_curves)
    all.push_back(
        running_json(result, curve, &curve == no_load_curve(result) ? "no load" : "load"));
  if (result.at_slip) all.push_back(running_json(result, *result.at_slip, "slip"));
  return all;
}

Json mesh_json(const CaseResult& result) {
  Json members = Json::object(), gaps = Json::array();
  for (Member m : members_inside_out) members[name_of(m)] = nullptr;
  for (const MemberMeshFigures& mesh : result.meshes)
    members[name_of(mesh.member)] = {
        {"nodes", mesh.nodes},
        {"triangles", mesh.triangles},
        {"sectors", mesh.sectors},
        {"smallest_angle_deg", to_deg(mesh.quality.smallest_angle)},
        {"smallest_jacobian_ratio", mesh.quality.smallest_jacobian_ratio},
        {"area_m2", mesh.quality.area}};
  for (const GapAnnulus& gap : result.plan.gaps)
    gaps.push_back({{"inner_radius_m", gap.inner_radius},
                    {"outer_radius_m", gap.outer_radius},
                    {"orders", gap.orders}});
  return {{"fineness", result.plan.resolution.fineness}, {"members", members}, {"gaps", gaps}};
}

Json accuracy_json(const CaseResult& result) {
  const std::optional<double> error = estimated_error(result);
  Json rungs = Json::array();
  for (const Rung& rung : result.rungs)
    rungs.push_back({{"level", rung.level},
                     {"unknowns", rung.unknowns},
                     {"slip_torque_error", rung.slip_error},
                     {"ripple_error", rung.ripple_error}});
  return {{"wanted",
           figure(result.rungs.empty() ? std::nullopt : result.input.accuracy.part,
                  "part of the slip torque", result.input.accuracy.asked ? "as asked" : "assumed")},
          {"estimated", figure(error, "part of the slip torque", how_error)},
          {"meshes_tried", rungs}};
}

Json solver_json(const CaseResult& result) {
  const Verdict how = verdict(result);
  return {{"unknowns", result.unknowns},
          {"path", result.solver ? result.solver->path() : ""},
          {"positions", n_positions(result)},
          {"not_converged", result.not_converged},
          {"worst_residual", worst_residual(result)},
          {"kept_fields", result.kept.size()},
          {"exit_code", how.exit_code},
          {"verdict", how.text}};
}

Json assumed_json(const Case& c) {
  Json all = Json::array();
  for (const Assumed& a : c.assumed) all.push_back({{"key", a.key}, {"value", a.value}});
  return all;
}

}  // namespace

std::string summary_json(const CaseResult& result,
                         const std::vector<std::pair<std::string, std::string>>& files) {
  Json json = {{"program", "lodegear"},
               {"format", summary_format},
               {"case", case_json(result)},
               {"versions", versions_json(result)},
               {"gear", gear_json(result)},
               {"speed_ratios", ratios_json(result)},
               {"slip_torque", slip_json(result)},
               {"stiffness", stiffness_json(result)},
               {"running_curves", running_list_json(result)},
               {"gaps", gaps_json(result)},
               {"mesh", mesh_json(result)},
               {"accuracy", accuracy_json(result)},
               {"solver", solver_json(result)},
               {"assumed", assumed_json(result.input)},
               {"remarks", result.remarks}};
  json["files"] = Json::object();
  for (const auto& [name, hash] : files) json["files"][name] = {{"sha256", hash}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace lodegear
