#include "io/write/json/plan_json.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "planner/network/plan_network.h"
#include "tests/io/write/hand_made.h"
#include "tests/planner/network/two_station_job.h"

namespace standpoint {
namespace {

using nlohmann::json;

json written(const Scene& scene, const Plan& plan) {
  return json::parse(plan_json(scene, plan, find_cautions(scene, plan)));
}
json written() {
  return written(hand_made::scene(), hand_made::plan());
}

TEST(PlanJson, CarriesFormatVersionSceneAndUnits) {
  const json plan = written();
  EXPECT_EQ(plan["format"], "standpoint-plan");
  EXPECT_EQ(plan["version"], 1);
  EXPECT_EQ(plan["scene"], "bay 7");
  EXPECT_EQ(plan["units"], "m");
}

TEST(PlanJson, TellsStationsInSceneUnits) {
  const json stations = written()["stations"];
  ASSERT_EQ(stations.size(), 2u);
  EXPECT_EQ(stations[0]["name"], "S1");
  EXPECT_EQ(stations[0]["at"], json({0.5, -2.5, 1.5}));
  EXPECT_EQ(stations[0]["zone"], "south aisle");
  EXPECT_EQ(stations[0]["nests"], json({"N1", "N2", "N4"}));
  EXPECT_EQ(stations[1]["name"], "door");
  EXPECT_TRUE(stations[1]["zone"].is_null());
}

TEST(PlanJson, ConvertsThePoseCovarianceBlockByBlock) {
  const json pose = written()["stations"][0]["pose_uncertainty"];
  ASSERT_EQ(pose.size(), 6u);
  EXPECT_DOUBLE_EQ(pose[0][0], 4e-10);  // 4e-4 mm^2 in m^2
  EXPECT_DOUBLE_EQ(pose[4][4], 2e-10);  // rad^2 stay
  EXPECT_DOUBLE_EQ(pose[0][4], 5e-11);  // 5e-8 mm rad in m rad
  EXPECT_DOUBLE_EQ(pose[4][0], 5e-11);
}

TEST(PlanJson, TellsMeasuredFeatures) {
  const json features = written()["features"];
  ASSERT_EQ(features.size(), 4u);
  EXPECT_EQ(features[0]["name"], "pad-1");
  EXPECT_EQ(features[0]["verdict"], "full-target");
  EXPECT_EQ(features[0]["station"], "S1");
  EXPECT_EQ(features[0]["also_from"], json({"door"}));
  EXPECT_EQ(features[0]["target"], "ball-38");
  EXPECT_DOUBLE_EQ(features[0]["margin"], 0.0125);
  EXPECT_EQ(features[1]["verdict"], "offset-stylus");
  EXPECT_EQ(features[1]["way"], "rim");
  EXPECT_EQ(features[1]["touches"][0]["direction"], json({0.6, 0.0, 0.8}));
}

TEST(PlanJson, TellsUncertaintyRatioAndTolerance) {
  const json pad = written()["features"][0];
  EXPECT_DOUBLE_EQ(pad["uncertainty"]["expanded"], 4e-5);           // 2 sqrt(4e-4) mm
  EXPECT_DOUBLE_EQ(pad["uncertainty"]["covariance"][1][1], 4e-10);  // m^2
  EXPECT_DOUBLE_EQ(pad["uncertainty"]["covariance"][0][1], 0.0);
  EXPECT_DOUBLE_EQ(pad["ratio"], 0.4 / (2 * 0.04));  // T / 2U, both mm
  EXPECT_DOUBLE_EQ(pad["touches"][0]["uncertainty"]["expanded"], 4e-5);
  EXPECT_FALSE(written()["features"][1].contains("ratio"));  // no tolerance is given
}

TEST(PlanJson, TellsBlockedFeaturesWithTheNearestMiss) {
  const json boss = written()["features"][2];
  EXPECT_EQ(boss["verdict"], "blocked");
  for (const char* key : {"station", "target", "margin", "uncertainty"})
    EXPECT_TRUE(boss[key].is_null()) << key;
  EXPECT_EQ(boss["nearest_miss"]["at"], json({0.5, -2.5, 1.5}));
  EXPECT_EQ(boss["nearest_miss"]["touches"][0]["causes"][0]["cause"], "beam");
}

TEST(PlanJson, TellsLinksOptimalityAndCandidates) {
  const json plan = written();
  EXPECT_EQ(plan["links"],
            json::parse(R"([{"stations": ["S1", "door"], "nests": ["N1", "N2", "N4"]}])"));
  EXPECT_EQ(plan["optimality"],
            json::parse(R"({"status": "feasible", "stations": 2, "lower_bound": 1,
                            "later_aims": {"sets_judged": 7, "all_decided": false,
                                           "worst_at_least": 3e-7}})"));
  EXPECT_EQ(plan["candidates"]["tried"], 240);
  EXPECT_EQ(plan["candidates"]["dropped"]["body-collides"], 12);
  EXPECT_EQ(plan["candidates"]["dropped"]["inside-body"], 5);
  EXPECT_EQ(plan["candidates"]["dropped"]["duplicate"], 3);
}

TEST(PlanJson, SaysWarningsInKindAndWords) {
  const json warnings = written()["warnings"];
  ASSERT_EQ(warnings.size(), 2u);
  EXPECT_EQ(warnings[0]["kind"], "unreached");
  EXPECT_EQ(warnings[0]["features"], json({"boss"}));
  EXPECT_EQ(warnings[0]["text"], "boss is required, but no candidate reaches it.");
}

TEST(PlanJson, WithoutANetworkTheUncertaintyIsNull) {
  Plan plan = hand_made::plan();
  plan.stations[0].pose_covariance.reset();
  plan.features[0].uncertainty.reset();
  plan.features[0].touch_uncertainty.clear();
  const json written_plan = written(hand_made::scene(), plan);
  EXPECT_TRUE(written_plan["stations"][0]["pose_uncertainty"].is_null());
  EXPECT_TRUE(written_plan["features"][0]["uncertainty"].is_null());
  EXPECT_TRUE(written_plan["features"][0]["touches"][0]["uncertainty"].is_null());
  EXPECT_TRUE(written_plan["features"][0]["ratio"].is_null());
}

TEST(PlanJson, TheBudgetAddsUpInSceneUnits) {
  Environment environment;
  environment.part_temperature_error = 0.5;
  environment.expansion = 11.5e-6;
  environment.gradient_error = 1e-4;
  Job job(environment);
  job.scene.units = "m";
  job.scene.mm_per_unit = 1000;
  const PlanNetwork network = plan_network(job.scene, job.plan);
  write_uncertainty(network, predict_uncertainty(job.scene, network), job.plan);
  const json features = written(job.scene, job.plan)["features"];
  ASSERT_EQ(features.size(), 2u);
  for (const json& feature : features) {
    double squares = 0;
    for (const json& line : feature["budget"]) {
      const double effect = line["effect"];
      EXPECT_NEAR(effect, double(line["standard"]) * double(line["sensitivity"]), 1e-12);
      squares += effect * effect;
      const std::string source = line["source"];
      if (source == "part-temperature") EXPECT_EQ(line["standard"], 0.5) << "K";
      if (source == "bending") EXPECT_NEAR(line["standard"], 0.1, 1e-12) << "K/m";
      if (source == "bending") EXPECT_EQ(line["unit"], "K/m");
      if (source == "along-beam") EXPECT_EQ(line["unit"], "m");
    }
    EXPECT_GE(feature["budget"].size(), 5u);
    EXPECT_NEAR(2 * std::sqrt(squares), double(feature["uncertainty"]["expanded"]), 1e-12);
  }
}

TEST(PlanJson, AnEmptyPlanIsStillAPlan) {
  const json plan = written(hand_made::scene(), Plan{});
  for (const char* key : {"stations", "features", "links", "warnings"})
    EXPECT_EQ(plan[key], json::array()) << key;
}

}  // namespace
}  // namespace standpoint
