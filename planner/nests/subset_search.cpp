#include "planner/nests/subset_search.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include <tbb/parallel_for.h>

#include "planner/model/tolerances.h"
#include "planner/nests/exchange.h"

namespace standpoint {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// For the counting program, s: it takes milliseconds; a scene on which it does not end is told the
/// weaker bound.
constexpr double kCountingTime = 20;

/// How many sizes are searched from several starts each before sites are added one by one.
constexpr int kSizesByExchange = 3;

/// Up to this many sites a set that just misses the limit is sought again from further starts.
constexpr std::size_t kMostSitesRestarted = 10;

double binomial(std::size_t n, std::size_t k) {
  double count = 1;
  for (std::size_t i = 0; i < k; ++i)
    count *= static_cast<double>(n - i) / static_cast<double>(i + 1);
  return count;
}

/// Every set of one size, those that a bound proves worse left out.
class Enumeration {
 public:
  /// Looks for sets that tie and are no worse than `limit`, mm; `start` is one to begin with.
  Enumeration(const NestJudge& judge, std::size_t size, double limit,
              const std::optional<ScoredSet>& start)
      : judge_(&judge), sites_(&judge.useful()), size_(size), limit_(limit), best_(start) {
    if (best_) limit_ = std::min(limit, best_->score.worst);
    order_ = judge.by_severity(best_ ? best_->sites : judge.useful());
  }

  /// The best; empty where there is none.
  std::optional<ScoredSet> run(const Watch& watch) {
    // One task for each way to begin: with two sites where the sets have that many.
    const std::size_t head = std::min<std::size_t>(2, size_);
    std::vector<std::vector<std::size_t>> heads;
    for (std::size_t a = 0; a < sites_->size(); ++a) {
      if (head == 1) heads.push_back({a});
      for (std::size_t b = a + 1; head == 2 && b < sites_->size(); ++b) heads.push_back({a, b});
    }
    std::vector<std::optional<ScoredSet>> found(heads.size());
    tbb::parallel_for(std::size_t{0}, heads.size(), [&](std::size_t i) {
      if (!watch.is_interrupted()) extend(heads[i], found[i]);
    });
    for (const auto& set : found)
      if (set && (!best_ || *set < *best_)) best_ = set;
    return best_;
  }

 private:
  [[nodiscard]] SiteSet sites_at(const std::vector<std::size_t>& places) const {
    SiteSet sites;
    for (const std::size_t place : places) sites.push_back((*sites_)[place]);
    return sites;
  }

  /// Whether no set between is good enough: proven by the bound of the greatest of them.
  [[nodiscard]] bool is_hopeless(const SiteSet& greatest) const {
    const double limit = limit_.load(std::memory_order_relaxed) * (1 + tolerance::kBoundSlack);
    return limit < kInfinite && judge_->bound(greatest, order_, limit) > limit;
  }

  void extend(std::vector<std::size_t>& places, std::optional<ScoredSet>& found) {
    const std::size_t next = places.back() + 1;
    if (places.size() == size_) {
      look_at(sites_at(places), found);
      return;
    }
    if (sites_->size() - next < size_ - places.size()) return;
    if (size_ - places.size() > 1) {
      SiteSet greatest = sites_at(places);
      greatest.insert(greatest.end(), sites_->begin() + static_cast<std::ptrdiff_t>(next),
                      sites_->end());
      if (is_hopeless(greatest)) return;
    }
    for (std::size_t place = next; place < sites_->size(); ++place) {
      places.push_back(place);
      extend(places, found);
      places.pop_back();
    }
  }

  void look_at(SiteSet sites, std::optional<ScoredSet>& found) {
    if (is_hopeless(sites) || judge_->ties().missing(sites) > 0) return;
    const ScoredSet set{{0, judge_->worst(sites).value_or(kInfinite)}, std::move(sites)};
    // The limit only sinks to what was found, so the best itself is never left out, and which of
    // equals was first does not depend on threads.
    double limit = limit_.load(std::memory_order_relaxed);
    if (set.score.worst > limit) return;
    while (set.score.worst < limit && !limit_.compare_exchange_weak(limit, set.score.worst)) {
    }
    if (!found || set < *found) found = set;
  }

  const NestJudge* judge_;
  const SiteSet* sites_;
  std::size_t size_;
  std::atomic<double> limit_;
  std::optional<ScoredSet> best_;
  std::vector<std::uint32_t> order_;
};

/// One search, from size to size.
class Search {
 public:
  Search(const NestJudge& judge, const std::optional<double>& max_expanded,
         const SearchEffort& effort, const Watch& watch)
      : judge_(judge), effort_(effort), watch_(watch), limit_(max_expanded.value_or(kInfinite)) {}

  SubsetAnswer run() {
    const NestTies::Least least = judge_.ties().least_sites(kCountingTime);
    example_ = least.example;
    proven_ = static_cast<std::size_t>(least.sites);
    if (limit_ < kInfinite) drop_hopeless_limit();
    int sizes_by_exchange = 0;
    for (std::size_t size = proven_; size <= judge_.useful().size(); ++size) {
      if (watch_.is_interrupted()) break;
      watch_.tell(Stage::choose,
                  static_cast<double>(size) / static_cast<double>(judge_.useful().size() + 1));
      bool is_exhaustive = false;
      const std::optional<ScoredSet> set = best_of_size(size, is_exhaustive);
      if (set && is_good(*set)) return answer(*set, is_exhaustive);
      if (is_exhaustive && proven_ == size) ++proven_;
      if (set) keep_if_better(*set);
      // Nothing more will be proven, and one size after the other may be a long way to the limit.
      if (set && !is_exhaustive && limit_ < kInfinite && ++sizes_by_exchange >= kSizesByExchange) {
        const ScoredSet met = grow_and_shrink(*set);
        if (is_good(met)) return answer(met, false);
        keep_if_better(met);
        break;
      }
    }
    SubsetAnswer none = answer(best_, false);
    none.is_met = none.is_tied && limit_ == kInfinite;
    return none;
  }

