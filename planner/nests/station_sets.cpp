#include "planner/nests/station_sets.h"

#include <algorithm>

#include "planner/planning/aims.h"

namespace standpoint {
namespace {

class Collector {
 public:
  Collector(const Scene& scene, const StationChoice& choice)
      : scene_(scene),
        choice_(choice),
        aims_(count_aims(scene, choice.candidates.kept, choice.table, choice.chosen)) {
    for (std::size_t c = 0; c < choice.candidates.kept.size(); ++c)
      (choice.candidates.kept[c].keep ? kept_ : free_).emplace_back(c);
  }

  [[nodiscard]] std::size_t open_places() const { return choice_.chosen.size() - kept_.size(); }

  /// How many sets there are, up to a little above `most`.
  [[nodiscard]] double count(double most) const {
    double count = 1;
    for (std::size_t i = 0; i < open_places() && count <= most; ++i)
      count *= static_cast<double>(free_.size() - i) / static_cast<double>(i + 1);
    return count;
  }

  void collect_all() { extend(kept_, 0, open_places()); }

  void collect_swaps() {
    for (std::size_t place = 0; place < choice_.chosen.size(); ++place) {
      if (choice_.candidates.kept[choice_.chosen[place].index].keep) continue;
      for (const CandidateId c : free_) {
        std::vector<CandidateId> set = choice_.chosen;
        set[place] = c;
        add_if_equal(std::move(set));
      }
    }
  }

  std::vector<std::vector<CandidateId>> sets;

 private:
  void extend(const std::vector<CandidateId>& begun, std::size_t next, std::size_t open) {
    if (open == 0) {
      add_if_equal(begun);
      return;
    }
    for (std::size_t i = next; i + open <= free_.size(); ++i) {
      std::vector<CandidateId> more = begun;
      more.push_back(free_[i]);
      extend(more, i + 1, open - 1);
    }
  }

  void add_if_equal(std::vector<CandidateId> set) {
    std::sort(set.begin(), set.end());
    if (set == choice_.chosen || std::adjacent_find(set.begin(), set.end()) != set.end()) return;
    if (count_aims(scene_, choice_.candidates.kept, choice_.table, set) != aims_) return;
    if (choice_.ties.are_asked() && choice_.cover.keep_tied && !is_connected(choice_.ties, set))
      return;
    sets.push_back(std::move(set));
  }

  const Scene& scene_;
  const StationChoice& choice_;
  AimCount aims_;
  std::vector<CandidateId> kept_, free_;
};

}  // namespace

StationSets equal_station_sets(const Scene& scene, const StationChoice& choice,
                               const StationEffort& effort) {
  StationSets result;
  Collector collector(scene, choice);
  const auto most = static_cast<std::size_t>(std::max(0, effort.most_sets));
  result.is_all = collector.count(effort.most_tested) <= effort.most_tested;
  if (result.is_all) {
    collector.collect_all();
    result.is_all = collector.sets.size() <= most;
  } else {
    collector.collect_swaps();
  }
  const std::size_t found = collector.sets.size();
  for (std::size_t i = 0; i < std::min(found, most); ++i)
    result.sets.push_back(std::move(collector.sets[found <= most ? i : i * found / most]));
  return result;
}

}  // namespace standpoint
