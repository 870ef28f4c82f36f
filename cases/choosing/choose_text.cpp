// cases/choosing/choose_text.cpp — ranked pole counts for the screen, with reasons.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/choose_text.h"

#include <algorithm>
#include <cmath>

#include "cases/choosing/nothing_fits.h"
#include "cases/figures.h"
#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr int text_width = 100;
constexpr std::size_t described_rows = 3;

std::string mm(double x) { return rounded_text(x, 1); }
std::string plain(double x, int digits = 3) { return significant(x, digits); }

// ---- the table ----------------------------------------------------------------------------------

std::string below_text(double part) {
  return part < 1e-5 ? "< 0.001 %" : "< " + plain(100 * part, 2) + " %";
}

std::string pull_text(const ChoiceRow& row) {
  if (balanced(row.set.counts)) return "none";
  return row.figures.side_pull < 1.0 ? "< 1 N" : plain(row.figures.side_pull, 2) + " N";
}

std::vector<std::string> cells(const ChoiceRow& row, std::size_t number, const Wish& wish) {
  const DesignFigures& f = row.figures;
  const Section& s = row.section;
  std::vector<std::string> all = {
      std::to_string(number + 1) + (row.holds_torque ? "" : " *"),
      counts_text(row.set.counts),
      std::string(name_of(row.set.drive.held)),
      rounded_text(row.set.drive.input_over_output, 3),
      rounded_text(100 * row.set.off(wish), 1) + " %",
      plain(f.torque()),
      plain(f.torque() / f.volume / 1000),
      std::to_string(s.sun_magnets) + "+" + std::to_string(s.ring_magnets),
      plain(f.magnet_mass),
      plain(f.torque() / f.magnet_mass)};
  if (s.cost) {
    all.push_back(plain(*s.cost, 4));
    all.push_back(plain(f.torque() / *s.cost, 3));
  }
  for (const std::string& cell :
       {std::to_string(repeats(row.set.counts)), below_text(f.cogging_below), pull_text(row)})
    all.push_back(cell);
  return all;
}

std::vector<std::vector<std::string>> heads(bool cost) {
  std::vector<std::string> first = {"",     "gear", "held",    "turns", "off",
                                    "slip", "per",  "magnets", "",      "per kg"};
  std::vector<std::string> second = {"",    "",      "",         "to one", "",
                                     "N·m", "litre", "sun+ring", "kg",     "N·m/kg"};
  if (cost) {
    first.insert(first.end(), {"cost", "per cost"});
    second.insert(second.end(), {"", "N·m"});
  }
  first.insert(first.end(), {"cogging", "cogging", "side"});
  second.insert(second.end(), {"factor", "of slip", "pull"});
  return {first, second};
}

// ---- reasons ------------------------------------------------------------------------------------

std::string ordered_by(const Wish& wish) {
  switch (order_of(wish)) {
    case Order::magnets:
      return "torque per kg of magnets";
    case Order::cost:
      return "torque per cost of magnets";
    case Order::torque:
      return "torque per volume";
    case Order::ratio:
      return "nearness of the ratio";
    case Order::cogging:
      return "least cogging";
  }
  return {};
}

std::string torque_reason(const ChoiceRow& row, const Wish& wish) {
  if (row.holds_torque) return {};
  const double misses = 1 - row.figures.torque() / *wish.torque;
  return "misses " + plain(*wish.torque) + " N·m by " + percent_text(misses, 2) +
         "; a stack of about " + plain(to_mm(row.figures.length_for(*wish.torque)), 2) +
         " mm would hold it";
}

bool best_value(const Choice& choice, std::size_t i, const Wish& wish) {
  return std::none_of(choice.rows.begin(), choice.rows.end(), [&](const ChoiceRow& other) {
    return other.holds_torque && value_of(other, wish) > value_of(choice.rows[i], wish);
  });
}

std::string value_reason(const Choice& choice, std::size_t i, const Wish& wish) {
  const ChoiceRow &row = choice.rows[i], &first = choice.rows.front();
  const Order by = order_of(wish);
  if (!row.holds_torque || by == Order::ratio || by == Order::cogging) return {};
  if (best_value(choice, i, wish)) return "most " + ordered_by(wish);
  if (i == 0) return "nearly the most " + ordered_by(wish) + ", for less trouble";
  const double less = 1 - value_of(row, wish) / value_of(first, wish);
  if (std::abs(less) < 0.005) return "as much " + ordered_by(wish) + " as row 1";
  return percent_text(std::abs(less), 2) + (less >= 0 ? " less " : " more ") + ordered_by(wish) +
         " than row 1";
}

