// cases/studies/study.h — what a study file asks for: a case, what varies, what is wanted of it.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "materials/toml_file.h"
#include "mesh/gear.h"

namespace lodegear {

// ---- the keys of a study file -------------------------------------------------------------------
//
//   case                   the base case, a path from the folder of the study file. Its [mesh] and
//                          [output] are not used
//   name                   Default: the file's name
//   how                    "list" | "grid" | "sobol" | "latin hypercube" | "random": the way
//                          designs are chosen. "list": the first design takes the first of all
//                          `values`, and so on. "grid": every combination. "optimise": a search for
//                          the best under [best]. "trade-off": a search for the designs that no
//                          other beats in all goals of [best]. Default "sobol"
//   designs                how many, 1 to 1000000; not with "list" and "grid", which tell it; of a
//                          search how many it may ask for, at most 100000
//   seed                   another seed, other designs; 0 to 4294967295. Default 1. "sobol" with
//                          seed 0 is the plain sequence, else it is shifted
//   figures                what is wanted of every design, names of design_figures.h. Default: slip
//                          torques, clearances, mass of magnets
//   level                  how fine the mesh of every design is, 0 to 3.5 (mesh/ladder.h); a level
//                          more leaves a quarter of the error. Default 0.5; or, instead of it,
//   accuracy_percent       every design is refined until slip torque and ripple are that well known
//   designs_per_block      designs that are finished and kept together, 1 to 1000. Default 16
//
// [[vary]]                 one key of the case file
//   key                    dotted, lists counted from 1: "sun.magnets.thickness_mm",
//                          "sleeve[1].inner_radius_mm"; names with dots in quotes:
//                          'materials."N 1.30".remanence_T'
//   values                 a list to choose from; or
//   from, to               evenly between two numbers; or
//   plus_minus             evenly to both sides of the base case's number; or
//   standard_deviation     normally distributed about the base case's number
//   step                   of from and to: only from, from + step …; "grid" needs it
//   about                  of plus_minus and standard_deviation: instead of the base case's number
//   moves_along            a list of keys whose numbers are moved by as much as this one is
//
// [[magnets]]              magnets of one rotor that differ by lot, each from its neighbour
//   member                 "sun" | "ring"
//   strength_deviation_percent    standard deviation of a magnet's strength about 100. Default 0
//   turned_deviation_deg   standard deviation of its direction. Default 0
//   weak_chance_percent    chance that a magnet is weak. Default 0
//   weak_strength_percent  strength of a weak one. Default 80
//   reversed_chance_percent       chance that a magnet sits the wrong way round. Default 0
//
// [best]                   which design is the best; without the table none is
//   maximise, minimise     a figure; one of the two. With "trade-off" two or three figures: a text
//                          or a list of texts behind either word or both
// [[best.limit]]           what a design must keep to be considered
//   figure
//   at_least, at_most

enum class Sampling { list, grid, sobol, latin_hypercube, random, optimise, trade_off };
/// Whether designs are asked for by what came out of others.
inline bool is_search(Sampling how) {
  return how == Sampling::optimise || how == Sampling::trade_off;
}

/// Values between two numbers, or about one.
enum class Spread { listed, uniform, normal };

/// [[vary]]
struct Variation {
  std::string key;
  Spread spread = Spread::listed;
  std::vector<TomlValue> values;  ///< scalars, of `listed`
  double from = 0.0, to = 0.0;    ///< of `uniform`
  bool relative = false;          ///< from, to or the mean stand from the base case's number
  double mean = 0.0;              ///< of `normal`
  double deviation = 0.0;         ///< of `normal`
  std::optional<double> step;
  std::vector<std::string> moves_along;
  std::string where;  ///< "file:line:column" of its table
};

/// [[magnets]]
struct MagnetLot {
  Member member = Member::sun;
  double strength_deviation = 0.0;  ///< part of one
  double turned_deviation = 0.0;    ///< rad
  double weak_chance = 0.0;         ///< 0 to 1
  double weak_strength = 0.8;       ///< part of one
  double reversed_chance = 0.0;     ///< 0 to 1
  std::string where;
};

/// [[best.limit]]
struct Limit {
  std::string figure;
  std::optional<double> at_least, at_most;
};

struct Goal {
  std::string figure;
  bool largest = true;
};

/// [best]
struct Best {
  std::string figure;
  bool largest = true;
  std::vector<Goal> others;  ///< of a trade-off, besides the first
  std::vector<Limit> limits;
};

struct Study {
  std::string name;
  std::filesystem::path base_path;  ///< as written
  Sampling how = Sampling::sobol;
  int designs = 0;
  std::uint32_t seed = 1;
  std::vector<Variation> vary;
  std::vector<MagnetLot> lots;
  std::vector<std::string> figures;  ///< empty: the usual ones
  double level = 0.5;
  std::optional<double> accuracy;  ///< part of one; instead of `level`
  int designs_per_block = 16;
  std::optional<Best> best;
  std::string source_text;
  std::string file;  ///< as it stands in messages
};

}  // namespace lodegear
