#include "planner/network/budget.h"

#include <algorithm>
#include <cmath>

#include "planner/network/air.h"
#include "planner/network/propagate.h"

namespace standpoint {
namespace {

using Mat36 = Eigen::Matrix<double, 3, 6>;

Air air_of(const Environment& environment) {
  Air air;
  air.temperature = environment.air_temperature;
  air.pressure = environment.air_pressure;
  air.humidity = environment.humidity;
  air.wavelength_um = environment.wavelength_um;
  return air;
}

/// Shift of an observed place per unit of refractive index taken too small: ranges come out too
/// long by their own length (n is 1 to 3e-4).
Vec3 index_shift(const Vec3& station, const Vec3& place) {
  return place - station;
}

/// Shift of an observed place per K/mm of gradient along each axis: the part of it across a beam of
/// length L bends it through 0.5 L^2 |dn/dT| (first principles: curvature of a ray is the gradient
/// of ln n across it).
Mat3 gradient_shift(const Vec3& station, const Vec3& place, double bend_per_mm) {
  const Vec3 sight = place - station;
  const double square = sight.squaredNorm();
  return 0.5 * bend_per_mm * (square * Mat3::Identity() - sight * sight.transpose());
}

EnvironmentEffects bare_effects(const Environment& environment, const Vec3& growth_centre) {
  EnvironmentEffects effects;
  effects.environment = environment;
  effects.growth_centre = growth_centre;
  effects.bend_per_mm = std::abs(air_sensitivity(air_of(environment)).per_kelvin);
  return effects;
}

/// The nominal place and station of every observation, in the order of `Adjustment::respond`.
struct Line {
  Vec3 station, place;
};
std::vector<Line> lines_of(const NetworkInput& input) {
  std::vector<Line> lines;
  for (const NestObservation& o : input.observations)
    lines.push_back({input.stations[o.station], input.nests[o.nest]});
  for (const DatumTouch& touch : input.datum_touches)
    lines.push_back({input.stations[touch.station], touch.place});
  for (const AlignmentTouch& touch : input.alignment)
    lines.push_back({input.stations[touch.station], touch.place});
  return lines;
}

/// Gathers the lines of one budget.
struct BudgetWriter {
  std::vector<BudgetLine> lines = {};
  Mat3 covariance = Mat3::Zero();

