// tests/cases/case_texts.h — case files to read, change and break.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/read_case.h"

namespace lodegear {

/// The complete useful case of 20 lines.
inline constexpr const char* short_case = R"([gear]
sun_pole_pairs = 4
pole_pieces = 17
ring_pole_pairs = 13
stack_length_mm = 25
[sun.hub]
material = "M470-50A"
[sun.magnets]
grade = "N42"
inner_radius_mm = 24
outer_radius_mm = 30
[modulator]
material = "M470-50A"
inner_radius_mm = 31
outer_radius_mm = 37
[ring.magnets]
grade = "N42"
inner_radius_mm = 38
outer_radius_mm = 44
pattern = "halbach"
)";

/// Stock blocks on both rotors and a can: the other half of what a file can say.
inline constexpr const char* block_case = R"([gear]
sun_pole_pairs = 4
pole_pieces = 23
ring_pole_pairs = 19
stack_length_mm = 40
[sun.magnets]
shape = "blocks"
grade = "N42"
width_mm = 10
thickness_mm = 5
seat_radius_mm = 45.7
blocks_per_pole = 3
[modulator]
material = "M470-50A"
inner_radius_mm = 54
outer_radius_mm = 61
[ring.magnets]
shape = "blocks"
grade = "N42"
width_mm = 10
thickness_mm = 5
seat_radius_mm = 67.2
[[sleeve]]
gap = "inner"
material = "stainless-316"
inner_radius_mm = 52
outer_radius_mm = 53
)";

/// The lines without their ends.
std::vector<std::string> lines_of_text(const std::string& text);
/// The text with line `number` (from 1) replaced; a number past the end adds the line.
std::string with_line(const std::string& text, std::size_t number, const std::string& replacement);
/// The text with more at its end.
std::string with_more(const std::string& text, const std::string& more);

/// What reading ends in.
struct Outcome {
  std::optional<Case> read;
  std::vector<Complaint> complaints;
  std::string message() const;  ///< one complaint a line
};
Outcome outcome(const std::string& text);
/// The case, which must be right: else the test that asks ends here with the complaints.
Case read(const std::string& text);

/// A whole file of the source tree.
std::string file_text(const std::string& path_in_tree);

}  // namespace lodegear
