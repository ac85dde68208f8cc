#pragma once

#include <string>
#include <string_view>

#include "io/write/drawings/sheet.h"
#include "standpoint/plan.h"

namespace standpoint {

// The symbols of the drawings, in sheet units.

inline constexpr double kMarkRadius = 4;  ///< of a feature's or nest's symbol

/// A verdict's symbol at a place: a disc, a diamond, a cross.
[[nodiscard]] std::string verdict_mark(Verdict verdict, const Vec2& at);
/// "full", "stylus" or "blocked": the class of a verdict's marks and beams.
[[nodiscard]] std::string_view verdict_class(Verdict verdict);

/// A feature that has no verdict: a square.
[[nodiscard]] std::string feature_mark(const Vec2& at);

/// A nest: a ring with a dot.
[[nodiscard]] std::string nest_mark(const Vec2& at);

/// An instrument's stand from above: its footprint to scale, three legs, the measuring centre.
[[nodiscard]] std::string stand_from_above(const Vec2& at, double footprint_radius);
/// The same from the side: legs down to the foot, a head of the instrument's size to scale.
[[nodiscard]] std::string stand_from_side(const Vec2& centre, double half_width, double above,
                                          double below);

/// An instrument that does not stand upright: the outline of its body to scale as the sheet sees
/// it, a line along its standing axis from foot to head, the measuring centre.
[[nodiscard]] std::string stand_as_it_leans(const Sheet& sheet, const Stance& stance,
                                            const Instrument& instrument);

/// An instrument on its stand, however it stands; `below`: from the measuring centre down to what
/// an upright one stands on, mm.
[[nodiscard]] std::string stand_mark(const Sheet& sheet, bool is_from_above,
                                     const Instrument& instrument, const Stance& stance,
                                     double below);

/// A floor over which no instrument may stand: its border, and lines across it.
[[nodiscard]] std::string keep_out_area(const Sheet& sheet, const std::vector<Vec2>& polygon);

/// A bar of a round length with its length written under it, its left end at `at`; about a fifth of
/// the sheet's width long.
[[nodiscard]] std::string scale_bar(const Scene& scene, const Sheet& sheet, const Vec2& at);

/// The directions of the axes that run right and up, from a corner at `at`.
[[nodiscard]] std::string axes_mark(const Vec2& at, std::string_view right, std::string_view up);

}  // namespace standpoint
