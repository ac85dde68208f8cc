#pragma once

#include <optional>
#include <string>
#include <vector>

#include "io/write/drawings/beam_look.h"
#include "io/write/drawings/perspective.h"
#include "io/write/drawings/sheet.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// A body, or a part of one, as it is seen along a beam.
struct Seen {
  BodyId body;
  Outlines outlines;  ///< picture coordinates, mm at the picture plane
  double depth = 0;   ///< of its nearest point in the picture
  bool is_in_the_way = false;
};

/// What a body hides of the beam (or of a shank, head or ball).
struct Hidden {
  BodyId body;
  std::vector<Vec2> room;  ///< the outline of the beam where it passes the body, or of the solid
  Outlines outlines;       ///< of the body there; hidden is what both cover
};

/// Everything that a beam's picture shows of the scene.
struct Scenery {
  Box2 window;                 ///< that is shown, round the line of sight
  std::vector<Seen> before;    ///< before the end of the beam, the farthest first
  std::vector<Seen> behind;    ///< the part, behind it
  std::vector<Hidden> hidden;  ///< empty where nothing blocks
  /// Where the beam passes the body that stands deepest in it, or that it grazes most closely.
  std::optional<BodyId> passes;
  double passing_radius = 0;  ///< of the beam there, as it is seen
};

/// Height of the window over its width.
inline constexpr double kPictureShape = 0.68;

/// The window to show: the beam's disc about a sixth of its width, the target well inside, and an
/// edge of what is in the way inside it where that is near enough. O(triangles).
[[nodiscard]] Box2 picture_window(const Cell& cell, const BeamLook& look, const Perspective& eye);

/// What is seen in `window`; outlines to within a cell, `grid` of them across. O(triangles).
[[nodiscard]] Scenery scenery_in(const Cell& cell, const BeamLook& look, const Perspective& eye,
                                 const Box2& window, int grid);

/// Whether an odd number of the outlines goes round `p`.
[[nodiscard]] bool covers(const Outlines& outlines, const Vec2& p);

/// Where in the window a name says best which body it belongs to: well inside what shows of it,
/// away from what is drawn over it and from the disc of `keep_off` about the middle. Nothing where
/// hardly anything shows.
[[nodiscard]] std::optional<Vec2> name_place(const Seen& seen, const std::vector<Seen>& over,
                                             const Box2& window, double keep_off);

/// A point of the outline to put a name beside, for a body too thin to hold one: well inside the
/// window, away from the middle, rather on the right. Nothing where none is in the window.
[[nodiscard]] std::optional<Vec2> point_to_name(const Seen& seen, const Box2& window,
                                                double keep_off);

}  // namespace standpoint
