#include "planner/stations/reach_table.h"

#include <algorithm>
#include <atomic>
#include <mutex>
#include <numeric>

#include <tbb/parallel_for.h>

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"

namespace standpoint {
namespace {

/// Stations that one task asks about one feature: enough that what the feature needs once is paid
/// once, few enough that a scene of few features still fills all cores.
constexpr std::size_t kStationsPerTask = 512;

/// Tasks in an order that mixes them, so that the share done says how much is left: what belongs
/// together (a feature's stations, features of one kind) is next to each other and costs alike. A
/// step about the golden section of the count and coprime to it comes by every task once.
class MixedOrder {
 public:
  explicit MixedOrder(std::size_t count) : count_(count) {
    step_ = std::max<std::size_t>(1, static_cast<std::size_t>(0.618 * static_cast<double>(count)));
    while (std::gcd(step_, count) > 1) ++step_;
  }
  [[nodiscard]] std::size_t operator[](std::size_t i) const { return i * step_ % count_; }

 private:
  std::size_t count_, step_ = 1;
};

/// Counts finished tasks and tells the watch, one thread at a time.
class Tally {
 public:
  Tally(std::size_t tasks, const Watch& watch) : tasks_(tasks), watch_(watch) {}
  void finish_one() {
    const std::size_t done = ++done_;
    const std::unique_lock lock(telling_, std::try_to_lock);
    if (lock) watch_.tell(Stage::reach, static_cast<double>(done) / static_cast<double>(tasks_));
  }

 private:
  std::size_t tasks_;
  const Watch& watch_;
  std::atomic<std::size_t> done_ = 0;
  std::mutex telling_;
};

}  // namespace

ReachTable reach_all(const Cell& cell, const std::vector<Candidate>& candidates,
                     const Watch& watch) {
  const Scene& scene = cell.scene();
  const std::size_t features = scene.features.size();
  const std::size_t nests = scene.nests.size();
  ReachTable table(candidates.size(), features, nests);
  const std::size_t chunks = (candidates.size() + kStationsPerTask - 1) / kStationsPerTask;
  const std::size_t tasks = chunks * (features + nests);
  Tally tally(tasks, watch);
  std::vector<Stance> places;
  places.reserve(candidates.size());
  for (const Candidate& candidate : candidates) places.push_back(stance_of(candidate));
  // Each task writes cells of its own.
  const MixedOrder order(tasks);
  tbb::parallel_for(std::size_t{0}, tasks, [&](std::size_t i) {
    if (watch.is_interrupted()) return;
    const std::size_t task = order[i];
    const std::size_t subject = task / chunks;
    const std::size_t first = task % chunks * kStationsPerTask;
    const std::size_t last = std::min(first + kStationsPerTask, candidates.size());
    if (subject < features) {
      const std::vector<Verdict> verdicts =
          FeatureReach(cell, FeatureId(subject))
              .verdicts(std::span(places).subspan(first, last - first));
      for (std::size_t c = first; c < last; ++c)
        table.set_feature(CandidateId(c), FeatureId(subject), verdicts[c - first]);
    } else {
      const NestId nest(subject - features);
      const std::vector<Verdict> verdicts =
          NestReach(cell, scene.nests[nest.index])
              .verdicts(std::span(places).subspan(first, last - first));
      for (std::size_t c = first; c < last; ++c)
        table.set_nest(CandidateId(c), nest, verdicts[c - first]);
    }
    tally.finish_one();
  });
  return table;
}

}  // namespace standpoint
