// tools/progress.h — how far the work is and how long it will take, on stderr.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <chrono>
#include <string>

namespace lodegear {

/// A bar that is drawn over itself on a terminal, a line every ten seconds in a log, or nothing.
class Progress {
 public:
  enum class Style { bar, lines, none };
  /// What suits stderr.
  static Style style(bool quiet);

  explicit Progress(Style style) : style_(style) {}
  ~Progress() { clear(); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  /// `total` 0: how much there is to do is not known yet. `before`: of those done, how many were
  /// there when the work began; they tell nothing about the time left.
  void show(const std::string& stage, int done, int total, int before = 0);
  /// Takes the bar away.
  void clear();

 private:
  using Clock = std::chrono::steady_clock;
  Style style_;
  Clock::time_point shown_{}, counted_from_{};
  bool drawn_ = false, counting_ = false;
};

/// "slip curve  [#####.....]  12 of 60, about 25 s left".
std::string progress_text(const std::string& stage, int done, int total, double seconds_so_far,
                          bool bar, int before = 0);

/// "8 s", "3 min", "1 h 20 min": never more exact than a guess is.
std::string duration_text(double seconds);

}  // namespace lodegear
