// mesh/gear.h — a magnetic gear as plain data: pole counts, radii, shapes, magnet patterns.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace lodegear {

// Lengths in m, angles in rad, counter-clockwise from +x, z out of the page. Every member is drawn
// in its own frame: at member angle zero the centre of a pole with outward remanence (sun, ring) or
// the centre of a pole piece (modulator) lies on +x.

enum class Member { sun, modulator, ring };
inline constexpr const char* name_of(Member m) {
  return m == Member::sun ? "sun" : m == Member::modulator ? "modulator" : "ring";
}

// ---- magnet patterns: which way each magnet points ----------------------------------------------

/// North and south poles in turn, remanence along the true radius at every point.
struct AlternatingRadial {};

/// North and south poles in turn, remanence uniform in each magnet, along its own centre line.
struct AlternatingParallel {};

/// Where the centre of a pole falls: on the middle of a segment or on the joint of two. The mean
/// torque is the same, the ripple is not.
enum class PoleCentre { on_segment, on_joint };
/// The side of the magnet band on which the field is the stronger.
enum class FluxSide { outward, inward };

/// Uniformly magnetised segments, direction stepping by 360°/m relative to the local radial.
/// Segment j with centre t_j = 2π(j + s)/(m p), s = 0 on a segment, ½ on a joint, points along
/// (1−p) t_j for flux stronger outward and (1+p) t_j for flux stronger inward (absolute angle).
/// Source: Halbach, Nucl. Instrum. Methods 169 (1980) 1.
struct SteppedHalbach {
  int segments_per_pole_pair = 4;  ///< m; 2 is the alternating parallel pattern
  FluxSide stronger = FluxSide::outward;
  PoleCentre pole_centre = PoleCentre::on_segment;
};

/// The limit of many segments: direction (1∓p) t at every point of an unbroken ring.
struct ContinuousHalbach {
  FluxSide stronger = FluxSide::outward;
};

/// Directions given one by one, relative to the local radial at the magnet's centre, repeated every
/// directions.size() magnets.
struct DirectionList {
  std::vector<double> directions;  // rad
  int magnets_per_pole_pair = 2;
};

using MagnetPattern = std::variant<AlternatingRadial, AlternatingParallel, SteppedHalbach,
                                   ContinuousHalbach, DirectionList>;

// ---- magnet shapes ------------------------------------------------------------------------------

/// Annular sectors that fill `coverage` of their pitch (1 = touching neighbours).
struct ArcMagnets {
  double coverage = 1.0;
};

/// The axis of a stock block along which it was magnetised.
enum class BlockAxis { thickness, width };

/// Rectangular stock blocks. In the drawing frame of a block its thickness is radial and its width
/// tangential when its body angle is zero. The remanence lies along `axis` of the body: a block
/// that must point elsewhere is turned bodily in its pocket (`turned_to_pattern`), or it is a
/// special order. Blocks of one pole stand `blocks_per_pole` side by side, each tangential at its
/// own angle.
struct BlockMagnets {
  double width = 0.0;
  double thickness = 0.0;
  double centre_radius = 0.0;  ///< of the block's centre
  double clearance = 0.0;      ///< for glue and plating, on every side of the block
  double block_pitch = 0.0;    ///< rad between blocks of one pole; 0 = evenly spread
  int blocks_per_pole = 1;     ///< alternating patterns only
  BlockAxis axis = BlockAxis::thickness;
  bool turned_to_pattern = false;  ///< each block's body follows its direction of magnetisation
};

/// Magnets buried between steel wedges, magnetised tangentially, in turn; the wedges are the poles.
struct SpokeMagnets {
  double width = 0.0;       ///< tangential thickness of a magnet; its length is the band's
  std::string wedge_steel;  ///< material of the wedges
};

using MagnetShape = std::variant<ArcMagnets, BlockMagnets, SpokeMagnets>;

/// A magnet that is not as the pattern says; counted from 0 at the magnet on (or next after) +x.
struct OddMagnet {
  int index = 0;
  bool missing = false;
  double strength = 1.0;  ///< of its remanence; −1 = reversed
  double turned = 0.0;    ///< rad, counter-clockwise, added to its direction
};

/// A steel cylinder: hub of the sun (inner_radius 0 = solid) or back iron of the ring.
struct Iron {
  double inner_radius = 0.0;
  double outer_radius = 0.0;
  std::string material;
};

/// Sun or ring.
struct MagnetRotor {
  int pole_pairs = 0;
  double inner_radius = 0.0;  ///< of the magnet band
  double outer_radius = 0.0;
  MagnetShape shape = ArcMagnets{};
  MagnetPattern pattern = AlternatingRadial{};
  std::string magnet;  ///< material
  std::optional<Iron> iron;
  std::vector<OddMagnet> odd_magnets;
  double initial_angle = 0.0;
  double active_length = 0.0;  ///< along the axis
  double axial_offset = 0.0;   ///< of the middle of the stack
  int axial_rows = 1;          ///< magnets in a row along the axis
};

// ---- pole pieces --------------------------------------------------------------------------------

/// A hole for a tie rod, on the centre line of the pole piece.
struct RodHole {
  double diameter = 0.0;
  double centre_radius = 0.0;
};

/// An annular sector whose sides are straight lines between the two spans.
struct SectorPole {
  double span_inner = 0.0;  ///< rad, at the inner radius, corners not rounded
  double span_outer = 0.0;
  double corner_inner = 0.0;  ///< radius of the two inner corners, 0 = sharp
  double corner_outer = 0.0;
  std::optional<RodHole> hole;
};

/// A round bar.
struct RoundBar {
  double diameter = 0.0;
  double centre_radius = 0.0;
};

using PoleShape = std::variant<SectorPole, RoundBar>;

/// Which way the sheets of a pole piece lie on one another. Along the axis all flux of the
/// cross-section stays in the sheets, as the field supposes.
enum class SheetsStacked { along_axis, tangentially, radially };

enum class BridgePlace { inner, middle, outer };

/// A thin ring of the pole pieces' own steel that holds them together.
struct Bridge {
  BridgePlace place = BridgePlace::inner;
  double thickness = 0.0;
};

struct Modulator {
  int pole_pieces = 0;
  double inner_radius = 0.0;
  double outer_radius = 0.0;
  PoleShape shape = SectorPole{};
  std::optional<Bridge> bridge;
  std::string material;
  double stacking_factor = 1.0;
  double initial_angle = 0.0;
  double active_length = 0.0;
  double axial_offset = 0.0;
};

// ---- sleeves and the whole ----------------------------------------------------------------------

enum class Gap { inner, outer };
enum class TurnsWith { sun, modulator, ring, housing };

/// A sleeve, can or printed wall in a gap; magnetically linear.
struct Sleeve {
  Gap gap = Gap::inner;
  double inner_radius = 0.0;
  double outer_radius = 0.0;
  std::string material;
  TurnsWith turns_with = TurnsWith::housing;
  bool operator==(const Sleeve&) const = default;
};

/// One to three members. A gear p_s/n/p_r has all three with n = p_s + p_r; a coupling has sun and
/// ring only; one alone stands in air.
struct Gear {
  std::optional<MagnetRotor> sun;
  std::optional<Modulator> modulator;
  std::optional<MagnetRotor> ring;
  std::vector<Sleeve> sleeves;
};

/// Name of the material that is cut out of the mesh: iron of infinite permeability, on whose
/// surface the field stands normal (natural boundary of the vector potential).
inline constexpr const char* ideal_iron_name = "ideal iron";
/// Name of everything non-magnetic that needs no data.
inline constexpr const char* air_name = "air";

}  // namespace lodegear
