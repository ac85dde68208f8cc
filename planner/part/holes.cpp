#include "planner/part/holes.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "planner/part/step_links.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

/// A hole as walls from one end to the other along one axis.
struct Chain {
  Axis axis;
  std::vector<std::size_t> walls;    ///< from the low end up
  std::vector<std::size_t> between;  ///< faces between them
};

/// What closes or widens a chain at its end.
struct ChainEnd {
  bool open = false;
  double level = 0;                ///< height of the last cylinder's rim
  double diameter = 0;             ///< of the last cylinder
  double widest = 0;               ///< of a cone beyond it, or 0
  bool tip = false;                ///< a cone closes it
  std::vector<std::size_t> faces;  ///< of its cone, bottom and rounds
};

/// The greatest distance of a face's rims from an axis.
double farthest(const Face& face, const Axis& axis) {
  double far = 0;
  for (const Loop& loop : face.loops)
    for (const Edge& edge : loop)
      for (const Vec3& p : edge.points) far = std::max(far, axis.off(p));
  return far;
}

class Holes {
 public:
  Holes(const PartFaces& part, const std::vector<RoundWall>& walls)
      : part_(part), walls_(walls), links_(link_steps(part, walls)) {}

  /// All chains, each once.
  [[nodiscard]] std::vector<Chain> chains() const {
    std::vector<Chain> found;
    std::vector<bool> seen(walls_.size(), false);
    for (std::size_t i = 0; i < walls_.size(); ++i) {
      if (seen[i]) continue;
      Chain chain = chain_of(i);
      for (const std::size_t wall : chain.walls) seen[wall] = true;
      found.push_back(std::move(chain));
    }
    return found;
  }

  /// The hole that a chain is; nothing where it is none.
  [[nodiscard]] std::optional<FoundFeature> hole_of(Chain chain, const FindOptions& options) const {
    const bool is_round =
        std::any_of(chain.walls.begin(), chain.walls.end(),
                    [&](std::size_t wall) { return walls_[wall].share >= tolerance::kWholeRound; });
    const Axis& axis = chain.axis;
    ChainEnd low = end_of(chain.walls.front(), axis, false);
    ChainEnd high = end_of(chain.walls.back(), axis, true);
    if (!is_round || (!low.open && !high.open)) return std::nullopt;
    const bool from_high = opens_high(low, high);
    if (from_high) std::reverse(chain.walls.begin(), chain.walls.end());
    const ChainEnd& opening = from_high ? high : low;
    const ChainEnd& end = from_high ? low : high;
    FoundFeature hole;
    hole.axis = (from_high ? 1 : -1) * axis.direction;
    hole.through = low.open && high.open;
    hole.tip = end.tip;
    hole.countersink = opening.widest;
    set_steps(chain, from_high, hole);
    std::vector<std::size_t> faces = chain.between;
    for (const std::size_t wall : chain.walls)
      faces.insert(faces.end(), walls_[wall].faces.begin(), walls_[wall].faces.end());
    faces.insert(faces.end(), low.faces.begin(), low.faces.end());
    faces.insert(faces.end(), high.faces.begin(), high.faces.end());
    hole.faces = std::move(faces);
    if (hole.diameter > options.holes_up_to) make_cylinder(hole);
    return hole;
  }

 private:
  [[nodiscard]] const std::optional<std::size_t>& next(std::size_t wall, bool high) const {
    return (high ? links_.high : links_.low)[wall].wall;
  }

  /// Whether two walls' axes point the same way.
  [[nodiscard]] bool alike(std::size_t a, std::size_t b) const {
    return walls_[a].axis.direction.dot(walls_[b].axis.direction) > 0;
  }

  /// The chain through a wall. Links never run in a circle: each leads on along the axis.
  [[nodiscard]] Chain chain_of(std::size_t wall) const {
    Chain chain;
    chain.axis = walls_[wall].axis;
    chain.walls = {wall};
    for (const bool up : {false, true}) {
      std::size_t at = wall;
      bool high = up;
      while (next(at, high) && chain.walls.size() <= walls_.size()) {
        const StepLink& link = (high ? links_.high : links_.low)[at];
        chain.between.insert(chain.between.end(), link.between.begin(), link.between.end());
        high = alike(at, *link.wall) == high;
        at = *link.wall;
        chain.walls.insert(up ? chain.walls.end() : chain.walls.begin(), at);
      }
    }
    // A short step that is fitted to a mesh has an ill-held axis: the longest wall's is the hole's.
    const auto length = [&](std::size_t w) { return walls_[w].high.level - walls_[w].low.level; };
    const std::size_t best =
        *std::max_element(chain.walls.begin(), chain.walls.end(),
                          [&](std::size_t a, std::size_t b) { return length(a) < length(b); });
    if (best != wall) {
      const Axis& axis = walls_[best].axis;
      chain.axis = axis_along(axis.at, alike(best, wall) ? axis.direction : Vec3(-axis.direction));
    }
    return chain;
  }

  [[nodiscard]] double height_of(std::size_t wall, const Axis& axis, bool high) const {
    const RoundWall& w = walls_[wall];
    const bool same = w.axis.direction.dot(axis.direction) > 0;
    return axis.height(w.axis.on(high == same ? w.high.level : w.low.level));
  }

