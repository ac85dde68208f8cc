// The whole program but for the process around it, on small scenes that are written here.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>
#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

class Run : public WholeProgram {
 protected:
  void SetUp() override {
    put("block.stl", block(1000, 500, 800));
    put("scene.json", scene().dump());
  }

  /// A box from the origin, as text STL.
  static std::string block(double x, double y, double z) {
    const double c[8][3] = {{0, 0, 0}, {x, 0, 0}, {x, y, 0}, {0, y, 0},
                            {0, 0, z}, {x, 0, z}, {x, y, z}, {0, y, z}};
    const int faces[12][3] = {{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4},
                              {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}};
    std::ostringstream stl;
    stl << "solid block\n";
    for (const auto& face : faces) {
      stl << "facet normal 0 0 0\nouter loop\n";
      for (const int v : face)
        stl << "vertex " << c[v][0] << ' ' << c[v][1] << ' ' << c[v][2] << '\n';
      stl << "endloop\nendfacet\n";
    }
    stl << "endsolid block\n";
    return stl.str();
  }

  /// "top" is seen from the one place; "foot", on the far side of the block, is not.
  static json scene() {
    return json::parse(R"({
      "format": "standpoint-scene", "version": 1, "name": "one block", "units": "mm",
      "bodies": [{"name": "block", "role": "part", "mesh": "block.stl", "mesh_units": "mm"}],
      "instrument": {
        "name": "invented", "beam": {"diameter": 6, "growth_mrad": 0.2}, "range": [400, 40000],
        "elevation": [-60, 75], "body": {"radius": 160, "above": 180, "below": 320},
        "error": {"coverage_factor": 2, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
                  "radial": {"fixed": 0.012, "per_metre": 0.0009}}},
      "full_targets": [{"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 42}],
      "features": [
        {"name": "top", "type": "point", "at": [500, 250, 800], "normal": [0, 0, 1]},
        {"name": "foot", "type": "point", "at": [500, 500, 400], "normal": [0, 1, 0],
         "required": false}],
      "stations": {"fixed": [{"name": "door", "at": [500, -3000, 2500]}]}
    })");
  }
};

TEST_F(Run, CheckTellsTheBodies) {
  const Outcome text = run({"check", path("scene.json")});
  EXPECT_EQ(text.exit, Exit::done) << text.err;
  EXPECT_THAT(text.out, HasSubstr("block"));
  const Outcome object = run({"check", path("scene.json"), "--json"});
  EXPECT_EQ(object.exit, Exit::done);
  EXPECT_EQ(json::parse(object.out)["bodies"][0]["triangles"], 12);
}

TEST_F(Run, WrongInputEndsWithTwoAndTellsEveryFault) {
  json wrong = scene();
  wrong["features"][0]["normal"] = {0, 0, 0};
  wrong["units"] = "cubit";
  put("wrong.json", wrong.dump());
  const Outcome text = run({"plan", path("wrong.json"), "-o", path("out")});
  EXPECT_EQ(text.exit, Exit::wrong_input);
  EXPECT_EQ(text.out, "");
  EXPECT_THAT(text.err, testing::AllOf(HasSubstr("/features/0/normal"), HasSubstr("/units")));
  EXPECT_FALSE(fs::exists(folder_ / "out"));
  const Outcome object = run({"check", path("wrong.json"), "--json"});
  EXPECT_EQ(object.exit, Exit::wrong_input);
  EXPECT_EQ(json::parse(object.out)["format"], "standpoint-faults");
  EXPECT_EQ(json::parse(object.out)["faults"].size(), 2u);
  EXPECT_EQ(run({"check", path("missing.json")}).exit, Exit::wrong_input);
}

TEST_F(Run, SightMarksFromAPlaceAndFromAFixedPlace) {
  const Outcome at = run({"sight", path("scene.json"), "--at", "500,-3000,2500", "--json"});
  EXPECT_EQ(at.exit, Exit::done) << at.err;
  const json sight = json::parse(at.out);
  EXPECT_EQ(sight["features"][0]["verdict"], "full-target");
  EXPECT_EQ(sight["features"][1]["verdict"],
            "blocked");  // not required: the exit is 0 all the same
  EXPECT_EQ(run({"sight", path("scene.json"), "--station", "door", "--json"}).out, at.out);
  // From behind the block's edge nothing of the top is seen.
  const Outcome below = run({"sight", path("scene.json"), "--at", "500,-3000,100"});
  EXPECT_EQ(below.exit, Exit::blocked);
  EXPECT_THAT(below.out, HasSubstr("Blocked, and why"));
  const Outcome unknown = run({"sight", path("scene.json"), "--station", "gate"});
  EXPECT_EQ(unknown.exit, Exit::wrong_input);
  EXPECT_THAT(unknown.err, testing::AllOf(HasSubstr("gate"), HasSubstr("door")));
}

TEST_F(Run, PlanWritesItsFourFilesAndSaysTheSameOnStdout) {
  const Outcome plan = run({"plan", path("scene.json"), "-o", path("out"), "--json"});
  EXPECT_EQ(plan.exit, Exit::done) << plan.err;
  EXPECT_EQ(plan.out, got("out/plan.json"));
  const json object = json::parse(plan.out);
  EXPECT_EQ(object["stations"].size(), 1u);
  EXPECT_EQ(object["features"][0]["station"], "door");
  EXPECT_EQ(object["features"][0]["verdict"], "full-target");
  EXPECT_THAT(got("out/stations.csv"), HasSubstr("door"));
  EXPECT_THAT(got("out/touches.csv"), HasSubstr("top"));
  EXPECT_THAT(got("out/page.html"), HasSubstr("one block"));
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_ / "out"), {}), 4);
}

