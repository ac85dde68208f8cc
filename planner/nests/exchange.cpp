#include "planner/nests/exchange.h"
#include "planner/model/tolerances.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <tbb/parallel_for.h>

namespace standpoint {
namespace {

/// Far more than an exchange takes: a safety net against rounding that goes round in circles.
constexpr int kMostRounds = 200;

SiteSet with_swap(SiteSet sites, std::optional<std::size_t> out, std::uint32_t in) {
  if (out) sites.erase(sites.begin() + static_cast<std::ptrdiff_t>(*out));
  sites.insert(std::lower_bound(sites.begin(), sites.end(), in), in);
  return sites;
}

/// The best of some changed sets; those that do not beat `beat` may be told as anything worse.
ScoredSet best_of(const NestJudge& judge, const std::vector<SiteSet>& sets, const SetScore& beat,
                  const std::vector<std::uint32_t>& order) {
  std::vector<SetScore> scores(sets.size());
  tbb::parallel_for(std::size_t{0}, sets.size(), [&](std::size_t i) {
    scores[i].missing = judge.ties().missing(sets[i]);
    if (scores[i].missing > 0 || scores[i].missing > beat.missing) return;
    // Against a fixed mark, not the best so far: what is left out must not depend on threads.
    const double enough = beat.missing > 0 ? std::numeric_limits<double>::infinity()
                                           : beat.worst * (1 + tolerance::kBoundSlack);
    if (judge.bound(sets[i], order, enough) > enough) return;
    scores[i] = score_of(judge, sets[i]);
  });
  ScoredSet best{scores.front(), sets.front()};
  for (std::size_t i = 1; i < sets.size(); ++i)
    best = std::min(best, ScoredSet{scores[i], sets[i]});
  return best;
}

SiteSet without(SiteSet sites, std::size_t place) {
  sites.erase(sites.begin() + static_cast<std::ptrdiff_t>(place));
  return sites;
}

/// The sets with one site less, by the place of that site, each scored.
std::vector<ScoredSet> removals(const NestJudge& judge, const SiteSet& sites) {
  std::vector<ScoredSet> sets(sites.size());
  tbb::parallel_for(std::size_t{0}, sites.size(), [&](std::size_t i) {
    sets[i].sites = without(sites, i);
    sets[i].score = score_of(judge, sets[i].sites);
  });
  return sets;
}

/// The places of the sites that may be swapped out.
std::vector<std::size_t> places_to_swap(const NestJudge& judge, const SiteSet& sites) {
  std::vector<std::size_t> places(sites.size());
  for (std::size_t i = 0; i < places.size(); ++i) places[i] = i;
  constexpr std::size_t kFew = 4;
  if (sites.size() <= kFew || sites.size() * (judge.useful().size() - sites.size()) <= kMostSwaps)
    return places;
  const std::vector<ScoredSet> sets = removals(judge, sites);
  std::stable_sort(places.begin(), places.end(),
                   [&](std::size_t a, std::size_t b) { return sets[a].score < sets[b].score; });
  places.resize(kFew);
  return places;
}

}  // namespace

SetScore score_of(const NestJudge& judge, const SiteSet& sites) {
  SetScore score;
  score.missing = judge.ties().missing(sites);
  if (score.missing == 0) score.worst = judge.worst(sites).value_or(score.worst);
  return score;
}

ScoredSet exchange(const NestJudge& judge, SiteSet start, const Watch& watch) {
  ScoredSet now{score_of(judge, start), std::move(start)};
  for (int round = 0; round < kMostRounds && !watch.is_interrupted(); ++round) {
    std::vector<SiteSet> swaps;
    for (const std::size_t out : places_to_swap(judge, now.sites))
      for (const std::uint32_t in : judge.useful())
        if (!std::binary_search(now.sites.begin(), now.sites.end(), in))
          swaps.push_back(with_swap(now.sites, out, in));
    if (swaps.empty()) return now;
    const ScoredSet best = best_of(judge, swaps, now.score, judge.by_severity(now.sites));
    if (!(best.score < now.score)) return now;
    now = best;
  }
  return now;
}

ScoredSet with_best_addition(const NestJudge& judge, const SiteSet& sites) {
  std::vector<SiteSet> additions;
  for (const std::uint32_t in : judge.useful())
    if (!std::binary_search(sites.begin(), sites.end(), in))
      additions.push_back(with_swap(sites, std::nullopt, in));
  return best_of(judge, additions, {std::numeric_limits<int>::max(), 0}, judge.by_severity(sites));
}

ScoredSet with_best_removal(const NestJudge& judge, const SiteSet& sites) {
  const std::vector<ScoredSet> sets = removals(judge, sites);
  return *std::min_element(sets.begin(), sets.end());
}

}  // namespace standpoint
