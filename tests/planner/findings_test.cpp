// What somebody who reads a plan is told: where a feature comes nearest.

#include "planner/planning/findings.h"

#include <gtest/gtest.h>

#include "scene_builder.h"

namespace standpoint::test {
namespace {

/// A plan of two stations by hand.
struct Job {
  explicit Job(const std::vector<Vec3>& nests) : scene(bare_scene()) {
    add_feature(scene, "pad", PointFeature{{0, 0, 0}, Vec3::UnitZ()});
    for (const Vec3& at : nests) scene.nests.push_back({"N", at, Vec3::UnitZ(), 0.7});
    scene.rules.shared_nests = 3;
    plan.stations = {{"S1", {5000, 0, 900}, {}, {}, {}, sight(true)},
                     {"S2", {-5000, 0, 900}, {}, {}, {}, sight(true)}};
    plan.features.resize(1);
  }

  /// Every nest by full target, the pad blocked.
  [[nodiscard]] Sight sight(bool sees_nests) const {
    Sight all;
    all.features.resize(1);
    for (std::size_t n = 0; n < scene.nests.size(); ++n) {
      NestMark mark{NestId(n), {}};
      mark.mark.verdict = sees_nests ? Verdict::full_target : Verdict::blocked;
      all.nests.push_back(mark);
    }
    return all;
  }

  Scene scene;
  Plan plan;
};

TEST(Unreached, IsToldFromTheStationWhereTheBeamIsLeastBroken) {
  Job job({});
  job.plan.stations[0].sight.features[0].margin = -50;
  job.plan.stations[1].sight.features[0].margin = -2;
  const Cell cell(job.scene);
  const auto unreached = find_unreached(cell, job.plan, {});
  ASSERT_EQ(unreached.size(), 1u);
  EXPECT_EQ(unreached[0].at, job.plan.stations[1].at);
  job.plan.stations[0].sight.features[0].margin = -2;  // alike: the first
  EXPECT_EQ(find_unreached(cell, job.plan, {})[0].at, job.plan.stations[0].at);
}

}  // namespace
}  // namespace standpoint::test