TEST_F(Run, PlanEndsWithOneWhereSomethingRequiredIsBlocked) {
  json hard = scene();
  hard["features"][1].erase("required");
  put("hard.json", hard.dump());
  const Outcome plan = run({"plan", path("hard.json"), "-o", path("out")});
  EXPECT_EQ(plan.exit, Exit::blocked) << plan.err;
  EXPECT_THAT(plan.out, HasSubstr("foot"));
  EXPECT_TRUE(fs::exists(folder_ / "out" / "plan.json"));  // the plan is there all the same
}

TEST_F(Run, SameBytesWithAnyNumberOfThreads) {
  ASSERT_EQ(run({"plan", path("scene.json"), "-o", path("a"), "--threads", "1"}).exit, Exit::done);
  ASSERT_EQ(run({"plan", path("scene.json"), "-o", path("b"), "--threads", "4"}).exit, Exit::done);
  for (const char* name : {"plan.json", "stations.csv", "touches.csv", "page.html"})
    EXPECT_EQ(got(fs::path("a") / name), got(fs::path("b") / name)) << name;
}

TEST_F(Run, AnInterruptedPlanEndsWithThreeAndLeavesOldFiles) {
  fs::create_directories(folder_ / "out");
  put("out/plan.json", "old");
  interrupted_ = true;
  const Outcome plan = run({"plan", path("scene.json"), "-o", path("out")});
  EXPECT_EQ(plan.exit, Exit::failed);
  EXPECT_THAT(plan.err, HasSubstr("interrupted"));
  EXPECT_EQ(got("out/plan.json"), "old");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_ / "out"), {}), 1);
}

TEST_F(Run, PlanPrintsASummaryAndTheRestWhereDetailsAreAskedFor) {
  const Outcome plan = run({"plan", path("scene.json"), "-o", path("out")});
  const Outcome details = run({"plan", path("scene.json"), "-o", path("out"), "--details"});
  for (const std::string& text : {plan.out, details.out}) {
    EXPECT_THAT(text, HasSubstr("required features reached"));
    EXPECT_THAT(text, HasSubstr("plan.json, stations.csv, touches.csv, page.html"));
  }
  EXPECT_LE(std::count(plan.out.begin(), plan.out.end(), '\n'), 40) << plan.out;
  EXPECT_THAT(plan.out, testing::Not(HasSubstr("\nFeatures (")));
  for (const char* part : {"\nFeatures (", "\nCautions\n", "Do not stare into the beam"})
    EXPECT_THAT(details.out, HasSubstr(part));
}

TEST_F(Run, AFolderThatCannotBeWrittenEndsWithThree) {
  put("file", "x");
  const Outcome plan = run({"plan", path("scene.json"), "-o", path("file/out")});
  EXPECT_EQ(plan.exit, Exit::failed);
  EXPECT_THAT(plan.err, HasSubstr("cannot write into"));
  EXPECT_EQ(got("file"), "x");
}

