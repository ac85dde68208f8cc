#pragma once

#include <optional>
#include <vector>

#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

// Where a stand is put, told from points that somebody with a tape finds on the floor and the part.

/// An upright edge of the box round a body: which of its four.
struct BoxCorner {
  BodyId body;
  bool is_at_most_x = false, is_at_most_y = false;  ///< else at the least
  bool is_on_body = true;  ///< the body really has a corner there; else only its box has
};

/// A point to measure from.
struct Landmark {
  std::optional<FeatureId> feature;  ///< a point, or a hole's centre in its rim's plane ...
  std::optional<NestId> nest;        ///< ... or a nest's seated ball ...
  std::optional<BoxCorner> corner;   ///< ... or a corner, at its lowest vertex
  bool is_on_part = false;           ///< a feature, or a part's corner
  Vec3 at = Vec3::Zero();            ///< world, mm
};

/// All points of the scene that can be found: features that are points or holes, nests, and those
/// corners of the boxes round parts and fixtures where the body has a corner; where these are fewer
/// than two, the corners of all boxes. In the scene's order. Bodies of the surroundings are left
/// out unless there is nothing else: they are the least exactly placed. O(vertices + features).
[[nodiscard]] std::vector<Landmark> landmarks_of(const Cell& cell);

/// What puts a stand at `station` best: two landmarks, then, where there is one, a third to check
/// by. With horizontal distances d1, d2 measured equally well and their directions g apart, the
/// place is uncertain as 1 / sin g and a tape's error grows with its length (derived here): the two
/// have the least (d1 + d2) / sin g. The third is the nearest that is seen at least a quarter
/// (sine) off both; where neither of the two is on the part, the nearest such that is, since it is
/// the part that the beams must reach. Of equal ones the first of the list. Landmarks no farther
/// than `too_near` (mm, horizontal distance), where the stand's legs are, are passed over. Only the
/// `kNearest` nearest are paired. Where no two fit: the nearest, if any.
[[nodiscard]] std::vector<Landmark> stand_marks(const std::vector<Landmark>& landmarks,
                                                const Vec3& station, double too_near);

inline constexpr std::size_t kNearest = 60;  ///< landmarks that `stand_marks` pairs

}  // namespace standpoint
