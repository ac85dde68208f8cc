// `start` as a user runs it: what it writes can be planned, is short, and is never written over
// somebody's work.

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;

class StartRun : public WholeProgram {
 protected:
  void SetUp() override { write_bored_box(folder_ / "box.step", "MM"); }

  [[nodiscard]] Outcome started(std::vector<std::string> more = {}) const {
    std::vector<std::string> arguments{"start", path("box.step"), "-o", path("job")};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments);
  }
  [[nodiscard]] json scene() const { return json::parse(got("job/scene.json")); }

  /// The text of one line of the scene, from 1.
  [[nodiscard]] std::string line(std::size_t number) const {
    std::istringstream text(got("job/scene.json"));
    std::string line;
    for (std::size_t i = 0; i < number; ++i) std::getline(text, line);
    return line;
  }
};

TEST_F(StartRun, WhatItWritesCanBePlannedAsItIs) {
  const Outcome start = started();
  ASSERT_EQ(start.exit, Exit::done) << start.err;
  const std::string text = got("job/scene.json");
  EXPECT_LE(std::count(text.begin(), text.end(), '\n'), 40) << text;
  const Outcome check = run({"check", path("job/scene.json")});
  EXPECT_EQ(check.exit, Exit::done) << check.err << text;
  const Outcome plan = run({"plan", path("job/scene.json"), "-o", path("job/plan"), "--json"});
  ASSERT_LE(plan.exit, Exit::blocked) << plan.err << text;
  const json object = json::parse(plan.out);
  // The bored box: its bore, and five planes, since it stands on the sixth.
  EXPECT_EQ(object["features"].size(), 6u);
  int measured = 0;
  for (const json& feature : object["features"]) measured += feature["verdict"] != "blocked";
  EXPECT_EQ(measured, 6) << plan.out;
  const Outcome nests = run({"nests", path("job/scene.json"), "-o", path("job/nests")});
  EXPECT_LE(nests.exit, Exit::blocked) << nests.err;
}

TEST_F(StartRun, EachGuessNamesTheLineThatItIsAbout) {
  const Outcome start = started({"--json"});
  ASSERT_EQ(start.exit, Exit::done) << start.err;
  const json object = json::parse(start.out);
  EXPECT_EQ(object["format"], "standpoint-start");
  EXPECT_EQ(object["found"], 6);
  EXPECT_GE(object["guesses"].size(), 7u);
  std::size_t before = 0;
  for (const json& guess : object["guesses"]) {
    SCOPED_TRACE(guess.dump());
    // The pointer leads to something, and its line is where that is written.
    const json::json_pointer pointer(guess["pointer"].get<std::string>());
    ASSERT_TRUE(scene().contains(pointer));
    const json value = scene().at(pointer);
    const std::string key = pointer.back();
    const std::string text = line(guess["line"]);
    const bool is_number = key.find_first_not_of("0123456789") == std::string::npos;
    if (!is_number) EXPECT_THAT(text, HasSubstr('"' + key + '"'));
    if (is_number && value.contains("name")) EXPECT_THAT(text, HasSubstr(value["name"].dump()));
    EXPECT_GT(guess["line"], before);
    before = guess["line"];
    EXPECT_FALSE(guess["guess"].get<std::string>().empty());
    EXPECT_FALSE(guess["change"].get<std::string>().empty());
  }
  const Outcome told = started();
  EXPECT_THAT(told.out, AllOf(HasSubstr("/instrument: The instrument's figures are invented"),
                              HasSubstr("standpoint plan " + path("job/scene.json"))));
}

TEST_F(StartRun, TheSameStartGivesTheSameFilesAndNeverWritesOverOthers) {
  ASSERT_EQ(started().exit, Exit::done);
  const std::string scene_text = got("job/scene.json"), list = got("job/features.csv");
  ASSERT_EQ(started().exit, Exit::done);
  EXPECT_EQ(got("job/scene.json"), scene_text);
  EXPECT_EQ(got("job/features.csv"), list);
  put("job/features.csv", list + "\n");
  const Outcome refused = started();
  EXPECT_EQ(refused.exit, Exit::wrong_input);
  EXPECT_THAT(refused.err, AllOf(HasSubstr("features.csv: got another file"),
                                 HasSubstr("--replace"), Not(HasSubstr("scene.json"))));
  EXPECT_EQ(got("job/features.csv"), list + "\n");
  EXPECT_EQ(started({"--replace"}).exit, Exit::done);
  EXPECT_EQ(got("job/features.csv"), list);
}