TEST_F(Run, WhyDrawsThePictureThatIsAskedFor) {
  const std::vector<std::string> ask{"why",  path("scene.json"), "--station", "door", "--feature",
                                     "foot", "--quiet"};
  const auto with = [&](const std::string& file) {
    std::vector<std::string> arguments = ask;
    arguments.insert(arguments.end(), {"--picture", path(file)});
    return run(arguments);
  };
  EXPECT_EQ(with("beam.svg").exit, Exit::blocked);
  EXPECT_THAT(got("beam.svg"), testing::StartsWith("<svg xmlns="));
  EXPECT_EQ(with("beam.png").exit, Exit::blocked);
  EXPECT_THAT(got("beam.png"), testing::StartsWith("\x89PNG"));
  const Outcome unknown = with("beam.gif");
  EXPECT_EQ(unknown.exit, Exit::wrong_input);
  EXPECT_THAT(unknown.err, testing::AllOf(HasSubstr("--picture"), HasSubstr(".svg or .png")));
  EXPECT_FALSE(fs::exists(folder_ / "beam.gif"));
  put("file", "x");
  EXPECT_EQ(with("file/beam.svg").exit, Exit::failed);
}

/// A plan of two stations: "S1" cannot see the foot of the block, "yard" can.
class WhyInPlanRun : public Run {
 protected:
  void SetUp() override {
    Run::SetUp();
    json two = scene();
    two["stations"] = json::parse(R"({"fixed": [{"name": "yard", "at": [500, 3500, 1400]}],
      "zones": [{"name": "aisle", "floor": 0, "heights": [1400], "spacing": 1000,
                 "polygon": [[0, -3500], [1000, -3500], [1000, -2500], [0, -2500]]}]})");
    put("two.json", two.dump());
    json plan = json::parse(R"({"format": "standpoint-plan", "version": 1, "scene": "one block",
      "units": "mm",
      "stations": [{"name": "S1", "at": [500, -3000, 1400]}, {"name": "yard", "at": [500, 3500, 1400]}],
      "features": [{"name": "top", "station": "S1", "target": "ball-38"},
                   {"name": "foot", "station": "yard", "target": "ball-38"}]})");
    put("plan.json", plan.dump());
  }

  [[nodiscard]] Outcome why(const std::vector<std::string>& more) const {
    std::vector<std::string> arguments{"why", path("two.json"), "--plan", path("plan.json")};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments);
  }
};

TEST_F(WhyInPlanRun, APlannedStationMayBeNamedAndTheOthersAreToldFirst) {
  const Outcome text = why({"--station", "S1", "--feature", "foot"});
  EXPECT_EQ(text.exit, Exit::blocked) << text.err;
  EXPECT_THAT(text.out, HasSubstr("In the plan, where this is S1: measured from yard"));
  EXPECT_THAT(text.out, HasSubstr("seen from yard at (500, 3500, 1400) mm: full target, ball-38"));
  EXPECT_THAT(text.out, HasSubstr("1. Measure it from the plan's station yard at"));
  EXPECT_THAT(text.out, HasSubstr("gains and losses are those of the whole plan"));
}

TEST_F(WhyInPlanRun, TheSameAsJson) {
  const Outcome outcome = why({"--station", "S1", "--feature", "foot", "--json"});
  const json why = json::parse(outcome.out);
  EXPECT_EQ(why["plan"]["station"], "S1");
  EXPECT_EQ(why["plan"]["measured_from"], json::parse(R"(["yard"])"));
  ASSERT_EQ(why["plan"]["others"].size(), 1u);
  EXPECT_EQ(why["plan"]["others"][0]["name"], "yard");
  EXPECT_EQ(why["plan"]["others"][0]["verdict"], "full-target");
  ASSERT_GE(why["cures"].size(), 1u);
  EXPECT_EQ(why["cures"][0]["kind"], "planned-station");
  EXPECT_EQ(why["cures"][0]["name"], "yard");
  EXPECT_EQ(why["cures"][0]["gained"], json::array());  // the plan has it already
  // A candidate that is a station of the plan is not offered as one more.
  for (std::size_t c = 1; c < why["cures"].size(); ++c)
    EXPECT_NE(why["cures"][c]["station"], why["cures"][0]["station"]);
  // Without the plan the same place is a candidate, and what it gains is told.
  const json plain = json::parse(
      run({"why", path("two.json"), "--at", "500,-3000,1400", "--feature", "foot", "--json"}).out);
  EXPECT_FALSE(plain.contains("plan"));
  EXPECT_EQ(plain["cures"].back()["kind"], "add-station");
  EXPECT_EQ(plain["cures"].back()["name"], "yard");
  EXPECT_EQ(plain["cures"].back()["gained"], json::parse(R"([{"feature": "foot"}])"));
}

