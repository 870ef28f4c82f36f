// tools/stop_signal.cpp — remembering SIGINT and SIGTERM.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "stop_signal.h"

#include <unistd.h>
#include <csignal>

#include "exit_codes.h"

namespace lodegear {

namespace {

volatile std::sig_atomic_t asked = 0;

void remember(int) {
  if (asked) _exit(exit_stopped);
  asked = 1;
}

}  // namespace

void watch_stop_signals() {
  struct sigaction action {};
  action.sa_handler = remember;
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

bool stop_asked() { return asked != 0; }

}  // namespace lodegear
