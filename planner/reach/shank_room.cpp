#include "planner/reach/shank_room.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/tree/tree.h"
#include "geometry/trigonometry.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

/// The coarsest patches that are tried as a whole. In those above, 30 degrees and more, a stylus
/// sweeps so much that hardly any is free or blocked all over.
constexpr int kCoarsest = 2;

/// How far apart two unit vectors at this angle are.
double chord(double angle_rad) {
  return 2 * sine(angle_rad / 2);
}

}  // namespace

bool ShankRoom::is_free(const Vec3& direction) {
  const double least = -cell_->scene().rules.fit_tolerance;
  return std::all_of(pieces_.begin(), pieces_.end(), [&](const StylusPiece& piece) {
    return cell_->tree().is_clear(solid(piece, direction), least, &hint_);
  });
}

/// A point of the axis at t from the tip moves by at most t times the chord of the patch's radius
/// when the direction changes within the patch: a stylus swollen by so much holds them all.
bool ShankRoom::is_free_all_over(const DirectionPatch& patch) {
  const double sway = chord(patch.radius_rad());
  const double least = -cell_->scene().rules.fit_tolerance + tolerance::kWholePatchSlack;
  const Vec3& centre = patch.centre();
  return std::all_of(pieces_.begin(), pieces_.end(), [&](StylusPiece piece) {
    piece.from_radius += sway * piece.from;
    piece.to_radius += sway * piece.to;
    const bool is_cone = piece.to_radius - piece.from_radius < piece.to - piece.from;
    const bool is_ball = piece.from == piece.to;
    return (is_cone || is_ball) && cell_->tree().is_clear(solid(piece, centre), least, &hint_);
  });
}

/// What comes into the stylus thinned by that much comes into it in every direction of the patch.
bool ShankRoom::is_blocked_all_over(const DirectionPatch& patch) {
  const double sway = chord(patch.radius_rad());
  const double least = -cell_->scene().rules.fit_tolerance - tolerance::kWholePatchSlack;
  const Vec3& centre = patch.centre();
  return std::any_of(pieces_.begin(), pieces_.end(), [&](StylusPiece piece) {
    piece.from_radius -= sway * piece.from;
    piece.to_radius -= sway * piece.to;
    if (piece.from_radius <= 0) return false;
    if (piece.to_radius < 0) {
      const double kept = piece.from_radius / (piece.from_radius - piece.to_radius);
      piece.to = piece.from + kept * (piece.to - piece.from);
      piece.to_radius = 0;
    }
    const bool is_cone = piece.from_radius - piece.to_radius < piece.to - piece.from;
    const bool is_ball = piece.from == piece.to;
    return (is_cone || is_ball) && !cell_->tree().is_clear(solid(piece, centre), least, &hint_);
  });
}

ShankRoom::Known ShankRoom::decide(const DirectionPatch& patch) {
  if (patch.level == DirectionPatch::kFinestLevel) {
    return is_free(finest_directions()[patch.index()]) ? Known::free : Known::blocked;
  }
  if (is_blocked_all_over(patch)) return Known::blocked;
  return is_free_all_over(patch) ? Known::free : Known::mixed;
}

ShankRoom::Known ShankRoom::known(const DirectionPatch& patch) {
  auto& level = known_[patch.level];
  if (level.empty()) level.resize(DirectionPatch::count_at(patch.level), Known::nothing);
  Known& answer = level[patch.index()];
  if (answer != Known::nothing) return answer;
  if (patch.level > kCoarsest) {
    const Known above = known(patch.ancestor(patch.level - 1));
    if (above != Known::mixed) return answer = above;
  }
  return answer = decide(patch);
}

bool ShankRoom::is_free(std::uint32_t finest_index) {
  return known(DirectionPatch::of_index(DirectionPatch::kFinestLevel, finest_index)) == Known::free;
}

bool ShankRoom::is_all_blocked(const DirectionPatch& patch) {
  return patch.level >= kCoarsest && known(patch) == Known::blocked;
}

std::optional<ShankBlock> ShankRoom::block(const Vec3& direction,
                                           std::optional<double> above) const {
  const double least = -cell_->scene().rules.fit_tolerance;
  for (const StylusPiece& piece : pieces_) {
    const RoundCone held = solid(piece, direction);
    if (cell_->tree().is_clear(held, least)) continue;
    // To be told apart by a clear answer is cheaper than to be measured.
    if (above && !cell_->tree().is_clear(held, *above)) return std::nullopt;
    if (const auto contact = cell_->tree().nearest(held)) {
      if (above && contact->nearest.margin <= *above) return std::nullopt;
      return ShankBlock{piece.rule, *contact, held};
    }
  }
  return std::nullopt;
}

double ShankRoom::clearance(Rule rule, const Vec3& direction) const {
  double least = std::numeric_limits<double>::infinity();
  for (const StylusPiece& piece : pieces_) {
    if (piece.rule != rule) continue;
    if (const auto contact = cell_->tree().nearest(solid(piece, direction), least))
      least = contact->nearest.margin;
  }
  return least;
}

}  // namespace standpoint
