#include "planner/stations/reach_table.h"

#include <gtest/gtest.h>

#include "planner/reach/sight.h"
#include "tests/planner/reach/reach_random_scene.h"

namespace standpoint::test {
namespace {

std::vector<Candidate> places(std::size_t count, Draw& draw) {
  std::vector<Candidate> candidates(count);
  for (Candidate& candidate : candidates) candidate.at = random_station(draw);
  return candidates;
}

// Tasks are taken in a mixed order: each must come by once, whatever their number.
TEST(ReachTable, HoldsWhatLookingFromEachPlaceTells) {
  std::array<int, 3> seen{};
  for (std::uint64_t seed = 700; seed < 730; ++seed) {
    Draw draw(seed);
    const MadeScene scene = random_scene(draw, {0.5, 8});
    const Cell cell = cell_of(scene);
    const auto candidates = places(1 + seed % 5, draw);
    const ReachTable table = reach_all(cell, candidates, Watch{});
    for (std::size_t c = 0; c < candidates.size(); ++c) {
      SCOPED_TRACE(testing::Message() << "seed " << seed << ", place " << c);
      const Sight sight = look_from(cell, candidates[c].at);
      for (std::size_t f = 0; f < scene.features.size(); ++f) {
        const Verdict verdict = table.feature(CandidateId(c), FeatureId(f));
        ASSERT_EQ(verdict, sight.features[f].verdict) << scene.features[f].name;
        ++seen[static_cast<std::size_t>(verdict)];
      }
      for (std::size_t n = 0; n < scene.nests.size(); ++n) {
        ASSERT_EQ(table.nest(CandidateId(c), NestId(n)), sight.nests[n].mark.verdict);
        ++seen[static_cast<std::size_t>(sight.nests[n].mark.verdict)];
      }
    }
  }
  for (const int count : seen) EXPECT_GT(count, 10);
}

// More places than one task asks about, and more tasks than any step of the order is coprime to by
// luck: a feature that every place reaches must be reached from all of them.
TEST(ReachTable, LeavesOutNoTaskOfAnyNumber) {
  MadeScene scene;
  scene.instrument.beam_diameter = 6;
  scene.instrument.range = {400, 40000};
  scene.instrument.elevation_rad = {-1.5, 1.5};
  scene.full_targets = {{"ball", 19.05, 1.2, 0.7}};
  for (std::size_t count = 1; count <= 60; ++count) {
    Feature feature;
    feature.name = "p" + std::to_string(count);
    feature.shape = PointFeature{Vec3(50.0 * static_cast<double>(count), 0, 0), Vec3::UnitZ()};
    scene.features.push_back(feature);
    const Cell cell = cell_of(scene);
    std::vector<Candidate> candidates(count == 60 ? 1100 : 1);
    for (Candidate& candidate : candidates) candidate.at = Vec3(-4000, 0, 3000);
    const ReachTable table = reach_all(cell, candidates, Watch{});
    for (std::size_t c = 0; c < candidates.size(); ++c) {
      for (std::size_t f = 0; f < count; ++f) {
        ASSERT_EQ(table.feature(CandidateId(c), FeatureId(f)), Verdict::full_target)
            << count << " features, feature " << f << ", place " << c;
      }
    }
  }
}

}  // namespace
}  // namespace standpoint::test
