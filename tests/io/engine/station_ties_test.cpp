#include "io/page/engine/station_ties.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "planner/stations/reach_table.h"
#include "planner/stations/ties.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

using nlohmann::json;

constexpr Verdict kFull = Verdict::full_target, kStylus = Verdict::offset_stylus,
                  kBlocked = Verdict::blocked;

Scene scene_with(const std::vector<Vec3>& nests) {
  Scene scene;
  for (const Vec3& at : nests) scene.nests.push_back({"", at, Vec3::UnitZ(), 0.7});
  scene.rules.shared_nests = 3;
  return scene;
}

const std::vector<Vec3> kThreeInLine{{0, 0, 0}, {4000, 0, 0}, {0, 3000, 0}, {2000, 0, 0}};

TEST(StationTies, AreByThreeNestsOffOneLineAlsoByWayOfAThirdStation) {
  const Scene scene = scene_with(kThreeInLine);
  const json ties = json::parse(station_ties(scene, {{kFull, kFull, kFull, kBlocked},
                                                     {kFull, kFull, kFull, kFull},
                                                     {kBlocked, kFull, kFull, kFull},
                                                     {kFull, kFull, kBlocked, kFull}}));
  const json expected = {{{"a", 0}, {"b", 1}, {"nests", {0, 1, 2}}},
                         {{"a", 1}, {"b", 2}, {"nests", {1, 2, 3}}}};
  EXPECT_EQ(ties["links"], expected);
  EXPECT_EQ(ties["loose"], json({3})) << "what it shares, 0, 1 and 3, lies in one line";
}

TEST(StationTies, HoldWhicheverOfTwoComesFirst) {
  // The second shares two nests with the first, and hangs on it by way of the third alone.
  const json ties =
      json::parse(station_ties(scene_with(kThreeInLine), {{kFull, kFull, kFull, kBlocked},
                                                          {kBlocked, kFull, kFull, kFull},
                                                          {kFull, kFull, kFull, kFull}}));
  ASSERT_EQ(ties["links"].size(), 2u);
  EXPECT_EQ(ties["links"][1]["a"], 1);
  EXPECT_EQ(ties["loose"], json::array());
}

TEST(StationTies, CountNestsByStylusOnlyWhereTheRulesSaySo) {
  Scene scene = scene_with(kThreeInLine);
  const std::vector<std::vector<Verdict>> verdicts(2, std::vector<Verdict>(4, kStylus));
  EXPECT_EQ(json::parse(station_ties(scene, verdicts))["loose"], json({1}));
  scene.rules.ties_by_stylus = true;
  EXPECT_EQ(json::parse(station_ties(scene, verdicts))["loose"], json::array());
}

TEST(StationTies, AreNotAskedWithoutNestsOrForNone) {
  EXPECT_EQ(station_ties(scene_with({}), {{}, {}}), R"({"links":[],"loose":[],"lines":[]})");
  Scene scene = scene_with(kThreeInLine);
  scene.rules.shared_nests = 0;
  EXPECT_EQ(station_ties(scene, {{}, {}}), R"({"links":[],"loose":[],"lines":[]})");
  EXPECT_EQ(station_ties(scene, {}), R"({"links":[],"loose":[],"lines":[]})");
}

TEST(StationTies, WhereEnoughNestsAreInOneLineTheyAreToldWithWhatWouldEndIt) {
  Scene scene = scene_with(kThreeInLine);
  scene.mm_per_unit = 1000;
  const json ties = json::parse(
      station_ties(scene, {{kFull, kFull, kBlocked, kFull}, {kFull, kFull, kBlocked, kFull}}));
  EXPECT_EQ(ties["links"], json::array());
  ASSERT_EQ(ties["lines"].size(), 1u);
  const json& line = ties["lines"][0];
  EXPECT_EQ(line["a"], 0);
  EXPECT_EQ(line["b"], 1);
  EXPECT_EQ(line["nests"], json({0, 1, 3}));
  EXPECT_EQ(line["ends"], json({0, 1}));
  EXPECT_NEAR(line["off"], 0.404, 0.001) << "scene units: a tenth of 4 m and a little more";
  // Where a fourth nest off the line is shared nothing is told.
  EXPECT_EQ(json::parse(station_ties(
                scene, {{kFull, kFull, kFull, kFull}, {kFull, kFull, kFull, kFull}}))["lines"],
            json::array());
}

TEST(StationTies, AreThoseOfPlanning) {
  test::Draw draw(31);
  int linked = 0, apart = 0;
  for (int round = 0; round < 300; ++round) {
    std::vector<Vec3> places;
    for (std::size_t n = 3 + draw.below(5); n > 0; --n) {
      // Many in one line, some at the very limit of it.
      const double x = static_cast<double>(draw.below(9)) * 500;
      places.emplace_back(x, draw.below(3) == 0 ? 150.0 * static_cast<double>(draw.below(3)) : 0,
                          0);
    }
    Scene scene = scene_with(places);
    scene.rules.shared_nests = static_cast<int>(1 + draw.below(4));
    scene.rules.ties_by_stylus = draw.below(2) == 0;
    const std::size_t stations = 4;
    ReachTable table(stations, 0, places.size());
    std::vector<std::vector<Verdict>> verdicts(stations);
    for (std::size_t s = 0; s < stations; ++s) {
      for (std::size_t n = 0; n < places.size(); ++n) {
        const std::size_t kind = draw.below(8);
        verdicts[s].push_back(kind < 5 ? kFull : kind < 7 ? kStylus : kBlocked);
        table.set_nest(CandidateId(s), NestId(n), verdicts[s].back());
      }
    }
    const Ties ties(scene, table);
    json expected = json::array();
    for (std::size_t a = 0; a < stations; ++a) {
      for (std::size_t b = a + 1; b < stations; ++b) {
        const bool are_linked = ties.are_linked(CandidateId(a), CandidateId(b));
        (are_linked ? linked : apart) += 1;
        if (!are_linked) continue;
        std::vector<std::uint32_t> nests;
        for (const NestId nest : ties.shared(CandidateId(a), CandidateId(b))) {
          nests.push_back(nest.index);
        }
        expected.push_back({{"a", a}, {"b", b}, {"nests", nests}});
      }
    }
    ASSERT_EQ(json::parse(station_ties(scene, verdicts))["links"], expected) << "round " << round;
  }
  EXPECT_GT(linked, 200);
  EXPECT_GT(apart, 200);
}

}  // namespace
}  // namespace standpoint
