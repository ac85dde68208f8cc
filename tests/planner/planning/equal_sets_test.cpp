// Sets of stations equal in the first three aims, against trying every set.

#include "planner/planning/equal_sets.h"

#include <algorithm>
#include <string>

#include <gtest/gtest.h>

#include "tests/draw.h"
#include "tests/planner/scene_builder.h"

namespace standpoint::test {
namespace {

struct Drawn {
  Scene scene;
  std::vector<Candidate> candidates;
  ReachTable table{0, 0, 0};
  std::vector<std::vector<bool>> linked;
  std::function<bool(const std::vector<CandidateId>&)> is_tied;
};

Drawn drawn_question(Draw& draw) {
  Drawn q;
  q.scene = bare_scene();
  q.scene.rules.stations_per_feature = draw.chance(0.3) ? 2 : 1;
  const std::size_t features = 1 + draw.below(8), candidates = 2 + draw.below(8);
  for (std::size_t f = 0; f < features; ++f) {
    add_feature(q.scene, "f" + std::to_string(f), PointFeature{Vec3::Zero(), Vec3::UnitZ()});
    q.scene.features.back().required = draw.chance(0.8);
  }
  q.table = ReachTable(candidates, features, 0);
  for (std::size_t c = 0; c < candidates; ++c) {
    q.candidates.push_back({Vec3(double(c), 0, 0), {}, {}, draw.chance(0.1)});
    for (std::size_t f = 0; f < features; ++f)
      q.table.set_feature(CandidateId(c), FeatureId(f),
                          draw.chance(0.6)   ? Verdict::blocked
                          : draw.chance(0.5) ? Verdict::full_target
                                             : Verdict::offset_stylus);
  }
  const double density = draw.between(0.3, 1);
  q.linked.assign(candidates, std::vector<bool>(candidates));
  for (std::size_t a = 0; a < candidates; ++a)
    for (std::size_t b = 0; b < a; ++b) q.linked[a][b] = q.linked[b][a] = draw.chance(density);
  q.is_tied = [linked = q.linked](const std::vector<CandidateId>& set) {
    std::vector<CandidateId> reached{set.front()};
    for (std::size_t i = 0; i < reached.size(); ++i)
      for (const CandidateId c : set)
        if (linked[reached[i].index][c.index] &&
            std::find(reached.begin(), reached.end(), c) == reached.end())
          reached.push_back(c);
    return reached.size() == set.size();
  };
  return q;
}

using Sets = std::vector<std::vector<CandidateId>>;

/// Every set of `size` candidates by counting up in binary.
Sets by_trying_all(const Drawn& q, const std::vector<CandidateId>& chosen) {
  Sets equal;
  for (std::uint32_t bits = 0; bits < 1u << q.candidates.size(); ++bits) {
    std::vector<CandidateId> set;
    bool has_kept = true;
    for (std::size_t c = 0; c < q.candidates.size(); ++c) {
      if ((bits >> c & 1u) != 0)
        set.emplace_back(c);
      else
        has_kept = has_kept && !q.candidates[c].keep;
    }
    if (!has_kept || set.size() != chosen.size() || !q.is_tied(set)) continue;
    if (count_aims(q.scene, q.candidates, q.table, set) ==
        count_aims(q.scene, q.candidates, q.table, chosen))
      equal.push_back(set);
  }
  std::sort(equal.begin(), equal.end());
  return equal;
}

TEST(EqualSets, AreThoseThatTryingAllFinds) {
  std::size_t found = 0, several = 0;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    Draw draw(seed);
    const Drawn q = drawn_question(draw);
    std::vector<CandidateId> chosen;
    for (std::size_t c = 0; c < q.candidates.size(); ++c)
      if (q.candidates[c].keep || draw.chance(0.35)) chosen.emplace_back(c);
    if (chosen.empty() || !q.is_tied(chosen)) continue;
    const EqualSets equal =
        equal_sets({q.scene, q.candidates, q.table, q.is_tied}, chosen, {100000, 1000000});
    ASSERT_TRUE(equal.is_all);
    ASSERT_EQ(equal.sets, by_trying_all(q, chosen));
    ++found;
    several += equal.sets.size() > 3 ? 1 : 0;
  }
  EXPECT_GT(found, 500u);
  EXPECT_GT(several, 50u);
}

TEST(EqualSets, SayThatTheyAreNotAllWhereALimitWasMet) {
  Draw draw(7);
  Drawn q;
  do {
    q = drawn_question(draw);
  } while (q.candidates.size() < 6);
  for (std::size_t c = 0; c < q.candidates.size(); ++c) {
    q.candidates[c].keep = false;
    for (std::size_t f = 0; f < q.scene.features.size(); ++f)
      q.table.set_feature(CandidateId(c), FeatureId(f), Verdict::full_target);
  }
  q.is_tied = [](const auto&) { return true; };
  q.scene.rules.stations_per_feature = 1;
  const std::vector<CandidateId> chosen{CandidateId(0), CandidateId(1)};
  const EqualSetQuestion question{q.scene, q.candidates, q.table, q.is_tied};
  const EqualSets few = equal_sets(question, chosen, {3, 100000});
  EXPECT_FALSE(few.is_all);
  EXPECT_EQ(few.sets.size(), 3u);
  EXPECT_FALSE(equal_sets(question, chosen, {100000, 4}).is_all);
  const std::size_t n = q.candidates.size();
  EXPECT_EQ(equal_sets(question, chosen, {100000, 100000}).sets.size(), n * (n - 1) / 2);
}

}  // namespace
}  // namespace standpoint::test