TEST_F(StartRun, FeaturesComeFromAListWhereOneIsGiven) {
  put("points.csv", "name;x [mm];y [mm];z [mm];i;j;k\npad;10,5;10;50;0;0;1\n");
  const Outcome start = started({"--features", path("points.csv")});
  ASSERT_EQ(start.exit, Exit::done) << start.err;
  EXPECT_EQ(scene()["feature_lists"][0]["file"], "../points.csv");
  EXPECT_FALSE(fs::exists(folder_ / "job/features.csv"));
  const Outcome plan = run({"plan", path("job/scene.json"), "-o", path("job/plan"), "--json"});
  ASSERT_EQ(plan.exit, Exit::done) << plan.err;
  EXPECT_EQ(json::parse(plan.out)["features"][0]["name"], "pad");
  put("bad.csv", "name,x,y,z\npad,1,2\n");
  const Outcome bad = started({"--features", path("bad.csv"), "--replace"});
  EXPECT_EQ(bad.exit, Exit::wrong_input);
  EXPECT_THAT(bad.err, HasSubstr("bad.csv:2"));
}

TEST_F(StartRun, TheHallIsIncludedAndWhatItHasIsNotGuessed) {
  put("hall.json", R"({"format": "standpoint-scene", "version": 1, "units": "m",
    "bodies": [{"name": "slab", "role": "surroundings", "floor": {"size": [20, 20]}},
               {"name": "pillar", "role": "surroundings", "box": {"size": [0.4, 0.4, 5]},
                "pose": {"translate": [0, 2, 0]}}],
    "nests": [{"name": "N1", "at": [3, 3, 1], "normal": [0, 0, 1], "seat": 45}],
    "stations": {"fixed": [{"name": "door", "at": [2, -2, 1.5]},
                           {"name": "gate", "at": [-2, 2, 1.5]}]}})");
  const Outcome start = started({"--hall", path("hall.json")});
  ASSERT_EQ(start.exit, Exit::done) << start.err;
  const json object = scene();
  EXPECT_EQ(object["include"], json({"../hall.json"}));
  EXPECT_EQ(object["bodies"].size(), 1u);
  EXPECT_FALSE(object.contains("stations") || object.contains("nest_sites"));
  EXPECT_TRUE(object.contains("instrument") && object.contains("full_targets"));
  const Outcome plan = run({"plan", path("job/scene.json"), "-o", path("job/plan"), "--json"});
  ASSERT_LE(plan.exit, Exit::blocked) << plan.err;
  EXPECT_THAT((std::vector<std::string>{"door", "gate"}),
              Contains(json::parse(plan.out)["stations"][0]["name"]));
  put("broken.json", "{\"bodies\": [}");
  EXPECT_THAT(started({"--hall", path("broken.json"), "--replace"}).err,
              HasSubstr("broken.json#/bodies: got"));
}

TEST_F(StartRun, EveryFaultIsToldAtOnceAndNothingIsWritten) {
  const Outcome start = run({"start", path("none.step"), path("boks.step"), "--hall",
                             path("none.json"), "--features", path("none.csv"), "-o", path("job")});
  EXPECT_EQ(start.exit, Exit::wrong_input);
  EXPECT_THAT(start.err, AllOf(HasSubstr("none.step: "), HasSubstr("boks.step: "),
                               HasSubstr("none.json: missing"), HasSubstr("none.csv: missing")));
  EXPECT_EQ(std::count(start.err.begin(), start.err.end(), '\n'), 4) << start.err;
  EXPECT_FALSE(fs::exists(folder_ / "job"));
  EXPECT_EQ(run({"start", path("box.step")}).err,
            "-o: missing, expected the folder to write into: -o DIR\n");
  EXPECT_THAT(run({"start"}).err, HasSubstr("PART...: missing, expected one or more files"));
}

TEST_F(StartRun, APartWithoutAFeatureAsksForAList) {
  write_loose_edge(folder_ / "edge.step");
  const Outcome start = run({"start", path("edge.step"), "-o", path("job")});
  EXPECT_EQ(start.exit, Exit::wrong_input);
  EXPECT_FALSE(fs::exists(folder_ / "job"));
}

TEST_F(StartRun, PartsOfOneNameAreToldApart) {
  fs::create_directory(folder_ / "other");
  write_bored_box(folder_ / "other/box.step", "MM");
  const Outcome start = run({"start", path("box.step"), path("other/box.step"), "-o", path("job")});
  ASSERT_EQ(start.exit, Exit::done) << start.err;
  EXPECT_EQ(scene()["bodies"][0]["name"], "box");
  EXPECT_EQ(scene()["bodies"][1]["name"], "box-2");
  EXPECT_EQ(run({"check", path("job/scene.json")}).exit, Exit::done);
}

}  // namespace
}  // namespace standpoint
