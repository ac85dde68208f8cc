#include "planner/stations/ties.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "planner/stations/wide_triangles.h"
#include "tests/draw.h"
#include "tests/planner/stations/off_line_oracle.h"

namespace standpoint {
namespace {

// Three places (-20, 0), (20, 0), (0, h): the best line lies along x at y = h / 3 (by symmetry, and
// because 2 * 20^2 > h^2 * 2 / 3), the third place is 2 h / 3 from it, the spread is 40. At h = 3
// the distance is 2 = 40 / 20: exactly the limit, which is enough.
std::vector<Vec3> low_triangle(double h) {
  return {{-20, 0, 0}, {20, 0, 0}, {0, h, 0}};
}

TEST(OffOneLine, ExactlyATwentiethIsEnough) {
  EXPECT_TRUE(are_off_one_line(low_triangle(3)));
  EXPECT_TRUE(are_off_one_line(low_triangle(-3)));
  EXPECT_FALSE(are_off_one_line(low_triangle(std::nextafter(3.0, 0))));
  EXPECT_TRUE(are_off_one_line(low_triangle(std::nextafter(3.0, 4))));
  EXPECT_FALSE(are_off_one_line(low_triangle(2.9)));
}

/// Turned about z by the angle of a 3-4-5 triangle and made five times as large, then moved: all
/// coordinates stay whole numbers, so the triangle is still exactly at the limit.
std::vector<Vec3> turned(const std::vector<Vec3>& places, const Vec3& by) {
  std::vector<Vec3> result;
  for (const Vec3& p : places) {
    result.push_back(Vec3(3 * p.x() - 4 * p.y(), 4 * p.x() + 3 * p.y(), 5 * p.z()) + by);
  }
  return result;
}

TEST(OffOneLine, TheLimitHoldsTurnedAndFarFromTheOrigin) {
  for (const Vec3& by : {Vec3(0, 0, 0), Vec3(10000, -20000, 1500), Vec3(1e6, 3e6, -7e5)}) {
    auto at_limit = turned(low_triangle(3), by);
    auto inside = turned(low_triangle(2.875), by);
    do {
      EXPECT_TRUE(are_off_one_line(at_limit)) << by.transpose();
    } while (std::next_permutation(at_limit.begin(), at_limit.end(), [](auto& a, auto& b) {
      return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end());
    }));
    EXPECT_FALSE(are_off_one_line(inside)) << by.transpose();
  }
}

TEST(OffOneLine, PlacesInLineAreNotFarFromTheOriginEither) {
  std::vector<Vec3> places;
  for (const double t : {0.0, 700.0, -300.0, 1500.0, 1501.0}) {
    places.push_back(Vec3(10000, -10000, 10000) + t * Vec3(1, 2, 3));
  }
  EXPECT_FALSE(are_off_one_line(places));
  places.clear();
  for (const double t : {0.0, 0.1, 0.7}) {  // rounded coordinates: in line only nearly
    places.push_back(Vec3(1e4, 1e4, 1e4) + t * Vec3(1, 1, 1) / 3);
  }
  EXPECT_FALSE(are_off_one_line(places));
}

TEST(OffOneLine, CoincidentPlacesSpanNothing) {
  EXPECT_FALSE(are_off_one_line({}));
  EXPECT_FALSE(are_off_one_line({{1, 2, 3}}));
  EXPECT_FALSE(are_off_one_line({{1, 2, 3}, {4, 4, 4}}));
  EXPECT_FALSE(are_off_one_line({{1, 2, 3}, {1, 2, 3}, {1, 2, 3}}));
  EXPECT_FALSE(are_off_one_line({{1e4, 2, 3}, {1e4, 2, 3}, {1e4 + 500, 80, 3}}));
  EXPECT_TRUE(are_off_one_line({{1, 2, 3}, {1, 2, 3}, {500, 80, 3}, {300, 400, 3}}));
}

TEST(OffOneLine, EvenlySpreadPlacesAre) {
  EXPECT_TRUE(are_off_one_line({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}}));
  EXPECT_TRUE(are_off_one_line({{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}));
  EXPECT_TRUE(are_off_one_line({{0, 0, 0}, {100, 0, 0}, {50, 0, 90}}));
}

/// The ratio by other means: the best line's direction by power iteration on the scatter's action,
/// never forming a matrix; distances by Pythagoras.
long double ratio_by_power_iteration(const std::vector<Vec3>& places) {
  using Point = std::array<long double, 3>;
  Point centroid{};
  for (const Vec3& p : places) {
    for (int k = 0; k < 3; ++k) centroid[k] += static_cast<long double>(p[k]) / places.size();
  }
  std::vector<Point> from;
  for (const Vec3& p : places)
    from.push_back({p[0] - centroid[0], p[1] - centroid[1], p[2] - centroid[2]});
  const auto dot = [](const Point& a, const Point& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  };
  Point along{0.6L, 0.5L, 0.62L};
  for (int i = 0; i < 2000; ++i) {
    Point next{};
    for (const Point& q : from) {
      for (int k = 0; k < 3; ++k) next[k] += dot(q, along) * q[k];
    }
    const long double length = std::sqrt(dot(next, next));
    for (int k = 0; k < 3; ++k) along[k] = next[k] / length;
  }
  long double farthest = 0, spread = 0;
  for (const Point& q : from) {
    const long double t = dot(q, along);
    farthest = std::max(farthest, std::sqrt(std::max(0.0L, dot(q, q) - t * t)));
    for (const Point& r : from) {
      const Point d{q[0] - r[0], q[1] - r[1], q[2] - r[2]};
      spread = std::max(spread, std::sqrt(dot(d, d)));
    }
  }
  return 20 * farthest / spread;
}

TEST(OffOneLine, AgreesWithPowerIteration) {
  constexpr std::uint64_t kSeed = 41;
  test::Draw draw(kSeed);
  const auto any = [&] { return draw.between(-1, 1); };
  int off = 0, on = 0;
  for (int i = 0; i < 300; ++i) {
    const Vec3 along = draw.in_box(1).normalized() * 3000;
    const double thickness = 100 * std::pow(10.0, any());
    std::vector<Vec3> places;
    for (std::size_t n = 3 + draw.below(6); n > 0; --n) {
      places.push_back(Vec3(9000, -4000, 800) + any() * along + thickness * draw.in_box(1));
    }
    const long double ratio = ratio_by_power_iteration(places);
    if (std::abs(ratio - 1) < 1e-6L) continue;
    (ratio >= 1 ? off : on)++;
    EXPECT_EQ(are_off_one_line(places), ratio >= 1)
        << "seed " << kSeed << " case " << i << " ratio " << static_cast<double>(ratio);
  }
  EXPECT_GT(off, 50);
  EXPECT_GT(on, 50);
}

TEST(WideTriangles, ProveOnlyWhatIsSo) {
  constexpr std::uint64_t kSeed = 42;
  test::Draw draw(kSeed);
  int proven = 0, unproven = 0, missed = 0;
  for (int round = 0; round < 40; ++round) {
    std::vector<Vec3> places;
    for (int n = 0; n < 70; ++n) {
      places.push_back(draw.in_box(1).cwiseProduct(Vec3(5000, 1500, 200)));
    }
    const WideTriangles triangles(places, 11000);  // > sqrt(10000^2 + 3000^2 + 400^2)
    for (int i = 0; i < 100; ++i) {
      std::vector<BitWord> subset(words_for(places.size()), 0);
      std::vector<Vec3> chosen;
      for (std::size_t n = 0; n < places.size(); ++n) {
        if (draw.below(12) != 0) continue;
        set_bit(subset, n);
        chosen.push_back(places[n]);
      }
      const bool is_off = are_off_one_line(chosen);
      if (triangles.prove_off_one_line(subset)) {
        ++proven;
        EXPECT_TRUE(is_off) << "seed " << kSeed << " round " << round << " case " << i;
      } else {
        ++unproven;
        missed += is_off;
      }
    }
  }
  EXPECT_GT(proven, 300);
  EXPECT_GT(unproven, 300);
  EXPECT_GT(missed, 0);  // it is a proof, not a test
}

Scene scene_with_nests(const std::vector<Vec3>& places, int shared_nests) {
  Scene scene;
  for (const Vec3& at : places) scene.nests.push_back({"", at, Vec3::UnitZ(), 0.7});
  scene.rules.shared_nests = shared_nests;
  return scene;
}

/// From candidate c nest n is `reach[c][n]`: f full target, s offset stylus, . blocked.
ReachTable table_of(const std::vector<std::string>& reach) {
  ReachTable table(reach.size(), 0, reach.front().size());
  for (std::size_t c = 0; c < reach.size(); ++c) {
    for (std::size_t n = 0; n < reach[c].size(); ++n) {
      table.set_nest(CandidateId(c), NestId(n),
                     reach[c][n] == 'f'   ? Verdict::full_target
                     : reach[c][n] == 's' ? Verdict::offset_stylus
                                          : Verdict::blocked);
    }
  }
  return table;
}

const std::vector<Vec3> kSquareAndLine{{0, 0, 0},    {4000, 0, 0}, {4000, 4000, 0},
                                       {0, 4000, 0}, {2000, 1, 0}, {3000, 0, 1}};

TEST(Ties, AskForSharedNestsThatAreNotInOneLine) {
  const Scene scene = scene_with_nests(kSquareAndLine, 3);
  const ReachTable table = table_of({"ffff..", "fff...", "ff..ff", "..ff..", "fsf..."});
  const Ties ties(scene, table);
  EXPECT_TRUE(ties.are_asked());
  EXPECT_TRUE(ties.are_linked(CandidateId(0), CandidateId(1)));
  EXPECT_TRUE(ties.are_linked(CandidateId(1), CandidateId(0)));
  EXPECT_FALSE(ties.are_linked(CandidateId(0), CandidateId(2)));  // two shared
  EXPECT_FALSE(ties.are_linked(CandidateId(0), CandidateId(0)));  // not with itself
  EXPECT_FALSE(ties.are_linked(CandidateId(1), CandidateId(4)));  // the stylus does not count
  EXPECT_EQ(ties.shared(CandidateId(0), CandidateId(1)),
            (std::vector<NestId>{NestId(0), NestId(1), NestId(2)}));
  EXPECT_EQ(ties.nests_of(CandidateId(4)), (std::vector<NestId>{NestId(0), NestId(2)}));
  EXPECT_EQ(ties.linked_with(CandidateId(0)), (std::vector<CandidateId>{CandidateId(1)}));
}

TEST(Ties, CandidatesAlikeAreLinkedOnlyWhereTheirNestsAreOffOneLine) {
  const Scene scene = scene_with_nests(kSquareAndLine, 3);
  const Ties in_line(scene, table_of({"ff..ff", "ff..ff"}));
  EXPECT_FALSE(in_line.are_linked(CandidateId(0), CandidateId(1)));
  const Ties off_line(scene, table_of({"ffff..", "ffff.."}));
  EXPECT_TRUE(off_line.are_linked(CandidateId(0), CandidateId(1)));
  EXPECT_EQ(off_line.groups().linked.rows(), 1U);
}

TEST(Ties, ByStylusWhereTheRulesSaySo) {
  Scene scene = scene_with_nests(kSquareAndLine, 3);
  scene.rules.ties_by_stylus = true;
  const Ties ties(scene, table_of({"fff...", "fsf..."}));
  EXPECT_TRUE(ties.are_linked(CandidateId(0), CandidateId(1)));
}

TEST(Ties, MoreThanThreeWhereAskedAndNeverFewerThanThree) {
  const ReachTable table = table_of({"ffff..", "ffff..", "fff...", "ff...."});
  const Ties four(scene_with_nests(kSquareAndLine, 4), table);
  EXPECT_TRUE(four.are_linked(CandidateId(0), CandidateId(1)));
  EXPECT_FALSE(four.are_linked(CandidateId(0), CandidateId(2)));
  const Ties one(scene_with_nests(kSquareAndLine, 1), table);
  EXPECT_TRUE(one.are_linked(CandidateId(0), CandidateId(2)));
  EXPECT_FALSE(one.are_linked(CandidateId(0), CandidateId(3)));  // two nests are always in one line
}

TEST(Ties, WithoutNestsOrWithNoneAskedEveryTwoAreLinked) {
  const Ties none_asked(scene_with_nests(kSquareAndLine, 0), table_of({"ffffff", "......"}));
  EXPECT_FALSE(none_asked.are_asked());
  EXPECT_TRUE(none_asked.are_linked(CandidateId(0), CandidateId(1)));
  const Scene without_nests;
  const Ties no_nests(without_nests, ReachTable(3, 2, 0));
  EXPECT_FALSE(no_nests.are_asked());
  EXPECT_TRUE(no_nests.are_linked(CandidateId(0), CandidateId(2)));
  EXPECT_EQ(no_nests.linked_with(CandidateId(1)),
            (std::vector<CandidateId>{CandidateId(0), CandidateId(2)}));
}

TEST(Ties, OneMoreSharedNestDoesNotUndoALink) {
  const Scene scene = scene_with_nests({{0, 0, 0}, {1000, 0, 0}, {500, 200, 0}, {20000, 0, 0}}, 3);
  const Ties ties(scene, table_of({"fff.", "fff.", "ffff", "ffff"}));
  EXPECT_TRUE(ties.are_linked(CandidateId(0), CandidateId(1)));
  EXPECT_TRUE(ties.are_linked(CandidateId(2), CandidateId(3)));
}

TEST(Ties, NestsInLineAreToldWithHowFarOffItOneMoreMustStand) {
  const Scene scene = scene_with_nests({{0, 0, 0}, {500, 1, 0}, {9, 9, 9000}, {1000, 0, 0}}, 3);
  const auto line = nests_in_line(scene, {NestId(0), NestId(1), NestId(3)});
  ASSERT_TRUE(line);
  EXPECT_EQ(line->first, NestId(0));
  EXPECT_EQ(line->last, NestId(3));
  EXPECT_NEAR(line->off_mm, 101, 1);
  EXPECT_FALSE(nests_in_line(scene, {NestId(0), NestId(3)})) << "too few";
  EXPECT_FALSE(nests_in_line(scene, {NestId(0), NestId(1), NestId(2), NestId(3)})) << "they link";
}

/// Against the definition, pair by pair, in a long thin hall where many shared sets are nearly in
/// line.
TEST(Ties, AgreeWithTheDefinitionPairByPair) {
  constexpr std::uint64_t kSeed = 43;
  test::Draw draw(kSeed);
  const auto any = [&] { return draw.between(-1, 1); };
  int linked = 0, in_line = 0;
  for (int round = 0; round < 10; ++round) {
    std::vector<Vec3> places;
    for (int n = 0; n < 40; ++n) {
      places.push_back(draw.in_box(1).cwiseProduct(Vec3(40000, 400, 200)));
    }
    const Scene scene = scene_with_nests(places, 3);
    std::vector<std::string> reach;
    for (int c = 0; c < 60; ++c) {
      const double at = 40000 * any();
      std::string row;
      for (const Vec3& place : places) {
        row += std::abs(place.x() - at) < 6000 && draw.below(3) != 0 ? 'f' : '.';
      }
      reach.push_back(row);
    }
    const Ties ties(scene, table_of(reach));
    for (std::size_t a = 0; a < reach.size(); ++a) {
      for (std::size_t b = a + 1; b < reach.size(); ++b) {
        std::vector<Vec3> shared;
        for (std::size_t n = 0; n < places.size(); ++n) {
          if (reach[a][n] == 'f' && reach[b][n] == 'f') shared.push_back(places[n]);
        }
        const double greatest = test::greatest_off_line_ratio(shared, 3);
        if (test::is_at_limit(greatest)) continue;
        linked += greatest > 1;
        in_line += shared.size() >= 3 && greatest < 1;
        ASSERT_EQ(ties.are_linked(CandidateId(a), CandidateId(b)), greatest > 1)
            << "seed " << kSeed << " round " << round << " pair " << a << ' ' << b;
        ASSERT_EQ(ties.are_linked(CandidateId(b), CandidateId(a)), greatest > 1);
      }
    }
  }
  EXPECT_GT(linked, 200);
  EXPECT_GT(in_line, 200);
}

}  // namespace
}  // namespace standpoint
