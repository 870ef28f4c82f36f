// cases/choosing/choose_csv.cpp — ranked pole counts as comma-separated text.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <utility>

#include "cases/choosing/choose_text.h"
#include "cases/csv_files.h"
#include "cases/units.h"

namespace lodegear {

namespace {

using Columns = std::vector<std::pair<const char*, std::string>>;

void add_counts(const ChoiceRow& row, const Wish& wish, Columns& all) {
  const PoleCounts& c = row.set.counts;
  all.insert(all.end(),
             {{"sun_pole_pairs", std::to_string(c.sun)},
              {"pole_pieces", std::to_string(c.pole_pieces)},
              {"ring_pole_pairs", std::to_string(c.ring)},
              {"held", name_of(row.set.drive.held)},
              {"input", name_of(row.set.drive.input)},
              {"output", name_of(row.set.drive.output)},
              {"ratio", cell(row.set.drive.input_over_output)},
              {"ratio_off_percent", cell(100 * row.set.off(wish))},
              {"cogging_factor", std::to_string(repeats(c))},
              {"coggings_per_turn_sun", std::to_string(coggings_per_turn(c, Member::sun))},
              {"coggings_per_turn_ring", std::to_string(coggings_per_turn(c, Member::ring))},
              {"pull_balanced", balanced(c) ? "1" : "0"}});
}

void add_figures(const ChoiceRow& row, Columns& all) {
  const DesignFigures& f = row.figures;
  all.insert(all.end(), {{"holds_torque", row.holds_torque ? "1" : "0"},
                         {"torque_bench_Nm", cell(f.torque())},
                         {"torque_plane_Nm", cell(f.plane_torque)},
                         {"ends_leave_percent", cell(100 * f.ends)},
                         {"ends_low_percent", cell(100 * f.ends_low)},
                         {"ends_high_percent", cell(100 * f.ends_high)},
                         {"torque_per_volume_kNm_m3", cell(f.torque() / f.volume / 1000)},
                         {"magnet_mass_kg", cell(f.magnet_mass)},
                         {"active_mass_kg", cell(f.active_mass)},
                         {"torque_per_magnet_mass_Nm_kg", cell(f.torque() / f.magnet_mass)},
                         {"magnet_cost", row.section.cost ? cell(*row.section.cost) : ""},
                         {"cogging_below_percent", cell(100 * f.cogging_below)},
                         {"side_pull_N", cell(balanced(row.set.counts) ? 0.0 : f.side_pull)}});
}

/// Radii between which a rotor's magnets lie, thickness and width.
void add_magnets(const char* const names[4], const RotorDraft& rotor, double width, Columns& all) {
  double inner = 0.0, thickness = 0.0;
  if (const auto* arc = std::get_if<ArcDraft>(&rotor.magnets)) {
    inner = arc->inner_radius_mm;
    thickness = arc->outer_radius_mm - inner;
  } else {
    const auto& block = std::get<BlockDraft>(rotor.magnets);
    inner = block.seat_radius_mm;
    thickness = block.thickness_mm;
  }
  all.insert(all.end(), {{names[0], cell(inner)},
                         {names[1], cell(thickness)},
                         {names[2], cell(width)},
                         {names[3], std::to_string(rotor.axial_rows)}});
}

void add_section(const ChoiceRow& row, Columns& all) {
  static constexpr const char* sun[] = {"sun_magnet_radius_mm", "sun_magnet_thickness_mm",
                                        "sun_magnet_width_mm", "sun_axial_rows"};
  static constexpr const char* ring[] = {"ring_magnet_radius_mm", "ring_magnet_thickness_mm",
                                         "ring_magnet_width_mm", "ring_axial_rows"};
  const Section& s = row.section;
  all.insert(
      all.end(),
      {{"sun_magnets", std::to_string(s.sun_magnets)},
       {"ring_magnets", std::to_string(s.ring_magnets)},
       {"sun_magnets_halbach4", std::to_string(4 * row.set.counts.sun * s.draft.sun.axial_rows)},
       {"ring_magnets_halbach4", std::to_string(4 * row.set.counts.ring * s.draft.ring.axial_rows)},
       {"stack_length_mm", cell(to_mm(row.figures.length))},
       {"piece_width_mm", cell(s.piece_width_mm)},
       {"modulator_inner_radius_mm", cell(s.draft.modulator.inner_radius_mm)},
       {"modulator_outer_radius_mm", cell(s.draft.modulator.outer_radius_mm)}});
  add_magnets(sun, s.draft.sun, s.sun_magnet_width_mm, all);
  add_magnets(ring, s.draft.ring, s.ring_magnet_width_mm, all);
}

void add_frequencies(const ChoiceRow& row, const Wish& wish, Columns& all) {
  const FluxFrequencies f = flux_frequencies(row.set, wish.speed_rpm);
  all.insert(all.end(), {{"frequency_pole_pieces_Hz", cell(f.pole_pieces)},
                         {"frequency_sun_Hz", cell(f.sun)},
                         {"frequency_ring_Hz", cell(f.ring)},
                         {"proportions_tried", row.proportioned ? "1" : "0"}});
}

Columns columns(const Choice& choice, std::size_t i, const Wish& wish) {
  const ChoiceRow& row = choice.rows[i];
  Columns all = {{"row", std::to_string(i + 1)}};
  add_counts(row, wish, all);
  add_figures(row, all);
  add_section(row, all);
  add_frequencies(row, wish, all);
  return all;
}

}  // namespace

std::string choice_csv(const Choice& choice, const Wish& wish) {
  std::string text;
  for (std::size_t i = 0; i < choice.rows.size(); ++i) {
    std::string header, line;
    for (const auto& [name, value] : columns(choice, i, wish)) {
      header += (header.empty() ? "" : ",") + std::string(name);
      line += (line.empty() ? "" : ",") + value;
    }
    if (i == 0) text = header + "\n";
    text += line + "\n";
  }
  return text;
}

}  // namespace lodegear
