#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "planner/crew/cautions.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

// What the planner decided, in sentences. Names appear as the scene has them: whoever shows a
// sentence makes it safe for where it lands (text.h).

/// "a", "a and b", "a, b and c"; from the seventh name on "... and 3 more".
[[nodiscard]] std::string list_of(const std::vector<std::string>& names);

/// "1 touch", "3 touches": `count` with the singular or the plural.
[[nodiscard]] std::string counted(std::size_t count, std::string_view one, std::string_view many);

/// Why one target does not reach, without a full stop: "ball-38: beam broken 1834 mm from the
/// instrument by column-a, face 3, which stands 12.4 mm deep in it".
[[nodiscard]] std::string cause_sentence(const Scene& scene, const Cause& cause);

/// Of the causes of a blocked feature the one that comes nearest to reaching for each target, in
/// the order of the targets' first causes. They point into `mark`. O(causes x targets).
[[nodiscard]] std::vector<const Cause*> nearest_causes(const FeatureMark& mark);

/// Why a feature is blocked as seen from one place: of its blocked touches' causes the one that
/// comes nearest to reaching for each target, in sentences. Empty where no touch was tried.
[[nodiscard]] std::vector<std::string> blocked_sentences(const Scene& scene,
                                                         const FeatureMark& mark);

/// Why the plan does not measure a feature.
struct BlockedText {
  std::string reason;               ///< in one phrase: "reached from no candidate", ...
  std::string from;                 ///< a station's name, or a place, from where `causes` are told
  std::vector<std::string> causes;  ///< what stands in the way there, one sentence a target
};

/// Precondition: the feature is blocked in `plan`.
[[nodiscard]] BlockedText blocked_text(const Scene& scene, const Plan& plan, FeatureId feature);

/// "12 of 13 required features reached; 10 by full target (SMR, ball reflector), 2 by offset stylus
/// (hidden-point device: mirror probe). 3 of them are taken by several stations together." Explains
/// both words: it stands first on sheet and terminal.
[[nodiscard]] std::string reached_sentence(const Scene& scene, const Plan& plan);

/// A full sentence. `warning` must be one of `plan`'s.
[[nodiscard]] std::string warning_sentence(const Scene& scene, const Plan& plan,
                                           const Warning& warning);

/// All warnings of a plan, in its order; those that differ only in feature and number are one.
[[nodiscard]] std::vector<std::string> warning_sentences(const Scene& scene, const Plan& plan);

/// "2 stations, proven the fewest." or what is proven instead.
[[nodiscard]] std::string optimality_sentence(const Plan& plan);

/// One line about the candidates: how many were tried and dropped, and why.
[[nodiscard]] std::string candidates_sentence(const CandidateTally& tally);

/// A caution: what it is about, and what to do.
struct CautionText {
  std::string title;
  std::string text;
  std::vector<std::string> items;  ///< the places it is about
};

/// How beams over walkways are listed: one by one with where they cross, or by the walkway's name.
enum class WalkwayDetail { each_beam, each_walkway };

/// The cautions of a plan, most general first. Never empty.
[[nodiscard]] std::vector<CautionText> caution_texts(
    const Scene& scene, const Plan& plan, const Cautions& cautions,
    WalkwayDetail detail = WalkwayDetail::each_beam);

/// What to check on the floor before the plan is trusted, one step an entry.
[[nodiscard]] std::vector<std::string> field_check_steps(const Scene& scene, const Plan& plan);

/// That cautions defer to who knows better: local codes, manual, licensed practice.
[[nodiscard]] std::string_view deference();

}  // namespace standpoint
