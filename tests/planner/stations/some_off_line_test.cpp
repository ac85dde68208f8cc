// Whether some of the places are off one line: against all sets of them, one by one.

#include "planner/stations/some_off_line.h"

#include <gtest/gtest.h>

#include "planner/stations/tie_rule.h"
#include "tests/draw.h"
#include "tests/planner/stations/off_line_oracle.h"

namespace standpoint {
namespace {

using Places = std::vector<Vec3>;

class Drawn {
 public:
  explicit Drawn(std::uint64_t seed) : draw_(seed) {}
  double between(double low, double high) { return draw_.between(low, high); }
  std::size_t below(std::size_t end) { return draw_.below(end); }

  /// Places in a strip about a line, as wide as it takes for either answer; some on a grid, some
  /// that coincide, some in two clusters far apart, some in space.
  Places places(std::size_t count) {
    const std::size_t kind = below(5);
    const double wide = 3000 * std::exp(between(std::log(0.01), std::log(0.12)));
    Places all;
    while (all.size() < count) {
      double x = between(0, 3000), y = between(-wide, wide), z = between(-wide, wide);
      if (kind == 0) z = 0;
      if (kind == 1)
        x = 500.0 * static_cast<double>(below(7)), y = 50.0 * static_cast<double>(below(4)), z = 0;
      if (kind == 2) x = below(2) == 0 ? x / 20 : 3000 - x / 20;
      if (kind == 3 && !all.empty() && below(3) == 0) {
        all.push_back(all[below(all.size())]);
        continue;
      }
      if (kind == 4) y = wide * (x / 3000 - 1) * x / 3000 * 4, z = between(-5, 5);  // an arc
      all.emplace_back(x, y, z);
    }
    return turned(all);
  }

 private:
  Places turned(Places places) {
    const Eigen::AngleAxisd turn(between(0, 3),
                                 Vec3(between(-1, 1), between(-1, 1), 0.3).normalized());
    for (Vec3& p : places) p = turn * p + Vec3(9000, -4000, 800);
    return places;
  }
  test::Draw draw_;
};

TEST(SomeOffLine, OneMoreNestInLineDoesNotUndoALink) {
  // Three nests off one line, and a fourth that is far and makes all four count as one line.
  Places places{{0, 0, 0}, {1000, 0, 0}, {500, 200, 0}};
  EXPECT_TRUE(are_off_one_line(places));
  EXPECT_EQ(some_off_line(places, 3), SomeOffLine::yes);
  places.emplace_back(20000, 0, 0);
  EXPECT_FALSE(are_off_one_line(places));
  EXPECT_EQ(some_off_line(places, 3), SomeOffLine::yes);
  // Where four are asked, it takes all of them.
  EXPECT_EQ(some_off_line(places, 4), SomeOffLine::no);
}

TEST(SomeOffLine, FewerThanAskedOrInOnePlaceAreInLine) {
  const Places square{{0, 0, 0}, {1000, 0, 0}, {0, 1000, 0}, {1000, 1000, 0}};
  EXPECT_EQ(some_off_line(square, 4), SomeOffLine::yes);
  EXPECT_EQ(some_off_line(square, 5), SomeOffLine::no);
  EXPECT_EQ(some_off_line({square[0], square[1]}, 0), SomeOffLine::no);
  EXPECT_EQ(some_off_line({}, 3), SomeOffLine::no);
  EXPECT_EQ(some_off_line(Places(6, Vec3(1, 2, 3)), 3), SomeOffLine::no);
}

TEST(SomeOffLine, ManyAtTheEndsHoldTheLineAndOneIsOffIt) {
  // With one nest at each end the line gives way to the middle one (2/3 of 60 is under 1000/20);
  // with four at each end it hardly does (8/9 of 60 is not).
  Places places{{0, 0, 0}, {1000, 0, 0}, {500, 60, 0}};
  EXPECT_EQ(some_off_line(places, 3), SomeOffLine::no);
  for (const double end : {0.0, 1000.0})
    for (int i = 0; i < 3; ++i) places.emplace_back(end, 0, 0);
  EXPECT_EQ(some_off_line(places, 3), SomeOffLine::yes);
}

TEST(SomeOffLine, ExactlyAtTheLimitIsOffLine) {
  // 2 h / 3 = s / 20 for a low triangle with its apex above the middle.
  Places places{{0, 0, 0}, {40, 0, 0}, {20, 3, 0}, {800, 0, 0}, {-800, 0, 0}};
  EXPECT_EQ(some_off_line(places, 3), SomeOffLine::yes);
  places[2].y() = 2.9;
  EXPECT_EQ(some_off_line(places, 3), SomeOffLine::no);
}

TEST(SomeOffLine, AgreesWithAllSetsOneByOne) {
  int some = 0, none = 0, only_some = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Drawn draw(seed);
    const Places places = draw.places(3 + draw.below(7));
    const std::size_t least = 3 + draw.below(3);
    const double greatest = test::greatest_off_line_ratio(places, least);
    if (test::is_at_limit(greatest)) continue;
    const SomeOffLine expected = greatest > 1 ? SomeOffLine::yes : SomeOffLine::no;
    ASSERT_EQ(some_off_line(places, least), expected) << "ratio " << greatest;
    ++(greatest > 1 ? some : none);
    only_some += greatest > 1 && test::off_line_ratio(places) < 1;
  }
  EXPECT_GT(some, 80);
  EXPECT_GT(none, 80);
  EXPECT_GT(only_some, 20);
}

TEST(SomeOffLine, NeverTurnsToNoWhenPlacesAreAdded) {
  int turned = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Drawn draw(1000 + seed);
    const Places all = draw.places(16);
    const std::size_t least = 3 + draw.below(2);
    SomeOffLine before = SomeOffLine::no;
    for (std::size_t count = least; count <= all.size(); ++count) {
      const SomeOffLine now =
          some_off_line({all.begin(), all.begin() + static_cast<std::ptrdiff_t>(count)}, least);
      ASSERT_NE(now, SomeOffLine::given_up) << count;
      if (before == SomeOffLine::yes) {
        ASSERT_EQ(now, SomeOffLine::yes) << count;
      }
      turned += before != now;
      before = now;
    }
  }
  EXPECT_GT(turned, 50);
}

