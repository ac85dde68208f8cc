#include "planner/crew/work_order.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <set>

#include <gtest/gtest.h>

#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

/// Two full targets, two mirrors.
Scene scene_with(std::size_t features, std::size_t nests) {
  Scene scene;
  scene.full_targets.resize(2);
  scene.offset_styli.resize(2, MirrorStylus{});
  scene.features.resize(features);
  scene.nests.resize(nests);
  return scene;
}

constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

/// What one station does: the target of each nest and of each feature, kNone for those it does not.
struct Station {
  std::vector<std::size_t> nests, features;
};

Plan plan_of(const std::vector<Station>& stations) {
  Plan plan;
  plan.features.resize(stations[0].features.size());
  for (std::size_t f = 0; f < plan.features.size(); ++f) plan.features[f].feature = FeatureId(f);
  for (std::size_t s = 0; s < stations.size(); ++s) {
    PlannedStation planned;
    planned.sight.nests.resize(stations[s].nests.size());
    planned.sight.features.resize(plan.features.size());
    for (std::size_t n = 0; n < stations[s].nests.size(); ++n) {
      if (stations[s].nests[n] == kNone) continue;
      planned.nests.emplace_back(n);
      planned.sight.nests[n].mark.best = Reached{};
      planned.sight.nests[n].mark.best->target = TargetId(stations[s].nests[n]);
    }
    for (std::size_t f = 0; f < plan.features.size(); ++f) {
      if (stations[s].features[f] == kNone) continue;
      planned.sight.features[f].target = TargetId(stations[s].features[f]);
      if (plan.features[f].station)
        plan.features[f].also_from.emplace_back(s);
      else
        plan.features[f].station = StationId(s);
    }
    plan.stations.push_back(planned);
  }
  return plan;
}

/// The fewest changes over every order of the single nests and features that keeps the stages; no
/// grouping is presumed. Walks station by station, keeping the best for each target
/// used last.
std::size_t fewest_changes(const std::vector<Station>& stations) {
  std::vector<std::vector<std::size_t>> stages;
  for (const Station& station : stations) {
    std::vector<std::size_t> nests, full, styli;
    for (const std::size_t t : station.nests) {
      if (t != kNone) nests.push_back(t);
    }
    for (const std::size_t t : station.features) {
      if (t != kNone) (t < 2 ? full : styli).push_back(t);
    }
    for (const auto& stage : {nests, full, styli, nests}) {
      if (!stage.empty()) stages.push_back(stage);
    }
  }
  constexpr std::size_t kFar = 1000;
  std::vector<std::size_t> best(4, 0);  // of ending with each target; at the start none costs
  bool is_start = true;
  for (std::vector<std::size_t> stage : stages) {
    std::sort(stage.begin(), stage.end());
    std::vector<std::size_t> next(4, kFar);
    do {
      std::size_t inside = 0;
      for (std::size_t i = 1; i < stage.size(); ++i) inside += stage[i] != stage[i - 1] ? 1 : 0;
      for (std::size_t hand = 0; hand < 4; ++hand) {
        const std::size_t taken = !is_start && hand != stage.front() ? 1 : 0;
        next[stage.back()] = std::min(next[stage.back()], best[hand] + taken + inside);
      }
    } while (std::next_permutation(stage.begin(), stage.end()));
    best = next;
    is_start = false;
  }
  return is_start ? 0 : *std::min_element(best.begin(), best.end());
}

std::vector<Station> random_stations(test::Draw& draw) {
  std::vector<Station> stations(1 + draw.below(3));
  const std::size_t nests = draw.below(5), features = 1 + draw.below(6);
  for (Station& station : stations) {
    for (std::size_t n = 0; n < nests; ++n)
      station.nests.push_back(draw.chance(0.2) ? kNone : draw.below(4));
    for (std::size_t f = 0; f < features; ++f)
      station.features.push_back(draw.chance(0.4) ? kNone : draw.below(4));
  }
  return stations;
}

