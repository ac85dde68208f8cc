// The choice of sites against plain enumeration: every subset, ties by a check of its own.

#include <gtest/gtest.h>

#include <tbb/global_control.h>

#include "planner/nests/subset_search.h"
#include "tests/planner/nests/site_scenes.h"
#include "tests/planner/stations/off_line_oracle.h"

namespace standpoint {
namespace {

using test::Draw;
using test::planned_worst;
using test::random_site_scene;
using test::SiteScene;
using test::SiteSceneSize;

constexpr double kInfinite = std::numeric_limits<double>::infinity();

bool oracle_tied(const SiteScene& made, const SiteSet& sites) {
  std::vector<std::size_t> nests;
  for (std::size_t n = 0; n < made.existing; ++n) nests.push_back(n);
  for (const auto site : sites) nests.push_back(made.existing + site);
  std::vector<std::size_t> reached{0};
  for (std::size_t i = 0; i < reached.size(); ++i) {
    for (std::size_t s = 0; s < made.stations.size(); ++s) {
      if (std::count(reached.begin(), reached.end(), s) > 0) continue;
      std::vector<Vec3> shared;
      for (const std::size_t n : nests) {
        const auto sees = [&](std::size_t station) {
          return made.stations[station].sight.nests[n].mark.verdict == Verdict::full_target;
        };
        if (sees(reached[i]) && sees(s)) shared.push_back(made.scene.nests[n].at);
      }
      const auto least = static_cast<std::size_t>(made.scene.rules.shared_nests);
      if (test::are_some_off_by_all_sets(shared, least)) reached.push_back(s);
    }
  }
  return reached.size() == made.stations.size();
}

SiteSet subset(const SiteScene& made, std::uint32_t bits) {
  SiteSet sites;
  for (std::uint32_t s = 0; s < made.sites(); ++s)
    if ((bits >> s & 1U) != 0) sites.push_back(s);
  return sites;
}

struct OracleAnswer {
  std::optional<std::size_t> count;  ///< fewest sites; empty where nothing is enough
  double worst = kInfinite;
};

OracleAnswer enumerate(const SiteScene& made, const std::optional<double>& most) {
  OracleAnswer answer;
  for (std::uint32_t bits = 0; bits < (1U << made.sites()); ++bits) {
    const SiteSet sites = subset(made, bits);
    if (answer.count && sites.size() > *answer.count) continue;
    if (!oracle_tied(made, sites)) continue;
    const double worst = planned_worst(made, sites).value_or(kInfinite);
    if (most && worst > *most) continue;
    if (!answer.count || sites.size() < *answer.count || worst < answer.worst) {
      answer.count = sites.size();
      answer.worst = worst;
    }
  }
  return answer;
}

SiteSceneSize draw_size(Draw& draw) {
  SiteSceneSize size;
  size.stations = 1 + draw.below(4);
  size.existing = draw.below(4);
  size.sites = 5 + draw.below(4);
  size.features = 1 + draw.below(5);
  size.seen = draw.between(0.6, 1.0);
  return size;
}

std::string case_of(std::uint64_t seed, int scene) {
  return "seed " + std::to_string(seed) + ", case " + std::to_string(scene);
}

TEST(SubsetSearch, FindsTheFewestSitesAndOfTheseTheBest) {
  constexpr std::uint64_t kSeed = 51;
  Draw draw(kSeed);
  int with_sites = 0, impossible = 0;
  for (int scene = 0; scene < 60; ++scene) {
    SCOPED_TRACE(case_of(kSeed, scene));
    SiteScene made = random_site_scene(draw, draw_size(draw));
    made.scene.rules.shared_nests = draw.chance(0.3) ? 4 : 3;
    const OracleAnswer oracle = enumerate(made, std::nullopt);
    const NestJudge judge(made.scene, made.existing, made.stations);
    const SubsetAnswer found = search_subsets(judge, std::nullopt, {}, {});
    ASSERT_EQ(found.is_tied, oracle.count.has_value());
    if (!oracle.count) {
      ++impossible;
      continue;
    }
    ASSERT_EQ(found.sites.size(), *oracle.count);
    EXPECT_EQ(found.lower_bound, static_cast<int>(*oracle.count));
    EXPECT_TRUE(oracle_tied(made, found.sites));
    with_sites += found.sites.empty() ? 0 : 1;
    if (!found.worst) {
      EXPECT_FALSE(std::isfinite(oracle.worst));
      continue;
    }
    EXPECT_TRUE(found.is_worst_proven);
    EXPECT_NEAR(*found.worst, oracle.worst, 1e-9 * oracle.worst);
    EXPECT_NEAR(*planned_worst(made, found.sites), *found.worst, 1e-9 * *found.worst)
        << "the search sees what the plan says";
  }
  EXPECT_GT(with_sites, 20) << "the cases are worth something";
  EXPECT_GT(impossible, 0);
}

TEST(SubsetSearch, KeepsTheBoundOnUncertaintyWithTheFewestSites) {
  constexpr std::uint64_t kSeed = 52;
  Draw draw(kSeed);
  int more_than_ties_need = 0, unmet = 0;
  for (int scene = 0; scene < 60; ++scene) {
    SCOPED_TRACE(case_of(kSeed, scene));
    const SiteScene made = random_site_scene(draw, draw_size(draw));
    const OracleAnswer loose = enumerate(made, std::nullopt);
    if (!loose.count || !std::isfinite(loose.worst)) continue;
    const double most = loose.worst * draw.between(0.5, 1.05);
    const OracleAnswer oracle = enumerate(made, most);
    const NestJudge judge(made.scene, made.existing, made.stations);
    const SubsetAnswer found = search_subsets(judge, most, {}, {});
    EXPECT_EQ(found.is_met, oracle.count.has_value());
    EXPECT_TRUE(found.is_tied) << "where the bound cannot be met the ties still hold";
    if (!oracle.count) {
      ++unmet;
      EXPECT_GT(*found.worst, most);
      continue;
    }
    ASSERT_EQ(found.sites.size(), *oracle.count);
    EXPECT_EQ(found.lower_bound, static_cast<int>(*oracle.count));
    EXPECT_NEAR(*found.worst, oracle.worst, 1e-9 * oracle.worst);
    more_than_ties_need += *oracle.count > *loose.count ? 1 : 0;
  }
  EXPECT_GT(more_than_ties_need, 3);
  EXPECT_GT(unmet, 3);
}

TEST(SubsetSearch, ExchangeAloneIsNeverBetterThanAllSetsAndNeverBelowItsBound) {
  constexpr std::uint64_t kSeed = 53;
  Draw draw(kSeed);
  int same = 0, compared = 0;
  for (int scene = 0; scene < 40; ++scene) {
    SCOPED_TRACE(case_of(kSeed, scene));
    SiteSceneSize size = draw_size(draw);
    size.stations = 2 + draw.below(3);
    const SiteScene made = random_site_scene(draw, size);
    const NestJudge judge(made.scene, made.existing, made.stations);
    const SubsetAnswer exhaustive = search_subsets(judge, std::nullopt, {}, {});
    SearchEffort by_exchange;
    by_exchange.most_sets = 0;
    const SubsetAnswer found = search_subsets(judge, std::nullopt, by_exchange, {});
    ASSERT_GE(found.sites.size(), static_cast<std::size_t>(found.lower_bound));
    if (!found.is_tied || !exhaustive.is_tied || found.sites.empty()) continue;
    EXPECT_FALSE(found.is_worst_proven);
    EXPECT_GE(found.sites.size(), exhaustive.sites.size());
    if (found.sites.size() > exhaustive.sites.size() || !exhaustive.worst) continue;
    EXPECT_GE(*found.worst, *exhaustive.worst * (1 - 1e-12));
    ++compared;
    same += *found.worst <= *exhaustive.worst * (1 + 1e-12) ? 1 : 0;
  }
  EXPECT_GT(compared, 10);
  EXPECT_GT(same, compared / 2) << "with restarts it mostly finds the best of so few";
}

TEST(NestJudge, ItsBoundIsBelowEverySubset) {
  constexpr std::uint64_t kSeed = 54;
  Draw draw(kSeed);
  double nearest = 0;
  for (int scene = 0; scene < 40; ++scene) {
    SiteSceneSize size = draw_size(draw);
    size.seen = 0.95;
    const SiteScene made = random_site_scene(draw, size);
    const NestJudge judge(made.scene, made.existing, made.stations);
    for (int i = 0; i < 30; ++i) {
      SiteSet all, some;
      for (std::uint32_t s = 0; s < made.sites(); ++s) {
        if (draw.chance(0.3)) continue;
        all.push_back(s);
        if (draw.chance(0.7)) some.push_back(s);
      }
      const auto worst = judge.worst(some);
      if (!worst || (some.empty() && made.existing == 0)) continue;
      const double bound = judge.bound(all, judge.by_severity(all), kInfinite);
      EXPECT_LE(bound, *worst * (1 + 1e-7)) << case_of(kSeed, scene) << "." << i;
      nearest = std::max(nearest, bound / *worst);
    }
  }
  EXPECT_GT(nearest, 0.5) << "a bound that is always far below proves little";
}

TEST(NestTies, CountingBoundIsExactWhereNothingIsInLine) {
  constexpr std::uint64_t kSeed = 55;
  Draw draw(kSeed);
  int positive = 0;
  for (int scene = 0; scene < 60; ++scene) {
    SCOPED_TRACE(case_of(kSeed, scene));
    SiteSceneSize size = draw_size(draw);
    size.stations = 2 + draw.below(4);
    size.seen = draw.between(0.4, 0.9);
    const SiteScene made = random_site_scene(draw, size);
    const NestJudge judge(made.scene, made.existing, made.stations);
    const NestTies::Least least = judge.ties().least_sites(60);
    std::optional<std::size_t> fewest;
    for (std::uint32_t bits = 0; bits < (1U << made.sites()); ++bits) {
      const SiteSet sites = subset(made, bits);
      const bool is_tied = oracle_tied(made, sites);
      EXPECT_EQ(judge.ties().missing(sites) == 0, is_tied);
      if (is_tied && (!fewest || sites.size() < *fewest)) fewest = sites.size();
    }
    if (!fewest) continue;
    ASSERT_TRUE(least.is_possible);
    EXPECT_LE(static_cast<std::size_t>(least.sites), *fewest);
    if (judge.ties().missing(least.example) == 0) {
      EXPECT_EQ(static_cast<std::size_t>(least.sites), *fewest);
    }
    positive += *fewest > 0 ? 1 : 0;
  }
  EXPECT_GT(positive, 15);
}

TEST(SubsetSearch, GivesTheSameAtAnyNumberOfThreads) {
  Draw draw(56);
  SiteSceneSize size;
  size.stations = 3;
  size.sites = 14;
  const SiteScene made = random_site_scene(draw, size);
  const NestJudge judge(made.scene, made.existing, made.stations);
  const SubsetAnswer many = search_subsets(judge, std::nullopt, {}, {});
  const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
  const SubsetAnswer single = search_subsets(judge, std::nullopt, {}, {});
  EXPECT_EQ(many.sites, single.sites);
  EXPECT_EQ(many.worst, single.worst);
  EXPECT_EQ(many.lower_bound, single.lower_bound);
}

}  // namespace
}  // namespace standpoint
