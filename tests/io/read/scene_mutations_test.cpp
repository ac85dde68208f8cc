// Whatever the text, the reader gives either a whole scene or at least one fault, and never
// crashes.

#include <gtest/gtest.h>

#include <cmath>

#include "tests/draw.h"
#include "tests/io/read/scene_samples.h"

namespace standpoint {
namespace {

using scene_samples::full_scene;
using scene_samples::Json;
using scene_samples::listed;
using scene_samples::parse;

class Random {
 public:
  explicit Random(unsigned seed) : draw_(seed) {}
  std::size_t below(std::size_t n) { return n == 0 ? 0 : draw_.below(n); }

 private:
  test::Draw draw_;
};

void expect_unit(const Vec3& direction) {
  EXPECT_NEAR(direction.norm(), 1, 1e-15);
}

/// What the planner relies on in every scene it is given.
void expect_sound(const Scene& scene) {
  EXPECT_GT(scene.mm_per_unit, 0);
  EXPECT_LT(scene.instrument.range.low, scene.instrument.range.high);
  EXPECT_LT(scene.instrument.elevation_rad.low, scene.instrument.elevation_rad.high);
  for (const FullTarget& target : scene.full_targets) EXPECT_GT(target.radius, 0);
  for (const OffsetStylus& stylus : scene.offset_styli) {
    const Shank shank = std::visit([](const auto& s) { return s.shank; }, stylus);
    if (shank.radius > shank.tip_radius) {
      EXPECT_GT(shank.taper, shank.radius - shank.tip_radius);
    }
  }
  for (const Feature& feature : scene.features) {
    EXPECT_FALSE(feature.name.empty());
    for (const TargetId target : feature.targets) EXPECT_LT(target.index, target_count(scene));
    if (const auto* point = std::get_if<PointFeature>(&feature.shape)) expect_unit(point->normal);
    if (const auto* plane = std::get_if<PlaneFeature>(&feature.shape)) {
      EXPECT_GE(plane->points.size(), 3u);
      expect_unit(plane->normal);
    }
    if (const auto* hole = std::get_if<HoleFeature>(&feature.shape)) {
      EXPECT_GT(hole->radius, 0);
      expect_unit(hole->axis);
    }
    if (const auto* line = std::get_if<LineFeature>(&feature.shape)) {
      expect_unit(line->normal);
      EXPECT_NEAR(line->normal.dot((line->to - line->from).normalized()), 0, 1e-9);
    }
    if (const auto* cone = std::get_if<ConeFeature>(&feature.shape)) {
      EXPECT_GT(cone->radius, 0);
      EXPECT_GT(cone->half_angle_rad, 0);
      expect_unit(cone->axis);
    }
    if (const auto* slot = std::get_if<SlotFeature>(&feature.shape)) {
      EXPECT_GT(slot->length, slot->width);
      expect_unit(slot->along);
      EXPECT_NEAR(slot->along.dot(slot->axis), 0, 1e-9);
    }
    if (const auto* surface = std::get_if<SurfaceFeature>(&feature.shape)) {
      EXPECT_LT(surface->body.index, scene.bodies.size());
      EXPECT_FALSE(surface->touches.empty());
      for (const PointFeature& touch : surface->touches) expect_unit(touch.normal);
    }
  }
  for (const NestSurface& surface : scene.nest_surfaces)
    EXPECT_LT(surface.body.index, scene.bodies.size());
  for (const FixedStation& place : scene.fixed_stations) {
    EXPECT_GT(place.cost, 0);
    EXPECT_TRUE(place.keep ? place.instrument_ups.size() == 1 : !place.instrument_ups.empty());
    for (const Vec3& up : place.instrument_ups) expect_unit(up);
  }
  for (const KeepOut& one : scene.keep_outs) EXPECT_GE(one.polygon.size(), 3u);
  for (const HoleAdapter& adapter : scene.hole_adapters) {
    EXPECT_LT(adapter.ball.index, scene.full_targets.size());
    EXPECT_GT(adapter.height, 0);
  }
  for (const Zone& zone : scene.zones) {
    EXPECT_GE(zone.polygon.size(), 3u);
    EXPECT_FALSE(zone.heights.empty());
    EXPECT_GT(zone.spacing, 0);
    EXPECT_GT(zone.cost, 0);
    EXPECT_FALSE(zone.instrument_ups.empty());
    for (const Vec3& up : zone.instrument_ups) expect_unit(up);
    for (const auto& hole : zone.holes) EXPECT_GE(hole.size(), 3u);
  }
}

void expect_scene_or_faults(const std::string& text) {
  const auto result = parse(text);
  if (result) {
    expect_sound(result->scene);
    EXPECT_EQ(result->bodies.size(), result->scene.bodies.size());
    return;
  }
  ASSERT_FALSE(result.error().empty());
  for (const Fault& fault : result.error()) {
    // A place in the scene, or a list that it names.
    EXPECT_TRUE(fault.where.empty() || fault.where[0] == '/' || fault.where.rfind("cell/", 0) == 0)
        << fault.where;
    EXPECT_FALSE(fault.allowed.empty());
    EXPECT_LE(fault.value.size(), 64u);
    // Whoever prints or writes a fault needs UTF-8: dump() throws on anything else.
    EXPECT_NO_THROW((void)Json({fault.where, fault.value, fault.allowed}).dump());
  }
}

std::string mutated(std::string text, Random& random) {
  static const std::vector<std::string> kPieces{
      "\"",    "{", "}",        "[",         "]",      ",",    ":",    "null",      "true",
      "1e999", "-", "NaN",      "\\u0000",   "\\",     "\xFF", "\xC3", "\"name\":", "0",
      "e",     ".", "[[[[[[[[", "-Infinity", "1e-400", "\n",   "\x00"};
  const std::size_t times = 1 + random.below(4);
  for (std::size_t i = 0; i < times; ++i) {
    const std::size_t at = random.below(text.size() + 1);
    const std::size_t length = std::min(random.below(12), text.size() - at);
    switch (random.below(5)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, kPieces[random.below(kPieces.size())]);
        break;
      case 2:
        text.insert(random.below(text.size() + 1), text.substr(at, length));
        break;
      case 3:
        text.replace(at, length, kPieces[random.below(kPieces.size())]);
        break;
      default:
        if (at < text.size()) text[at] = static_cast<char>(random.below(256));
    }
  }
  return text;
}

TEST(SceneMutations, OfTheTextGiveASceneOrFaults) {
  constexpr unsigned kSeed = 4711;
  Random random(kSeed);
  const std::string text = full_scene().dump();
  for (int round = 0; round < 20000; ++round) {
    const std::string bad = mutated(text, random);
    SCOPED_TRACE("seed " + std::to_string(kSeed) + " round " + std::to_string(round));
    expect_scene_or_faults(bad);
    if (HasFailure()) FAIL() << bad;
  }
}

void collect(const Json& node, const std::string& pointer, std::vector<std::string>& pointers) {
  pointers.push_back(pointer);
  if (!node.is_structured()) return;
  for (const auto& [key, child] : node.items()) {
    if (key.find_first_of("~/") == std::string::npos) collect(child, pointer + "/" + key, pointers);
  }
}

TEST(SceneMutations, OfValuesGiveASceneOrFaults) {
  constexpr unsigned kSeed = 815;
  Random random(kSeed);
  const Json& scene = full_scene();
  std::vector<std::string> pointers;
  collect(scene, "", pointers);
  const std::vector<Json> values{
      nullptr,       true,   0,       1,      -1,     3,         1e-9,
      1e9,           1e300,  -1e-300, "",     "mm",   "N1",      "ball-38",
      45.5,          5e-324, 1000,    {1, 2}, {2, 1}, {0, 0, 1}, Json::array(),
      Json::object()};
  int scenes = 0;
  for (int round = 0; round < 20000; ++round) {
    Json changed = scene;
    const std::size_t times = 1 + random.below(3);
    for (std::size_t i = 0; i < times; ++i) {
      const Json::json_pointer at(pointers[random.below(pointers.size())]);
      // Another value of the scene, or one of those above.
      const Json value = random.below(2) == 0
                             ? values[random.below(values.size())]
                             : scene[Json::json_pointer(pointers[random.below(pointers.size())])];
      if (changed.contains(at)) changed[at] = value;
    }
    SCOPED_TRACE("seed " + std::to_string(kSeed) + " round " + std::to_string(round));
    expect_scene_or_faults(changed.dump());
    if (HasFailure()) FAIL() << changed;
    scenes += parse(changed) ? 1 : 0;
  }
  EXPECT_GT(scenes, 500) << "some changes are allowed";
  EXPECT_LT(scenes, 15000) << "most are not";
}

TEST(SceneMutations, TheSameTextGivesTheSameFaults) {
  Random random(99);
  const std::string text = full_scene().dump();
  for (int round = 0; round < 200; ++round) {
    const std::string bad = mutated(text, random);
    EXPECT_EQ(listed(parse(bad)), listed(parse(bad)));
  }
}

TEST(SceneMutations, EveryPrefixOfASceneIsNone) {
  const std::string text = full_scene().dump();
  for (std::size_t length = 0; length < text.size(); ++length) {
    const auto result = parse(text.substr(0, length));
    ASSERT_FALSE(result) << length;
    ASSERT_EQ(result.error().back().kind, FaultKind::syntax) << length << listed(result);
  }
}

TEST(SceneMutations, AnyDepthIsRefusedInConstantStack) {
  for (const std::string piece : {"[", "{\"a\":", "[{\"bodies\":["}) {
    std::string text;
    for (int i = 0; i < 100000; ++i) text += piece;
    const auto result = parse(text);
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().back().kind, FaultKind::too_deep);
  }
}

TEST(SceneMutations, HugeKeysAndTextsMakeNoHugeFaults) {
  Json scene = full_scene();
  const std::string huge(1000000, 'k');
  scene[huge] = huge;
  scene["bodies"][0]["name"] = huge;
  const auto result = parse(scene);
  ASSERT_FALSE(result);
  ASSERT_EQ(result.error().size(), 2u);
  for (const Fault& fault : result.error())
    EXPECT_LT(fault.where.size() + fault.value.size() + fault.allowed.size(), 1000u);
}

}  // namespace
}  // namespace standpoint
