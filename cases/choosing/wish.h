// cases/choosing/wish.h — what a gear is wanted for, before its pole counts are known.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "materials/catalogue.h"
#include "mesh/gear.h"

namespace lodegear {

/// A block that can be had; all sides mm. It is magnetised along its thickness.
struct StockBlock {
  std::string name;
  double width_mm = 0.0, length_mm = 0.0, thickness_mm = 0.0;
  std::string grade;
  std::optional<double> price;  ///< of one
  std::optional<int> count;     ///< how many there are; none: enough
};

/// Which way the output turns, seen from the input.
enum class Turning { same, reversed, either };

/// What rows are ordered by, among those that hold the wished torque.
enum class Order { magnets, cost, torque, ratio, cogging };

/// Millimetres, as a person gives them. Names of fields are those of the options in the command.
struct Wish {
  double ratio = 0.0;       ///< turns of the input, the faster shaft, for one of the output
  double tolerance = 0.02;  ///< part of it
  Turning turning = Turning::either;
  std::vector<Member> held;          ///< empty: any
  double diameter_mm = 0.0;          ///< of the whole, at most
  double length_mm = 0.0;            ///< of the stack; with blocks at most
  double bore_mm = 0.0;              ///< through the hub; 0 = solid
  double gap_mm = 1.0;               ///< of both gaps
  std::optional<double> torque;      ///< slip torque wanted on the output, N·m
  double speed_rpm = 1000.0;         ///< of the input
  double magnet_temperature = 20.0;  ///< °C
  std::string grade = "N42";         ///< of arcs
  std::string sheet = "M470-50A";    ///< of the pole pieces
  std::string steel = "S235";        ///< of hub and back iron
  bool balanced = false;             ///< no side pull by symmetry
  double narrowest_piece_mm = 1.5;   ///< of the pole pieces, which are at least twice as high
  double narrowest_magnet_mm = 3.0;  ///< of arcs, whose least thickness is two thirds of it
  std::vector<StockBlock> stock;     ///< empty: arcs to measure
  std::optional<Order> by;           ///< none: see order_of
};

/// Throws InputError; the keys of its complaints are the options, as "--ratio".
void check_wish(const Wish& wish, const Catalogue& catalogue);

/// What the rows are ordered by. If not said: what the magnets cost, where prices are known; else
/// their mass, if a torque is wished for; else torque per volume, the most from the envelope.
Order order_of(const Wish& wish);

/// Whether every block of the stock has a price.
bool has_prices(const Wish& wish);

}  // namespace lodegear
