// cases/validation_json.cpp — every figure of a validation with unit and origin, for programs.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validation_json.h"

#include <cmath>

#include "cases/figures.h"
#include "cases/json_figure.h"
#include "cases/sha256.h"
#include "cases/units.h"
#include "cases/validation_text.h"
#include "cases/versions.h"

namespace lodegear {

using Json = nlohmann::ordered_json;

namespace {

// Where each kind of figure comes from; the numbers are sections of solver/post/README.md.
constexpr const char* from_ends = "plane model times the estimate of the ends (theory 9)";
constexpr const char* from_losses = "field over a cycle, material data (theory 8, 11, 12)";
constexpr const char* from_network = "network of lumped heat, films known to 30 % (theory 13)";
constexpr const char* from_field = "field in use and through a slip, magnets warm (theory 10)";
constexpr const char* from_stress = "stress around the part, plane model (theory 14)";
constexpr const char* from_motion =
    "slip curve as a spring between the inertias, in time; ripple left out, damping an order of "
    "magnitude (solver/README.md 15)";
constexpr const char* from_spring = "slip curve as a spring, undamped (solver/README.md 15)";

Json judgements_json(const Validation& v) {
  Json all = Json::array();
  for (const Judgement& j : v.judgements)
    all.push_back({{"what", j.what},
                   {"judged", name_of(j.judged)},
                   {"figure", j.figure},
                   {"wanted", j.wanted},
                   {"margin", figure(j.margin, "part of what is wanted", "expected figure")},
                   {"help", j.help}});
  return all;
}

Json verdict_json(const Validation& v) {
  const Judgement* worst = deciding(v);
  return {{"exit_code", exit_code(v)},
          {"judged", worst ? Json(name_of(worst->judged)) : Json()},
          {"decided_by", worst ? Json(worst->what) : Json()},
          {"requirements", judgements_json(v)}};
}

Json bench_json(const Validation& v) {
  const auto torque = [](double x) { return figure(x, "N·m", from_ends); };
  Json json = {{"on", name_of(v.drive.output)},
               {"expected", torque(v.slip_torque.expected)},
               {"low", torque(v.slip_torque.low)},
               {"high", torque(v.slip_torque.high)},
               {"plane_model", figure(plane_torque(v), "N·m", torque_caution)},
               {"load", figure(v.load, "N·m", "use.load_Nm, or 0.6 of what is expected")}};
  json["ends_leave"] =
      v.ends ? Json{{"expected", v.ends->ratio}, {"low", v.ends->low}, {"high", v.ends->high}}
             : Json();
  return json;
}

Json losses_json(const Validation& v) {
  Json parts = Json::array();
  for (const PartLoss& part : v.losses)
    parts.push_back({{"part", part.loss.part},
                     {"hysteresis", figure(part.loss.hysteresis, "W", from_losses)},
                     {"eddy", figure(part.loss.eddy, "W", from_losses)},
                     {"excess_or_skin", figure(part.loss.surface, "W", from_losses)}});
  Json friction = Json::array();
  if (v.at_work)
    for (const FrictionLoss& part : v.at_work->friction)
      friction.push_back({{"part", part.name}, {"power", figure(part.power, "W", from_losses)}});
  return {{"input_speed", figure(to_rpm(v.gear.input.running->input_speed), "rpm", "as asked")},
          {"magnetic", parts},
          {"friction", friction},
          {"efficiency", v.at_work ? figure(v.at_work->efficiency, "1", from_losses) : Json()},
          {"no_load_drag", v.no_load ? figure(v.no_load->total(), "N·m", from_losses) : Json()}};
}

Json heat_json(const Validation& v) {
  const GearTemperatures& t = v.temperatures;
  Json parts = Json::array();
  for (std::size_t i = 0; i < t.names.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    Json part = {{"part", t.names[i]},
                 {"after_bench_test", figure(after_bench(v)[at], "°C", from_network)},
                 {"for_ever", figure(t.steady[at], "°C", from_network)}};
    if (v.duty) part["hottest_in_duty"] = figure(v.duty->hottest[at], "°C", from_network);
    parts.push_back(part);
  }
  Json paths = Json::array();
  for (const HeatFlow& flow : t.flows)
    paths.push_back({{"path", flow.name},
                     {"conductance", figure(flow.conductance, "W/K", from_network)},
                     {"flow", figure(flow.watts, "W", from_network)}});
  const SlippingHeat& slip = v.slipping_heat;
  return {{"parts", parts},
          {"paths", paths},
          {"margin", figure(t.margin, "K", "to " + t.nearest_limit)},
          {"slipping_loss", figure(slip.loss, "W", "order of magnitude")},
          {"slipping_time",
           slip.limit ? figure(slip.limit->time, "s", slip.limit->limit.reason) : Json()}};
}

Json magnets_json(const Validation& v) {
  Json all = Json::array();
  for (const MagnetHealth& m : v.magnets) {
    const auto part = [](const std::optional<Demagnetisation>& d, double Demagnetisation::*what) {
      return d ? figure((*d).*what, "1", from_field) : Json();
    };
    all.push_back(
        {{"member", name_of(m.member)},
         {"grade", m.grade},
         {"temperature", figure(m.temperature, "°C", from_network)},
         {"margin_in_use", part(m.in_use, &Demagnetisation::margin)},
         {"margin_through_slip", part(m.slipping, &Demagnetisation::margin)},
         {"volume_beyond_knee", part(m.slipping, &Demagnetisation::volume_lost)},
         {"one_percent_lost_at",
          m.safe && m.safe->highest ? figure(*m.safe->highest, "°C", from_field) : Json()},
         {"coercivity_needed", figure(m.coercivity_needed, "A/m",
                                      "HcJ at 20 °C that keeps every corner 10 % from the knee")}});
  }
  return {{"rotors", all}, {"torque_after_one_slip", figure(v.torque_after_slip, "1", from_field)}};
}

Json forces_json(const Validation& v) {
  Json parts = Json::array(), sides = Json::array();
  for (const PartPull& p : v.pulls)
    parts.push_back({{"member", name_of(p.member)},
                     {"part", p.part},
                     {"mass", figure(p.mass, "kg", "mesh and density")},
                     {"pull_off", figure(p.pull_off, "N", from_stress)},
                     {"shear", figure(p.shear, "N", from_stress)},
                     {"centrifugal", figure(p.centrifugal, "N", "m r ω²")}});
  for (const SidePull& p : v.side_pulls)
    sides.push_back(
        {{"member", name_of(p.member)},
         {"on_centre", figure(p.centred, "N", from_stress)},
         {"negative_stiffness", figure(p.negative_stiffness, "N/m", "gap harmonics (theory 14)")}});
  return {{"parts", parts}, {"side_pulls", sides}};
}

Json clearances_json(const Validation& v) {
  Json all = Json::array();
  for (const ClearanceBudget& gap : v.clearances) {
    Json losses = Json::array();
    for (const GapLoss& loss : gap.losses)
      losses.push_back({{"name", loss.name}, {"value", figure(loss.value, "m", loss.origin)}});
    all.push_back({{"name", gap.name},
                   {"drawn", figure(gap.nominal, "m", "geometry of the case")},
                   {"likely", figure(gap.likely(), "m", "independent errors, root of squares")},
                   {"worst_case", figure(gap.worst_case(), "m", "all add up")},
                   {"taken_by", losses}});
  }
  return all;
}

Json motion_json(const Validation& v) {
  if (!v.motion) return nullptr;
  const MotionFigures& m = *v.motion;
  return {{"stiffness", figure(m.stiffness, "N·m/rad", from_spring)},
          {"wind_up", figure(m.wind_up, "rad", from_spring)},
          {"natural_frequency", figure(m.frequency, "Hz", from_spring)},
          {"sudden_load", figure(m.sudden_load, "N·m", from_spring)},
          {"lock_in_speed", figure(m.lock_in_speed, "rad/s", from_spring)}};
}

Json range_json(const TorqueRange& range) {
  return {{"most", figure(range.most, "N·m", from_motion)},
          {"least", figure(range.least, "N·m", from_motion)}};
}

Json slip_json(const Validation& v) {
  if (!v.slip) return nullptr;
  const SlipInTime& s = *v.slip;
  const OverloadMotion& m = s.motion;
  const char* const asked = "overload, as asked or usual";
  const auto rpm = [&](double speed) { return figure(to_rpm(speed), "rpm", from_motion); };
  return {
      {"overload", figure(s.asked.overload, "N·m", asked)},
      {"lasts", figure(m.duration, "s", asked)},
      {"load_is", s.asked.brakes ? "brake" : "weight"},
      {"drive_keeps", std::isinf(s.asked.input_inertia) ? "speed" : "torque"},
      {"damping", figure(s.damping, "1", "of critical; given, or from the losses of sun and ring")},
      {"slips", m.slips},
      {"complete", m.complete},
      {"poles_slipped", m.poles_slipped},
      {"standing_frequency", figure(s.standing_frequency, "Hz", "pole pairs times speed")},
      {"ratchet_frequency", figure(m.ratchet_frequency, "Hz", from_motion)},
      {"mean_torque", figure(m.mean_torque, "N·m", from_motion)},
      {"torque_on_output", range_json(m.on_output)},
      {"torque_on_input", range_json(m.on_input)},
      {"locks_after", figure(m.locks_after, "s", from_motion)},
      {"followed", figure(m.followed, "s", "after the overload")},
      {"pull_in_speed_loaded", rpm(s.pull_in_loaded)},
      {"pull_in_speed_unloaded", rpm(s.pull_in_unloaded)},
      {"pull_in_speed_tried", rpm(s.highest)}};
}

Json slope_json(const std::optional<Slope>& slope, const char* of) {
  if (!slope) return nullptr;
  Json json = figure(slope->part, "1", of);
  json["open"] = slope->open;
  return json;
}

Json effects_json(const Validation& v) {
  Json rows = Json::array();
  for (const InputEffect& e : v.effects) {
    Json row = {{"input", e.input}, {"unit", e.unit}, {"now", e.now}, {"step", e.step}};
    row["slip_torque"] = slope_json(e.torque, "part of it, for a step; central differences");
    row["slip_torque_percent_for_a_percent"] = e.torque_percent ? Json(*e.torque_percent) : Json();
    row["margin"] = slope_json(e.margin, "part of what is wanted, for a step");
    if (!e.why_none.empty()) row["why_none"] = e.why_none;
    rows.push_back(row);
  }
  return {{"margin_of", v.effects_on.empty() ? Json() : Json(v.effects_on)},
          {"why_torque_only", v.why_torque_only.empty() ? Json() : Json(v.why_torque_only)},
          {"inputs", rows}};
}

Json sizes_json(const Validation& v) {
  Json masses = Json::array();
  for (const PartMass& part : v.masses)
    masses.push_back({{"member", name_of(part.member)},
                      {"part", part.part},
                      {"count", part.count},
                      {"each", figure(part.one, "kg", "mesh and density")}});
  return {{"active_mass", figure(v.active_mass, "kg", "magnets and steel")},
          {"outer_diameter", figure(v.outer_diameter, "m", "magnets and steel")},
          {"parts", masses}};
}

Json assumed_json(const Case& c) {
  Json all = Json::array();
  for (const auto* list : {&c.service.assumed, &c.assumed})
    for (const Assumed& a : *list) all.push_back({{"key", a.key}, {"value", a.value}});
  return all;
}

}  // namespace

std::string validation_json(const Validation& validation,
                            const std::vector<std::pair<std::string, std::string>>& files) {
  const Case& c = validation.gear.input;
  Json versions = {{"lodegear", validation.gear.version}};
  for (const auto& [name, version] : library_versions()) versions[name] = version;
  Json cautions = validation.cautions;
  for (const std::string& remark : validation.gear.remarks) cautions.push_back(remark);
  for (const char* always : validation_cautions) cautions.push_back(always);
  Json json = {{"program", "lodegear"},
               {"format", validation_format},
               {"case", {{"name", c.name}, {"notes", c.notes}, {"sha256", sha256(c.source_text)}}},
               {"versions", versions},
               {"verdict", verdict_json(validation)},
               {"slip_torque", bench_json(validation)},
               {"small_changes", effects_json(validation)},
               {"losses", losses_json(validation)},
               {"temperatures", heat_json(validation)},
               {"magnets", magnets_json(validation)},
               {"forces", forces_json(validation)},
               {"clearances", clearances_json(validation)},
               {"motion", motion_json(validation)},
               {"slip", slip_json(validation)},
               {"sizes", sizes_json(validation)},
               {"assumed", assumed_json(c)},
               {"cautions", cautions}};
  json["files"] = Json::object();
  for (const auto& [name, hash] : files) json["files"][name] = {{"sha256", hash}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace lodegear
