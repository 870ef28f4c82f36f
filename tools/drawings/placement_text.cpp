// tools/drawings/placement_text.cpp — marking magnets, setting them in order, finding a wrong one.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <map>

#include "cases/text_table.h"
#include "cases/units.h"
#include "materials/words.h"
#include "tools/drawings/placement.h"

namespace lodegear {

namespace {

constexpr int line_width = 92;

using Magnets = std::vector<PlacedMagnet>;

std::string paragraph(const std::string& text) { return wrapped(text, "- ", line_width); }

const char* marking =
    "Mark every magnet before any is set. Hang one magnet on a thread away from steel: the face "
    "that turns to geographic north is its north; a compass needle's north end is drawn to its "
    "south. "
    "Mark it with a letter N, not with a colour alone: it is the reference. The "
    "north of the reference pushes every other north away. Mark the N on the face that stays "
    "visible in the pocket, or with an arrow on the end face.";

std::string why_in_this_order(const Magnets& magnets) {
  const bool halbach = std::any_of(magnets.begin(), magnets.end(), [](const PlacedMagnet& m) {
    return std::abs(std::sin(m.direction)) >= std::sin(from_deg(10.0));
  });
  std::string text =
      "Set the magnets in the order of the table, not one beside the other: each comes as far as "
      "can be from those that are set, so it is not drawn out of the hand by a neighbour, and the "
      "rotor stays in balance on the bench. The last ones go between neighbours: push each in "
      "along "
      "the axis, in a guide, with a wedge of plastic or brass, and clamp it until the glue is "
      "hard.";
  if (halbach)
    text +=
        " Those that point along the radius come first. Those between them are pushed out of their "
        "places and want to turn over: set them when the glue of the first is hard, each under a "
        "clamp that stays on until its own is.";
  return text;
}

std::string order_table(const Magnets& magnets) {
  Magnets sorted = magnets;
  std::erase_if(sorted, [](const PlacedMagnet& m) { return m.order == 0; });
  std::sort(sorted.begin(), sorted.end(),
            [](const auto& a, const auto& b) { return a.order < b.order; });
  std::vector<std::vector<std::string>> rows = {
      {"turn", "magnet", "at", "north face", "marked magnet in the gap feels", "done"}};
  for (const PlacedMagnet& m : sorted)
    rows.push_back({std::to_string(m.order), std::to_string(m.number()),
                    rounded_text(to_deg(m.angle), 2) + "°", north_face(m.direction), felt_in_gap(m),
                    "[ ]"});
  return text_table(rows, 2, false);
}

/// "3 push, 3 pull, …" as one walks around, from magnet 1.
std::string walk(const Magnets& magnets) {
  std::string text;
  for (std::size_t i = 0; i < magnets.size();) {
    std::size_t n = i;
    while (n < magnets.size() && felt_in_gap(magnets[n]) == felt_in_gap(magnets[i])) ++n;
    text += (i > 0 ? ", " : "") + std::to_string(n - i) + " " + felt_in_gap(magnets[i]);
    i = n;
  }
  return text;
}

std::string counts(const Magnets& magnets) {
  std::map<std::string, int> by_face;
  for (const PlacedMagnet& m : magnets)
    if (m.strength > 0.0) ++by_face[north_face(m.direction)];
  std::vector<std::string> words;
  for (const auto& [face, n] : by_face) words.push_back(std::to_string(n) + " × " + face);
  return listed(words, " and ");
}

std::string checks(const Magnets& magnets) {
  std::string text;
  text += paragraph("Count before the glue: north faces " + counts(magnets) + ".");
  text += paragraph(
      "Walk around the finished rotor from magnet 1 counter-clockwise with the reference magnet in "
      "a non-magnetic holder, its N towards the rotor, from the gap side at a distance of about a "
      "magnet's thickness. It must feel: " +
      walk(magnets) + ". A sequence that is broken names the wrong magnet.");
  text += paragraph(
      "A magnet that holds to its seat more weakly than its neighbours, or stands up in its "
      "pocket, "
      "is suspect: one that was turned over may hold to steel just as well, so trust the reference "
      "magnet and not the hold.");
  text += paragraph(
      "Look at the rotor from the end that the chart shows: seen from the other end, clockwise and "
      "counter-clockwise change places, and a Halbach ring set that way puts its field on the "
      "wrong "
      "side.");
  for (const PlacedMagnet& m : magnets)
    if (m.strength != 1.0)
      text += paragraph("Magnet " + std::to_string(m.number()) + " is given as " +
                        (m.strength == 0.0 ? "missing: nothing goes there."
                                           : rounded_text(100 * m.strength, 1) +
                                                 " % of the strength of the others."));
  return text;
}

std::string rotor_text(const MagnetRotor& rotor, Member member) {
  const Magnets magnets = placement(rotor, member);
  std::string text =
      "\n" + std::string(name_of(member)) + ": " + std::to_string(magnets.size()) + " places";
  if (rotor.axial_rows > 1)
    text +=
        ", " + std::to_string(rotor.axial_rows) +
        " magnets in a row along the axis at each, all alike: they push one another apart along "
        "the axis and need a stop at the end";
  text += ". Magnet 1 lies on " +
          (magnets.front().angle == 0.0
               ? std::string("+x")
               : "the angle " + rounded_text(to_deg(magnets.front().angle), 3) + "°") +
          " of the rotor, the others follow counter-clockwise.\n";
  if (magnets.front().law == Magnetisation::Law::turning)
    return text + paragraph(
                      "One ring, magnetised as a whole by its maker: mark the pole centres "
                      "with the reference magnet. North: " +
                      counts(magnets) + ".");
  if (magnets.front().law == Magnetisation::Law::radial)
    text += paragraph("The arcs are magnetised along the radius everywhere, inner to outer face.");
  return text + "\nOrder\n" + paragraph(why_in_this_order(magnets)) + order_table(magnets) +
         "\nFinding a wrong one\n" + checks(magnets);
}

}  // namespace

std::string placement_text(const Gear& gear, const std::string& case_name) {
  std::string text =
      "Placing the magnets: " + case_name + "\n\n" +
      paragraph(
          "Seen with the axis towards the eye, counter-clockwise counts up. The charts show "
          "each magnet with an arrow from south to north and hatching at its north end.") +
      paragraph(
          "Strong magnets jump together from a distance, crush fingers and shatter: goggles, "
          "gloves, one magnet out of the box at a time, no loose steel on the bench. Nobody with a "
          "pacemaker or another implant in the room.") +
      "\nMarking\n" + paragraph(marking);
  if (gear.sun) text += rotor_text(*gear.sun, Member::sun);
  if (gear.ring) text += rotor_text(*gear.ring, Member::ring);
  return text;
}

}  // namespace lodegear
