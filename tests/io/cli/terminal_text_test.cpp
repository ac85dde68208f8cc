#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "io/cli/progress.h"
#include "io/read/text/fault_text.h"
#include "io/words/paragraph.h"
#include "io/words/table.h"
#include "io/write/text/check_text.h"
#include "io/write/text/plan_text.h"
#include "io/write/text/sight_text.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

template <class Print>
std::string printed(const Print& print_to) {
  std::ostringstream out;
  print_to(out);
  return out.str();
}

TEST(Table, AlignsColumnsAndLeavesNoTrailingSpace) {
  const Table table{{{"name"}, {"count", Align::right}, {"note"}},
                    {{"a", "7", "x"}, {"longer", "12345678", ""}, {"\xC3\xA9\n", "1", "y"}}};
  EXPECT_EQ(
      printed([&](std::ostream& out) { print(table, out); }),
      "  name       count  note\n"
      "  \u2500\u2500\u2500\u2500\u2500\u2500  \u2500\u2500\u2500\u2500\u2500\u2500\u2500\u2500"
      "  \u2500\u2500\u2500\u2500\n"
      "  a              7  x\n"
      "  longer  12345678\n"
      "  \xC3\xA9\\n            1  y\n");
}

TEST(Paragraph, BreaksAtSpacesAndIndentsWhatFollows) {
  const std::string text = printed([](std::ostream& out) {
    print_paragraph(
        "  - ",
        std::string(60, 'a') + " " + std::string(31, 'b') + " c\nd " + std::string(120, 'e'), out);
  });
  EXPECT_EQ(text, "  - " + std::string(60, 'a') + " " + std::string(31, 'b') + "\n    c\\nd\n    " +
                      std::string(120, 'e') + "\n");
}

TEST(FaultText, IsOneLineAFault) {
  const Faults faults{
      {"/features/3/normal", "[0,0,0]", "a vector that is not zero", FaultKind::zero_direction, ""},
      {"hall.json", "", "a file\nthat is there", FaultKind::other, "ha\x1bll.json"}};
  EXPECT_EQ(printed([&](std::ostream& out) { print_faults(faults, out); }),
            "/features/3/normal: got [0,0,0], expected a vector that is not zero\n"
            "hall.json: missing, expected a file\\nthat is there; nearest: \"ha\\u001bll.json\"\n");
  const auto json = nlohmann::json::parse(faults_json(faults));
  EXPECT_EQ(json["format"], "standpoint-faults");
  EXPECT_EQ(json["version"], 1);
  ASSERT_EQ(json["faults"].size(), 2u);
  EXPECT_EQ(json["faults"][0]["where"], "/features/3/normal");
  EXPECT_EQ(json["faults"][0]["value"], "[0,0,0]");
  EXPECT_EQ(json["faults"][0]["allowed"], "a vector that is not zero");
  EXPECT_EQ(json["faults"][0]["nearest"], nullptr);
  EXPECT_EQ(json["faults"][1]["nearest"], "ha\x1bll.json");
  EXPECT_EQ(json["faults"][0]["kind"], std::string(fault_word(FaultKind::zero_direction)));
}

TEST(Progress, IsOneLineThatRewritesItselfAndIsSilentWhereItIsNotShown) {
  std::ostringstream shown, hidden;
  {
    ProgressLine line(shown, true), quiet(hidden, false);
    for (ProgressLine* progress : {&line, &quiet}) {
      progress->tell(Stage::reach, 0.1234);
      progress->tell(Stage::reach, 0.1239);  // the same percent: nothing new to say
      progress->tell(Stage::network, 1);
    }
  }
  EXPECT_EQ(shown.str(), "\r\x1b[Ktracing beams  12 %\r\x1b[Kpredicting uncertainty 100 %\r\x1b[K");
  EXPECT_EQ(hidden.str(), "");
}

SceneFile read_scene_by_hand() {
  SceneFile read;
  read.scene = hand_made::scene();
  read.meshes = hand_made::meshes();
  BodyReport column;
  column.format = "STL";
  column.mm_per_unit = 1000;
  column.unit_source = "scene's units";
  column.defects.open_edges = 3;
  column.low = {1000, 0, 0};
  column.high = {1200, 0, 2500};
  BodyReport table;
  table.format = "STEP";
  table.mm_per_unit = 25.4;
  table.unit_source = "file";
  table.high = {2000, 1000, 800};
  read.bodies = {column, table};
  return read;
}

