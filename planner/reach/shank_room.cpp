#include "planner/reach/shank_room.h"

#include <algorithm>
#include <cassert>
#include <limits>

#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

/// The coarsest patches that are tried as a whole. In those above, 30 degrees and more, a stylus
/// sweeps so much that hardly any is free or blocked all over.
constexpr int kCoarsest = 2;

/// How many pieces of a stylus an answer can tell apart (`PatchAnswer::open`).
constexpr std::size_t kMostParts = 4;

/// All that the room about a tip depends on, beside the bodies.
std::vector<double> question(const Vec3& tip_centre, const std::vector<StylusPiece>& pieces,
                             double fit_tolerance) {
  std::vector<double> numbers{tip_centre.x(), tip_centre.y(), tip_centre.z(), fit_tolerance};
  for (const StylusPiece& piece : pieces) {
    numbers.insert(numbers.end(), {piece.from, piece.to, piece.from_radius, piece.to_radius});
  }
  return numbers;
}

}  // namespace

bool ShankRoom::is_free(const Vec3& direction) {
  const double least = -cell_->scene().rules.fit_tolerance;
  for (std::size_t k = 0; k < pieces_.size(); ++k) {
    if (!cell_->tree().is_clear(solid(pieces_[k], direction), least, &hints_[k])) return false;
  }
  return true;
}

/// A point of the axis at t from the tip moves by at most t times the chord of the patch's radius
/// when the direction changes within the patch: a piece swollen by so much holds them all.
bool ShankRoom::is_free_all_over(const DirectionPatch& patch, std::size_t number) {
  StylusPiece piece = pieces_[number];
  const double sway = patch.radius_chord();
  const double least = -cell_->scene().rules.fit_tolerance + tolerance::kWholePatchSlack;
  piece.from_radius += sway * piece.from;
  piece.to_radius += sway * piece.to;
  const bool is_cone = piece.to_radius - piece.from_radius < piece.to - piece.from;
  const bool is_ball = piece.from == piece.to;
  return (is_cone || is_ball) &&
         cell_->tree().is_clear(solid(piece, patch.centre()), least, &hints_[number]);
}

/// What comes into a piece thinned by that much comes into it in every direction of the patch.
bool ShankRoom::is_blocked_all_over(const DirectionPatch& patch, std::size_t number) {
  StylusPiece piece = pieces_[number];
  const double sway = patch.radius_chord();
  const double least = -cell_->scene().rules.fit_tolerance - tolerance::kWholePatchSlack;
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
  return (is_cone || is_ball) &&
         !cell_->tree().is_clear(solid(piece, patch.centre()), least, &hints_[number]);
}

/// `open`: the pieces that are not free all over the patch above.
PatchAnswer ShankRoom::decide(const DirectionPatch& patch, std::uint8_t open) {
  std::uint8_t still_open = 0;
  for (std::size_t k = 0; k < pieces_.size(); ++k) {
    if ((open >> k & 1) == 0 || is_free_all_over(patch, k)) continue;
    if (is_blocked_all_over(patch, k)) return {true, open};
    still_open = static_cast<std::uint8_t>(still_open | 1u << k);
  }
  return {false, still_open};
}

KnownDirections& ShankRoom::known() {
  if (!known_) {
    assert(pieces_.size() <= kMostParts);
    known_ = cell_->direction_memory().about(
        question(tip_centre_, pieces_, cell_->scene().rules.fit_tolerance));
  }
  return *known_;
}

PatchAnswer ShankRoom::answer(const DirectionPatch& patch) {
  if (const auto kept = known().patch(patch)) return *kept;
  PatchAnswer answer{false, static_cast<std::uint8_t>((1u << pieces_.size()) - 1)};
  if (patch.level > kCoarsest) answer = this->answer(patch.ancestor(patch.level - 1));
  if (!answer.is_decided()) answer = decide(patch, answer.open);
  known().keep(patch, answer);
  return answer;
}

bool ShankRoom::is_free(std::uint32_t finest_index) {
  if (const auto kept = known().direction(finest_index)) return *kept;
  const auto patch = DirectionPatch::of_index(DirectionPatch::kFinestLevel, finest_index);
  const PatchAnswer above = answer(patch.ancestor(DirectionPatch::kFinestLevel - 1));
  bool is_free = !above.is_no;
  const double least = -cell_->scene().rules.fit_tolerance;
  for (std::size_t k = 0; is_free && k < pieces_.size(); ++k) {
    is_free = (above.open >> k & 1) == 0 ||
              cell_->tree().is_clear(solid(pieces_[k], patch.centre()), least, &hints_[k]);
  }
  known().keep(finest_index, is_free);
  return is_free;
}

bool ShankRoom::is_known_blocked(const DirectionPatch& patch) {
  if (patch.level == DirectionPatch::kFinestLevel) {
    return known().direction(patch.index()) == false;
  }
  const auto kept = known().patch(patch);
  return kept && kept->is_no;
}

bool ShankRoom::is_all_blocked(const DirectionPatch& patch) {
  return patch.level >= kCoarsest && answer(patch).is_no;
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