/// Why a row with more torque for its magnets may stand behind.
std::string discount_reason(const ChoiceRow& row, const Wish& wish) {
  if (order_of(wish) == Order::ratio || order_of(wish) == Order::cogging) return {};
  const Discount d = discount(row);
  std::vector<std::string> parts;
  const auto add = [&](double part, const std::string& what) {
    if (part >= 0.01) parts.push_back(percent_text(part, 2) + " for " + what);
  };
  add(d.side_pull, "its side pull");
  add(d.cogging, "its cogging");
  add(d.magnets,
      std::to_string(row.section.sun_magnets + row.section.ring_magnets) + " magnets to set");
  return parts.empty() ? std::string() : "counted less by " + listed(parts, " and ");
}

std::string cogging_reason(const ChoiceRow& row) {
  const double part = row.figures.cogging_below;
  if (part > strong_cogging)
    return "may cog strongly, by up to " + percent_text(part, 2) +
           " of slip torque, and therefore stands behind";
  if (part > noticeable_cogging) return "may cog noticeably, by up to " + percent_text(part, 2);
  return "hardly cogs";
}

std::string pull_reason(const ChoiceRow& row) {
  if (balanced(row.set.counts)) return "no side pull, by symmetry";
  if (!pulls_sideways(row))
    return "hardly any side pull, less than its weight, though symmetry would allow one";
  return "its members pull sideways with " + plain(row.figures.side_pull, 2) +
         " N or so, for the bearings to carry";
}

std::vector<std::string> building_reasons(const ChoiceRow& row) {
  std::vector<std::string> all;
  const Section& s = row.section;
  const double narrow = std::min(s.sun_magnet_width_mm, s.ring_magnet_width_mm);
  if (narrow < 4.0) all.push_back("its magnets are narrow, " + mm(narrow) + " mm");
  if (s.piece_width_mm < 3.0)
    all.push_back("its pole pieces are narrow, " + mm(s.piece_width_mm) + " mm");
  if (row.set.counts.sun == 1)
    all.push_back("a sun of two poles sends all its flux through the hub");
  if (row.figures.ends < 0.75)
    all.push_back("the ends leave only " + percent_text(row.figures.ends, 2) +
                  ", the stack is short for such long poles");
  return all;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
  return text;
}

// ---- what builds it -----------------------------------------------------------------------------

std::string magnets_text(const std::variant<ArcDraft, BlockDraft>& magnets, double width,
                         const std::string& block) {
  if (const auto* arc = std::get_if<ArcDraft>(&magnets))
    return "arcs of " + mm(arc->outer_radius_mm - arc->inner_radius_mm) + " mm, " + mm(width) +
           " mm wide inside";
  const auto& b = std::get<BlockDraft>(magnets);
  return std::to_string(b.blocks_per_pole) + " × " + block + " a pole, " + mm(b.width_mm) +
         " mm along the circle";
}

std::string described(const Choice& choice, const Wish& wish, std::size_t n) {
  std::string text;
  for (std::size_t i = 0; i < n; ++i)
    text +=
        wrapped(how_built(choice.rows[i], wish), "  " + std::to_string(i + 1) + "  ", text_width);
  return text;
}

std::string footer(const Choice& choice, const Wish& wish) {
  std::string text =
      "Slip: expected on the bench on the output, i.e. the plane model times what the ends of the "
      "stack leave, magnets at " +
      number_text(wish.magnet_temperature) + " °C; computed on a quick mesh, within " +
      percent_text(design_error, 1) +
      " of a fine one (mostly too low), to which come the estimate of the ends and the materials. "
      "Cogging factor: 2p·n/LCM(2p, n), of both rotors (common practice, no source); least is 1, "
      "but "
      "only 2 or more is without side pull. Beside it an upper bound. Choose a load of 0.6 of the "
      "slip torque or less; let 'lodegear validate' judge before anything is built.";
  if (std::any_of(choice.rows.begin(), choice.rows.end(),
                  [](const auto& r) { return !r.holds_torque; }))
    text += " *: does not hold the wished torque.";
  return wrapped(text, "", text_width);
}