 private:
  [[nodiscard]] bool is_good(const ScoredSet& set) const {
    return set.score.missing == 0 && (limit_ == kInfinite || set.score.worst <= limit_);
  }

  /// Where even known nests at every site do not meet the limit, nothing does.
  void drop_hopeless_limit() {
    const SiteSet none;
    if (proven_ == 0 && is_good({score_of(judge_, none), none})) return;
    const SiteSet& all = judge_.useful();
    least_possible_ =
        judge_.bound(all, judge_.by_severity(all), kInfinite) * (1 - tolerance::kBoundSlack);
    if (least_possible_ <= limit_) return;
    limit_ = kInfinite;
    is_hopeless_ = true;
  }

  /// The best of one size. `is_exhaustive`: all were tried.
  std::optional<ScoredSet> best_of_size(std::size_t size, bool& is_exhaustive) {
    is_exhaustive = true;
    if (size == 0) return ScoredSet{score_of(judge_, {}), {}};
    ScoredSet found = by_exchange(size);
    // Without figures all sets that tie are alike.
    if (!judge_.has_figures() && found.score.missing == 0) return found;
    is_exhaustive = binomial(judge_.useful().size(), size) <= effort_.most_sets;
    if (!is_exhaustive) return found;
    std::optional<ScoredSet> start;
    if (is_good(found)) start = found;
    const auto best = Enumeration(judge_, size, limit_, start).run(watch_);
    is_exhaustive = !watch_.is_interrupted();
    return best ? best : std::optional(found);
  }

  /// Adds the best site until the limit is met, then drops sites, by exchange, while it still is.
  ScoredSet grow_and_shrink(ScoredSet set) {
    while (!is_good(set) && set.sites.size() < judge_.useful().size() && !watch_.is_interrupted())
      set = with_best_addition(judge_, set.sites);
    while (is_good(set) && set.sites.size() > proven_ && !watch_.is_interrupted()) {
      ScoredSet fewer = exchange(judge_, with_best_removal(judge_, set.sites).sites, watch_);
      // From further starts only while sets are small: large ones take many seconds a start.
      if (!is_good(fewer) && fewer.sites.size() <= kMostSitesRestarted)
        fewer = by_exchange(fewer.sites.size());
      if (!is_good(fewer)) return exchange(judge_, set.sites, watch_);
      set = fewer;
    }
    return set;
  }

  ScoredSet by_exchange(std::size_t size) {
    std::optional<ScoredSet> best;
    const auto try_from = [&](SiteSet start) {
      ScoredSet set = exchange(judge_, std::move(start), watch_);
      if (!best || set < *best) best = std::move(set);
    };
    if (example_.size() <= size) try_from(filled(example_, size));
    if (last_.size() + 1 == size) try_from(with_best_addition(judge_, last_).sites);
    for (int restart = 0; restart < effort_.restarts || !best; ++restart) {
      std::mt19937_64 engine(effort_.seed + static_cast<std::uint64_t>(restart));
      try_from(random_set(engine, size));
    }
    last_ = best->sites;
    return *best;
  }

  [[nodiscard]] SiteSet filled(SiteSet sites, std::size_t size) const {
    while (sites.size() < size) sites = with_best_addition(judge_, sites).sites;
    return sites;
  }

  [[nodiscard]] SiteSet random_set(std::mt19937_64& engine, std::size_t size) const {
    SiteSet sites = judge_.useful();
    // Fisher and Yates; the library's own shuffle may differ from one machine to the next.
    for (std::size_t i = 0; i < size; ++i)
      std::swap(sites[i], sites[i + engine() % (sites.size() - i)]);
    sites.resize(size);
    std::sort(sites.begin(), sites.end());
    return sites;
  }

  void keep_if_better(const ScoredSet& set) {
    const bool is_first = best_.score.missing > 0 && best_.sites.empty();
    if (is_first || set.score.missing < best_.score.missing ||
        (set.score.missing == best_.score.missing &&
         set.score.worst < best_.score.worst * (1 - tolerance::kSameUncertainty)))
      best_ = set;
  }

  [[nodiscard]] SubsetAnswer answer(const ScoredSet& set, bool is_exhaustive) const {
    SubsetAnswer answer;
    answer.sites = set.sites;
    answer.is_tied = set.score.missing == 0;
    if (set.score.worst < kInfinite) answer.worst = set.score.worst;
    answer.is_met = answer.is_tied && !is_hopeless_;
    answer.least_possible = is_hopeless_ ? least_possible_ : 0;
    answer.lower_bound = static_cast<int>(proven_);
    answer.is_worst_proven = is_exhaustive && answer.is_tied;
    return answer;
  }

  const NestJudge& judge_;
  const SearchEffort& effort_;
  const Watch& watch_;
  double limit_;
  bool is_hopeless_ = false;
  double least_possible_ = 0;
  std::size_t proven_ = 0;  ///< no fewer sites do
  SiteSet example_, last_;
  ScoredSet best_{{std::numeric_limits<int>::max(), kInfinite}, {}};
};

}  // namespace

SubsetAnswer search_subsets(const NestJudge& judge, const std::optional<double>& max_expanded,
                            const SearchEffort& effort, const Watch& watch) {
  return Search(judge, max_expanded, effort, watch).run();
}

}  // namespace standpoint
