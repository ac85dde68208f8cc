#include "planner/planning/aims.h"

#include <algorithm>

namespace standpoint {

AimCount count_aims(const Scene& scene, const std::vector<Candidate>& candidates,
                    const ReachTable& table, const std::vector<CandidateId>& chosen) {
  AimCount count;
  for (const CandidateId c : chosen) count.cost += cost_in_millionths(candidates[c.index]);
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    int reached = 0;
    bool is_full = false;
    for (const CandidateId c : chosen) {
      const Verdict verdict = table.feature(c, FeatureId(f));
      reached += verdict != Verdict::blocked;
      is_full = is_full || verdict == Verdict::full_target;
    }
    if (reached == 0 && !table.parts(FeatureId(f)).ways.empty()) {
      const Verdict verdict =
          verdict_together(scene, FeatureId(f), table.parts(FeatureId(f)), chosen);
      reached = verdict != Verdict::blocked;
      is_full = verdict == Verdict::full_target;
    }
    if (scene.features[f].required) {
      count.covered += std::min(reached, scene.rules.stations_per_feature);
    }
    count.full += is_full;
  }
  return count;
}

}  // namespace standpoint
