// One bad scene for every fault that the reader can tell, and nothing more than that fault in each.

#include <gtest/gtest.h>

#include <set>

#include "tests/io/read/bad_scenes.h"

namespace standpoint {
namespace {

using scene_samples::bad_scenes;
using scene_samples::BadScene;
using scene_samples::full_scene;
using scene_samples::Json;
using scene_samples::listed;
using scene_samples::parse;
using scene_samples::repeated;
using scene_samples::with;

class BadSceneTest : public testing::TestWithParam<std::size_t> {};

TEST_P(BadSceneTest, TellsThisFaultAndNoOther) {
  const BadScene& bad = bad_scenes()[GetParam()];
  const auto result = parse(bad.text());
  ASSERT_FALSE(result);
  ASSERT_EQ(result.error().size(), 1u) << listed(result);
  const Fault& fault = result.error().front();
  EXPECT_EQ(fault_word(fault.kind), fault_word(bad.kind)) << listed(result);
  EXPECT_EQ(fault.where, bad.where);
  EXPECT_EQ(fault.value, bad.value);
  EXPECT_NE(fault.allowed.find(bad.allowed), std::string::npos)
      << fault.allowed << "\n does not hold \n"
      << bad.allowed;
  EXPECT_EQ(fault.nearest, bad.nearest);
}

INSTANTIATE_TEST_SUITE_P(Every, BadSceneTest, testing::Range<std::size_t>(0, bad_scenes().size()),
                         [](const auto& case_info) { return bad_scenes()[case_info.param].name; });

TEST(SceneFaults, TheUnspoiltSceneHasNone) {
  const auto result = parse(full_scene());
  EXPECT_TRUE(result) << listed(result);
}

TEST(SceneFaults, EveryKindHasItsBadScene) {
  std::set<FaultKind> seen;
  for (const BadScene& bad : bad_scenes()) seen.insert(bad.kind);
  // Shown by tests of their own, here and in scene_file_test.cpp.
  seen.insert({FaultKind::more_faults, FaultKind::file_unreadable});
  for (int i = 0; i < static_cast<int>(FaultKind::count_); ++i) {
    const auto kind = static_cast<FaultKind>(i);
    if (kind == FaultKind::other) continue;  // never told by the reader
    EXPECT_TRUE(seen.count(kind)) << "no bad scene for " << fault_word(kind);
  }
}

TEST(SceneFaults, WordsAreDistinct) {
  std::set<std::string_view> words;
  for (int i = 0; i < static_cast<int>(FaultKind::count_); ++i)
    EXPECT_TRUE(words.insert(fault_word(static_cast<FaultKind>(i))).second);
}

TEST(SceneFaults, AllAreToldAtOnceInTheOrderOfTheFile) {
  Json scene = full_scene();
  scene["bodies"][1]["mesh"] = "missing.stl";
  scene["instrument"]["range"] = {5, -1};
  scene["instrument"]["beam"].erase("diameter");
  scene["full_targets"][1]["name"] = "ball-38";
  scene["features"][0]["normal"] = {0, 0, 0};
  scene["features"][1]["kind"] = 5;
  scene["features"][2]["diameter"] = "five";
  scene["stations"]["zones"][0]["polygon"][2] = {5000, true};
  scene["rules"]["shared_nests"] = 2;
  std::string text = scene.dump();
  text.replace(text.find("\"seat\":45"), 9, "\"seat\":1e400");
  const auto result = parse(text);
  ASSERT_FALSE(result);
  std::vector<std::string> places;
  for (const Fault& fault : result.error())
    places.push_back(std::string(fault_word(fault.kind)) + " " + fault.where);
  EXPECT_EQ(places,
            (std::vector<std::string>{
                "mesh-unreadable /bodies/1/mesh", "missing /instrument/beam/diameter",
                "out-of-range /instrument/range/1", "duplicate-name /full_targets/1/name",
                "zero-direction /features/0/normal",
                // ball-12 is gone, which the second feature names.
                "unknown-name /features/1/targets/0", "unknown-key /features/1/kind",
                "wrong-type /features/2/diameter", "not-finite /nests/0/seat",
                "wrong-type /stations/zones/0/polygon/2/1", "out-of-range /rules/shared_nests"}))
      << listed(result);
}

TEST(SceneFaults, ANameThatCouldNotBeReadIsNotCalledUnknownWhereItIsUsed) {
  for (const auto& [pointer, value] : std::vector<std::pair<std::string, Json>>{
           {"/full_targets", 7}, {"/full_targets/0", 7}, {"/full_targets/0/name", 7}}) {
    const auto result = parse(with(pointer, value)());
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().size(), 1u) << pointer << "\n" << listed(result);
  }
}

TEST(SceneFaults, AnUnknownTypeIsToldOnceAndTheRestStillChecked) {
  Json scene = full_scene();
  scene["features"][3]["type"] = "cylindre";
  scene["features"][3]["tolerance"] = -1;
  scene["offset_styli"][0]["kind"] = "miror";
  scene["offset_styli"][0]["error"] = -1;
  const auto result = parse(scene);
  ASSERT_FALSE(result);
  ASSERT_EQ(result.error().size(), 4u) << listed(result);
  EXPECT_EQ(result.error()[0].nearest, "mirror");
  EXPECT_EQ(result.error()[1].where, "/offset_styli/0/error");
  EXPECT_EQ(result.error()[2].nearest, "cylinder");
  EXPECT_EQ(result.error()[3].where, "/features/3/tolerance");
}

TEST(SceneFaults, BeyondTenThousandTheyAreCounted) {
  Json scene = full_scene();
  scene["stations"]["zones"][0]["heights"] = std::vector<int>(12000, -1);
  const auto result = parse(scene);
  ASSERT_FALSE(result);
  // 12 000 heights out of range, and too many of them.
  ASSERT_EQ(result.error().size(), 10001u);
  EXPECT_EQ(result.error()[0].kind, FaultKind::too_many_entries);
  EXPECT_EQ(result.error()[1].where, "/stations/zones/0/heights/0");
  EXPECT_EQ(result.error().back().kind, FaultKind::more_faults);
  EXPECT_EQ(result.error().back().allowed, "2001 more faults are not listed");
}

TEST(SceneFaults, TheBoundOnGridsHoldsForAllZonesTogether) {
  Json scene = full_scene();
  Json zone = scene["stations"]["zones"][0];
  zone["spacing"] = 6;  // 6000 * 2000 / 36 * 2 = 666 667 each
  scene["stations"]["zones"] = Json::array();
  for (int i = 0; i < 4; ++i) {
    zone["name"] = "zone " + std::to_string(i);
    scene["stations"]["zones"].push_back(zone);
  }
  const auto result = parse(scene);
  ASSERT_FALSE(result);
  ASSERT_EQ(result.error().size(), 1u) << listed(result);
  EXPECT_EQ(result.error()[0].where, "/stations/zones/1/spacing");
}

TEST(SceneFaults, ALongValueIsShortenedWithinNoCharacter) {
  const auto result = parse(with("/units", Json(repeated("\xC3\xA4", 4000)))());
  ASSERT_FALSE(result);
  const std::string value = result.error()[0].value;
  EXPECT_EQ(value, "\"" + repeated("\xC3\xA4", 25) + "...\"");
}

}  // namespace
}  // namespace standpoint
