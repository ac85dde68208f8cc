// What changed from one plan to another: by hand, and on random plans by sets that share no code
// with the comparison.

#include "io/use/compare_plans.h"

#include <algorithm>
#include <map>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/io/use/plan_file.h"

namespace standpoint {
namespace {

using plan_file::feature;
using plan_file::Json;
using plan_file::station;
using testing::ElementsAre;
using testing::IsEmpty;

PlanRecord record(const Json& plan) {
  const auto read = parse_plan_record(plan.dump());
  EXPECT_TRUE(read.has_value()) << plan.dump();
  return read.value_or(PlanRecord{});
}

Comparison compared(const Json& before, const Json& after) {
  return compare(record(before), record(after));
}

bool is_nothing(const Comparison& comparison) {
  return comparison.gained.empty() && comparison.lost.empty() && comparison.changed.empty() &&
         comparison.removed.empty() && comparison.added.empty() && comparison.lost_links.empty() &&
         comparison.gained_links.empty() && comparison.changed_links.empty() &&
         comparison.only_before.empty() && comparison.only_after.empty();
}

TEST(ComparePlans, APlanDoesNotDifferFromItself) {
  const Comparison comparison = compared(plan_file::plan(), plan_file::plan());
  EXPECT_TRUE(is_nothing(comparison));
  ASSERT_EQ(comparison.kept.size(), 3u);
  for (const KeptStation& kept : comparison.kept)
    EXPECT_FALSE(kept.is_moved || kept.is_renamed || kept.before != kept.after);
}

TEST(ComparePlans, AFeatureIsGainedOrLostByWhetherItIsMeasured) {
  Json after = plan_file::plan();
  after["features"][0] = feature("pad-1", nullptr);
  after["features"][4] = feature("keel", "S2");
  after["features"].erase(3);                         // measured, and gone
  after["features"].push_back(feature("new", "S1"));  // was not there
  after["features"].push_back(feature("new-blocked", nullptr));
  const Comparison comparison = compared(plan_file::plan(), after);
  EXPECT_THAT(comparison.gained, ElementsAre("keel", "new"));
  EXPECT_THAT(comparison.lost, ElementsAre("pad-1", "pad-4"));
  EXPECT_THAT(comparison.only_before, ElementsAre("pad-4"));
  EXPECT_THAT(comparison.only_after, ElementsAre("new", "new-blocked"));
  EXPECT_THAT(comparison.changed, IsEmpty());
}

TEST(ComparePlans, AStationWithANewNameIsTheSameStation) {
  Json after = plan_file::plan();
  // S1 and S2 swap their names, in stations, features and links.
  const std::map<std::string, std::string> renamed{{"S1", "S2"}, {"S2", "S1"}, {"S3", "S3"}};
  for (Json& one : after["stations"]) one["name"] = renamed.at(one["name"]);
  for (Json& one : after["features"])
    if (!one["station"].is_null()) one["station"] = renamed.at(one["station"]);
  for (Json& one : after["links"])
    for (Json& name : one["stations"]) name = renamed.at(name);
  const Comparison comparison = compared(plan_file::plan(), after);
  EXPECT_TRUE(is_nothing(comparison));
  EXPECT_TRUE(comparison.kept[0].is_renamed && comparison.kept[1].is_renamed);
  EXPECT_FALSE(comparison.kept[0].is_moved || comparison.kept[2].is_renamed);
}

TEST(ComparePlans, AStationWhoseInstrumentHangsNowIsTheSameStationTurned) {
  Json after = plan_file::plan();
  after["stations"][1]["up"] = {0, 0, -1};
  const Comparison comparison = compared(plan_file::plan(), after);
  EXPECT_TRUE(is_nothing(comparison));
  ASSERT_EQ(comparison.kept.size(), 3u);
  for (const KeptStation& kept : comparison.kept) {
    EXPECT_FALSE(kept.is_moved);
    EXPECT_EQ(kept.is_turned, kept.before == 1);
  }
}

TEST(ComparePlans, AFeatureOfAStationThatMovedIsNotFromAnotherStation) {
  Json after = plan_file::plan();
  after["stations"][0]["at"] = {500, -4000, 1500};
  const Comparison comparison = compared(plan_file::plan(), after);
  EXPECT_THAT(comparison.changed, IsEmpty());
  ASSERT_EQ(comparison.kept.size(), 3u);
  EXPECT_TRUE(comparison.kept[0].is_moved);
  EXPECT_EQ(comparison.kept[0].moved, 500);
  // Farther than any move: the one is gone, the other is new.
  after["stations"][0]["at"] = {3001, -4000, 1500};
  const Comparison far = compared(plan_file::plan(), after);
  EXPECT_THAT(far.removed, ElementsAre(0u));
  EXPECT_THAT(far.added, ElementsAre(0u));
  ASSERT_EQ(far.changed.size(), 2u);
  EXPECT_TRUE(far.changed[0].station && !far.changed[0].margin);
  EXPECT_THAT(far.lost_links, ElementsAre(0u));
  EXPECT_THAT(far.gained_links, ElementsAre(0u));
}

TEST(ComparePlans, AFixedPlaceKeepsItsNameHoweverFarItGoes) {
  Json before = plan_file::plan(), after = plan_file::plan();
  before["stations"][0] = station("door", {0, -4000, 1500});
  for (Json* plan : {&before, &after}) {
    (*plan)["stations"][0]["name"] = "door";
    (*plan)["stations"][0]["zone"] = nullptr;
    (*plan)["features"] = Json::array({feature("pad-1", "door")});
    (*plan)["links"] = Json::array();
  }
  after["stations"][0]["at"] = {-9000, 0, 1500};
  const Comparison comparison = compared(before, after);
  EXPECT_THAT(comparison.removed, IsEmpty());
  EXPECT_THAT(comparison.changed, IsEmpty());
  EXPECT_NEAR(comparison.kept[0].moved, std::hypot(9000, 4000), 1e-9);
}

TEST(ComparePlans, TheNearestStationIsTheSameOneThoughAnotherIsListedFirst) {
  Json before = plan_file::plan(), after = plan_file::plan();
  before["stations"] = {station("S1", {0, 0, 1500}), station("S2", {1000, 0, 1500}),
                        station("S3", {9000, 0, 1500})};
  after["stations"] = {station("S1", {900, 0, 1500}), station("S2", {2500, 0, 1500}),
                       station("S3", {9000, 0, 1500})};
  const Comparison comparison = compared(before, after);
  ASSERT_EQ(comparison.kept.size(), 3u);
  EXPECT_EQ(comparison.kept[1].after, 0u);  // 100 mm, before S1's 900 mm
  EXPECT_EQ(comparison.kept[0].after, 1u);  // what is left
}

TEST(ComparePlans, AFigureChangesFromItsLastDigitShownOn) {
  const auto change = [](double margin, double expanded) {
    Json after = plan_file::plan();
    after["features"][0] = feature("pad-1", "S1", margin, expanded);
    return compared(plan_file::plan(), after).changed;
  };
  EXPECT_THAT(change(12.09, 0.0409), IsEmpty());
  const auto margin = change(12.1, 0.0409);
  ASSERT_EQ(margin.size(), 1u);
  EXPECT_TRUE(margin[0].margin && !margin[0].uncertainty && !margin[0].station);
  const auto expanded = change(12.09, 0.039);
  ASSERT_EQ(expanded.size(), 1u);
  EXPECT_TRUE(expanded[0].uncertainty && !expanded[0].margin);
}

TEST(ComparePlans, NoBodyAnywhereAndNoPredictionAreChangesToo) {
  Json after = plan_file::plan();
  after["features"][0]["margin"] = nullptr;
  after["features"][1]["uncertainty"] = nullptr;
  const auto changed = compared(plan_file::plan(), after).changed;
  ASSERT_EQ(changed.size(), 2u);
  EXPECT_TRUE(changed[0].margin && !changed[0].uncertainty);
  EXPECT_TRUE(changed[1].uncertainty && !changed[1].margin);
}

TEST(ComparePlans, TargetVerdictAndFurtherStationsChange) {
  Json after = plan_file::plan();
  after["features"][0]["target"] = "ball-22";
  after["features"][1]["verdict"] = "offset-stylus";
  after["features"][2]["also_from"] = {"S3"};
  const auto changed = compared(plan_file::plan(), after).changed;
  ASSERT_EQ(changed.size(), 3u);
  EXPECT_TRUE(changed[0].target && !changed[0].verdict && !changed[0].station);
  EXPECT_TRUE(changed[1].verdict && !changed[1].target);
  EXPECT_TRUE(changed[2].station);
}

TEST(ComparePlans, TheStationWhoseFiguresAreToldIsNotOneAmongOthers) {
  Json before = plan_file::plan(), after = before;
  before["features"][0]["also_from"] = {"S2", "S3"};
  after["features"][0]["also_from"] = {"S3", "S2"};
  EXPECT_TRUE(compared(before, after).changed.empty()) << "the order of the others means nothing";
  after["features"][0]["station"] = "S2";
  after["features"][0]["also_from"] = {"S1", "S3"};
  const auto changed = compared(before, after).changed;
  ASSERT_EQ(changed.size(), 1u);
  EXPECT_TRUE(changed[0].station);
}

TEST(ComparePlans, StationsAreTiedThroughOthersInWhateverOrderTheLinksStand) {
  Json plan = plan_file::plan();
  plan["links"] = {plan_file::link("S2", "S3", {"N1"}), plan_file::link("S1", "S2", {"N2"})};
  EXPECT_TRUE(is_tied(record(plan)));
  plan["links"] = {plan_file::link("S1", "S3", {"N1"}), plan_file::link("S2", "S3", {"N2"})};
  EXPECT_TRUE(is_tied(record(plan)));
}

TEST(ComparePlans, TiesGoByTheirStationsAndNests) {
  Json after = plan_file::plan();
  after["links"] = {plan_file::link("S2", "S1", {"N1", "N3", "N5"}),  // turned round, other nests
                    plan_file::link("S1", "S3", {"N1", "N2", "N3"})};
  const Comparison comparison = compared(plan_file::plan(), after);
  EXPECT_THAT(comparison.lost_links, ElementsAre(1u));
  EXPECT_THAT(comparison.gained_links, ElementsAre(1u));
  ASSERT_EQ(comparison.changed_links.size(), 1u);
  EXPECT_THAT(comparison.changed_links[0].lost, ElementsAre("N2"));
  EXPECT_THAT(comparison.changed_links[0].gained, ElementsAre("N5"));
  EXPECT_TRUE(is_tied(record(after)));
  after["links"].erase(1);
  EXPECT_FALSE(is_tied(record(after)));
}

TEST(ComparePlans, UnitsDoNotChangeAPlan) {
  Json metres = plan_file::plan();
  metres["units"] = "m";
  for (Json& one : metres["stations"])
    for (Json& number : one["at"]) number = number.get<double>() / 1000;
  for (Json& one : metres["features"]) {
    if (one["station"].is_null()) continue;
    one["margin"] = one["margin"].get<double>() / 1000;
    one["uncertainty"]["expanded"] = one["uncertainty"]["expanded"].get<double>() / 1000;
  }
  EXPECT_TRUE(is_nothing(compared(plan_file::plan(), metres)));
  EXPECT_TRUE(is_nothing(compared(metres, plan_file::plan())));
}

TEST(ComparePlans, ANestsFileHoldsAPlan) {
  const Json nests{{"format", "standpoint-nests"}, {"version", 1}, {"plan", plan_file::plan()}};
  EXPECT_TRUE(is_nothing(compared(nests, plan_file::plan())));
}

/// A random plan over a few names, so that two of them have much in common.
Json random_plan(test::Draw& draw) {
  Json plan = plan_file::plan();
  plan["stations"] = Json::array();
  plan["features"] = Json::array();
  plan["links"] = Json::array();
  const std::size_t stations = 1 + draw.below(4);
  for (std::size_t s = 0; s < stations; ++s) {
    plan["stations"].push_back(station(
        "S" + std::to_string(s + 1),
        {1000.0 * static_cast<double>(draw.below(6)), 20000.0 * static_cast<double>(s), 0}));
  }
  for (std::size_t f = 0; f < 12; ++f) {
    if (draw.chance(0.2)) continue;
    const Json from =
        draw.chance(0.2) ? Json(nullptr) : Json("S" + std::to_string(1 + draw.below(stations)));
    plan["features"].push_back(feature("f" + std::to_string(f), from,
                                       static_cast<double>(draw.below(3)),
                                       0.01 * static_cast<double>(draw.below(3))));
  }
  return plan;
}

std::set<std::string> measured_names(const Json& plan) {
  std::set<std::string> names;
  for (const Json& one : plan["features"])
    if (one["verdict"] != "blocked") names.insert(one["name"]);
  return names;
}

std::set<std::string> without(const std::set<std::string>& names,
                              const std::set<std::string>& others) {
  std::set<std::string> left;
  std::set_difference(names.begin(), names.end(), others.begin(), others.end(),
                      std::inserter(left, left.begin()));
  return left;
}

std::set<std::string> set_of(const std::vector<std::string>& names) {
  return {names.begin(), names.end()};
}

/// Stations of one row are in line with each other and 20 m from those of any other row, so the
/// pair of a station is the one of the same row, if that is at most 3 m away.
bool is_same_station(const Json& before, const Json& after, const std::string& b,
                     const std::string& a) {
  const auto at = [](const Json& plan, const std::string& name) {
    for (const Json& one : plan["stations"])
      if (one["name"] == name) return one["at"];
    return Json();
  };
  return b == a && std::abs(at(before, b)[0].get<double>() - at(after, a)[0].get<double>()) <= 3000;
}

std::set<std::string> changed_names(const Json& before, const Json& after) {
  std::set<std::string> names;
  for (const Json& old : before["features"]) {
    for (const Json& now : after["features"]) {
      if (old["name"] != now["name"] || old["verdict"] == "blocked" || now["verdict"] == "blocked")
        continue;
      if (!is_same_station(before, after, old["station"], now["station"]) ||
          old["margin"] != now["margin"] || old["uncertainty"] != now["uncertainty"])
        names.insert(old["name"]);
    }
  }
  return names;
}

TEST(ComparePlans, RandomPlansDifferAsTheirSetsDo) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    const Json before = random_plan(draw), after = random_plan(draw);
    const PlanRecord old = record(before), now = record(after);
    const Comparison comparison = compare(old, now), back = compare(now, old);
    const auto was = measured_names(before), is = measured_names(after);
    EXPECT_EQ(set_of(comparison.gained), without(is, was));
    EXPECT_EQ(set_of(comparison.lost), without(was, is));
    std::set<std::string> changed, changed_back;
    for (const FeatureChange& change : comparison.changed)
      changed.insert(old.features[change.before].name);
    for (const FeatureChange& change : back.changed)
      changed_back.insert(now.features[change.before].name);
    EXPECT_EQ(changed, changed_names(before, after)) << before.dump() << '\n' << after.dump();
    // The way back is the same way.
    EXPECT_EQ(changed_back, changed);
    EXPECT_EQ(back.gained.size(), comparison.lost.size());
    EXPECT_EQ(back.kept.size(), comparison.kept.size());
    EXPECT_EQ(comparison.kept.size() + comparison.removed.size(), old.stations.size());
    EXPECT_EQ(comparison.kept.size() + comparison.added.size(), now.stations.size());
  }
}

}  // namespace
}  // namespace standpoint
