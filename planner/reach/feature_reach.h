#pragma once

#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "planner/reach/target_at.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One feature, asked from many stations (contract section 3, "A feature is judged").
///
/// Holds every allowed target at every touch, so that what does not depend on the station is
/// decided once. Not shared between threads; answers do not depend on what was asked before.
class FeatureReach {
 public:
  FeatureReach(const Cell& cell, FeatureId feature);
  /// With only those targets of `at_hand` (ascending) that the feature allows.
  FeatureReach(const Cell& cell, FeatureId feature, const std::vector<TargetId>& at_hand);

  /// The verdict alone: full targets first, and a stylus only where none of them is enough.
  [[nodiscard]] Verdict verdict(const Vec3& station) { return verdicts({&station, 1}).front(); }
  /// For each station; many at once are cheaper than one after the other.
  [[nodiscard]] std::vector<Verdict> verdicts(std::span<const Vec3> stations);
  /// The verdict with target and margin as mark() has them, without what blocks: for dragging.
  [[nodiscard]] MarkSummary summary(const Vec3& station);
  /// The same verdict in full. A stylus is tried where no full target is enough, and on the single
  /// touches that no full target reaches.
  [[nodiscard]] FeatureMark mark(const Vec3& station) { return mark(station, std::nullopt); }
  /// By `preferred` where that target takes it just as well as the best.
  [[nodiscard]] FeatureMark mark(const Vec3& station, std::optional<TargetId> preferred);

 private:
  /// One target probing method the feature one way.
  struct ProbingMethod {
    TargetId target;
    TouchSet set;
    std::vector<TargetAt> at;                          ///< for each touch of the set
    std::unordered_map<std::uint64_t, bool> enough{};  ///< by touches reached, for up to 64
  };
  /// How a probing method went from one station.
  struct Attempt {
    ProbingMethod* method = nullptr;
    std::vector<Outcome> outcomes;  ///< empty while it is not needed
    bool is_enough = false;
    int reached = 0;
    std::optional<double> margin;
  };

  [[nodiscard]] const Feature& feature() const;
  [[nodiscard]] bool is_enough(ProbingMethod& method, const std::vector<bool>& reached);
  [[nodiscard]] std::vector<bool> takes_from(ProbingMethod& method, std::span<const Vec3> stations);
  [[nodiscard]] Attempt attempt(ProbingMethod& method, const Vec3& station);
  [[nodiscard]] std::vector<Attempt> best_attempts(const Vec3& station);
  [[nodiscard]] bool is_ahead(const Attempt& a, const Attempt& b) const;
  [[nodiscard]] bool are_alike(const Attempt& a, const Attempt& b) const;
  [[nodiscard]] std::vector<Outcome> outcomes_at(const std::vector<Attempt>& attempts,
                                                 const Attempt& shown, std::size_t touch,
                                                 const Vec3& station);
  [[nodiscard]] FeatureMark mark_untakable(const Vec3& station) const;

  const Cell* cell_;
  FeatureId feature_;
  std::vector<TargetId> targets_;       ///< allowed, in order
  std::vector<ProbingMethod> methods_;  ///< by target, then in the order of touch_sets()
};

}  // namespace standpoint