std::string wish_text(const Choice& choice, const Wish& wish) {
  const std::size_t n = choice.rows.size() + choice.left_out.size();
  std::string text = rounded_text(wish.ratio, 4) + " to one within " +
                     rounded_text(100 * wish.tolerance, 3) + " % in " + mm(wish.diameter_mm) +
                     " mm × " + mm(wish.length_mm) + " mm";
  if (wish.torque) text += ", " + plain(*wish.torque) + " N·m on the output";
  text += ": " + std::to_string(n) + " pole counts, " + std::to_string(choice.rows.size()) +
          " of them buildable, " + std::to_string(choice.computed) +
          " cross-sections computed. Ordered by " + ordered_by(wish) + ".";
  return wrapped(text, "", text_width);
}

}  // namespace

std::string reasons(const Choice& choice, std::size_t i, const Wish& wish) {
  const ChoiceRow& row = choice.rows[i];
  std::vector<std::string> all;
  for (const std::string& reason : {torque_reason(row, wish), value_reason(choice, i, wish),
                                    pull_reason(row), cogging_reason(row)})
    if (!reason.empty()) all.push_back(reason);
  for (const std::string& reason : building_reasons(row)) all.push_back(reason);
  if (const std::string less = discount_reason(row, wish); !less.empty()) all.push_back(less);
  if (!row.proportioned) all.push_back("looked at with one cross-section only");
  return joined(all) + ".";
}

std::string how_built(const ChoiceRow& row, const Wish& wish) {
  const Section& s = row.section;
  const PoleCounts& counts = row.set.counts;
  const FluxFrequencies f = flux_frequencies(row.set, wish.speed_rpm);
  const double height = s.draft.modulator.outer_radius_mm - s.draft.modulator.inner_radius_mm;
  const int sun_rows = s.draft.sun.axial_rows, ring_rows = s.draft.ring.axial_rows;
  return std::string("The output is the ") + name_of(row.set.drive.output) + ". Pole pieces " +
         mm(s.piece_width_mm) + " × " + mm(height) + " mm; sun " +
         magnets_text(s.draft.sun.magnets, s.sun_magnet_width_mm, s.sun_block) + "; ring " +
         magnets_text(s.draft.ring.magnets, s.ring_magnet_width_mm, s.ring_block) +
         ". Poles in turn take " + std::to_string(s.sun_magnets) + " + " +
         std::to_string(s.ring_magnets) + " magnets; Halbach of four a pole pair would take " +
         std::to_string(4 * counts.sun * sun_rows) + " + " +
         std::to_string(4 * counts.ring * ring_rows) + ". At " + number_text(wish.speed_rpm) +
         " rpm of the " + name_of(row.set.drive.input) + " flux changes with " +
         plain(f.pole_pieces) + " Hz in the pole pieces, " + plain(f.sun) + " Hz in the sun, " +
         plain(f.ring) + " Hz in the ring. Cogs " +
         std::to_string(coggings_per_turn(counts, Member::sun)) + " times a turn of the sun, " +
         std::to_string(coggings_per_turn(counts, Member::ring)) + " of the ring.";
}

std::string standing(const Choice& choice, const PoleCounts& counts, const Wish& wish) {
  std::string text;
  for (const PoleSet& set : all_drives_of(counts)) {
    const auto same = [&](const auto& other) {
      return other.set.counts.sun == counts.sun && other.set.counts.ring == counts.ring &&
             other.set.drive.held == set.drive.held;
    };
    const auto row = std::find_if(choice.rows.begin(), choice.rows.end(), same);
    const auto out = std::find_if(choice.left_out.begin(), choice.left_out.end(), same);
    const std::string verdict =
        row != choice.rows.end()
            ? "row " + std::to_string(row - choice.rows.begin() + 1)
            : "left out: " + (out != choice.left_out.end() ? out->why : why_not(set, wish));
    text += wrapped(
        verdict + ".",
        "  " + counts_text(counts) + ", " + name_of(set.drive.held) + " held: ", text_width);
  }
  return text;
}

std::string choice_text(const Choice& choice, const Wish& wish, std::size_t n_rows) {
  const std::size_t n = std::min(n_rows, choice.rows.size());
  std::vector<std::vector<std::string>> table;
  if (n > 0) table = heads(choice.rows.front().section.cost.has_value());
  for (std::size_t i = 0; i < n; ++i) table.push_back(cells(choice.rows[i], i, wish));
  std::string text = wish_text(choice, wish) + "\n" + text_table(table, 2, true) + "\nWhy\n";
  for (std::size_t i = 0; i < n; ++i)
    text += wrapped(reasons(choice, i, wish), "  " + std::to_string(i + 1) + "  ", text_width);
  text += "\nHow the first are built\n" + described(choice, wish, std::min(n, described_rows));
  return text + "\n" + footer(choice, wish);
}

}  // namespace lodegear
