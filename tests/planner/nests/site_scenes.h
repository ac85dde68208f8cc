#pragma once

#include <string>
#include <vector>

#include "planner/nests/nest_judge.h"
#include "planner/planning/provisional_plan.h"
#include "planner/reach/sight.h"
#include "standpoint/cell.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {

/// A scene whose nests are first the ones that are there, then the sites; with stations and what
/// they see of it. No body: who sees which nest is drawn.
struct SiteScene {
  MadeScene scene;
  std::size_t existing = 0;
  std::vector<PlannedStation> stations;

  [[nodiscard]] std::size_t sites() const { return scene.nests.size() - existing; }
};

struct SiteSceneSize {
  std::size_t stations = 2, existing = 0, sites = 8, features = 4;
  double seen = 0.8;  ///< chance of a nest to be seen from a station
};

[[nodiscard]] inline SiteScene random_site_scene(Draw& draw, const SiteSceneSize& size) {
  SiteScene made;
  MadeScene& scene = made.scene;
  scene = bare_scene();
  // A ball that may be turned anyhow, and a beam that may be as steep as it likes.
  scene.full_targets.push_back({"ball", 19.05, 180 * kDeg, 0});
  scene.instrument.elevation_rad = {-90 * kDeg, 90 * kDeg};
  scene.instrument.range = {1, 1e6};
  made.existing = size.existing;
  for (std::size_t i = 0; i < size.existing + size.sites; ++i) {
    Vec3 at = draw.in_box(Vec3(-3000, -2000, 0), Vec3(3000, 2000, 2500));
    if (i > 1 && draw.chance(0.2)) {  // in one line with two others
      const Vec3 &a = scene.nests[i - 1].at, &b = scene.nests[i - 2].at;
      at = a + draw.between(-1, 1) * (b - a);
    }
    add_nest(scene, "N" + std::to_string(i), at);
  }
  for (std::size_t f = 0; f < size.features; ++f) {
    const Vec3 at = draw.in_box(Vec3(-4000, -2000, 0), Vec3(4000, 2000, 2000));
    add_feature(scene, "F" + std::to_string(f), PointFeature{at, Vec3::UnitZ()});
  }
  const Cell cell = cell_of(scene);
  for (std::size_t s = 0; s < size.stations; ++s) {
    PlannedStation& station = made.stations.emplace_back();
    station.name = "S" + std::to_string(s);
    const double angle = draw.between(0, 6.28);
    station.at = Vec3(6000 * std::cos(angle), 5000 * std::sin(angle), draw.between(1000, 1600));
    station.sight = look_from(cell, station.at);
    for (NestMark& nest : station.sight.nests) {
      if (draw.chance(size.seen)) {
        station.nests.push_back(nest.nest);
      } else {
        nest.mark.verdict = Verdict::blocked;
        nest.mark.best.reset();
      }
    }
  }
  return made;
}

/// What the plan with just these sites says: the greatest expanded uncertainty of its features.
[[nodiscard]] inline std::optional<double> planned_worst(const SiteScene& made,
                                                         const SiteSet& sites) {
  std::vector<NestId> kept;
  for (std::size_t n = 0; n < made.existing; ++n) kept.emplace_back(n);
  for (const std::uint32_t site : sites) kept.emplace_back(made.existing + site);
  return quality_of(
             provisional_plan(with_nests(made.scene, kept), among_nests(made.stations, kept)))
      .worst_expanded;
}

}  // namespace standpoint::test
