#pragma once

#include <map>
#include <vector>

#include "planner/network/least_uncertainty.h"
#include "planner/stations/reach_table.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// What the worst uncertainty of a set of stations cannot be below, found out without a look at its
/// features (docs/stations.md, "The later aims").
///
/// For each feature the least uncertainty from any station of the set that takes it as well as the
/// set can; of these the greatest.
class SetBounds {
 public:
  /// All three must outlive it.
  SetBounds(const Scene& scene, const std::vector<Candidate>& candidates, const ReachTable& table)
      : scene_(scene), candidates_(candidates), table_(table) {}

  /// As if each station knew the places of all nests that it observes, mm. What belongs to one
  /// place is worked out once. O(stations x features).
  [[nodiscard]] double of(const std::vector<CandidateId>& set);

  /// With the poses that the set's own network gives its stations, mm: nearly what the set comes
  /// to. `stations` are those of the set, in its order, with the marks of their nests. 0 where
  /// there is no network. Precondition: of(set) was asked before. Pure, from any thread.
  /// O(network + touches).
  [[nodiscard]] double in_network(const std::vector<CandidateId>& set,
                                  std::vector<PlannedStation> stations) const;

 private:
  struct Place {
    LeastUncertainty least;
    std::vector<double> of_features;  ///< mm; 0 of those that are not reached
  };

  const Place& place(CandidateId c);

  const Scene& scene_;
  const std::vector<Candidate>& candidates_;
  const ReachTable& table_;
  std::map<CandidateId, Place> places_;
};

}  // namespace standpoint
