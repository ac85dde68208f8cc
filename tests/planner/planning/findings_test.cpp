// What somebody who reads a plan is told: where a feature comes nearest, and nests in one line.

#include "planner/planning/findings.h"

#include <gtest/gtest.h>

#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

/// A plan of two stations by hand, and what was found on the way to it.
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

  [[nodiscard]] std::vector<Warning> lines(const ReachTable& table) const {
    const Candidates candidates;
    const CoverSolution cover;
    const std::vector<CandidateId> chosen;
    std::vector<Warning> found =
        find_warnings({scene, candidates, table, cover, chosen, Figures::network}, plan);
    std::erase_if(found, [](const Warning& w) { return w.kind != WarningKind::in_one_line; });
    return found;
  }

  Scene scene;
  Plan plan;
};

TEST(Unreached, IsToldFromTheStationWhereTheBeamIsLeastBroken) {
  Job job({});
  job.plan.stations[0].sight.features[0].margin = -50;
  job.plan.stations[1].sight.features[0].margin = -2;
  const Cell cell(job.scene, {});
  const auto unreached = find_unreached(cell, job.plan, {});
  ASSERT_EQ(unreached.size(), 1u);
  EXPECT_EQ(unreached[0].at, job.plan.stations[1].at);
  job.plan.stations[0].sight.features[0].margin = -2;  // alike: the first
  EXPECT_EQ(find_unreached(cell, job.plan, {})[0].at, job.plan.stations[0].at);
}

const std::vector<Vec3> kInLine{{0, 0, 0}, {500, 1, 0}, {1000, 0, 0}};

TEST(NestsInLine, TwoStationsThatShareThemAreWarnedOf) {
  Job job(kInLine);
  job.scene.features[0].required = false;
  const std::vector<Warning> lines = job.lines(ReachTable(0, 1, 3));
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_EQ(lines[0].stations, (std::vector{StationId(0), StationId(1)}));
  EXPECT_EQ(lines[0].nests, (std::vector{NestId(0), NestId(1), NestId(2)}));
  EXPECT_EQ(lines[0].ends, (std::vector{NestId(0), NestId(2)}));
  EXPECT_NEAR(*lines[0].value, 101, 1);
  EXPECT_TRUE(lines[0].features.empty());
}

TEST(NestsInLine, NothingIsToldWhereTheyLinkOrAreTooFewOrNoneAreAsked) {
  Job linked({{0, 0, 0}, {500, 400, 0}, {1000, 0, 0}, {20000, 0, 0}});
  EXPECT_TRUE(linked.lines(ReachTable(0, 1, 4)).empty());
  Job few({{0, 0, 0}, {1000, 0, 0}});
  EXPECT_TRUE(few.lines(ReachTable(0, 1, 2)).empty());
  Job none(kInLine);
  none.scene.rules.shared_nests = 0;
  EXPECT_TRUE(none.lines(ReachTable(0, 1, 3)).empty());
}

TEST(NestsInLine, AFeatureThatIsLostForThemIsNamed) {
  Job job(kInLine);
  job.plan.stations.pop_back();
  ReachTable table(2, 1, 3);
  for (std::size_t n = 0; n < 3; ++n)
    table.set_nest(CandidateId(1), NestId(n), Verdict::full_target);
  table.set_feature(CandidateId(1), FeatureId(0), Verdict::full_target);
  const std::vector<Warning> lines = job.lines(table);
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_EQ(lines[0].features, std::vector{FeatureId(0)});
  EXPECT_EQ(lines[0].stations, std::vector{StationId(0)});
  EXPECT_EQ(lines[0].nests.size(), 3u);
}

}  // namespace
}  // namespace standpoint::test