  /// The end of the chain's last wall, up or down along `axis`.
  [[nodiscard]] ChainEnd end_of(std::size_t wall, const Axis& axis, bool up) const {
    const RoundWall& w = walls_[wall];
    const bool same = w.axis.direction.dot(axis.direction) > 0;
    const WallEnd& last = up == same ? w.high : w.low;
    ChainEnd end;
    end.open = last.outward;
    end.level = height_of(wall, axis, up);
    end.diameter = 2 * w.radius;
    std::vector<std::size_t> now = last.beyond;
    for (int depth = 0; depth < 2; ++depth) {  // a round, then what it leads to
      std::vector<std::size_t> later;
      for (const std::size_t face : now) add_end_face(face, w, end, later);
      now = std::move(later);
    }
    return end;
  }

  /// Takes a face beyond a chain's end: a cone that widens or closes it, its bottom, a round.
  void add_end_face(std::size_t number, const RoundWall& wall, ChainEnd& end,
                    std::vector<std::size_t>& later) const {
    const Face& face = part_.faces[number];
    if (!is_about(face, wall.axis, wall.slack)) return;
    const double far = farthest(face, wall.axis);
    const bool within = far <= wall.radius + wall.slack;
    switch (face.surface.kind) {
      case SurfaceKind::cone:
        if (!face.hollow || end.open == within) return;
        if (end.open) end.widest = std::max(end.widest, 2 * far);
        end.tip = end.tip || !end.open;
        break;
      case SurfaceKind::torus:
        for (const Loop& loop : face.loops)
          for (const Edge& edge : loop)
            if (edge.beyond && *edge.beyond != number) later.push_back(*edge.beyond);
        break;
      default:
        if (end.open || !within) return;
    }
    end.faces.push_back(number);
  }

  /// Of a hole that is open both ways: at the wider end, by its cylinders, then by its cones; else
  /// at the one that looks up. The axis points up already.
  [[nodiscard]] static bool opens_high(const ChainEnd& low, const ChainEnd& high) {
    if (low.open != high.open) return high.open;
    const double wider = high.diameter - low.diameter;
    if (std::abs(wider) > tolerance::kSameFaces) return wider > 0;
    const double cone = high.widest - low.widest;
    return cone >= -tolerance::kSameFaces;
  }

  void set_steps(const Chain& chain, bool from_high, FoundFeature& hole) const {
    const Axis& axis = chain.axis;
    std::size_t narrowest = 0;
    for (const std::size_t wall : chain.walls) {
      HoleStep step;
      const double near = height_of(wall, axis, from_high);
      step.centre = axis.on(near);
      step.diameter = 2 * walls_[wall].radius;
      step.depth = std::abs(near - height_of(wall, axis, !from_high));
      if (!hole.steps.empty() &&
          step.diameter < hole.steps[narrowest].diameter - tolerance::kSameFaces)
        narrowest = hole.steps.size();
      hole.steps.push_back(step);
    }
    const HoleStep& step = hole.steps[narrowest];
    hole.kind = FoundKind::hole;
    hole.hollow = true;
    hole.centre = step.centre;
    hole.diameter = step.diameter;
    hole.depth = step.depth;
    describe_faces(part_, walls_[chain.walls[narrowest]].faces, hole);
  }

  static void make_cylinder(FoundFeature& hole) {
    hole.kind = FoundKind::cylinder;
    hole.length = hole.depth;
    hole.centre -= hole.depth / 2 * hole.axis;
  }

  const PartFaces& part_;
  const std::vector<RoundWall>& walls_;
  StepLinks links_;
};

}  // namespace

void describe_faces(const PartFaces& part, const std::vector<std::size_t>& faces,
                    FoundFeature& feature) {
  double squares = 0;
  for (const std::size_t i : faces) {
    const Face& face = part.faces[i];
    feature.area += face.area;
    feature.component = face.component;
    if (!face.fit) continue;
    SurfaceFit fit = feature.fit.value_or(SurfaceFit{});
    squares += face.fit->rms * face.fit->rms * static_cast<double>(face.fit->triangles);
    fit.worst = std::max(fit.worst, face.fit->worst);
    fit.triangles += face.fit->triangles;
    fit.of_triangles = face.fit->of_triangles;
    fit.doubtful = fit.doubtful || face.fit->doubtful;
    feature.fit = fit;
  }
  if (feature.fit && feature.fit->triangles > 0)
    feature.fit->rms = std::sqrt(squares / static_cast<double>(feature.fit->triangles));
}

std::vector<FoundFeature> find_holes(const PartFaces& part, const std::vector<RoundWall>& cylinders,
                                     const FindOptions& options, std::vector<bool>& taken) {
  std::vector<RoundWall> walls;
  for (const RoundWall& wall : cylinders) {
    const bool is_taken = std::any_of(wall.faces.begin(), wall.faces.end(),
                                      [&](std::size_t face) { return taken[face]; });
    if (wall.hollow && wall.share >= tolerance::kPartRound && !is_taken) walls.push_back(wall);
  }
  const Holes holes(part, walls);
  std::vector<FoundFeature> found;
  for (Chain& chain : holes.chains()) {
    auto hole = holes.hole_of(std::move(chain), options);
    if (!hole) continue;
    for (const std::size_t face : hole->faces) taken[face] = true;
    found.push_back(std::move(*hole));
  }
  return found;
}

}  // namespace standpoint