  /// A line of `standard` (> 0 to be written) whose part of the covariance is `part` per unit^2.
  void add(Source source, Evaluation evaluation, double standard, const Mat3& per_unit_squared) {
    if (!(standard > 0)) return;
    BudgetLine line;
    line.source = source;
    line.evaluation = evaluation;
    line.standard = standard;
    line.covariance = standard * standard * per_unit_squared;
    covariance += line.covariance;
    lines.push_back(line);
  }
};

double along(const Mat3& covariance, const Vec3& direction) {
  return std::max(0.0, direction.dot(covariance * direction));
}

void add_instrument(BudgetWriter& writer, const InstrumentError& error, const Vec3& station,
                    const Reading& reading) {
  InstrumentError across = error, along_beam = error;
  across.radial = {};
  along_beam.transverse = {};
  Reading bare = reading;
  bare.error = 0;
  // One sigma stands for the line: that of the sight itself, or for a rod of its nearer ball.
  const double metres = (reading.sights[0].place - station).norm();
  const auto sigma = [&](const ErrorTerm& term) {
    return (term.fixed + term.per_mm * metres) / error.coverage_factor;
  };
  const auto add = [&](Source source, const InstrumentError& part, double standard) {
    if (standard > 0)
      writer.add(source, Evaluation::type_b, standard,
                 reading_covariance(part, station, bare) / (standard * standard));
  };
  add(Source::across_beam, across, sigma(error.transverse));
  add(Source::along_beam, along_beam, sigma(error.radial));
}

void add_pose(BudgetWriter& writer, const EnvironmentEffects& effects, std::uint32_t index,
              const Vec3& station, const Vec3& place) {
  if (effects.instrument_pose.empty()) return;
  // An input is the pose itself, already in mm at the touch: sensitivity 1 in its worst direction.
  const auto add_part = [&](Source source, const std::vector<Mat6>& poses) {
    if (poses.empty()) return;
    const Mat3 pose = carry_pose(poses[index], station, place);
    const double standard = point_uncertainty(pose).expanded / 2;
    if (standard > 0)
      writer.add(source, Evaluation::type_b, standard, pose / (standard * standard));
  };
  add_part(Source::alignment, effects.alignment_pose);
  add_part(Source::form, effects.form_pose);
  add_part(Source::station_pose, effects.instrument_pose);
  const double seating = effects.environment.nest_repeatability;
  if (seating > 0)
    writer.add(Source::nest_repeatability, Evaluation::type_a, seating,
               carry_pose(effects.repeatability_pose[index], station, place) / (seating * seating));
}

void add_environment(BudgetWriter& writer, const EnvironmentEffects& effects, std::uint32_t index,
                     const Vec3& station, const Reading& reading) {
  const Environment& environment = effects.environment;
  const Vec3 arm = reading.place - effects.growth_centre;
  const Mat3 arm_square = arm * arm.transpose();
  const double warm = environment.part_temperature - 20;
  writer.add(Source::part_temperature, Evaluation::type_b, environment.part_temperature_error,
             environment.expansion * environment.expansion * arm_square);
  writer.add(Source::expansion, Evaluation::type_b, environment.expansion_error,
             warm * warm * arm_square);

  Vec3 index_effect = Vec3::Zero();
  Mat3 gradient_effect = Mat3::Zero();
  for (std::uint32_t i = 0; i < reading.count; ++i) {
    const Reading::Sight& sight = reading.sights[i];
    index_effect += sight.weight * index_shift(station, sight.place);
    gradient_effect += sight.weight * gradient_shift(station, sight.place, effects.bend_per_mm);
  }
  if (!effects.index_pose.empty()) {
    const Mat36 carry = rigid_shift(reading.place - station);
    index_effect += carry * effects.index_pose[index];
    gradient_effect += carry * effects.gradient_pose[index];
  }
  const AirSensitivity air = air_sensitivity(air_of(environment));
  const Mat3 index_square = index_effect * index_effect.transpose();
  const auto add_air = [&](Source source, double standard, double slope) {
    writer.add(source, Evaluation::type_b, standard, slope * slope * index_square);
  };
  add_air(Source::air_temperature, environment.air_temperature_error, air.per_kelvin);
  add_air(Source::air_pressure, environment.air_pressure_error, air.per_pascal);
  add_air(Source::humidity, environment.humidity_error, air.per_humidity);
  writer.add(Source::bending, Evaluation::type_b, environment.gradient_error,
             gradient_effect * gradient_effect.transpose());
}

}  // namespace

Mat3 with_repeatability(const Mat3& observation, const Environment& environment) {
  return observation +
         environment.nest_repeatability * environment.nest_repeatability * Mat3::Identity();
}

EnvironmentEffects environment_effects(const Adjustment& adjustment,
                                       const Environment& environment) {
  EnvironmentEffects effects = bare_effects(environment, adjustment.datum_centre());
  const NetworkInput& input = adjustment.input();
  const Mat3 seating = with_repeatability(Mat3::Zero(), environment);
  std::vector<Mat3> instrument, repeatability, alignment, form;
  for (const NestObservation& o : input.observations) {
    instrument.push_back(o.covariance - seating);
    repeatability.push_back(seating);
  }
  for (const DatumTouch& touch : input.datum_touches) {
    instrument.push_back(touch.covariance);
    repeatability.push_back(Mat3::Zero());
  }
  alignment.assign(instrument.size(), Mat3::Zero());
  form = alignment;
  for (const AlignmentTouch& touch : input.alignment) {
    instrument.emplace_back(Mat3::Zero());
    repeatability.emplace_back(Mat3::Zero());
    alignment.push_back(touch.covariance);
    form.emplace_back(input.form * input.form * Mat3::Identity());
  }
  if (!input.alignment.empty()) {
    effects.alignment_pose = adjustment.pose_covariance_from(alignment);
    effects.form_pose = adjustment.pose_covariance_from(form);
  }
  effects.instrument_pose = adjustment.pose_covariance_from(instrument);
  effects.repeatability_pose = adjustment.pose_covariance_from(repeatability);

  const std::vector<Line> lines = lines_of(input);
  const auto respond_to = [&](const auto& shift_of) {
    std::vector<Vec3> shifts;
    shifts.reserve(lines.size());
    for (const Line& line : lines) shifts.push_back(shift_of(line));
    return adjustment.respond(shifts).poses;
  };
  effects.index_pose =
      respond_to([](const Line& line) { return index_shift(line.station, line.place); });
  effects.gradient_pose.resize(input.stations.size());
  for (Eigen::Index axis = 0; axis < 3; ++axis) {
    const std::vector<Vec6> poses = respond_to([&](const Line& line) {
      return Vec3(gradient_shift(line.station, line.place, effects.bend_per_mm).col(axis));
    });
    for (std::size_t station = 0; station < poses.size(); ++station)
      effects.gradient_pose[station].col(axis) = poses[station];
  }
  return effects;
}

EnvironmentEffects environment_effects_alone(const Environment& environment,
                                             const Vec3& growth_centre) {
  return bare_effects(environment, growth_centre);
}

bool is_still(const Environment& environment) {
  const double warm = environment.part_temperature - 20;
  return environment.part_temperature_error * environment.expansion == 0 &&
         environment.expansion_error * warm == 0 && environment.air_temperature_error == 0 &&
         environment.air_pressure_error == 0 && environment.humidity_error == 0 &&
         environment.gradient_error == 0;
}

Mat3 environment_covariance(const EnvironmentEffects& effects, std::uint32_t index,
                            const Vec3& station, const Reading& reading) {
  BudgetWriter writer;
  add_environment(writer, effects, index, station, reading);
  return writer.covariance;
}

Budget touch_budget(const EnvironmentEffects& effects, const InstrumentError& error,
                    std::uint32_t index, const Vec3& station, const Reading& reading,
                    const std::optional<Vec3>& direction) {
  BudgetWriter writer;
  add_instrument(writer, error, station, reading);
  add_pose(writer, effects, index, station, reading.place);
  writer.add(Source::stylus, Evaluation::type_b, reading.error, Mat3::Identity());
  add_environment(writer, effects, index, station, reading);

  Budget budget;
  budget.covariance = writer.covariance;
  budget.direction = direction ? *direction : greatest_direction(budget.covariance);
  budget.combined = std::sqrt(along(budget.covariance, budget.direction));
  budget.expanded = 2 * budget.combined;
  const Environment& environment = effects.environment;
  budget.growth = environment.expansion * (environment.part_temperature - 20) *
                  (reading.place - effects.growth_centre);
  for (BudgetLine& line : writer.lines) {
    line.effect = std::sqrt(along(line.covariance, budget.direction));
    line.sensitivity = line.effect / line.standard;
    if (budget.combined > 0) {
      const double ratio = line.effect / budget.combined;
      line.share = ratio * ratio;
    }
  }
  budget.lines = std::move(writer.lines);
  return budget;
}

}  // namespace standpoint