TEST(SomeOffLine, OfTwoHundredNestsTheAnswerIsFound) {
  Drawn draw(5);
  Places line, wall;
  for (int i = 0; i < 200; ++i) {
    line.emplace_back(100.0 * i, 50.0 * i, 0);
    wall.emplace_back(draw.between(0, 20000), draw.between(-10, 10), draw.between(-10, 10));
  }
  EXPECT_EQ(some_off_line(line, 3), SomeOffLine::no);
  line.emplace_back(10000, 5000, 1500);
  EXPECT_EQ(some_off_line(line, 3), SomeOffLine::yes);
  // Along a wall a few neighbours are always off a line of their own.
  EXPECT_EQ(some_off_line(wall, 3), SomeOffLine::yes);
}

TEST(LineRemedy, OneMoreNestSoFarOffTheLineMakesThemAllOffLine) {
  int tried = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    Drawn draw(2000 + seed);
    Places places = draw.places(3 + draw.below(6));
    if (some_off_line(places, 3) == SomeOffLine::yes) continue;
    const LineRemedy remedy = line_remedy(places);
    const Vec3 first = places[remedy.first], last = places[remedy.last];
    if (remedy.off_mm == 0) continue;
    ++tried;
    EXPECT_NEAR(remedy.off_mm / (last - first).norm(), 0.1, 0.005);
    const Vec3 along = (last - first).normalized();
    const Vec3 any = Vec3(draw.between(-1, 1), draw.between(-1, 1), draw.between(-1, 1));
    const Vec3 across = (any - any.dot(along) * along).normalized();
    const double share = seed % 3 == 0 ? 0 : draw.between(0, 1);
    places.push_back(first + share * (last - first) + remedy.off_mm * across);
    EXPECT_TRUE(are_off_one_line(places));
  }
  EXPECT_GT(tried, 50);
}

}  // namespace
}  // namespace standpoint
