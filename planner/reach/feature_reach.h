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
  [[nodiscard]] Verdict verdict(const Stance& station) { return verdicts({&station, 1}).front(); }
  /// For each station; many at once are cheaper than one after the other.
  [[nodiscard]] std::vector<Verdict> verdicts(std::span<const Stance> stations);
  /// For each station the first target, in order, that takes the feature: it decides the verdict.
  [[nodiscard]] std::vector<std::optional<TargetId>> takers(std::span<const Stance> stations);
  /// What stations that do not take the feature alone reach of it, by one target.
  struct Part {
    TargetId target;
    const TouchSet* set = nullptr;           ///< lives as long as this object
    std::vector<std::vector<bool>> reached;  ///< for each station its touches; empty: none
  };
  /// The takers, and of the stations that take the feature no way all that each full target
  /// reaches. Touches that the takers ask for anyhow are not asked for twice.
  struct TakersAndParts {
    std::vector<std::optional<TargetId>> takers;
    std::vector<Part> parts;  ///< by target, in order
  };
  [[nodiscard]] TakersAndParts takers_and_parts(std::span<const Stance> stations);
  /// The same by styli: a search for each touch, so only where somebody relies on it.
  /// Precondition: none of the stations takes the feature.
  [[nodiscard]] std::vector<Part> stylus_parts(std::span<const Stance> stations);
  /// The verdict with target and margin as mark() has them, without what blocks: for dragging.
  [[nodiscard]] MarkSummary summary(const Stance& station);
  /// How one target reaches some of the touches of a feature that it does not take.
  struct PartMargins {
    TargetId target;
    std::vector<std::optional<double>> margins;  ///< of each touch that it reaches, mm
  };
  /// Of a feature that may be split and is not taken from here: every target that reaches some of
  /// its touches, in order, with the margins that mark() has in its parts. For dragging.
  /// Precondition: verdict(station) is blocked.
  [[nodiscard]] std::vector<PartMargins> part_margins(const Stance& station);
  /// A mark with these parts alone, as mark_together() asks for it.
  [[nodiscard]] FeatureMark mark_of(const std::vector<PartMargins>& parts) const;
  /// The same verdict in full. A stylus is tried where no full target is enough, and on the single
  /// touches that no full target reaches.
  /// By `preferred` where that target takes it just as well as the best.
  [[nodiscard]] FeatureMark mark(const Stance& station, Causes causes = Causes::told,
                                 std::optional<TargetId> preferred = {});

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
  /// Where `reached` is given, it becomes for each station that does not take the feature all
  /// touches that it reaches.
  [[nodiscard]] std::vector<bool> takes_from(ProbingMethod& method,
                                             std::span<const Stance> stations,
                                             std::vector<std::vector<bool>>* reached = nullptr);
  void add_parts(const std::vector<Attempt>& attempts, Causes causes, FeatureMark& mark) const;
  [[nodiscard]] Attempt attempt(ProbingMethod& method, const Stance& station, Causes causes);
  [[nodiscard]] std::vector<Attempt> best_attempts(const Stance& station, Causes causes);
  [[nodiscard]] bool is_ahead(const Attempt& a, const Attempt& b) const;
  [[nodiscard]] bool are_alike(const Attempt& a, const Attempt& b) const;
  [[nodiscard]] std::vector<Outcome> outcomes_at(const std::vector<Attempt>& attempts,
                                                 const Attempt& shown, std::size_t touch,
                                                 const Stance& station, Causes causes);
  [[nodiscard]] FeatureMark mark_untakable(const Stance& station, Causes causes) const;

  const Cell* cell_;
  FeatureId feature_;
  std::vector<TargetId> targets_;       ///< allowed, in order
  std::vector<ProbingMethod> methods_;  ///< by target, then in the order of touch_sets()
};

}  // namespace standpoint
