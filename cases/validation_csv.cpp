// cases/validation_csv.cpp — the tables of a validation as comma-separated text.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/validation_csv.h"

#include "cases/csv_files.h"
#include "cases/members.h"
#include "cases/units.h"
#include "mesh/member_limits.h"

namespace lodegear {

namespace {

std::string row(const std::vector<std::string>& cells) {
  std::string text;
  for (const std::string& one : cells) text += (text.empty() ? "" : ",") + one;
  return text + "\n";
}

std::string row_of(const std::string& first, const Eigen::VectorXd& values) {
  std::string text = first;
  for (const double value : values) text += "," + cell(value);
  return text + "\n";
}

constexpr const char* corner_columns = "x1_mm,y1_mm,x2_mm,y2_mm,x3_mm,y3_mm";

std::string corner_cells(const MemberMesh& mesh, int triangle) {
  std::string text;
  for (int i = 0; i < 3; ++i)
    for (int k = 0; k < 2; ++k)
      text += (text.empty() ? "" : ",") + cell(to_mm(mesh.nodes(mesh.triangles(triangle, i), k)));
  return text;
}

}  // namespace

std::string efficiency_map_csv(const Validation& validation) {
  std::string text =
      "load_Nm,input_speed_rpm,input_power_W,output_power_W,magnetic_loss_W,friction_loss_W,"
      "efficiency,load_angle_deg,slips\n";
  const EfficiencyMap& map = validation.map;
  for (std::size_t i = 0; i < map.loads.size(); ++i)
    for (std::size_t j = 0; j < map.input_speeds.size(); ++j) {
      const std::string load = cell(map.loads[i]), speed = cell(to_rpm(map.input_speeds[j]));
      if (const auto& p = map.points[i][j])
        text +=
            row({load, speed, cell(p->input_power), cell(p->output_power), cell(p->magnetic_loss),
                 cell(p->friction_loss), cell(p->efficiency), cell(to_deg(p->load_angle)), "0"});
      else
        text += load + "," + speed + ",,,,,,,1\n";
    }
  return text;
}

std::string temperatures_csv(const Validation& validation) {
  const GearTemperatures& t = validation.temperatures;
  std::string text = "time_s";
  for (const std::string& name : t.names) {
    std::string column = name + "_C";
    for (char& c : column)
      if (c == ' ') c = '_';
    text += "," + column;
  }
  text += "\n";
  for (std::size_t i = 0; i < t.heating.times.size(); ++i)
    text += row_of(cell(t.heating.times[i]), t.heating.temperatures[i]);
  return text + row_of("steady", t.steady);
}

std::string magnet_margin_csv(const Validation& validation) {
  std::string text =
      std::string("member,x_mm,y_mm,area_mm2,opposing_kA_per_m,margin,") + corner_columns + "\n";
  const CaseResult& gear = validation.gear;
  for (const MagnetHealth& health : validation.magnets) {
    const MagnetInUse& magnet =
        gear.input.magnets.at(rotor_of(gear.input.gear, health.member).magnet);
    const auto limit = knee(magnet.material, health.temperature);
    for (const FieldMember& member : gear.solver->problem().members) {
      if (member.mesh.member != health.member) continue;
      const OpposingField& field = health.opposing;
      for (std::size_t i = 0; i < field.triangle.size(); ++i) {
        const auto corners = member.mesh.triangles.row(field.triangle[i]);
        const Eigen::RowVector2d centre =
            (member.mesh.nodes.row(corners[0]) + member.mesh.nodes.row(corners[1]) +
             member.mesh.nodes.row(corners[2])) /
            3;
        text += row({name_of(health.member), cell(to_mm(centre[0])), cell(to_mm(centre[1])),
                     cell(1e6 * field.area[i]), cell(1e-3 * field.h[i]),
                     limit ? cell(1 - field.h[i] / limit->h) : std::string(),
                     corner_cells(member.mesh, field.triangle[i])});
      }
    }
  }
  return text;
}

std::string loss_density_csv(const Validation& validation) {
  std::string text = std::string("member,part,loss_W_per_m3,") + corner_columns + "\n";
  const auto& members = validation.gear.solver->problem().members;
  for (std::size_t m = 0; m < validation.loss_density.size(); ++m)
    for (std::size_t t = 0; t < validation.loss_density[m].size(); ++t) {
      const double loss = validation.loss_density[m][t];
      if (!(loss > 0.0)) continue;
      const int triangle = static_cast<int>(t);
      text += row({name_of(members[m].mesh.member), members[m].region(triangle).part, cell(loss),
                   corner_cells(members[m].mesh, triangle)});
    }
  return text;
}

std::string slip_in_time_csv(const Validation& validation) {
  if (!validation.slip) return {};
  constexpr std::size_t most_rows = 5000;
  const std::vector<MotionSample>& samples = validation.slip->motion.samples;
  const std::size_t step = 1 + samples.size() / most_rows;
  const auto in = static_cast<std::size_t>(validation.drive.input);
  const auto out = static_cast<std::size_t>(validation.drive.output);
  std::string text =
      "time_s,input_angle_deg,output_angle_deg,input_speed_rpm,output_speed_rpm,load_angle_deg,"
      "torque_on_input_Nm,torque_on_output_Nm\n";
  for (std::size_t i = 0; i < samples.size(); i += step) {
    const MotionSample& s = samples[i];
    text += row({cell(s.time), cell(to_deg(s.angle[in])), cell(to_deg(s.angle[out])),
                 cell(to_rpm(s.speed[in])), cell(to_rpm(s.speed[out])), cell(to_deg(s.load_angle)),
                 cell(s.torque[in]), cell(s.torque[out])});
  }
  return text;
}

std::string small_changes_csv(const Validation& validation) {
  std::string text =
      "input,unit,now,step,slip_torque_percent,slip_torque_open_percent,"
      "slip_torque_percent_for_a_percent,margin_percent,margin_open_percent\n";
  const auto or_empty = [](const std::optional<double>& x) { return x ? cell(*x) : std::string(); };
  for (const InputEffect& e : validation.effects) {
    std::vector<std::string> cells = {e.input, e.unit, cell(e.now), cell(e.step)};
    for (const auto& slope : {e.torque, e.margin}) {
      cells.push_back(slope ? cell(100 * slope->part) : "");
      cells.push_back(slope ? cell(100 * slope->open) : "");
      if (cells.size() == 6) cells.push_back(or_empty(e.torque_percent));
    }
    text += row(cells);
  }
  return text;
}

std::string stack_length_csv(const Validation& validation) {
  std::string text = "length_mm,slip_torque_Nm,with_overhang_Nm\n";
  for (const TorqueOfLength& t : validation.lengths)
    text += row({cell(to_mm(t.length)), cell(t.torque), cell(t.with_overhang)});
  return text;
}

}  // namespace lodegear
