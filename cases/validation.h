// cases/validation.h — everything that decides whether a gear may be built, as plain data.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "cases/case_result.h"
#include "cases/input_effects.h"
#include "solver/motion/drive.h"
#include "solver/motion/overload.h"
#include "solver/post/clearance.h"
#include "solver/post/demagnetisation.h"
#include "solver/post/efficiency.h"
#include "solver/post/end_effect.h"
#include "solver/post/gear_temperature.h"
#include "solver/post/off_centre.h"
#include "solver/post/part_forces.h"

namespace lodegear {

/// A figure and between which limits it is expected.
struct Band {
  double expected = 0.0, low = 0.0, high = 0.0;
};

/// What one part loses at the case's speed and load, W in the whole stack.
struct PartLoss {
  MagneticLoss loss;  ///< part: a node of the temperatures, e.g. "sun magnets"
  std::vector<std::string> cautions;
};

/// Pole pieces as they are beside solid ones of plain steel, W.
struct SolidPoles {
  double as_built = 0.0;
  double solid_bound = 0.0;     ///< eddy currents in the field at rest: an upper bound where thick
  double solid_estimate = 0.0;  ///< with the reaction of a plate: an order of magnitude
  double skin_depth = 0.0;      ///< m
  bool thick = false;
};

/// The gear while it slips: the output stands, the input turns on, from warm.
struct SlippingHeat {
  double loss = 0.0;                  ///< W
  double rotor_loss = 0.0;            ///< W of it in magnets, hub and back iron: brakes the slide
  std::optional<LimitReached> limit;  ///< passed first, and when; none within a day
};

/// The magnets of one rotor, warm, in use and through a slip.
struct MagnetHealth {
  Member member = Member::sun;
  std::string grade;
  double temperature = 20.0;                        ///< °C
  std::optional<Demagnetisation> in_use, slipping;  ///< none: the knee is not known
  std::optional<SafeTemperatures> safe;             ///< of 1 % of the volume, through a slip
  std::optional<double> coercivity_needed;          ///< A/m at 20 °C, for a margin of 10 %
  OpposingField opposing;                           ///< the worst of use and slip, by triangle
};

/// Equal parts of a member over its active length.
struct PartMass {
  Member member = Member::sun;
  std::string part;     ///< as in MeshRegion
  int count = 1;        ///< around the member
  double one = 0.0;     ///< kg, of the heaviest
  double volume = 0.0;  ///< m³ of the same
};

/// What the glue or pocket of the worst magnet must hold, and the worst pole piece, N.
struct PartPull {
  Member member = Member::sun;
  std::string part;
  double mass = 0.0;      ///< kg of one
  double pull_off = 0.0;  ///< away from its seat, turning included; of a pole piece the larger of
                          ///< inward and outward
  double shear = 0.0;     ///< along the circle
  double centrifugal = 0.0;
};

/// Side pulls of one member, N and N/m, over the common stack.
struct SidePull {
  Member member = Member::sun;
  double centred = 0.0;             ///< N, the largest at the load
  double negative_stiffness = 0.0;  ///< N per m off centre
};

/// Torque of a stack of another length, N·m on the output.
struct TorqueOfLength {
  double length = 0.0;  ///< m, of all members
  double torque = 0.0;
  double with_overhang = 0.0;  ///< sun and ring 10 % longer at each end
};
/// How a rotor is drawn along the axis, N, at rest.
struct AxialPull {
  Member member = Member::sun;
  double aside = 0.0;    ///< m that it stands aside
  double pull = 0.0;     ///< N, towards the middle
  double largest = 0.0;  ///< N, while it is put in or drawn out
};

/// The gear as a spring, with the ends' share taken off.
struct MotionFigures {
  double stiffness = 0.0;      ///< N·m/rad at the output, input fast, no load
  double wind_up = 0.0;        ///< rad of the output at the load; 0 if it slips
  double frequency = 0.0;      ///< Hz of the free members against one another
  double sudden_load = 0.0;    ///< N·m on the output that may come on at once from none
  double lock_in_speed = 0.0;  ///< rad/s of the output's slip below which it locks in unloaded
  double input_inertia = 0.0, output_inertia = 0.0;  ///< kg·m² taken
};

/// An overload that comes and goes, torques as expected on the bench.
struct SlipInTime {
  Overload asked;
  OverloadMotion motion;
  double damping = 0.0;             ///< ratio to the critical one; from losses unless it was given
  double standing_frequency = 0.0;  ///< Hz, of poles that pass a standing output
  /// rad/s of the input, kept by the drive, up to which an output at rest locks in: under the load,
  /// and with nothing but its drag. Tried up to `highest`.
  double pull_in_loaded = 0.0, pull_in_unloaded = 0.0, highest = 0.0;
};

enum class Judged { pass, unsure, fail };
inline const char* name_of(Judged j) {
  return j == Judged::pass ? "pass" : j == Judged::unsure ? "unsure" : "FAIL";
}

/// What a requirement is about, and so how a change of the gear reaches it.
enum class Wanted { torque, cogging, losses, magnets, clearance, mass, diameter };

/// One requirement and how the gear meets it.
struct Judgement {
  Wanted kind = Wanted::torque;
  std::string what;    ///< "slip torque on the modulator"
  std::string figure;  ///< "31 N·m, from 27 to 35"
  std::string wanted;  ///< "at least 30 N·m"
  /// Distance to the requirement as a part of it, at the expected figure; negative = missed.
  double margin = 0.0;
  Judged judged = Judged::pass;
  std::string help;  ///< what would help most; empty where nothing is needed
};

struct Validation {
  CaseResult gear;                ///< the plane model, magnets as warm as they become
  std::optional<EndEffect> ends;  ///< none where no estimate fits
  std::vector<TorqueOfLength> lengths;
  std::vector<AxialPull> axial_pulls;
  Drive drive;
  Band slip_torque;              ///< N·m on the output, expected on the bench
  double load = 0.0;             ///< N·m on the output
  std::vector<PartLoss> losses;  ///< at load and speed
  /// W/m³ by member and triangle of the solver's problem, at the speed of the case and this load
  /// angle.
  std::vector<std::vector<double>> loss_density;
  double loss_density_angle = 0.0;
  std::optional<SolidPoles> solid_poles;
  std::optional<OperatingPoint> at_work;
  std::optional<NoLoadDrag> no_load;
  std::optional<SpeedLimit> highest_speed;
  EfficiencyMap map;
  GearTemperatures temperatures;  ///< heating: from cold, the end of the bench test included
  std::optional<GearDuty> duty;   ///< of [[duty]]
  SlippingHeat slipping_heat;
  std::vector<MagnetHealth> magnets;
  double torque_after_slip = 1.0;  ///< slip torque after one slip over that before
  std::vector<PartMass> masses;    ///< of magnets and steel
  std::vector<PartPull> pulls;
  std::vector<SidePull> side_pulls;
  std::vector<ClearanceBudget> clearances;
  std::optional<MotionFigures> motion;
  std::optional<SlipInTime> slip;  ///< none where the load is not carried in step
  double active_mass = 0.0;        ///< kg of magnets and steel
  double outer_diameter = 0.0;     ///< m, of magnets and steel
  std::vector<Judgement> judgements;
  std::vector<InputEffect> effects;  ///< what helps most first
  std::string effects_on;            ///< the requirement whose margin they tell; empty: torque only
  std::string why_torque_only;       ///< where it is one whose change is not computed
  std::vector<std::string> cautions;
};

/// What stands under every validation.
inline constexpr const char* validation_cautions[] = {
    "These are estimates of a model with the assumptions listed; check them by an independent "
    "calculation and by test before anything relies on them. Material data are those of grades, "
    "not "
    "of your delivery: measure your magnets and sheet.",
    "Never for hoisting, for holding a load or a person, as a brake or as a safety device: a "
    "magnetic gear slips, weakens when hot, and can lose a magnet.",
    "Strong magnets crush fingers, shatter (eye protection), and disturb pacemakers and other "
    "implants: fields above 0.5 mT are to be kept from people who wear them. Guard what turns; "
    "start below a tenth of the speed; stand beside a loaded lever arm, not under it.",
    "Local codes and the rules for machines apply; where the law reserves design to licensed "
    "engineers, have one take responsibility."};

/// °C by part at the end of the bench test.
const Eigen::VectorXd& after_bench(const Validation& validation);

/// Slip torque on the output in the plane model, N·m: in the weakest position where that is known.
double plane_torque(const Validation& validation);

/// The worst of the judgements, or the one nearest to failing; none without judgements.
const Judgement* deciding(const Validation& validation);

}  // namespace lodegear
