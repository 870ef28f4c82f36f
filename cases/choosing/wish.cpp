// cases/choosing/wish.cpp — wishes that cannot be, told with what would be right.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/choosing/wish.h"

#include <algorithm>

#include "materials/input_error.h"
#include "materials/table_reader.h"
#include "materials/words.h"

namespace lodegear {

namespace {

class Checks {
 public:
  void range(const char* option, double value, const Range& range, const char* unit) {
    if (range.holds(value)) return;
    say(option, "is " + number_text(value) + "; it must be " + range.text() + unit + ".");
  }
  void material(const char* option, MaterialKind kind, const std::string& name,
                const Catalogue& catalogue) {
    if (const auto fault = catalogue.why_not(kind, name)) say(option, *fault);
  }
  void say(const char* option, const std::string& text) {
    complaints_.push_back({{}, option, text});
  }
  void throw_if_wrong() {
    if (!complaints_.empty()) throw InputError(std::move(complaints_));
  }

 private:
  std::vector<Complaint> complaints_;
};

/// Counts of poles end at 200 pairs.
constexpr double greatest_ratio = 200.0;

void check_ratio(const Wish& wish, Checks& checks) {
  const double r = wish.ratio;
  if (r > 0.0 && r < 1.0) {
    checks.say("--ratio", "is " + number_text(r) +
                              "; it counts turns of the faster shaft for one of the slower and is "
                              "1 or more. For a gear that speeds up ask for " +
                              rounded_text(1.0 / r, 4) + " and drive it from the slow side.");
    return;
  }
  checks.range("--ratio", r, Range::between(1.0, greatest_ratio), "");
}

void check_envelope(const Wish& wish, Checks& checks) {
  checks.range("--diameter", wish.diameter_mm, Range::between(5.0, 5000.0), " mm");
  checks.range("--length", wish.length_mm, Range::between(0.5, 5000.0), " mm");
  checks.range("--gap", wish.gap_mm, Range::between(0.05, 50.0), " mm");
  checks.range("--bore", wish.bore_mm, Range::between(0.0, 5000.0), " mm");
  if (wish.bore_mm > 0.8 * wish.diameter_mm && wish.diameter_mm > 0.0)
    checks.say("--bore", "is " + number_text(wish.bore_mm) + " mm in a gear of " +
                             number_text(wish.diameter_mm) +
                             " mm; magnets, pole pieces and steel need at least a tenth of the "
                             "diameter on each side.");
}

}  // namespace

void check_wish(const Wish& wish, const Catalogue& catalogue) {
  Checks checks;
  check_ratio(wish, checks);
  checks.range("--tolerance", 100 * wish.tolerance, Range::between(0.0, 50.0), " per cent");
  check_envelope(wish, checks);
  if (wish.torque) checks.range("--torque", *wish.torque, {1e-6, 1e7}, " N·m");
  checks.range("--speed", wish.speed_rpm, Range::between(0.001, 1e6), " rpm");
  checks.range("--magnet-temperature", wish.magnet_temperature, Range::between(-200.0, 400.0),
               " °C");
  checks.range("--narrowest-piece", wish.narrowest_piece_mm, Range::between(0.1, 100.0), " mm");
  checks.range("--narrowest-magnet", wish.narrowest_magnet_mm, Range::between(0.1, 100.0), " mm");
  checks.material("--grade", MaterialKind::magnet, wish.grade, catalogue);
  checks.material("--sheet", MaterialKind::steel, wish.sheet, catalogue);
  checks.material("--steel", MaterialKind::steel, wish.steel, catalogue);
  if (wish.by == Order::cost && !has_prices(wish))
    checks.say("--by", wish.stock.empty()
                           ? "asks for cost; give prices with --stock FILE."
                           : "asks for cost; every [[block]] of the stock then needs a price.");
  checks.throw_if_wrong();
}

Order order_of(const Wish& wish) {
  if (wish.by) return *wish.by;
  if (has_prices(wish)) return Order::cost;
  return wish.torque ? Order::magnets : Order::torque;
}

bool has_prices(const Wish& wish) {
  return !wish.stock.empty() && std::all_of(wish.stock.begin(), wish.stock.end(),
                                            [](const StockBlock& b) { return b.price; });
}

}  // namespace lodegear
