#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "planner/crew/stand_marks.h"
#include "standpoint/scene.h"

namespace standpoint {

// What a crew is told on the set-up sheet, in words. Names as the scene has them, like words.h.

/// A length that is set by hand, with its unit and no more digits than it has, down to a
/// micrometre: "19.05 mm", "3 mm".
[[nodiscard]] std::string setting_text(const Scene& scene, double mm);

/// One thing to enter in the measuring software: "ball radius", "19.05 mm".
struct Setting {
  std::string what;
  std::string value;
};

/// All that the measuring software must be told of a target: its kind, the radius that touches, and
/// where the touching ball lies from what the instrument sees.
[[nodiscard]] std::vector<Setting> target_settings(const Scene& scene, TargetId target);

/// How far every point would lie off, mm along its normal out of the material, if the software were
/// left at `before` while `now` touches: it takes `before`'s radius off the same centre, so the
/// point lies at r_now - r_before (derived here). A hole adapter's ball has its height over the
/// rim's plane in the radius's place. Negative: into the material.
[[nodiscard]] double shift_if_left(const Scene& scene, TargetId before, TargetId now);

/// The same as a sentence; that the radius stays, where both are alike. `what` would lie off:
/// "every point".
[[nodiscard]] std::string shift_sentence(const Scene& scene, TargetId before, TargetId now,
                                         std::string_view what);

/// "hole, 5 mm wide, at 80, 40, 50": what it is, and where its name is to be looked for.
[[nodiscard]] std::string nominal_words(const Scene& scene, const Feature& feature);

/// What a ball on a hole's rim tells: where its centre stands over the rim's plane. Precondition:
/// the ball is larger than the hole.
[[nodiscard]] std::string rim_words(const Scene& scene, const TouchMark& touch,
                                    const Reached& seated);

/// "pin-10, 30 mm, in dowel-3": a hole adapter with its height, and where it sits.
[[nodiscard]] std::string adapter_words(const Scene& scene, const HoleAdapter& adapter,
                                        const Feature& hole);

/// "hole dowel-3", "nest N1", "stand-1, corner at its least x and greatest y".
[[nodiscard]] std::string landmark_words(const Scene& scene, const Landmark& landmark);

}  // namespace standpoint
