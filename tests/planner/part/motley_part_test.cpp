// What is found on a part with one of everything, however its faces are ordered, turned or spoilt.

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "planner/part/feature_filter.h"
#include "tests/draw.h"
#include "tests/planner/part/found.h"
#include "tests/planner/part/part_builder.h"

namespace standpoint {
namespace {

using test::Drilling;
using test::expect_near;
using test::HoleEnd;
using test::names_of;
using test::PartBuilder;
using test::without_planes;
using testing::ElementsAre;
using testing::IsEmpty;

/// A part with one of everything, and several of some.
PartFaces motley() {
  Drilling cut{40, 40, {{12, 10}, {5, 20}}};
  cut.end = HoleEnd::tip;
  Drilling sunk{160, 40, {{5, 60}}};
  sunk.countersink = 9;
  Drilling halves{220, 120, {{5, 60}}};
  halves.pieces = 2;
  return PartBuilder()
      .block(0, 0, 300, 200, 0, 60,
             {cut,
              sunk,
              halves,
              {100, 150, {{10, 60}}},
              {200, 60, {{10, 60}}},
              {260, 160, {{32, 60}}}})
      .boss(60, 120, 20, 60, 90)
      .slot(150, 100, 12, 50, 0, 60)
      .done();
}

TEST(FindFeatures, NamesDoNotDependOnTheOrderOfFacesOrLoops) {
  const PartFaces part = motley();
  const auto expected = names_of(find_features(part));
  ASSERT_EQ(without_planes(part).size(), 8U);
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    test::Draw draw(seed);
    std::vector<std::size_t> order(part.faces.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[draw.below(i)]);
    PartFaces other = test::reordered(part, order);
    if (draw.chance(0.5)) other = test::turned_round(std::move(other));
    const auto found = find_features(other);
    EXPECT_EQ(names_of(found), expected) << "seed " << seed;
    const auto before = find_features(part);
    for (std::size_t i = 0; i < std::min(found.size(), before.size()); ++i) {
      if (found[i].kind != FoundKind::plane) expect_near(found[i].centre, before[i].centre);
      EXPECT_NEAR(found[i].axis.dot(before[i].axis), 1, 1e-9) << found[i].name;
      std::vector<std::size_t> faces;
      for (const std::size_t number : found[i].faces) faces.push_back(order[number - 1] + 1);
      std::sort(faces.begin(), faces.end());
      EXPECT_EQ(faces, before[i].faces) << found[i].name << ", seed " << seed;
    }
  }
}

/// What of a feature does not change when the part is moved.
std::string form_of(const FoundFeature& f) {
  std::string form = f.name.substr(0, f.name.rfind('-')) + (f.through ? " through" : "") +
                     (f.tip ? " tip" : "") + " " + std::to_string(f.faces.size());
  for (const HoleStep& step : f.steps)
    form += " " + std::to_string(std::lround(1e3 * step.diameter)) + "/" +
            std::to_string(std::lround(1e3 * step.depth));
  return form;
}

TEST(FindFeatures, MovingOrMirroringThePartMovesWhatIsFound) {
  const PartFaces part = motley();
  std::map<std::string, std::vector<Vec3>> expected;
  for (const FoundFeature& f : find_features(part))
    if (f.kind != FoundKind::plane) expected[form_of(f)].push_back(f.centre);
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    test::Draw draw(seed);
    Mat3 turn = Eigen::AngleAxisd(draw.between(0, 6.3), draw.direction()).toRotationMatrix();
    if (draw.chance(0.5)) turn.col(0) = -turn.col(0);
    const Vec3 shift = draw.in_box(5000);
    std::map<std::string, std::vector<Vec3>> found;
    for (const FoundFeature& f : find_features(test::moved(part, turn, shift)))
      if (f.kind != FoundKind::plane) found[form_of(f)].push_back(f.centre);
    ASSERT_EQ(found.size(), expected.size()) << "seed " << seed;
    for (const auto& [form, places] : expected) {
      ASSERT_EQ(found[form].size(), places.size()) << form << ", seed " << seed;
      for (const Vec3& place : places) {
        // A plain hole through the part may open at its other end now: then that is its centre.
        double nearest = 1e9;
        for (const Vec3& p : found[form])
          for (const double back : {0.0, 60.0})
            nearest = std::min(nearest, (p - turn * (place - back * Vec3::UnitZ()) - shift).norm());
        EXPECT_LT(nearest, 1e-6) << form << ", seed " << seed;
      }
    }
  }
}

TEST(FindFeatures, FacesThatMakeNoSenseArePassedOver) {
  PartFaces part = motley();
  const auto expected = without_planes(part).size();
  Face bad = part.faces.back();
  bad.surface.at.x() = std::nan("");
  part.faces.push_back(bad);
  bad = part.faces.front();
  bad.surface.kind = SurfaceKind::cylinder;
  bad.surface.radius = -1;
  part.faces.push_back(bad);
  bad = Face{};
  bad.surface.kind = SurfaceKind::cone;
  part.faces.push_back(bad);
  Edge edge;
  edge.beyond = 100000;
  edge.points = {Vec3::Zero(), Vec3::UnitX()};
  bad = part.faces.front();
  bad.loops = {{edge}};
  part.faces.push_back(bad);
  EXPECT_EQ(without_planes(part).size(), expected);
  EXPECT_THAT(find_features(PartFaces{}), IsEmpty());
}

TEST(FindFeatures, FiltersTakeWhatIsAskedFor) {
  const auto found = find_features(motley());
  const auto left = [&](const FeatureFilter& filter) {
    auto kept = found;
    std::erase_if(kept, [&](const FoundFeature& f) { return !passes(filter, f); });
    return names_of(kept);
  };
  FeatureFilter filter;
  filter.words = {"hole"};
  EXPECT_THAT(left(filter),
              ElementsAre("hole-10-1", "hole-10-2", "hole-10-3", "hole-20-1", "hole-20-2"));
  filter.size = Interval{15, 25};
  EXPECT_THAT(left(filter), ElementsAre("hole-20-1", "hole-20-2"));
  filter.low = Vec3(0, 100, 0);
  filter.high = Vec3(300, 200, 100);
  EXPECT_THAT(left(filter), ElementsAre("hole-20-1"));
  FeatureFilter axis;
  axis.words = {"boss", "hole", "plane"};
  axis.axis = -Vec3::UnitZ();
  const auto down = left(axis);
  EXPECT_EQ(std::count_if(down.begin(), down.end(),
                          [](const std::string& n) { return n.rfind("plane", 0) == 0; }),
            1);
  EXPECT_EQ(down.size(), 2U) << "the boss either way round, and the bottom";
}

}  // namespace
}  // namespace standpoint
