// mesh/last_used.h — the last few results of some work, so that it is not done again.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <cstddef>
#include <list>
#include <utility>

namespace lodegear {

/// Keeps the `most` results that were asked for last, and what they were made from: whole values,
/// compared with ==. For one thread.
template <class Key, class Value>
class LastUsed {
 public:
  explicit LastUsed(std::size_t most) : most_(most) {}

  /// The result kept for `key`, or `make()`, which is then kept. Valid until the next call.
  template <class Make>
  const Value& of(const Key& key, const Make& make) {
    const auto at = std::find_if(entries_.begin(), entries_.end(),
                                 [&key](const auto& entry) { return entry.first == key; });
    if (at != entries_.end()) {
      ++n_found_;
      entries_.splice(entries_.begin(), entries_, at);
    } else {
      entries_.emplace_front(key, make());
      if (entries_.size() > most_) entries_.pop_back();
    }
    return entries_.front().second;
  }

  /// How often a result was there already.
  int n_found() const { return n_found_; }

 private:
  std::size_t most_;
  int n_found_ = 0;
  std::list<std::pair<Key, Value>> entries_;  // the last one first
};

}  // namespace lodegear
