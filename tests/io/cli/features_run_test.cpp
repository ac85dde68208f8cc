// The command features, from its arguments to its exit code.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "io/read/lists/feature_list.h"
#include "tests/io/cli/whole_program.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::StartsWith;
using Json = nlohmann::json;

class FeaturesRun : public WholeProgram {
 protected:
  FeaturesRun() { write_worked_plate(folder_ / "plate.step"); }

  [[nodiscard]] std::vector<std::string> names(std::vector<std::string> arguments) const {
    arguments.insert(arguments.begin(), std::initializer_list<std::string>{"features", "--json"});
    const Outcome outcome = run(arguments);
    EXPECT_EQ(outcome.exit, Exit::done) << outcome.err;
    std::vector<std::string> found;
    const Json answer = Json::parse(outcome.out);
    for (const Json& feature : answer["features"]) found.push_back(feature["name"]);
    return found;
  }
};

TEST_F(FeaturesRun, PrintsWhatIsThereByKindAndSize) {
  const Outcome outcome = run({"features", path("plate.step")});
  EXPECT_EQ(outcome.exit, Exit::done) << outcome.err;
  EXPECT_THAT(outcome.err, IsEmpty());
  EXPECT_THAT(outcome.out, testing::ContainsRegex("in 1[ \n]solid"));
  EXPECT_THAT(outcome.out, testing::ContainsRegex("hole +12 +1  through, stepped"));
  EXPECT_THAT(outcome.out, testing::ContainsRegex("hole +16 +1  blind, with drill tip"));
  EXPECT_THAT(outcome.out, testing::ContainsRegex("slot +10 x 30 +1  through"));
  EXPECT_THAT(outcome.out, testing::ContainsRegex("boss +14 +1"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("hole-12-1")));
  EXPECT_THAT(run({"features", path("plate.step"), "--details"}).out, HasSubstr("hole-12-1"));
  EXPECT_THAT(run({"features", path("plate.step"), "--quiet"}).out, IsEmpty());
}

TEST_F(FeaturesRun, AnEntryHasTheFormOfAScenesFeature) {
  const Outcome outcome = run({"features", path("plate.step"), "--kind", "hole", "--json"});
  const Json object = Json::parse(outcome.out);
  EXPECT_EQ(object["format"], "standpoint-features");
  EXPECT_EQ(object["units"], "mm");
  const Json& hole = object["features"][0];
  EXPECT_EQ(hole["type"], "hole");
  EXPECT_EQ(hole["centre"], Json({30.0, 20.0, 22.0}));
  EXPECT_EQ(hole["axis"], Json({0.0, 0.0, 1.0}));
  EXPECT_EQ(hole["diameter"], 12.0);
  EXPECT_EQ(hole["depth"], 22.0);
  EXPECT_EQ(hole["through"], true);
  EXPECT_EQ(hole["steps"][0],
            (Json{{"centre", {30.0, 20.0, 30.0}}, {"diameter", 20.0}, {"depth", 8.0}}));
  EXPECT_EQ(hole["from"]["file"], path("plate.step"));
  EXPECT_FALSE(hole["from"]["faces"].empty());
}

TEST_F(FeaturesRun, EntriesCanBeCopiedIntoASceneAsTheyStand) {
  const Outcome outcome =
      run({"features", path("plate.step"), "--kind", "hole,boss,plane", "--json"});
  Json scene = Json::parse(R"({"format": "standpoint-scene", "version": 1, "units": "mm",
    "bodies": [{"name": "plate", "role": "part", "mesh": "plate.step"}],
    "instrument": {"name": "invented", "beam": {"diameter": 5, "growth_mrad": 0.2},
                   "range": [100, 9000], "elevation": [-60, 70],
                   "body": {"radius": 0, "above": 0, "below": 0}},
    "full_targets": [{"name": "ball", "diameter": 30, "acceptance": 30, "aperture": 40}],
    "stations": {"fixed": [{"name": "door", "at": [2000, 0, 900]}]}})");
  scene["features"] = Json::parse(outcome.out)["features"];
  ASSERT_GT(scene["features"].size(), 3u);
  put("scene.json", scene.dump());
  EXPECT_EQ(run({"check", path("scene.json")}).exit, Exit::done)
      << run({"check", path("scene.json")}).err;
  scene["features"][0]["thorough"] = true;
  put("scene.json", scene.dump());
  EXPECT_THAT(run({"check", path("scene.json")}).err, HasSubstr("/features/0/thorough"));
}

