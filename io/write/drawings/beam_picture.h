#pragma once

#include <optional>
#include <string>

#include "standpoint/cell.h"
#include "standpoint/why.h"

namespace standpoint {

/// What the instrument would see looking along the beam that matters most (beam_look.h), as an SVG
/// document that needs nothing from outside: the bodies before the target by name, the part behind
/// it faint, the beam's disc where it ends and where it passes what is in its way, the clipped part
/// hatched, the target, and the smallest change of the station that cures as an arrow. To scale at
/// the end of the beam: what is nearer is drawn larger, as it is seen. For looking at, not for
/// deciding: outlines are within about one 720th of the picture's width. Nothing where no target
/// was tried. Same input, same text.
[[nodiscard]] std::optional<std::string> draw_beam_picture(const Cell& cell,
                                                           const Diagnosis& diagnosis);

}  // namespace standpoint
