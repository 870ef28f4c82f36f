// tools/progress.cpp — how far the work is and how long it will take, on stderr.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "progress.h"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace lodegear {

namespace {

constexpr int bar_width = 24;
constexpr std::chrono::milliseconds between_bars(100);
constexpr std::chrono::seconds between_lines(10);

}  // namespace

std::string duration_text(double seconds) {
  const long s = std::lround(std::max(seconds, 1.0));
  if (s < 90) return std::to_string(s) + " s";
  const long minutes = std::lround(seconds / 60.0);
  if (minutes < 90) return std::to_string(minutes) + " min";
  return std::to_string(minutes / 60) + " h " + std::to_string(minutes % 60) + " min";
}

std::string progress_text(const std::string& stage, int done, int total, double seconds_so_far,
                          bool bar, int before) {
  if (total <= 0) return stage + " …";
  std::string text = stage;
  if (bar) {
    const auto full = static_cast<std::size_t>(bar_width * std::min(done, total) / total);
    text += "  [" + std::string(full, '#') + std::string(bar_width - full, '.') + "]";
  }
  text += "  " + std::to_string(done) + " of " + std::to_string(total);
  if (done > before && done < total)
    text += ", about " + duration_text(seconds_so_far * (total - done) / (done - before)) + " left";
  return text;
}

Progress::Style Progress::style(bool quiet) {
  if (quiet) return Style::none;
  return isatty(STDERR_FILENO) ? Style::bar : Style::lines;
}

void Progress::show(const std::string& stage, int done, int total, int before) {
  if (style_ == Style::none) return;
  const Clock::time_point now = Clock::now();
  if (!counting_ && total > 0) {
    counting_ = true;
    counted_from_ = now;
    if (style_ == Style::lines) shown_ = now;  // short work leaves no line in a log
  }
  const bool due = now - shown_ >= (style_ == Style::bar ? Clock::duration(between_bars)
                                                         : Clock::duration(between_lines));
  if (!due || (style_ == Style::lines && total <= 0)) return;
  shown_ = now;
  const double seconds =
      counting_ ? std::chrono::duration<double>(now - counted_from_).count() : 0.0;
  const std::string text = progress_text(stage, done, total, seconds, style_ == Style::bar, before);
  if (style_ == Style::bar)
    std::fprintf(stderr, "\r\033[K%s", text.c_str());
  else
    std::fprintf(stderr, "%s\n", text.c_str());
  std::fflush(stderr);
  drawn_ = style_ == Style::bar;
}

void Progress::clear() {
  if (!drawn_) return;
  std::fputs("\r\033[K", stderr);
  std::fflush(stderr);
  drawn_ = false;
}

}  // namespace lodegear
