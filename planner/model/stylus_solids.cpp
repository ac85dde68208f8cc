#include "planner/model/stylus_solids.h"

#include <algorithm>

namespace standpoint {
namespace {

/// What sits on the shank, however the stylus works.
struct Heads {
  double shank_length = 0;
  std::vector<double> distances;
  double radius = 0;
};

Heads heads_of(const MirrorStylus& mirror) {
  return {mirror.length, {mirror.length}, mirror.head_radius};
}

Heads heads_of(const TwoBallStylus& rod) {
  return {rod.ball_distances[1], {rod.ball_distances[0], rod.ball_distances[1]}, rod.ball_radius};
}

void add_shank(const Shank& shank, double length, std::vector<StylusPiece>& pieces) {
  if (shank.radius <= shank.tip_radius) {
    if (shank.tip_radius < length)
      pieces.push_back({Rule::shank, shank.tip_radius, length, shank.radius, shank.radius});
    return;
  }
  const double full_at = std::min(shank.taper, length);
  const double radius_there =
      shank.tip_radius + (shank.radius - shank.tip_radius) * (full_at / shank.taper);
  pieces.push_back({Rule::shank, 0, full_at, shank.tip_radius, radius_there});
  if (full_at < length)
    pieces.push_back({Rule::shank, full_at, length, shank.radius, shank.radius});
}

}  // namespace

std::vector<StylusPiece> stylus_pieces(const OffsetStylus& stylus) {
  return std::visit(
      [](const auto& one) {
        const Heads heads = heads_of(one);
        std::vector<StylusPiece> pieces;
        for (const double t : heads.distances)
          pieces.push_back({Rule::head, t, t, heads.radius, heads.radius});
        add_shank(one.shank, heads.shank_length, pieces);
        return pieces;
      },
      stylus);
}

double stylus_reach(const OffsetStylus& stylus) {
  return std::visit(
      [](const auto& one) {
        const Heads heads = heads_of(one);
        return heads.shank_length + heads.radius;
      },
      stylus);
}

}  // namespace standpoint
