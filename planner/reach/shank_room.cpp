#include "planner/reach/shank_room.h"

#include <algorithm>
#include <utility>

namespace standpoint {

ShankRoom::ShankRoom(const Cell& cell, const Vec3& tip_centre, const Shank& shank, double length,
                     std::vector<double> head_distances, double head_radius)
    : cell_(&cell),
      tip_centre_(tip_centre),
      shank_(shank),
      length_(length),
      head_distances_(std::move(head_distances)),
      head_radius_(head_radius) {}

std::vector<ShankRoom::Piece> ShankRoom::pieces(const Vec3& direction) const {
  std::vector<Piece> pieces;
  const auto along = [&](double t) -> Vec3 { return tip_centre_ + t * direction; };
  // Heads first: they are the largest, and so most often what blocks.
  for (const double t : head_distances_) {
    pieces.push_back({Rule::head, RoundCone::ball(along(t), head_radius_)});
  }
  if (shank_.radius > shank_.tip_radius) {
    const double full_at = std::min(shank_.taper, length_);
    const double radius_there =
        shank_.tip_radius + (shank_.radius - shank_.tip_radius) * (full_at / shank_.taper);
    pieces.push_back({Rule::shank, {tip_centre_, along(full_at), shank_.tip_radius, radius_there}});
    if (full_at < length_) {
      pieces.push_back(
          {Rule::shank, RoundCone::capsule(along(full_at), along(length_), shank_.radius)});
    }
  } else if (shank_.tip_radius < length_) {
    pieces.push_back(
        {Rule::shank, RoundCone::capsule(along(shank_.tip_radius), along(length_), shank_.radius)});
  }
  return pieces;
}

bool ShankRoom::is_free(const Vec3& direction) {
  const auto all = pieces(direction);
  return std::all_of(all.begin(), all.end(), [&](const Piece& piece) {
    return cell_->tree().is_clear(piece.solid, -cell_->scene().rules.fit_tolerance, &hint_);
  });
}

bool ShankRoom::is_free(std::uint32_t finest_index) {
  if (known_.empty()) known_.resize(DirectionPatch::kFinestCount, Known::nothing);
  Known& known = known_[finest_index];
  if (known == Known::nothing) {
    known = is_free(finest_directions()[finest_index]) ? Known::free : Known::blocked;
  }
  return known == Known::free;
}

const std::vector<std::uint32_t>& ShankRoom::free_directions() {
  if (!free_) {
    free_.emplace();
    for (std::uint32_t index = 0; index < DirectionPatch::kFinestCount; ++index) {
      if (is_free(index)) free_->push_back(index);
    }
  }
  return *free_;
}

std::optional<ShankBlock> ShankRoom::block(const Vec3& direction) const {
  for (const Piece& piece : pieces(direction)) {
    const double least = -cell_->scene().rules.fit_tolerance;
    if (cell_->tree().is_clear(piece.solid, least)) continue;
    if (const auto contact = cell_->tree().nearest(piece.solid)) {
      return ShankBlock{piece.rule, *contact};
    }
  }
  return std::nullopt;
}

namespace {

bool any_below(const DirectionPatch& patch, const Vec3& axis, double angle_rad,
               const std::function<bool(std::uint32_t)>& visit) {
  const bool is_finest = patch.level == DirectionPatch::kFinestLevel;
  const Vec3& centre = is_finest ? finest_directions()[patch.finest_index()] : patch.centre();
  const double off = angle_between(axis, centre);
  if (is_finest) return off <= angle_rad && visit(patch.finest_index());
  if (off > angle_rad + patch.radius_rad()) return false;
  for (int which = 0; which < 4; ++which) {
    if (any_below(patch.child(which), axis, angle_rad, visit)) return true;
  }
  return false;
}

}  // namespace

bool any_finest_within(const Vec3& axis, double angle_rad,
                       const std::function<bool(std::uint32_t)>& visit) {
  for (std::uint8_t face = 0; face < 6; ++face) {
    if (any_below({face, 0, 0, 0}, axis, angle_rad, visit)) return true;
  }
  return false;
}

}  // namespace standpoint
