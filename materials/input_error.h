// materials/input_error.h — a mistake of the person who wrote a file, told in that person's terms.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <stdexcept>
#include <string>
#include <vector>

namespace lodegear {

/// One thing that is wrong. `key` is the dotted name of the entry ("sun.magnets.width_mm") or
/// empty; the readers put `where` ("file:line:column") in front.
struct Complaint {
  std::string where;
  std::string key;
  std::string text;  ///< what is wrong and what would be right, one sentence or two
};

/// Everything that is wrong with an input, several mistakes at once. Thrown at the door only.
class InputError : public std::runtime_error {
 public:
  explicit InputError(std::vector<Complaint> complaints);
  explicit InputError(const std::string& text) : InputError({Complaint{{}, {}, text}}) {}
  const std::vector<Complaint>& complaints() const { return complaints_; }

 private:
  std::vector<Complaint> complaints_;
};

/// "where: key: text", without the parts that are empty.
std::string to_string(const Complaint& complaint);

}  // namespace lodegear
