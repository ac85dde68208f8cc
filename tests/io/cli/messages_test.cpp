// Every message about wrong input says where, what is there, what is expected, and which name was
// most likely meant (docs/messages.md). The sentences stand here as a user reads them.

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "source_dir.h"
#include "tests/io/cli/whole_program.h"
#include "tests/io/read/bad_scenes.h"

#include "io/read/text/fault_text.h"

namespace standpoint {
namespace {

using nlohmann::json;
using testing::HasSubstr;

class Messages : public WholeProgram {
 protected:
  void SetUp() override {
    std::filesystem::copy_file(source_dir() / "scenes" / "nests" / "frame.stl",
                               folder_ / "frame.stl");
    json scene = json::parse(std::ifstream(source_dir() / "scenes" / "nests" / "scene.json"));
    for (std::size_t i = 0; i < scene["features"].size(); ++i)
      scene["features"][i]["name"] = "pad-" + std::to_string(i + 3);
    scene["nests"] = scene["nest_sites"];
    scene.erase("nest_sites");
    scene.erase("nest_surfaces");
    scene["rules"].erase("max_expanded");
    put("hall.json", scene.dump());
  }

  [[nodiscard]] std::string hall() const { return path("hall.json"); }
};

TEST_F(Messages, AFeatureThatIsNotThereIsNotSaidToBeTheNameOfOne) {
  EXPECT_EQ(said({"why", hall(), "--at", "1,2,3", "--feature", "pad-9"}),
            "--feature: got \"pad-9\", expected the name of a feature of the scene; nearest: "
            "\"pad-8\"\n");
  EXPECT_EQ(said({"why", hall(), "--at", "1,2,3", "--feature", "boss"}),
            "--feature: got \"boss\", expected the name of a feature of the scene\n");
}

TEST_F(Messages, NestsStationsAndFilesSuggestTheNearestToo) {
  EXPECT_EQ(said({"why", hall(), "--at", "1,2,3", "--nest", "Post 1"}),
            "--nest: got \"Post 1\", expected the name of a nest of the scene; nearest: "
            "\"post-1\"\n");
  EXPECT_EQ(
      said({"sight", hall(), "--station", "north isle"}),
      "--station: got \"north isle\", expected a fixed place of the scene: south aisle, north "
      "aisle; nearest: \"north aisle\"\n");
  EXPECT_EQ(said({"check", path("hal.json")}),
            "hal.json: missing, expected a scene file that can be read; nearest: \"hall.json\"\n");
  EXPECT_EQ(said({"check", folder_.string() + "/"}).find("got a folder, expected a scene file"),
            2u);
  put("plan.json", "{}");
  EXPECT_EQ(said({"rehearse", hall(), "--plan", path("plam.json")}),
            "plam.json: missing, expected a plan.json or nests.json that can be read; nearest: "
            "\"plan.json\"\n");
}

TEST_F(Messages, APlanThatDoesNotFitTheSceneTellsItsFileAndTheNearestNames) {
  put("plan.json", R"({"format": "standpoint-plan", "version": 1, "scene": "frames",
    "units": "mm", "stations": [{"name": "north aisle", "at": [-300, 5000, 1500]}],
    "features": [{"name": "pad-9", "station": "north isle", "target": "ball-83"}]})");
  EXPECT_EQ(
      said({"rehearse", hall(), "--plan", path("plan.json")}),
      "plan.json#/scene: got \"frames\", expected \"frame\"; nearest: \"frame\"\n"
      "plan.json#/features/0/name: got \"pad-9\", expected the name of a feature of the scene; "
      "nearest: \"pad-8\"\n"
      "plan.json#/features/0/station: got \"north isle\", expected the name of a station of the "
      "plan; nearest: \"north aisle\"\n"
      "plan.json#/features/0/target: got \"ball-83\", expected the name of a target of the scene; "
      "nearest: \"ball-38\"\n");
  put("plan.json", "[]");
  EXPECT_EQ(said({"rehearse", hall(), "--plan", path("plan.json")}),
            "plan.json: got [], expected an object\n");
}

TEST_F(Messages, CommandsAndOptionsSuggestTheNearest) {
  const std::string commands =
      "one of check, plan, nests, rehearse, sight, why, compare, features, start, pack";
  EXPECT_EQ(said({"plam", hall()}),
            "COMMAND: got \"plam\", expected " + commands + "; nearest: \"plan\"\n");
  EXPECT_EQ(said({}), "COMMAND: missing, expected " + commands + "; see standpoint --help\n");
  EXPECT_THAT(said({"sight", hall(), "--sation", "door"}),
              testing::AllOf(testing::StartsWith("sight: got \"--sation\", expected one scene file "
                                                 "and these options: "),
                             testing::EndsWith("; nearest: \"--station\"\n")));
  EXPECT_THAT(said({"sight", hall(), "--sation=door"}), HasSubstr("; nearest: \"--station\"\n"));
  EXPECT_THAT(said({"check", hall(), "other.json"}),
              testing::AllOf(HasSubstr("check: got \"other.json\", expected one scene file"),
                             testing::Not(HasSubstr("nearest"))));
  EXPECT_THAT(said({"--verbose"}), HasSubstr("got \"--verbose\", expected a command, " + commands));
}

TEST_F(Messages, WhatWasLeftOutIsMissing) {
  EXPECT_EQ(said({"plan", hall()}), "-o: missing, expected the folder to write into: -o DIR\n");
  EXPECT_EQ(said({"plan", hall(), "-o"}),
            "--output: missing, expected a value after it: --output DIR\n");
  EXPECT_EQ(said({"rehearse", hall()}),
            "--plan: missing, expected the plan to rehearse: --plan FILE\n");
  EXPECT_EQ(said({"sight", hall()}),
            "--at: missing, expected the place to look from: --at X,Y,Z, --station NAME or "
            "--measured FILE.csv\n");
  EXPECT_EQ(said({"check"}),
            "SCENE: missing, expected a scene file, as in: standpoint check hall.json\n");
  EXPECT_EQ(said({"sight", hall(), "--at", "1,2,3", "--at", "4,5,6"}),
            "--at: got 2 values, expected one value\n");
  EXPECT_EQ(said({"nests", hall(), "-o", path("out")}),
            "/nest_sites: missing, expected places to choose nests from: nest_sites or "
            "nest_surfaces\n");
}

TEST_F(Messages, ValuesOfOptionsReadAsTyped) {
  EXPECT_EQ(said({"check", hall(), "--threads", "many"}),
            "--threads: got \"many\", expected a whole number from 1 to 1024\n");
  EXPECT_EQ(said({"sight", hall(), "--at", "1,2"}),
            "--at: got \"1,2\", expected three finite numbers X,Y,Z in the scene's units, without "
            "spaces\n");
}

TEST_F(Messages, AMeasuredListTellsItsLines) {
  put("nests.csv",
      "name,x,y,z\npost1,1,2,3\npost-2,1;5,2,3\npost-3,1,2\npost-4,1,2,3\npost-4,1,2,3\n");
  EXPECT_EQ(
      said({"sight", hall(), "--measured", path("nests.csv")}),
      "nests.csv:2: got \"post1\", expected the name of a nest or a feature of the scene; nearest: "
      "\"post-1\"\n"
      "nests.csv:3: got \"1;5\", expected for x a finite number in mm, with a decimal point, -1e9 "
      "to "
      "1e9\n"
      "nests.csv:4: got \"post-3,1,2\", expected four fields, name,x,y,z, numbers with a decimal "
      "point; this line has 3\n"
      "nests.csv:6: got \"post-4\", expected each nest once; line 5 has this one already\n");
  put("nests.csv", "name,x,y,z\npost-1,1,2,3\n");
  EXPECT_EQ(said({"sight", hall(), "--measured", path("nests.csv")}),
            "nests.csv: got 1 nest, expected three nests or more, not in one line\n");
}

TEST_F(Messages, ASceneTellsKeysAndValues) {
  json scene = json::parse(got("hall.json"));
  scene["rules"]["min_margins"] = 3;
  scene["features"][0]["type"] = "pint";
  scene["features"][1]["at"] = {1, 2};
  scene["features"][2].erase("normal");
  scene["bodies"][0]["mesh"] = "frame.stp";
  put("bad.json", scene.dump());
  const std::string text = said({"check", path("bad.json")});
  for (const char* line :
       {"/rules/min_margins: got an unknown key, expected one of these keys: ",
        "; nearest: \"min_margin\"\n",
        "/features/0/type: got \"pint\", expected one of \"point\", \"plane\", \"hole\", "
        "\"cylinder\", \"sphere\", \"line\", \"cone\", \"slot\", \"surface\"; nearest: \"point\"\n",
        "/features/1/at: got [1, 2], expected a list of 3 numbers, each a coordinate in scene "
        "units, "
        "-1e9 to 1e9; this one has only 2\n",
        "/features/2/normal: missing, expected a list of 3 numbers",
        "/bodies/0/mesh: got \"frame.stp\", expected a mesh or CAD file that can be read; there is "
        "no "
        "such file; nearest: \"frame.stl\"\n"})
    EXPECT_THAT(text, HasSubstr(line));
  put("bad.json", "[1]");
  EXPECT_EQ(said({"check", path("bad.json")}), "bad.json: got [1], expected an object\n");
  put("bad.json", "{\n\"name\": \"x\",\n");
  EXPECT_THAT(said({"check", path("bad.json")}),
              HasSubstr("got the end of the text, expected valid JSON; at line 3, column 1: "));
}

TEST_F(Messages, AsJsonTheNearestStandsBesideWhatIsAllowed) {
  const Outcome outcome = run({"why", hall(), "--at", "1,2,3", "--feature", "pad-9", "--json"});
  const json fault = json::parse(outcome.out)["faults"][0];
  EXPECT_EQ(fault["where"], "--feature");
  EXPECT_EQ(fault["value"], "\"pad-9\"");
  EXPECT_EQ(fault["allowed"], "the name of a feature of the scene");
  EXPECT_EQ(fault["nearest"], "pad-8");
  EXPECT_EQ(fault["kind"], "unknown-name");
}

class EveryMessage : public testing::TestWithParam<std::size_t> {};

TEST_P(EveryMessage, HasTheOneForm) {
  const auto result = scene_samples::parse(scene_samples::bad_scenes()[GetParam()].text());
  ASSERT_FALSE(result);
  for (const Fault& fault : result.error()) {
    const std::string words = fault_words(fault);
    EXPECT_THAT(words, testing::ContainsRegex("^[^:]+(:[0-9]+)*: (got .+|missing), expected .+$"));
    EXPECT_THAT(words, testing::Not(testing::ContainsRegex("expected (expected|missing|no )")));
  }
}

INSTANTIATE_TEST_SUITE_P(Every, EveryMessage,
                         testing::Range<std::size_t>(0, scene_samples::bad_scenes().size()),
                         [](const auto& case_info) {
                           return scene_samples::bad_scenes()[case_info.param].name;
                         });

}  // namespace
}  // namespace standpoint
