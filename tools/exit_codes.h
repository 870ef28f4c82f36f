// tools/exit_codes.h — what the program tells its caller in one number.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

enum ExitCode {
  exit_good = 0,
  exit_requirement_fails = 1,  ///< of validate: a requirement is not met
  exit_input = 2,              ///< the command line or a file is wrong; nothing was written
  exit_not_solved = 3,         ///< a position has no solution, or something failed on the way
  exit_cannot_write = 4,
  exit_unsure = 5,     ///< solved, but a figure is not sure, as a peak that was not reached
  exit_stopped = 130,  ///< by Ctrl-C
};

}  // namespace lodegear