TEST(CheckJson, TellsEachBodyInSceneUnits) {
  const auto json = nlohmann::json::parse(check_json(read_scene_by_hand()));
  EXPECT_EQ(json["format"], "standpoint-check");
  EXPECT_EQ(json["version"], 1);
  EXPECT_EQ(json["faults"], nlohmann::json::array());
  ASSERT_EQ(json["bodies"].size(), 2u);
  const auto& column = json["bodies"][0];
  EXPECT_EQ(column["name"], "column-a");
  EXPECT_EQ(column["role"], "fixture");
  EXPECT_EQ(column["format"], "STL");
  EXPECT_EQ(column["units"], "m");
  EXPECT_EQ(column["triangles"], 1);
  EXPECT_EQ(column["faces"], 2);
  EXPECT_EQ(column["size"], nlohmann::json({0.2, 0.0, 2.5}));
  EXPECT_EQ(column["defects"]["open_edges"], 3);
  EXPECT_EQ(json["bodies"][1]["units"], "inch");
}

TEST(CheckText, RemarksOnDefectsAndOnUnitsThatNobodyStated) {
  const auto remarks = check_remarks(read_scene_by_hand());
  ASSERT_EQ(remarks.size(), 2u);
  EXPECT_THAT(remarks[0], testing::AllOf(HasSubstr("column-a"), HasSubstr("3 open edges")));
  EXPECT_THAT(remarks[1],
              testing::AllOf(HasSubstr("states no unit"), HasSubstr("0.200 x 0.000 x 2.500 m")));
  SceneFile read = read_scene_by_hand();
  read.scene.nests.resize(2);
  EXPECT_EQ(check_remarks(read).size(), 3u);
  read.scene.zones.clear();
  read.scene.fixed_stations.clear();
  EXPECT_EQ(check_remarks(read).size(), 4u);
  const std::string text = printed([&](std::ostream& out) { print_check(read, out); });
  EXPECT_THAT(text, testing::AllOf(HasSubstr("column-a"), HasSubstr("STEP"), HasSubstr("2 nests")));
}

TEST(CheckText, RemarksOnWhatAFileSaysAndTheSceneOverrules) {
  SceneFile read = read_scene_by_hand();
  BodyReport& table = read.bodies[1];
  const std::size_t before = check_remarks(read).size();
  table.unit_source = "scene's mesh_units";
  table.stated_mm_per_unit = 25.4;
  EXPECT_EQ(check_remarks(read).size(), before);  // they agree
  table.stated_mm_per_unit = 1;
  table.up_axis = 'Y';
  table.lost_faces = {"face 4", "lip"};
  table.fanned_polygons = 1;
  const auto remarks = check_remarks(read);
  ASSERT_EQ(remarks.size(), before + 4);
  EXPECT_THAT(remarks[2], HasSubstr("of face 4 and lip no surface"));
  EXPECT_THAT(remarks[3], HasSubstr("1 polygon "));
  EXPECT_THAT(remarks[4], HasSubstr("Y points up"));
  EXPECT_THAT(remarks[5],
              testing::AllOf(HasSubstr("its unit is mm"), HasSubstr("it is read in inch")));
}

TEST(SightText, TellsVerdictsMarginsAndCauses) {
  const std::string text =
      printed([&](std::ostream& out) { print_sight(hand_made::scene(), hand_made::sight(), out); });
  EXPECT_THAT(text, HasSubstr("seen from (0.500, -2.500, 1.500) m"));
  EXPECT_THAT(text, testing::ContainsRegex("pad-1 +full target +ball-38 +0.0125 +1 of 1"));
  EXPECT_THAT(text, HasSubstr("beam broken 1.834 m from the instrument by column-a, face 3"));
}

TEST(PlanText, HasEverySectionAndSafeNames) {
  Scene scene = hand_made::scene();
  scene.features[2].name = "boss\x1b[2J";
  const Plan plan = hand_made::plan();
  const std::string text =
      printed([&](std::ostream& out) { print_plan(scene, plan, find_cautions(scene, plan), out); });
  for (const char* title : {"\nStations, by", "\nFeatures (", "\nBlocked, and why\n", "\nLinks (",
                            "\nWarnings\n", "\nCautions\n", "A plan is a prediction"})
    EXPECT_THAT(text, HasSubstr(title));
  EXPECT_THAT(text,
              testing::ContainsRegex("S1, door +pad-1 +full target +ball-38 +0.0125 +0.000040"));
  EXPECT_THAT(text, HasSubstr("at least 1 is needed"));
  EXPECT_THAT(text, HasSubstr("240 places considered for the instrument; 12 dropped"));
  EXPECT_THAT(text, Not(HasSubstr("\x1b")));
}

}  // namespace
}  // namespace standpoint
