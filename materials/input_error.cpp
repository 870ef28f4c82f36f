// materials/input_error.cpp — joining complaints to one message.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/input_error.h"

namespace lodegear {

std::string to_string(const Complaint& complaint) {
  std::string line;
  if (!complaint.where.empty()) line += complaint.where + ": ";
  if (!complaint.key.empty()) line += complaint.key + ": ";
  return line + complaint.text;
}

static std::string joined(const std::vector<Complaint>& complaints) {
  std::string text;
  for (const Complaint& complaint : complaints) {
    if (!text.empty()) text += '\n';
    text += to_string(complaint);
  }
  return text;
}

InputError::InputError(std::vector<Complaint> complaints)
    : std::runtime_error(joined(complaints)), complaints_(std::move(complaints)) {}

}  // namespace lodegear
