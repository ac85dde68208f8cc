#pragma once

#include <string>
#include <vector>

#include "standpoint/shapes.h"
#include "standpoint/why.h"

namespace standpoint {

// A diagnosis in sentences. Names as the scene has them, like words.h.

/// "pad-1" or "nest N1".
[[nodiscard]] std::string subject_name(const Scene& scene, const Subject& subject);

/// What a body stands in.
enum class Pierced { beam, shank, head, rod_ball, ball, tip, base };

/// What the bodies of a cause stand in.
[[nodiscard]] Pierced pierced_by(const Scene& scene, const Cause& cause);

/// How a body stands in it, as seen from `station`. Of a beam: "column-a, face 3: in the beam from
/// 1834 mm on, 12.4 mm deep, on the left; it stops the axis", or that it only clips the rim, or how
/// far beside the beam it is. Of what somebody holds there is no "from": "bracket: 3.1 mm deep in
/// the shank, above; it crosses its axis", "post: 4.0 mm deep in the head, on the near side".
[[nodiscard]] std::string obstruction_sentence(const Scene& scene, Pierced pierced,
                                               const Vec3& station, const Obstruction& obstruction);

/// The direction of `side` as somebody sees it who looks along `along` (world, unit, +Z up):
/// "above", "on the left"; "in the middle" where it is zero; "on the near side" or "on the far
/// side" where it is within some 37 degrees of the line of sight.
[[nodiscard]] std::string side_words(const Vec3& along, const Vec3& side);

/// What to do, what it gives, and what else it changes: "Raise the instrument by 240 mm: ...".
[[nodiscard]] std::string cure_sentence(const Scene& scene, const Cure& cure);

/// "Holds for any shift of the station up to 3.1 mm; breaks at 9.8 mm toward ...".
[[nodiscard]] std::string steadiness_sentence(const Scene& scene, const Steadiness& steadiness,
                                              const std::string& what);

/// What the file calls it: "change-height", ...
[[nodiscard]] std::string cure_name(CureKind kind);

/// A direction in words and as a vector: "up and toward +X (0.71, 0.00, 0.71)".
[[nodiscard]] std::string direction_words(const Vec3& direction);

}  // namespace standpoint
