#include "planner/network/touch_uncertainty.h"

#include <cassert>
#include <variant>

namespace standpoint {

Reading direct_reading(const Vec3& place, double error) {
  Reading reading;
  reading.sights = {Reading::Sight{place, 1}, Reading::Sight{place, 0}};
  reading.count = 1;
  reading.place = place;
  reading.error = error;
  return reading;
}

Reading two_ball_reading(const Vec3& tip, const Vec3& direction,
                         const std::array<double, 2>& distances, double error) {
  const double apart = distances[1] - distances[0];
  assert(apart > 0);
  Reading reading;
  reading.sights = {Reading::Sight{tip + distances[0] * direction, distances[1] / apart},
                    Reading::Sight{tip + distances[1] * direction, -distances[0] / apart}};
  reading.count = 2;
  reading.place = tip;
  reading.error = error;
  return reading;
}

Reading reading_of(const Scene& scene, const Reached& reached, const Vec3& place) {
  if (is_full_target(scene, reached.target)) return direct_reading(place);
  const OffsetStylus& stylus = offset_stylus(scene, reached.target);
  if (const auto* mirror = std::get_if<MirrorStylus>(&stylus))
    return direct_reading(place, mirror->error);
  const auto& rod = std::get<TwoBallStylus>(stylus);
  assert(reached.shank_direction);
  return two_ball_reading(place, *reached.shank_direction, rod.ball_distances, rod.error);
}

Mat3 reading_covariance(const InstrumentError& error, const Vec3& station, const Reading& reading) {
  Mat3 sum = reading.error * reading.error * Mat3::Identity();
  for (std::uint32_t i = 0; i < reading.count; ++i) {
    const Reading::Sight& sight = reading.sights[i];
    sum += sight.weight * sight.weight * observation_covariance(error, station, sight.place);
  }
  return sum;
}

Mat3 touch_covariance(const Mat6& pose_covariance, const Vec3& station, const Reading& reading,
                      const Mat3& own) {
  return carry_pose(pose_covariance, station, reading.place) + own;
}

}  // namespace standpoint
