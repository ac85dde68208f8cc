#include "io/read/scene/polygon_defect.h"
#include "tests/draw.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace standpoint {
namespace {

using Corner = std::array<std::int64_t, 2>;

// The oracle: every pair of edges, in whole numbers, straight from the definition of a simple
// polygon. Shares nothing with the sweep that is checked.

std::int64_t turn(const Corner& a, const Corner& b, const Corner& c) {
  const std::int64_t cross = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  return cross > 0 ? 1 : cross < 0 ? -1 : 0;
}

bool is_on_edge(const Corner& a, const Corner& b, const Corner& p) {
  return turn(a, b, p) == 0 && std::min(a[0], b[0]) <= p[0] && p[0] <= std::max(a[0], b[0]) &&
         std::min(a[1], b[1]) <= p[1] && p[1] <= std::max(a[1], b[1]);
}

bool do_meet(const Corner& a, const Corner& b, const Corner& c, const Corner& d) {
  if (is_on_edge(a, b, c) || is_on_edge(a, b, d) || is_on_edge(c, d, a) || is_on_edge(c, d, b))
    return true;
  return turn(a, b, c) != turn(a, b, d) && turn(c, d, a) != turn(c, d, b);
}

std::optional<PolygonDefect> defect_by_pairs(const std::vector<Corner>& corners) {
  const std::size_t n = corners.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (corners[i] == corners[j]) return PolygonDefect::repeated_corner;
  bool is_flat = true;
  for (const Corner& corner : corners)
    is_flat = is_flat && turn(corners[0], corners[1], corner) == 0;
  if (is_flat) return PolygonDefect::flat;
  const auto at = [&](std::size_t i) -> const Corner& { return corners[i % n]; };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      const bool follows = j == i + 1, precedes = i == 0 && j == n - 1;
      if (follows && precedes) continue;
      if (follows) {  // they share corner j: overlap where the far end of one lies on the other
        if (is_on_edge(at(i), at(j), at(j + 1)) || is_on_edge(at(j), at(j + 1), at(i)))
          return PolygonDefect::crosses;
      } else if (precedes) {
        if (is_on_edge(at(j), at(0), at(1)) || is_on_edge(at(0), at(1), at(j)))
          return PolygonDefect::crosses;
      } else if (do_meet(at(i), at(i + 1), at(j), at(j + 1))) {
        return PolygonDefect::crosses;
      }
    }
  }
  return std::nullopt;
}

std::vector<Vec2> as_doubles(const std::vector<Corner>& corners, double scale, double shift) {
  std::vector<Vec2> points;
  for (const Corner& corner : corners) {
    points.emplace_back(static_cast<double>(corner[0]) * scale + shift,
                        static_cast<double>(corner[1]) * scale - shift);
  }
  return points;
}

int answer_of(const std::optional<PolygonFinding>& finding) {
  return finding ? static_cast<int>(finding->defect) : -1;
}

TEST(PolygonDefect, AgreesWithEveryPairOfEdgesOnSmallGrids) {
  constexpr unsigned kSeed = 20240611;
  test::Draw draw(kSeed);
  std::array<int, 4> seen{};  // by answer, simple first
  for (int round = 0; round < 30000; ++round) {
    const std::size_t n = 3 + draw.below(6);
    const auto side = static_cast<std::int64_t>(2 + draw.below(6));
    std::vector<Corner> corners(n);
    for (Corner& corner : corners) {
      for (auto& x : corner)
        x = static_cast<std::int64_t>(draw.below(static_cast<std::size_t>(side)));
    }
    const auto expected = defect_by_pairs(corners);
    const int expected_answer = expected ? static_cast<int>(*expected) : -1;
    ++seen[static_cast<std::size_t>(expected_answer + 1)];
    // Powers of two and whole shifts keep the corners exact.
    for (const auto& [scale, shift] : {std::pair{1.0, 0.0}, {0x1p-20, 0.0}, {0x1p10, 0x1p40}}) {
      ASSERT_EQ(answer_of(find_polygon_defect(as_doubles(corners, scale, shift))), expected_answer)
          << "seed " << kSeed << " round " << round << " scale " << scale;
    }
  }
  for (const int count : seen) EXPECT_GT(count, 200) << "each answer came up often";
}

TEST(PolygonDefect, AHairBesideTheLineIsAnArea) {
  // The third corner is one unit in the last place off the line through the others.
  const double off = std::nextafter(0.2, 1);
  EXPECT_FALSE(find_polygon_defect({Vec2(0.1, 0.1), Vec2(0.3, 0.3), Vec2(0.2, off)}));
  EXPECT_EQ(answer_of(find_polygon_defect({Vec2(0.1, 0.1), Vec2(0.3, 0.3), Vec2(0.2, 0.2)})),
            static_cast<int>(PolygonDefect::flat));
}

TEST(PolygonDefect, NamesTheFirstRepeatedCornerAndTheOneItRepeats) {
  const auto finding = find_polygon_defect(
      {Vec2(0, 0), Vec2(5, 0), Vec2(5, 5), Vec2(5, 0), Vec2(0, 5), Vec2(0, 0), Vec2(-0.0, 0)});
  ASSERT_TRUE(finding);
  EXPECT_EQ(finding->defect, PolygonDefect::repeated_corner);
  EXPECT_EQ(finding->first, 1u);
  EXPECT_EQ(finding->second, 3u);
}

TEST(PolygonDefect, ALargeStarIsSimpleUntilOneEdgeCrosses) {
  std::vector<Vec2> star;
  for (int i = 0; i < 10000; ++i) {
    const double angle = i * (2 * M_PI / 10000), radius = i % 2 == 0 ? 1000 : 400;
    star.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
  }
  EXPECT_FALSE(find_polygon_defect(star));
  star[5001] = Vec2(2000, 0.5);
  EXPECT_EQ(answer_of(find_polygon_defect(star)), static_cast<int>(PolygonDefect::crosses));
}

TEST(PolygonArea, OfAnLIsThatOfItsTwoRectanglesEitherWayRoundAndFarAway) {
  // 4 x 1 and 1 x 2: area 6.
  std::vector<Vec2> ell{Vec2(0, 0), Vec2(4, 0), Vec2(4, 1), Vec2(1, 1), Vec2(1, 3), Vec2(0, 3)};
  EXPECT_EQ(polygon_area(ell), 6);
  for (Vec2& corner : ell) corner += Vec2(0x1p45, -0x1p45);
  EXPECT_EQ(polygon_area(ell), 6);
  std::reverse(ell.begin(), ell.end());
  EXPECT_EQ(polygon_area(ell), 6);
}

}  // namespace
}  // namespace standpoint
