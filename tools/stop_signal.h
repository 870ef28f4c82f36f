// tools/stop_signal.h — Ctrl-C ends the work at the next position instead of in the middle of it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace lodegear {

/// Thrown at the next convenient moment after Ctrl-C or a request to terminate.
struct Stopped {};

/// From now on such signals are remembered; a second one ends the program at once.
void watch_stop_signals();

/// Whether one came.
bool stop_asked();

}  // namespace lodegear
