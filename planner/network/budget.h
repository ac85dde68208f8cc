#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/network/adjustment.h"
#include "planner/network/touch_uncertainty.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// Where a part of a touch's uncertainty comes from, in the order of a budget's lines.
enum class Source : std::uint8_t {
  across_beam,   ///< the instrument at this touch, mm
  along_beam,    ///< the instrument at this touch, mm
  alignment,     ///< the instrument and stylus at the alignment, through the pose, mm at the touch
  form,          ///< the part's form at the alignment, through the pose, mm at the touch
  station_pose,  ///< the instrument at the nests, through the station's pose, mm at the touch
  nest_repeatability,  ///< balls put back into nests, through the station's pose, mm each axis
  stylus,              ///< the stylus's own, mm each axis
  part_temperature,    ///< K
  expansion,           ///< coefficient of the part, 1/K
  air_temperature,     ///< K
  air_pressure,        ///< Pa
  humidity,            ///< relative
  bending,             ///< gradient of the air's temperature, K per mm
};

/// How a standard uncertainty was got (JCGM 100:2008, 4.2 and 4.3).
enum class Evaluation : std::uint8_t {
  type_a,  ///< from repeated observations
  type_b,  ///< otherwise: a specification, an estimate
};

struct BudgetLine {
  Source source = Source::across_beam;
  Evaluation evaluation = Evaluation::type_b;
  double standard = 0;             ///< standard uncertainty of the input, in the unit of its source
  double sensitivity = 0;          ///< mm, along the budget's direction, per that unit; >= 0
  double effect = 0;               ///< mm: sensitivity x standard
  double share = 0;                ///< effect^2 / (combined standard uncertainty)^2; they sum to 1
  Mat3 covariance = Mat3::Zero();  ///< mm^2: its part of the touch's covariance
};

/// The uncertainty of one touch along one direction, line by line.
struct Budget {
  Vec3 direction;                  ///< unit, world
  std::vector<BudgetLine> lines;   ///< those with a standard uncertainty above zero, by source
  Mat3 covariance = Mat3::Zero();  ///< mm^2, the sum of the lines'
  double combined = 0;             ///< standard uncertainty along `direction`, mm
  double expanded = 0;             ///< 2 x combined, mm
  Vec3 growth = Vec3::Zero();      ///< shift by thermal growth that the job must correct for, mm
};

/// What the environment does to the network as a whole, worked out once for all its touches.
///
/// Air and gradient are the same for every sight of the job, so they shift observed nests as they
/// shift touches, and the adjustment takes up a part. Growth is about the datum's centre.
struct EnvironmentEffects {
  Environment environment;
  Vec3 growth_centre = Vec3::Zero();
  double bend_per_mm = 0;                ///< |dn/dT|, 1/K: half of it x distance^2 bends a beam
  std::vector<Mat6> instrument_pose;     ///< pose covariance by the instrument's errors
  std::vector<Mat6> repeatability_pose;  ///< pose covariance by nest repeatability
  std::vector<Mat6> alignment_pose;      ///< by the touches of the alignment; empty without one
  std::vector<Mat6> form_pose;           ///< by the part's form at them; empty without one
  std::vector<Vec6> index_pose;          ///< pose shift per unit of refractive index
  std::vector<Eigen::Matrix<double, 6, 3>> gradient_pose;  ///< per K/mm of each axis
};

/// The observation covariance of a nest with the environment's repeatability of seating added.
[[nodiscard]] Mat3 with_repeatability(const Mat3& observation, const Environment& environment);

/// For a network whose observation covariances (not those of datum touches) hold the repeatability
/// (`with_repeatability`). O(stations x observations). Pure.
[[nodiscard]] EnvironmentEffects environment_effects(const Adjustment& adjustment,
                                                     const Environment& environment);

/// For one station without a network: its frame is the datum and its pose is certain. Growth is
/// then about `growth_centre`.
[[nodiscard]] EnvironmentEffects environment_effects_alone(const Environment& environment,
                                                           const Vec3& growth_centre);

/// Whether the environment adds nothing to any touch (its nests' repeatability aside, which the
/// network holds).
[[nodiscard]] bool is_still(const Environment& environment);

/// What the environment adds to the covariance of a touch, mm^2: temperature, expansion, air and
/// gradient. Holds for datum touches too. Pure, O(1).
[[nodiscard]] Mat3 environment_covariance(const EnvironmentEffects& effects, std::uint32_t index,
                                          const Vec3& station, const Reading& reading);

/// The budget of a touch read from station `index` at `station`; along `direction` (unit) where it
/// is given, else along the direction of the greatest uncertainty. With a environment that does
/// nothing, `covariance` is that of contract section 6. JCGM 100:2008, 5.1 (the inputs are
/// independent); formulas in docs/uncertainty.md. Not for a datum touch, whose own error moves the
/// datum too and so cannot be told apart from its station's pose. Pure, O(1).
[[nodiscard]] Budget touch_budget(const EnvironmentEffects& effects, const InstrumentError& error,
                                  std::uint32_t index, const Vec3& station, const Reading& reading,
                                  const std::optional<Vec3>& direction = std::nullopt);

}  // namespace standpoint