TEST(WorkOrder, HasAsFewChangesAsTryingEveryOrder) {
  constexpr std::uint64_t kSeed = 71;
  test::Draw draw(kSeed);
  std::size_t with_changes = 0;
  for (int i = 0; i < 600; ++i) {
    const std::vector<Station> stations = random_stations(draw);
    const Scene scene = scene_with(stations[0].features.size(), stations[0].nests.size());
    SCOPED_TRACE(testing::Message() << "seed " << kSeed << " case " << i);
    const std::size_t changes = count_changes(order_work(scene, plan_of(stations)));
    EXPECT_EQ(changes, fewest_changes(stations));
    with_changes += changes > 0 ? 1 : 0;
  }
  EXPECT_GT(with_changes, 400u);  // the cases are not all trivial
}

TEST(WorkOrder, DoesEverythingOnceInItsStageAndEachTargetInOneTurn) {
  test::Draw draw(72);
  for (int i = 0; i < 200; ++i) {
    const std::vector<Station> stations = random_stations(draw);
    const Scene scene = scene_with(stations[0].features.size(), stations[0].nests.size());
    const auto work = order_work(scene, plan_of(stations));
    ASSERT_EQ(work.size(), stations.size());
    std::optional<TargetId> in_hand;
    for (std::size_t s = 0; s < stations.size(); ++s) {
      std::set<std::pair<int, std::size_t>> turns;
      std::vector<std::size_t> first(stations[s].nests.size(), kNone),
          again = first, features(stations[s].features.size(), kNone);
      int stage = 0;
      bool has_stylus = false;
      for (const TargetTurn& turn : work[s].turns) {
        EXPECT_TRUE(turns.insert({static_cast<int>(turn.stage), turn.target.index}).second);
        EXPECT_GE(static_cast<int>(turn.stage), stage);
        stage = static_cast<int>(turn.stage);
        EXPECT_EQ(turn.before, in_hand);
        in_hand = turn.target;
        for (const NestId nest : turn.nests)
          (turn.stage == WorkStage::nests_first ? first : again)[nest.index] = turn.target.index;
        for (const FeatureId feature : turn.features) features[feature.index] = turn.target.index;
        if (turn.stage != WorkStage::features) continue;
        EXPECT_FALSE(has_stylus && is_full_target(scene, turn.target)) << "styli come last";
        has_stylus |= !is_full_target(scene, turn.target);
      }
      EXPECT_EQ(first, stations[s].nests);
      EXPECT_EQ(again, stations[s].nests);
      EXPECT_EQ(features, stations[s].features);
    }
  }
}

TEST(WorkOrder, TheTargetOfTheNestsIsKeptForTheFeatures) {
  // Nests with ball 1, features with balls 0 and 1 and a stylus: 1 | 1, 0 | stylus | 1.
  const std::vector<Station> stations{{{1, 1, 1}, {0, 1, 2}}};
  const auto work = order_work(scene_with(3, 3), plan_of(stations));
  ASSERT_EQ(work[0].turns.size(), 5u);
  std::vector<std::size_t> targets;
  for (const TargetTurn& turn : work[0].turns) targets.push_back(turn.target.index);
  EXPECT_EQ(targets, (std::vector<std::size_t>{1, 1, 0, 2, 1}));
  EXPECT_EQ(count_changes(work), 3u);
  EXPECT_FALSE(work[0].turns[0].before);
}

TEST(WorkOrder, NothingToDoIsNoWork) {
  EXPECT_TRUE(order_work(scene_with(1, 0), Plan{}).empty());
  const auto work = order_work(scene_with(2, 2), plan_of({{{kNone, kNone}, {kNone, kNone}}}));
  ASSERT_EQ(work.size(), 1u);
  EXPECT_TRUE(work[0].turns.empty());
}

}  // namespace
}  // namespace standpoint