TEST_F(FeaturesRun, OptionsSayWhatIsWanted) {
  const std::string plate = path("plate.step");
  EXPECT_THAT(names({plate, "--kind", "hole,boss"}),
              ElementsAre("hole-12-1", "hole-16-1", "boss-14-1"));
  EXPECT_THAT(names({plate, "--kind", "hole,boss", "--size", "13..16"}),
              ElementsAre("hole-16-1", "boss-14-1"));
  EXPECT_THAT(names({plate, "--size", "16"}), ElementsAre("hole-16-1"));
  EXPECT_THAT(names({plate, "--kind", "hole", "--axis", "0,0,5"}),
              ElementsAre("hole-12-1", "hole-16-1"));
  EXPECT_THAT(names({plate, "--kind", "hole", "--axis", "0,0,-1"}), IsEmpty());
  EXPECT_THAT(names({plate, "--kind", "hole,slot", "--box", "0,0,0,50,70,40"}),
              ElementsAre("hole-12-1", "slot-10x30-1"));
  EXPECT_THAT(names({plate, "--kind", "hole,bore", "--holes-up-to", "13"}),
              ElementsAre("hole-12-1", "bore-16-1"));
}

TEST_F(FeaturesRun, TheListReadsBackAsTheSameFeatures) {
  const Outcome outcome = run({"features", path("plate.step"), "--csv"});
  ASSERT_EQ(outcome.exit, Exit::done);
  const auto list = parse_feature_list(outcome.out, {"list.csv", {}, {}});
  ASSERT_TRUE(list);
  std::vector<std::string> read;
  for (const ListedFeature& listed : list->features) read.push_back(listed.feature.name);
  EXPECT_EQ(read, names({path("plate.step")}));
  put("list.csv", outcome.out);
  EXPECT_EQ(names({path("list.csv")}), read) << "features reads lists, too";
}

TEST_F(FeaturesRun, NamesOfSeveralFilesBeginWithTheirFile) {
  write_bored_box(folder_ / "box.step", "MM");
  EXPECT_THAT(
      names({path("plate.step"), path("box.step"), "--kind", "slot,hole"}),
      ElementsAre("plate.hole-12-1", "plate.hole-16-1", "plate.slot-10x30-1", "box.hole-30-1"));
}

TEST_F(FeaturesRun, WrongOptionsAndFilesAreToldAtOnce) {
  Outcome outcome =
      run({"features", path("plate.step"), "--kind", "hole,bos", "--size", "5..2", "--axis",
           "0,0,0", "--box", "1,2,3", "--holes-up-to", "-1", "--units", "yard", "--csv", "--json"});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  EXPECT_THAT(outcome.err, HasSubstr("--kind: got \"bos\""));
  EXPECT_THAT(outcome.err, HasSubstr("nearest: \"boss\""));
  for (const char* option : {"--size", "--axis", "--box", "--holes-up-to", "--units", "--csv"})
    EXPECT_THAT(outcome.err, HasSubstr(std::string(option) + ": got")) << option;
  put("x.doc", "no part");
  outcome = run({"features", path("plat.step"), path("x.doc"), path(".")});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  EXPECT_THAT(outcome.out, IsEmpty());
  EXPECT_THAT(outcome.err, HasSubstr("there is no such file; nearest"));
  EXPECT_THAT(outcome.err, HasSubstr("plate.step"));
  EXPECT_THAT(outcome.err, HasSubstr("got \"plat.step\""));
  EXPECT_THAT(outcome.err, HasSubstr("got \"x.doc\""));
  EXPECT_THAT(outcome.err, HasSubstr("files of this kind"));
  EXPECT_THAT(outcome.err, HasSubstr("a folder"));
  outcome = run({"features"});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  EXPECT_THAT(outcome.err, StartsWith("FILE...: missing"));
}

TEST_F(FeaturesRun, SeveralSolidsAreToldAndNamedByTheirParts) {
  write_assembly(folder_ / "assembly.step");
  const Outcome outcome = run({"features", path("assembly.step"), "--details"});
  EXPECT_EQ(outcome.exit, Exit::done);
  EXPECT_THAT(outcome.out, HasSubstr("3 solids"));
  EXPECT_THAT(outcome.out, HasSubstr("pin"));
  EXPECT_THAT(outcome.out, HasSubstr("plate"));
}

}  // namespace
}  // namespace standpoint
