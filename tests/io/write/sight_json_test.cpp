#include "io/write/json/sight_json.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using nlohmann::json;

json written() {
  return json::parse(sight_json(hand_made::scene(), hand_made::sight()));
}

TEST(SightJson, CarriesFormatVersionAndPlaceInSceneUnits) {
  const json sight = written();
  EXPECT_EQ(sight["format"], "standpoint-sight");
  EXPECT_EQ(sight["version"], 1);
  EXPECT_EQ(sight["at"], json({0.5, -2.5, 1.5}));
  EXPECT_EQ(sight["features"].size(), 4u);
  EXPECT_EQ(sight["nests"].size(), 4u);
}

TEST(SightJson, TellsAReachedFeatureAndItsTouches) {
  const json pad = written()["features"][0];
  EXPECT_EQ(pad["name"], "pad-1");
  EXPECT_EQ(pad["verdict"], "full-target");
  EXPECT_EQ(pad["target"], "ball-38");
  EXPECT_DOUBLE_EQ(pad["margin"], 0.0125);
  ASSERT_EQ(pad["touches"].size(), 1u);
  const json touch = pad["touches"][0];
  EXPECT_EQ(touch["at"], json({0.5, 0.25, 0.8}));
  EXPECT_EQ(touch["verdict"], "full-target");
  EXPECT_EQ(touch["target"], "ball-38");
  EXPECT_DOUBLE_EQ(touch["margin"], 0.0125);
  EXPECT_EQ(touch["causes"], json::array());
}

TEST(SightJson, TellsEveryCauseOfABlockedTouch) {
  const json boss = written()["features"][2];
  EXPECT_EQ(boss["verdict"], "blocked");
  EXPECT_TRUE(boss["target"].is_null());
  const json touch = boss["touches"][0];
  EXPECT_EQ(touch["verdict"], "blocked");
  EXPECT_TRUE(touch["target"].is_null());
  EXPECT_DOUBLE_EQ(touch["margin"], -0.0124);
  ASSERT_EQ(touch["causes"].size(), 2u);
  const json beam = touch["causes"][0];
  EXPECT_EQ(beam["target"], "ball-38");
  EXPECT_EQ(beam["cause"], "beam");
  EXPECT_EQ(beam["body"], "column-a");
  EXPECT_EQ(beam["face"], "face 3");
  EXPECT_DOUBLE_EQ(beam["distance"], 1.8342);
  EXPECT_DOUBLE_EQ(beam["margin"], -0.0124);
  EXPECT_EQ(beam["at"], json({1.05, 0.0, 1.0}));
  const json range = touch["causes"][1];
  EXPECT_EQ(range["cause"], "out-of-range");
  for (const char* key : {"body", "margin", "at"}) EXPECT_TRUE(range[key].is_null()) << key;
}

TEST(SightJson, MarginIsNullWhereNoBeamWasTriedAndWhereNothingStandsAnywhere) {
  const json sight = written();
  EXPECT_TRUE(sight["features"][3]["margin"].is_null());  // elevation: no beam tried
  EXPECT_TRUE(sight["features"][3]["touches"][0]["margin"].is_null());
  EXPECT_TRUE(sight["nests"][3]["margin"].is_null());  // infinite
}

TEST(SightJson, TellsNestsWithVisibility) {
  Sight sight = hand_made::sight();
  sight.nests[1].mark.verdict = Verdict::blocked;
  sight.nests[1].mark.best.reset();
  sight.nests[1].mark.margin.reset();
  sight.nests[1].mark.causes = {hand_made::broken_beam()};
  sight.nests[2].mark.verdict = Verdict::offset_stylus;
  const json nests = json::parse(sight_json(hand_made::scene(), sight))["nests"];
  EXPECT_EQ(nests[0]["name"], "N1");
  EXPECT_EQ(nests[0]["visible"], true);
  EXPECT_EQ(nests[0]["verdict"], "full-target");
  EXPECT_EQ(nests[0]["target"], "ball-38");
  EXPECT_DOUBLE_EQ(nests[0]["margin"], 0.0301);
  EXPECT_EQ(nests[0]["causes"], json::array());
  EXPECT_EQ(nests[1]["visible"], false);
  EXPECT_EQ(nests[1]["verdict"], "blocked");
  EXPECT_EQ(nests[1]["causes"].size(), 1u);
  EXPECT_EQ(nests[2]["visible"], true);  // a stylus sees it too
}

TEST(SightJson, NamesEveryRuleAsTheContractDoes) {
  const std::pair<Rule, const char*> names[] = {{Rule::out_of_range, "out-of-range"},
                                                {Rule::elevation, "elevation"},
                                                {Rule::no_fit, "no-fit"},
                                                {Rule::acceptance, "acceptance"},
                                                {Rule::beam, "beam"},
                                                {Rule::shank, "shank"},
                                                {Rule::head, "head"}};
  for (const auto& [rule, name] : names) {
    Sight sight = hand_made::sight();
    Cause cause;
    cause.target = hand_made::kRod;
    cause.rule = rule;
    sight.features[2].touches[0].causes = {cause};
    const json written = json::parse(sight_json(hand_made::scene(), sight));
    EXPECT_EQ(written["features"][2]["touches"][0]["causes"][0]["cause"], name);
  }
}

TEST(SightJson, NeverWritesMinusZero) {
  Sight sight = hand_made::sight();
  sight.at = {-0.0, 0, 0};
  EXPECT_EQ(sight_json(hand_made::scene(), sight).find("-0.0,"), std::string::npos);
}

TEST(SightJson, TakesNamesThatAreNotText) {
  Scene scene = hand_made::scene();
  scene.features[0].name = "pad\xFF\"</script>\n";
  Sight seen = hand_made::sight();
  // A CAD file's name, cut within a letter.
  seen.features[2].touches[0].causes[0].face = "\xC3";
  const json sight = json::parse(sight_json(scene, seen));
  EXPECT_EQ(sight["features"][0]["name"], "pad\xEF\xBF\xBD\"</script>\n");
  EXPECT_EQ(sight["features"][2]["touches"][0]["causes"][0]["face"], "\xEF\xBF\xBD");
}

}  // namespace
}  // namespace standpoint
