#include "planner/stations/reach_table.h"

#include <algorithm>
#include <atomic>
#include <mutex>
#include <numeric>

#include <tbb/parallel_for.h>

#include "planner/reach/feature_reach.h"
#include "planner/reach/nest_reach.h"
#include "planner/reach/split.h"
#include "planner/reach/touch_mark.h"
#include "planner/stations/open_cells.h"

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

/// What one task finds of a feature that may be split.
struct TaskParts {
  std::size_t first = 0;  ///< of its candidates
  struct Way {
    TargetId target;
    TouchSet set;
    std::vector<std::vector<bool>> reached;
  };
  std::vector<Way> ways;
};

void keep_parts(std::vector<FeatureReach::Part> found, TaskParts& parts) {
  for (FeatureReach::Part& part : found) {
    const bool is_reached = std::any_of(part.reached.begin(), part.reached.end(),
                                        [](const auto& touches) { return !touches.empty(); });
    if (is_reached) parts.ways.push_back({part.target, *part.set, std::move(part.reached)});
  }
}

/// Asks one feature from some candidates, `first` the first of them, and fills their cells.
TaskParts ask_feature(const Cell& cell, FeatureId feature, std::span<const Stance> places,
                      std::size_t first, Rods rods, ReachTable& table) {
  const std::optional<TargetId> later =
      rods == Rods::later ? first_rod_left(cell.scene(), feature) : std::optional<TargetId>();
  FeatureReach reach(cell, feature,
                     later ? targets_but_rods(cell.scene()) : all_targets(cell.scene()));
  TaskParts parts{first, {}};
  std::vector<std::optional<TargetId>> takers;
  if (is_split_allowed(cell.scene(), cell.scene().features[feature.index])) {
    FeatureReach::TakersAndParts found = reach.takers_and_parts(places);
    takers = std::move(found.takers);
    keep_parts(std::move(found.parts), parts);
  } else {
    takers = reach.takers(places);
  }
  for (std::size_t i = 0; i < takers.size(); ++i) {
    const CandidateId c(first + i);
    if (takers[i]) {
      // A rod that comes before it may take it, too.
      table.set_feature(c, feature, verdict_by(cell.scene(), *takers[i]),
                        later ? std::min(*takers[i], *later) : *takers[i]);
    } else if (later) {
      table.set_open(c, feature, *later);
    }
  }
  return parts;
}

/// Puts together what the tasks of one feature found, in order.
SharedParts collected_parts(const Scene& scene, FeatureId feature,
                            std::span<const TaskParts> found) {
  PartsCollector collector;
  // By target, then by candidate: a target that one task has not met may come in another.
  for (const TargetId target : all_targets(scene)) {
    for (const TaskParts& parts : found) {
      for (const TaskParts::Way& way : parts.ways)
        if (way.target == target) collector.add(target, way.set, parts.first, way.reached);
    }
  }
  return collector.collected(scene.features[feature.index]);
}

/// Asks one feature by stylus from those of some candidates that do not take it.
TaskParts ask_by_stylus(const Cell& cell, FeatureId feature, std::span<const Stance> places,
                        std::size_t first, const ReachTable& table) {
  std::vector<Stance> asked;
  std::vector<std::size_t> from;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (table.feature(CandidateId(first + i), feature) != Verdict::blocked) continue;
    asked.push_back(places[i]);
    from.push_back(i);
  }
  FeatureReach reach(cell, feature);
  std::vector<FeatureReach::Part> found = reach.stylus_parts(asked);
  for (FeatureReach::Part& part : found) {
    std::vector<std::vector<bool>> all(places.size());
    for (std::size_t k = 0; k < from.size(); ++k) all[from[k]] = std::move(part.reached[k]);
    part.reached = std::move(all);
  }
  TaskParts parts{first, {}};
  keep_parts(std::move(found), parts);
  return parts;
}

std::vector<Stance> stances_of(const std::vector<Candidate>& candidates) {
  std::vector<Stance> places;
  places.reserve(candidates.size());
  for (const Candidate& candidate : candidates) places.push_back(stance_of(candidate));
  return places;
}

}  // namespace

ReachTable reach_all(const Cell& cell, const std::vector<Candidate>& candidates, const Watch& watch,
                     Rods rods) {
  const Scene& scene = cell.scene();
  const std::size_t features = scene.features.size();
  const std::size_t nests = scene.nests.size();
  ReachTable table(candidates.size(), features, nests);
  const std::size_t chunks = (candidates.size() + kStationsPerTask - 1) / kStationsPerTask;
  const std::size_t tasks = chunks * (features + nests);
  Tally tally(tasks, watch);
  const std::vector<Stance> places = stances_of(candidates);
  std::vector<TaskParts> found(chunks * features);
  // Each task writes cells of its own.
  const MixedOrder order(tasks);
  tbb::parallel_for(std::size_t{0}, tasks, [&](std::size_t i) {
    if (watch.is_interrupted()) return;
    const std::size_t task = order[i];
    const std::size_t subject = task / chunks;
    const std::size_t first = task % chunks * kStationsPerTask;
    const std::size_t last = std::min(first + kStationsPerTask, candidates.size());
    if (subject < features) {
      found[task] = ask_feature(cell, FeatureId(subject),
                                std::span(places).subspan(first, last - first), first, rods, table);
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
  for (std::size_t f = 0; f < features && !watch.is_interrupted(); ++f) {
    table.set_parts(FeatureId(f), collected_parts(scene, FeatureId(f),
                                                  std::span(found).subspan(f * chunks, chunks)));
  }
  return table;
}

void add_stylus_parts(const Cell& cell, const std::vector<Candidate>& candidates,
                      const std::vector<FeatureId>& features, const Watch& watch,
                      ReachTable& table) {
  // Fewer stations a task than at first: there may be few features.
  constexpr std::size_t kStations = 64;
  const std::vector<Stance> places = stances_of(candidates);
  const std::size_t chunks = (places.size() + kStations - 1) / kStations;
  std::vector<TaskParts> found(features.size() * chunks);
  tbb::parallel_for(std::size_t{0}, found.size(), [&](std::size_t task) {
    if (watch.is_interrupted()) return;
    const std::size_t first = task % chunks * kStations;
    const std::size_t last = std::min(first + kStations, places.size());
    found[task] = ask_by_stylus(cell, features[task / chunks],
                                std::span(places).subspan(first, last - first), first, table);
  });
  for (std::size_t i = 0; i < features.size() && !watch.is_interrupted(); ++i) {
    SharedParts parts = table.parts(features[i]);
    SharedParts more =
        collected_parts(cell.scene(), features[i], std::span(found).subspan(i * chunks, chunks));
    for (SharedParts::Way& way : more.ways) parts.ways.push_back(std::move(way));
    table.set_parts(features[i], std::move(parts));
  }
}

}  // namespace standpoint
