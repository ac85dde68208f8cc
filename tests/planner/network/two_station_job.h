#pragma once

#include <string>

#include "planner/reach/sight.h"

namespace standpoint {

/// Two stations, four nests off one plane, two points; nothing in the way.
struct Job {
  Scene scene;
  Plan plan;

  explicit Job(const Environment& environment) {
    scene.instrument.beam_diameter = 6;
    scene.instrument.range = {400, 40000};
    scene.instrument.elevation_rad = {-1.5, 1.5};
    scene.instrument.error = {2, {0.014, 0.0075e-3}, {0.012, 0.0009e-3}};
    scene.full_targets = {{"ball", 19.05, 1.2, 0.7}};
    for (const Vec3& at : {Vec3(-3000, -2000, 200), Vec3(3000, -2000, 900), Vec3(0, 2500, 400),
                           Vec3(500, 0, 2500)}) {
      scene.nests.push_back({"N" + std::to_string(scene.nests.size()), at, Vec3::UnitZ(), 0.5});
    }
    for (const Vec3& at : {Vec3(0, 0, 1000), Vec3(800, 500, 1200)}) {
      Feature feature;
      feature.name = "p" + std::to_string(scene.features.size());
      feature.shape = PointFeature{at, Vec3::UnitZ()};
      scene.features.push_back(feature);
    }
    scene.environment = environment;
    const Cell cell(scene, {});
    for (const Vec3& at : {Vec3(-4000, -4000, 1500), Vec3(4000, -3500, 1800)}) {
      PlannedStation& station = plan.stations.emplace_back();
      station.at = at;
      station.sight = look_from(cell, at);
    }
    for (std::size_t f = 0; f < 2; ++f) {
      PlannedFeature& planned = plan.features.emplace_back();
      planned.feature = FeatureId(f);
      planned.verdict = Verdict::full_target;
      planned.station = StationId(f);
      planned.target = TargetId(std::size_t{0});
    }
  }
};

}  // namespace standpoint