TEST_F(WhyInPlanRun, WhereAStationOfThePlanStandsItIsTheOneAskedAbout) {
  const json at = json::parse(why({"--at", "500,-3000,1400", "--feature", "foot", "--json"}).out);
  EXPECT_EQ(at["plan"]["station"], "S1");
  const json beside =
      json::parse(why({"--at", "600,-3000,1400", "--feature", "foot", "--json"}).out);
  EXPECT_TRUE(beside["plan"]["station"].is_null());
  EXPECT_EQ(beside["plan"]["others"].size(), 2u);
}

TEST_F(WhyInPlanRun, UnknownStationsAndOtherPlansAreTold) {
  const Outcome unknown = why({"--station", "S7", "--feature", "foot"});
  EXPECT_EQ(unknown.exit, Exit::wrong_input);
  EXPECT_THAT(unknown.err, testing::AllOf(HasSubstr("--station: got \"S7\", "),
                                          HasSubstr("a fixed place of the scene: yard"),
                                          HasSubstr("a station of the plan: S1, yard")));
  json plan = json::parse(got("plan.json"));
  plan["scene"] = "another";
  put("plan.json", plan.dump());
  const Outcome named = why({"--station", "S1", "--feature", "foot"});
  EXPECT_EQ(named.exit, Exit::wrong_input);
  EXPECT_THAT(named.err, testing::AllOf(HasSubstr("/scene"), HasSubstr("one block")));
  plan["scene"] = "one block";
  plan["features"][1]["station"] = "S1";  // which does not see it in this scene
  put("plan.json", plan.dump());
  const Outcome other = why({"--station", "S1", "--feature", "foot"});
  EXPECT_EQ(other.exit, Exit::wrong_input);
  EXPECT_THAT(other.err, HasSubstr("S1 does not reach it"));
  plan["features"][1]["station"] = "yard";
  plan["stations"][1]["at"] = {500, 3600, 1400};  // "yard" is elsewhere in the scene
  put("plan.json", plan.dump());
  EXPECT_THAT(why({"--station", "yard", "--feature", "foot"}).err,
              HasSubstr("both have this name"));
  EXPECT_THAT(
      run({"why", path("two.json"), "--plan", "", "--station", "yard", "--feature", "foot"}).err,
      HasSubstr("--plan"));
}

TEST_F(Run, StandardOutputThatCannotBeWrittenEndsWithThree) {
  std::ofstream full("/dev/full");
  if (!full) GTEST_SKIP() << "there is no /dev/full here";
  std::ostringstream err;
  EXPECT_EQ(standpoint::run({"check", path("scene.json")}, {full, err, false, nullptr}),
            Exit::failed);
  EXPECT_THAT(err.str(), HasSubstr("standard output"));
}

TEST_F(Run, UsageFaultsEndWithTwo) {
  EXPECT_EQ(run({}).exit, Exit::wrong_input);
  EXPECT_EQ(run({"draw"}).exit, Exit::wrong_input);
  const Outcome threads = run({"check", path("scene.json"), "--threads", "none", "--json"});
  EXPECT_EQ(threads.exit, Exit::wrong_input);
  EXPECT_THAT(threads.err, HasSubstr("--threads: got \"none\", expected "));
  EXPECT_EQ(json::parse(threads.out)["faults"][0]["value"], "\"none\"");
  EXPECT_EQ(run({"--version"}).exit, Exit::done);
}

TEST_F(Run, QuietPrintsNothing) {
  const Outcome plan = run({"plan", path("scene.json"), "-o", path("out"), "--quiet"});
  EXPECT_EQ(plan.exit, Exit::done) << plan.err;
  EXPECT_EQ(plan.out + plan.err, "");
}

}  // namespace
}  // namespace standpoint
