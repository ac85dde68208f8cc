#pragma once

#include <vector>

#include "standpoint/scene.h"
#include "standpoint/sight.h"

namespace standpoint {

/// One solid of a stylus, between two distances from its tip's centre along the direction in which
/// it is held. mm.
struct StylusPiece {
  Rule rule = Rule::shank;  ///< that fails where a body stands in it: shank or head
  double from = 0, to = 0;  ///< equal for a ball
  double from_radius = 0, to_radius = 0;
};

/// What a stylus takes up beside its tip ball (contract section 3): its mirror's head or its balls
/// first, the largest and so most often what is blocked; then its shank from the tip's surface on,
/// tapering from the tip where it is thicker than the tip. The one place that builds them.
/// Precondition: where the shank tapers, it gains less in radius than `shank.taper` is long.
[[nodiscard]] std::vector<StylusPiece> stylus_pieces(const OffsetStylus& stylus);

/// How far the stylus reaches from its tip's centre, its head or outer ball included, mm.
[[nodiscard]] double stylus_reach(const OffsetStylus& stylus);

/// The piece in its place: held along the unit vector `direction`, the tip's centre at `tip`.
[[nodiscard]] inline RoundCone solid_of(const StylusPiece& piece, const Vec3& tip,
                                        const Vec3& direction) {
  return {tip + piece.from * direction, tip + piece.to * direction, piece.from_radius,
          piece.to_radius};
}

}  // namespace standpoint
