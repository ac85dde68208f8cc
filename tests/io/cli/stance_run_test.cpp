// Instruments that hang, keep-outs and hole adapters, from the scene file to everything that is
// written.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

/// The text without the terminal's line breaks.
std::string unbroken(std::string text) {
  for (std::size_t at = 0; (at = text.find("\n  ", at)) != std::string::npos;)
    text.replace(at, 3, " ");
  return text;
}

/// A plate with a pad and a hole, and an instrument that sees 10 degrees down and 70 up: from above
/// it reaches them only where it hangs.
class StanceRun : public WholeProgram {
 protected:
  void SetUp() override { put("scene.json", scene().dump()); }

  static json scene() {
    return json::parse(R"({
      "format": "standpoint-scene", "version": 1, "name": "under a beam", "units": "mm",
      "bodies": [{"name": "plate", "role": "part", "box": {"size": [400, 400, 20]},
                  "pose": {"translate": [0, 0, -20]}}],
      "instrument": {
        "name": "invented", "beam": {"diameter": 6}, "range": [400, 40000], "elevation": [-10, 70],
        "body": {"radius": 160, "above": 180, "below": 320}},
      "full_targets": [{"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 42}],
      "hole_adapters": [{"name": "pin-10", "hole_diameter": [9.9, 10.1], "target": "ball-38",
                         "height": 30, "base_diameter": 32, "seat": 45}],
      "features": [
        {"name": "pad", "type": "point", "at": [100, 0, 0], "normal": [0, 0, 1]},
        {"name": "dowel", "type": "hole", "centre": [-100, 0, 0], "axis": [0, 0, 1], "diameter": 10,
         "depth": 12, "targets": ["pin-10"]}],
      "stations": {
        "fixed": [{"name": "beam", "at": [0, -1500, 2000], "instrument_up": [0, 0, -2]},
                  {"name": "pillar", "at": [0, -1500, 2100], "instrument_ups": [[0, 0, 1], [0, -1, 0]]}],
        "keep_out": [{"name": "door", "polygon": [[2900, -100], [3100, -100], [3100, 100]]}]}
    })");
  }

  json plan_of(const json& scene) {
    put("planned.json", scene.dump());
    const Outcome outcome = run({"plan", path("planned.json"), "-o", path("out"), "--json"});
    EXPECT_EQ(outcome.exit, Exit::done) << outcome.err;
    return json::parse(outcome.out);
  }
};

TEST_F(StanceRun, AnInstrumentThatHangsIsPlannedAndToldAsItHangs) {
  const json plan = plan_of(scene());
  EXPECT_EQ(plan["candidates"]["tried"], 3);
  EXPECT_EQ(plan["candidates"]["dropped"]["keep-out"], 0);
  ASSERT_EQ(plan["stations"].size(), 1u);
  EXPECT_EQ(plan["stations"][0]["name"], "beam");
  EXPECT_EQ(plan["stations"][0]["up"], json({0, 0, -1}));
  EXPECT_THAT(got("out/stations.csv"), HasSubstr("up x,up y,up z"));
  EXPECT_THAT(got("out/stations.csv"), HasSubstr("0.000000,0.000000,-1.000000"));
  const std::string page = got("out/page.html");
  EXPECT_THAT(page, HasSubstr("hanging, head down"));
  EXPECT_THAT(page, HasSubstr("Instruments that do not stand upright"));
  EXPECT_THAT(page, HasSubstr("Its stand and fixing are made for this"));
  const Outcome text = run({"plan", path("planned.json"), "-o", path("out")});
  EXPECT_THAT(text.out, HasSubstr("fixed place; hanging, head down"));
  EXPECT_THAT(unbroken(text.out), HasSubstr("instruments that do not stand upright at 1 station"));
}

TEST_F(StanceRun, UprightNothingIsSaidOfHowItStands) {
  json upright = scene();
  upright["instrument"]["elevation"] = {-80, 80};
  upright["stations"]["fixed"][0].erase("instrument_up");
  upright["stations"]["fixed"].erase(1);
  upright["stations"].erase("keep_out");
  const json plan = plan_of(upright);
  EXPECT_FALSE(plan["stations"][0].contains("up"));
  EXPECT_FALSE(plan["candidates"]["dropped"].contains("keep-out"));
  EXPECT_THAT(got("out/stations.csv"), Not(HasSubstr("up x")));
  EXPECT_THAT(got("out/page.html"), Not(HasSubstr("do not stand upright")));
}

TEST_F(StanceRun, SightAndWhyStandAsThePlaceSaysOrAsAsked) {
  const std::string file = path("scene.json");
  const auto verdict = [&](std::vector<std::string> from) {
    from.insert(from.begin(), {"sight", file});
    from.emplace_back("--json");
    return json::parse(run(from).out)["features"][0]["verdict"].get<std::string>();
  };
  EXPECT_EQ(verdict({"--station", "beam"}), "full-target");
  EXPECT_EQ(verdict({"--station", "beam", "--up", "0,0,1"}), "blocked");
  EXPECT_EQ(verdict({"--at", "0,-1500,2000"}), "blocked");
  EXPECT_EQ(verdict({"--at", "0,-1500,2000", "--up", "0,0,-3"}), "full-target");
  // The first of several ways.
  EXPECT_EQ(verdict({"--station", "pillar"}), "blocked");
  const Outcome text = run({"sight", file, "--station", "beam"});
  EXPECT_THAT(text.out, HasSubstr(", the instrument hanging, head down"));
  const json why = json::parse(
      run({"why", file, "--at", "0,-1500,2100", "--up", "1,0,0", "--feature", "pad", "--json"})
          .out);
  EXPECT_EQ(why["up"], json({1, 0, 0}));
  // On its side the instrument sees the pad at 0 to 4 degrees.
  EXPECT_EQ(why["verdict"], "full-target");
}

TEST_F(StanceRun, CuresKeepTheStandingAxisButForPlacesOfTheScene) {
  const json why = json::parse(
      run({"why", path("scene.json"), "--at", "0,-1500,2000", "--feature", "pad", "--json"}).out);
  EXPECT_EQ(why["verdict"], "blocked");
  bool is_added = false;
  for (const json& cure : why["cures"]) {
    if (cure["kind"] == "add-station") {
      is_added = true;
      EXPECT_TRUE(cure.contains("up"));
      EXPECT_THAT(cure["sentence"].get<std::string>(), HasSubstr("the instrument hanging"));
    } else {
      EXPECT_FALSE(cure.contains("up")) << cure;
    }
  }
  EXPECT_TRUE(is_added);
}

TEST_F(StanceRun, AWrongUpIsTold) {
  const std::string file = path("scene.json");
  for (const char* up : {"0,0,0", "0,0", "1,0,x", ""}) {
    const Outcome outcome = run({"sight", file, "--at", "0,0,9000", "--up", up});
    EXPECT_EQ(outcome.exit, Exit::wrong_input) << up;
    EXPECT_THAT(outcome.err, HasSubstr("--up: got")) << up;
  }
  const Outcome alone = run({"sight", file, "--measured", path("nests.csv"), "--up", "0,0,1"});
  EXPECT_THAT(alone.err, HasSubstr("--at or --station beside it"));
}

TEST_F(StanceRun, OverAKeepOutAPlaceIsCountedAndOnlyAKeptOneStays) {
  json kept = scene();
  kept["stations"]["keep_out"][0]["polygon"] = {
      {-50, -1600}, {50, -1600}, {50, -1400}, {-50, -1400}};
  put("kept.json", kept.dump());
  const Outcome blocked = run({"plan", path("kept.json"), "-o", path("none"), "--json"});
  EXPECT_EQ(blocked.exit, Exit::blocked);
  EXPECT_EQ(json::parse(blocked.out)["candidates"]["dropped"]["keep-out"], 3);
  kept["stations"]["fixed"][0]["keep"] = true;
  const json plan = plan_of(kept);
  EXPECT_EQ(plan["candidates"]["dropped"]["keep-out"], 2);
  ASSERT_EQ(plan["warnings"].size(), 1u);
  EXPECT_EQ(plan["warnings"][0]["kind"], "kept-in-keep-out");
  EXPECT_THAT(plan["warnings"][0]["text"].get<std::string>(), HasSubstr("stands over a keep-out"));
  EXPECT_THAT(got("out/page.html"), HasSubstr("class=\"keep-out\""));
}

TEST_F(StanceRun, AHoleAdapterIsAFullTargetByItsNameInEveryOutput) {
  const json plan = plan_of(scene());
  const json& dowel = plan["features"][1];
  EXPECT_EQ(dowel["verdict"], "full-target");
  EXPECT_EQ(dowel["target"], "pin-10");
  EXPECT_EQ(dowel["way"], "adapter");
  ASSERT_EQ(dowel["touches"].size(), 1u);
  EXPECT_EQ(dowel["touches"][0]["at"], json({-100, 0, 0}));
  EXPECT_EQ(dowel["touches"][0]["optical_centre"], json({-100, 0, 30}));
  EXPECT_THAT(got("out/touches.csv"), HasSubstr("full-target,pin-10"));
  const std::string page = got("out/page.html");
  EXPECT_THAT(page, HasSubstr("pin-10, 30 mm, in dowel"));
  EXPECT_THAT(page, HasSubstr("Change of target 1"));
  EXPECT_THAT(page, HasSubstr("By hole adapter"));
}

TEST_F(StanceRun, WhyNamesTheBodyInTheBaseOfAnAdapter) {
  json tight = scene();
  tight["bodies"].push_back({{"name", "bracket"},
                             {"role", "fixture"},
                             {"box", {{"size", {4, 4, 5}}}},
                             {"pose", {{"translate", {-88, 0, 0}}}}});
  put("tight.json", tight.dump());
  const Outcome text = run({"why", path("tight.json"), "--station", "beam", "--feature", "dowel"});
  EXPECT_THAT(unbroken(text.out), HasSubstr("in the way is bracket"));
  EXPECT_THAT(unbroken(text.out), HasSubstr("deep in its base"));
  EXPECT_THAT(text.out, HasSubstr("deep in the base of the adapter"));
  tight["features"][1]["diameter"] = 12;
  put("wide.json", tight.dump());
  const Outcome wide = run({"why", path("wide.json"), "--station", "beam", "--feature", "dowel"});
  EXPECT_THAT(unbroken(wide.out), HasSubstr("its pin is for holes of 9.900 to 10.100 mm"));
}

}  // namespace
}  // namespace standpoint
