// A feature that two stations share, from the scene file to all that is written and asked again.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "io/page/engine/standing_engine.h"
#include "standpoint/plan.h"
#include "standpoint/read_scene.h"
#include "tests/io/cli/ridge_scene.h"
#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

class SplitRun : public WholeProgram {
 protected:
  json planned(const json& scene, Exit exit = Exit::done) {
    put("scene.json", scene.dump());
    const Outcome outcome = run({"plan", path("scene.json"), "-o", path("out"), "--qif"});
    EXPECT_EQ(outcome.exit, exit) << outcome.err;
    said_ = outcome.out;
    return json::parse(got("out/plan.json"));
  }
  [[nodiscard]] std::vector<std::string> lines_of(const std::string& file) const {
    std::istringstream text(got(file));
    std::vector<std::string> lines;
    for (std::string line; std::getline(text, line);) lines.push_back(line);
    return lines;
  }

  std::string said_;
};

TEST_F(SplitRun, ThePlanNamesTheStationOfEachTouch) {
  const json plan = planned(ridge_scene());
  const json& top = plan["features"][0];
  EXPECT_EQ(top["verdict"], "full-target");
  EXPECT_TRUE(top["station"].is_null());
  EXPECT_EQ(top["stations"], json({"front", "back"}));
  ASSERT_EQ(top["touches"].size(), 6u);
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t t = 0; t < 6; ++t) {
    const json& touch = top["touches"][t];
    EXPECT_EQ(touch["station"], t % 2 == 0 ? "front" : "back") << t;
    EXPECT_EQ(touch["target"], "ball-38");
    EXPECT_TRUE(touch["uncertainty"].is_object());
    least = std::min(least, touch["margin"].get<double>());
  }
  EXPECT_EQ(top["margin"], least);
  EXPECT_GT(top["element_expanded"].get<double>(), 0);
  const json& pad = plan["features"][1];
  EXPECT_EQ(pad["station"], "front");
  for (const char* key : {"stations", "element_expanded"}) EXPECT_FALSE(pad.contains(key)) << key;
  EXPECT_FALSE(pad["touches"][0].contains("station"));
  EXPECT_THAT(said_, HasSubstr("2 of 2 required features"));
}

TEST_F(SplitRun, TheListsAndTheSheetTellWhatIsTakenFromWhere) {
  (void)planned(ridge_scene());
  std::vector<std::string> front, back;
  for (const std::string& line : lines_of("out/touches.csv")) {
    if (line.rfind("front,top,", 0) == 0) front.push_back(line);
    if (line.rfind("back,top,", 0) == 0) back.push_back(line);
  }
  EXPECT_EQ(front.size(), 3u);
  EXPECT_EQ(back.size(), 3u);
  EXPECT_THAT(back[0], HasSubstr("back,top,2,"));
  EXPECT_THAT(got("out/stations.csv"), HasSubstr("top; pad"));
  const std::string page = got("out/page.html");
  EXPECT_THAT(page, HasSubstr("only touches 1, 3 and 5 here; the others from back"));
  EXPECT_THAT(page, HasSubstr("only touches 2, 4 and 6 here; the others from front"));
  EXPECT_THAT(page, HasSubstr("3 of 6"));
}

TEST_F(SplitRun, WhyAndRehearseAndCompareTakeThePlanAsItIs) {
  (void)planned(ridge_scene());
  const std::string scene = path("scene.json"), plan = path("out/plan.json");
  const Outcome why = run({"why", scene, "--station", "front", "--feature", "top", "--plan", plan});
  EXPECT_THAT(why.out, HasSubstr("measured from front and back"));
  EXPECT_THAT(why.out, HasSubstr("from back: touches 2, 4 and 6, with ball-38"));
  const Outcome rehearsed = run({"rehearse", scene, "--plan", plan, "--trials", "200"});
  EXPECT_EQ(rehearsed.exit, Exit::done) << rehearsed.err;
  EXPECT_THAT(rehearsed.out, HasSubstr("top"));

  json other = ridge_scene();
  other["features"][0]["split"] = false;
  const json without = planned(other, Exit::blocked);
  EXPECT_EQ(without["features"][0]["verdict"], "blocked");
  put("without.json", without.dump());
  (void)planned(ridge_scene());
  const Outcome compared = run({"compare", path("without.json"), plan, "--json"});
  EXPECT_EQ(json::parse(compared.out)["gained"], json({"top"}));
  // The plan is of another scene where they no longer take it together.
  put("scene.json", other.dump());
  const Outcome refused = run({"rehearse", scene, "--plan", plan});
  EXPECT_EQ(refused.exit, Exit::wrong_input);
  EXPECT_THAT(refused.err, HasSubstr("a feature that front, back reach together with ball-38"));
}

TEST_F(SplitRun, TheRulesForbidItAndAWrongTypeIsTold) {
  json scene = ridge_scene();
  scene["rules"] = {{"split_features", false}};
  EXPECT_EQ(planned(scene, Exit::blocked)["features"][0]["verdict"], "blocked");
  scene["rules"]["split_features"] = "no";
  scene["features"][0]["split"] = 0;
  put("scene.json", scene.dump());
  const Outcome outcome = run({"check", path("scene.json")});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  EXPECT_THAT(outcome.err, HasSubstr("/rules/split_features"));
  EXPECT_THAT(outcome.err, HasSubstr("/features/0/split"));
}

/// The page's engine puts together what places tell one by one, as the plan does.
TEST_F(SplitRun, TheEngineFindsWhatThePlanHas) {
  put("scene.json", ridge_scene().dump());
  const auto read = read_scene(path("scene.json"));
  ASSERT_TRUE(read);
  const Cell cell(read->scene, read->meshes);
  std::vector<Mesh> meshes;
  for (const auto& mesh : cell.meshes()) meshes.push_back(*mesh);
  StandingEngine engine(cell.scene(), std::move(meshes));
  engine.build();
  const auto plan = make_plan(cell);
  ASSERT_TRUE(plan);
  json places = json::array();
  for (const PlannedStation& station : plan->stations) {
    json& place = places.emplace_back(json::array());
    const json marks = json::parse(engine.marks(station.at));
    for (const json& mark : marks["features"])
      place.push_back(mark["verdict"] != "blocked" ? json(true) : mark.value("parts", json()));
  }
  const json together = json::parse(engine.together(places.dump()));
  ASSERT_EQ(together.size(), 2u);
  EXPECT_EQ(together[0]["verdict"], "full-target");
  EXPECT_EQ(together[0]["target"], "ball-38");
  EXPECT_DOUBLE_EQ(together[0]["margin"].get<double>(), *plan->features[0].margin);
  EXPECT_EQ(together[0]["touches"], json({0, 1, 0, 1, 0, 1}));
  EXPECT_TRUE(together[1].is_null()) << "one place takes the pad alone";
  places[0][0] = true;
  EXPECT_TRUE(json::parse(engine.together(places.dump()))[0].is_null());
  places[0][0] = nullptr;
  EXPECT_TRUE(json::parse(engine.together(places.dump()))[0].is_null()) << "half is not enough";
}

}  // namespace
}  // namespace standpoint
