#pragma once

#include "standpoint/cell.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint::hand_made {

// A small scene and plan written by hand, so that what is written about them can be compared with
// values that stand in the tests. All values are invented.

/// In metres, so that a forgotten conversion shows. Bodies: column-a (fixture, one triangle of
/// "face 3"), table (part, two triangles without faces). Targets: ball-38, mirror-6, rod-2x.
/// Features: pad-1 (point, tolerance 0.4 mm), dowel-3 (hole), boss (point), spare (point, not
/// required). Nests N1 to N4. Zone "south aisle", fixed place "door", walkway "gangway".
[[nodiscard]] Scene scene();
/// The surfaces of its bodies, and the scene among them.
[[nodiscard]] Meshes meshes();
[[nodiscard]] Cell cell();

/// Two stations: S1 measures pad-1 by full target, door measures dowel-3 on its rim by stylus (and
/// pad-1 as well); boss is blocked by column-a; spare is blocked and not required.
[[nodiscard]] Plan plan();

/// As seen from S1.
[[nodiscard]] Sight sight();

inline constexpr BodyId kColumn{std::size_t{0}};
inline constexpr TargetId kBall{std::size_t{0}}, kMirror{std::size_t{1}}, kRod{std::size_t{2}};
inline constexpr FeatureId kPad{std::size_t{0}}, kDowel{std::size_t{1}}, kBoss{std::size_t{2}},
    kSpare{std::size_t{3}};
inline constexpr StationId kS1{std::size_t{0}}, kDoor{std::size_t{1}};

/// The beam cause at boss: 1834 mm out, column-a stands 12.4 mm deep in it.
[[nodiscard]] Cause broken_beam();

}  // namespace standpoint::hand_made
