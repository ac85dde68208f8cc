#pragma once

#include <cstddef>
#include <string>

#include "io/write/drawings/beam_scenery.h"
#include "io/write/drawings/sheet.h"

namespace standpoint {

// The framed drawing in a beam's picture, without title, legend and words. Sheet units.

inline constexpr double kDrawingWidth = 720, kDrawingHeight = kDrawingWidth * kPictureShape;
/// Longer names are cut in the drawing, its legend and its title.
inline constexpr std::size_t kMostBeamLetters = 40;

/// Everything that is drawn from.
struct BeamDrawing {
  const Cell& cell;
  const Scene& scene;  ///< of the cell
  const Diagnosis& diagnosis;
  const BeamLook& look;
  const Perspective& eye;
  const Scenery& scenery;
  Sheet sheet;  ///< of scenery.window
  const Cure* cure = nullptr;
};

/// Whether the room that must stay free round the beam can be told from the beam on the sheet.
[[nodiscard]] bool is_ring_drawn(const BeamDrawing& drawing);

/// The drawing with its frame, its upper left corner at (0, 0). Where the beam comes out small, a
/// round inset in a corner shows it again, larger. Classes are styled by the picture.
[[nodiscard]] std::string draw_along_beam(const BeamDrawing& drawing);

}  // namespace standpoint
