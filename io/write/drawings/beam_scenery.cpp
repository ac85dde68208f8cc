#include "io/write/drawings/beam_scenery.h"

#include <algorithm>
#include <limits>
#include <numbers>

#include "geometry/trigonometry.h"

namespace standpoint {
namespace {

constexpr double kNear = 1;        // mm before the eye, where seeing begins
constexpr double kFar = 1e7;       // mm, and where it ends
constexpr double kWidest = 5;      // times the width that the disc and the target ask for
constexpr double kWidening = 1.3;  // a step, until an edge of what is in the way shows

const View kFlat{Vec3::UnitX(), Vec3::UnitY()};

Box2 window_of(double width) {
  const Vec2 half(width / 2, width * kPictureShape / 2);
  return {-half, half};
}

/// How large the target is drawn: the farthest that its ball or tip reaches from the middle.
double target_extent(const BeamLook& look, const Perspective& eye) {
  double extent = 0;
  const auto add = [&](const RoundCone& solid, double share) {
    for (const Vec2& p : eye.outline(solid)) extent = std::max(extent, share * p.norm());
  };
  for (const RoundCone& solid : look.target_solids) add(solid, 1);
  // A shank or head that is in the way itself may come nearer to the border.
  if (look.cut && look.cause && look.cause->rule != Rule::beam) add(*look.cut, 0.75);
  return extent;
}

/// The farthest that a solid reaches, mm. What is in its way is shown from the eye up to there: cut
/// off nearer too, a body's surface would be an empty shell.
double far_depth(const RoundCone& solid, const Perspective& eye) {
  return std::max({kNear, eye.depth(solid.start) + solid.start_radius,
                   eye.depth(solid.end) + solid.end_radius});
}

double beam_radius(const RoundCone& beam, double along) {
  const double length = (beam.end - beam.start).norm();
  const double share = std::clamp(along / length, 0.0, 1.0);
  return beam.start_radius + share * (beam.end_radius - beam.start_radius);
}

/// The beam where it passes a body's deepest point, widened by what must stay free, as it is seen.
double passing_radius(const BeamLook& look, const Perspective& eye, const Obstruction& body,
                      double more) {
  const double depth = std::clamp(eye.depth(body.at), kNear, eye.distance());
  return (beam_radius(look.beam, depth) + more) * eye.enlargement(depth);
}

std::vector<Vec2> disc(double radius) {
  constexpr int kCorners = 72;
  std::vector<Vec2> corners;
  for (int i = 0; i < kCorners; ++i) {
    const double angle = 2 * std::numbers::pi * i / kCorners;
    corners.emplace_back(radius * Vec2(cosine(angle), sine(angle)));
  }
  return corners;
}

/// What stands deepest in the beam, or comes nearest to it; null where nothing does.
const Obstruction* deepest_in_beam(const BeamLook& look) {
  if (look.cause && look.cause->rule != Rule::beam) return nullptr;
  const Obstruction* deepest = nullptr;
  for (const Obstruction& body : look.bodies) {
    if (deepest == nullptr || body.margin < deepest->margin) deepest = &body;
  }
  return deepest;
}

struct Blocking {
  BodyId body;
  Mesh flat;
  std::vector<Vec2> room;
};

std::vector<Blocking> blocking(const Cell& cell, const BeamLook& look, const Perspective& eye) {
  std::vector<Blocking> all;
  if (!look.cut) return all;
  const bool is_beam = look.cause && look.cause->rule == Rule::beam;
  for (const Obstruction& body : look.bodies) {
    Blocking& one = all.emplace_back();
    one.body = body.body;
    one.flat = eye.project(cell.mesh(body.body), kNear, far_depth(*look.cut, eye));
    if (is_beam) {
      one.room = disc(passing_radius(look, eye, body, look.allowed));
    } else {
      one.room = eye.outline(*look.cut);
    }
  }
  return all;
}

/// A grid of places in the window, row by row.
std::vector<Vec2> places_in(const Box2& window, int columns, int rows) {
  std::vector<Vec2> places;
  for (int i = 0; i < columns * rows; ++i) {
    const Vec2 share((i % columns + 0.5) / columns, (i / columns + 0.5) / rows);
    places.emplace_back(window.low + share.cwiseProduct(window.high - window.low));
  }
  return places;
}

/// The share of the window that the bodies cover, of a coarse grid of places.
double covered_share(const std::vector<Blocking>& bodies, const Box2& window) {
  constexpr double kCells = 60;
  std::vector<Outlines> outlines;
  outlines.reserve(bodies.size());
  for (const Blocking& one : bodies)
    outlines.push_back(
        silhouette(one.flat, kFlat, window, (window.high - window.low).x() / kCells));
  const std::vector<Vec2> places = places_in(window, 18, 12);
  const auto covered = std::count_if(places.begin(), places.end(), [&](const Vec2& p) {
    return std::any_of(outlines.begin(), outlines.end(),
                       [&](const Outlines& o) { return covers(o, p); });
  });
  return static_cast<double>(covered) / static_cast<double>(places.size());
}

/// Whether anything of a body behind is seen past those before it.
bool shows(const Outlines& outlines, const std::vector<Seen>& before, const Box2& window) {
  const std::vector<Vec2> places = places_in(window, 48, 32);
  return std::any_of(places.begin(), places.end(), [&](const Vec2& p) {
    return covers(outlines, p) &&
           std::none_of(before.begin(), before.end(),
                        [&](const Seen& other) { return covers(other.outlines, p); });
  });
}

/// The depth of the nearest point of a body whose projection meets the window.
double nearest_depth(const Mesh& mesh, const Perspective& eye, const Box2& window, double to) {
  double nearest = to;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    double low = to;
    bool is_split = false;
    Vec2 box_low = Vec2::Constant(HUGE_VAL), box_high = -box_low;
    for (const Vec3& corner : mesh.corners(t)) {
      const double depth = eye.depth(corner);
      if (depth < kNear) {
        is_split = true;
        continue;
      }
      low = std::min(low, depth);
      const Vec2 p = eye.project(corner);
      box_low = box_low.cwiseMin(p);
      box_high = box_high.cwiseMax(p);
    }
    if (is_split || low >= nearest) continue;
    if ((box_low.array() > window.high.array()).any() ||
        (box_high.array() < window.low.array()).any())
      continue;
    nearest = low;
  }
  return nearest;
}

std::vector<Seen> bodies_between(const Cell& cell, const Perspective& eye, const Box2& window,
                                 double grain, double from, double to, bool is_part_only) {
  std::vector<Seen> all;
  const std::vector<Body>& bodies = cell.scene().bodies;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    if (is_part_only && bodies[b].role != BodyRole::part) continue;
    const Mesh& mesh = cell.mesh(BodyId(b));
    Outlines outlines = silhouette(eye.project(mesh, from, to), kFlat, window, grain);
    if (outlines.empty()) continue;
    all.push_back({BodyId(b), std::move(outlines), nearest_depth(mesh, eye, window, to), false});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Seen& a, const Seen& b) { return a.depth > b.depth; });
  return all;
}

double distance_to_outlines(const Outlines& outlines, const Vec2& p, const Vec2& stretch) {
  double least = std::numeric_limits<double>::infinity();
  for (const auto& outline : outlines) {
    for (std::size_t i = 0; i < outline.size(); ++i) {
      const Vec2 a = (outline[i] - p).cwiseProduct(stretch);
      const Vec2 d = (outline[(i + 1) % outline.size()] - p).cwiseProduct(stretch) - a;
      const double length2 = d.squaredNorm();
      const double t = length2 > 0 ? std::clamp(-a.dot(d) / length2, 0.0, 1.0) : 0.0;
      least = std::min(least, (a + t * d).norm());
    }
  }
  return least;
}

}  // namespace

bool covers(const Outlines& outlines, const Vec2& p) {
  bool is_in = false;
  for (const auto& outline : outlines) {
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
      if ((outline[i].y() > p.y()) == (outline[j].y() > p.y())) continue;
      const double share = (p.y() - outline[i].y()) / (outline[j].y() - outline[i].y());
      if (p.x() < outline[i].x() + share * (outline[j].x() - outline[i].x())) is_in = !is_in;
    }
  }
  return is_in;
}

Scenery scenery_in(const Cell& cell, const BeamLook& look, const Perspective& eye,
                   const Box2& window, int grid) {
  Scenery seen;
  seen.window = window;
  if (const Obstruction* deepest = deepest_in_beam(look)) {
    seen.passes = deepest->body;
    seen.passing_radius = passing_radius(look, eye, *deepest, 0);
  }
  const std::vector<Blocking> in_the_way = blocking(cell, look, eye);
  const double grain = (window.high - window.low).x() / grid;
  seen.before = bodies_between(cell, eye, window, grain, kNear, eye.distance(), false);
  seen.behind = bodies_between(cell, eye, window, grain, eye.distance(), kFar, true);
  const auto is_hidden = [&](const Seen& part) {
    return !shows(part.outlines, seen.before, window);
  };
  seen.behind.erase(std::remove_if(seen.behind.begin(), seen.behind.end(), is_hidden),
                    seen.behind.end());
  for (const Blocking& one : in_the_way)
    seen.hidden.push_back({one.body, one.room, silhouette(one.flat, kFlat, window, grain)});
  for (Seen& body : seen.before) {
    body.is_in_the_way = std::any_of(in_the_way.begin(), in_the_way.end(),
                                     [&](const Blocking& one) { return one.body == body.body; });
  }
  return seen;
}

Box2 picture_window(const Cell& cell, const BeamLook& look, const Perspective& eye) {
  const double least = std::max(12 * look.beam.end_radius, 5 * target_extent(look, eye));
  const Obstruction* deepest = deepest_in_beam(look);
  const double passing = deepest != nullptr ? passing_radius(look, eye, *deepest, 0) : 0;
  double width = std::clamp(6 * passing, least, kWidest * least);
  const std::vector<Blocking> in_the_way = blocking(cell, look, eye);
  constexpr double kMostCovered = 0.93;
  while (width * kWidening <= kWidest * least &&
         covered_share(in_the_way, window_of(width)) > kMostCovered)
    width *= kWidening;
  return window_of(width);
}

std::optional<Vec2> name_place(const Seen& seen, const std::vector<Seen>& over, const Box2& window,
                               double keep_off) {
  const Vec2 stretch(1, 4);  // text is wide: it needs less room up and down
  std::optional<Vec2> best;
  double most = (window.high - window.low).x() / 40;
  for (const Vec2& p : places_in(window, 48, 32)) {
    if (!covers(seen.outlines, p)) continue;
    const Vec2 border = (p - window.low).cwiseMin(window.high - p).cwiseProduct(stretch);
    double room = std::min(border.minCoeff(), p.norm() - keep_off);
    if (room > most) room = std::min(room, distance_to_outlines(seen.outlines, p, stretch));
    for (const Seen& other : over) {
      if (room <= most) break;
      if (covers(other.outlines, p)) room = 0;
      room = std::min(room, distance_to_outlines(other.outlines, p, stretch));
    }
    if (room <= most) continue;
    most = room;
    best = p;
  }
  return best;
}

std::optional<Vec2> point_to_name(const Seen& seen, const Box2& window, double keep_off) {
  constexpr int kPoints = 16;  // along each side of the outline
  std::optional<Vec2> best;
  double most = 0;
  for (const auto& outline : seen.outlines) {
    for (std::size_t i = 0; i < outline.size() * kPoints; ++i) {
      const Vec2& a = outline[i / kPoints];
      const Vec2& b = outline[(i / kPoints + 1) % outline.size()];
      const double share = (static_cast<double>(i % kPoints) + 0.5) / kPoints;
      const Vec2 p = a + share * (b - a);
      const double border = (p - window.low).cwiseMin(window.high - p).minCoeff();
      const double room = std::min(border, p.norm() - keep_off);
      if (room <= 0) continue;
      const double score = room + 0.5 * (p.x() - window.low.x());
      if (score <= most) continue;
      most = score;
      best = p;
    }
  }
  return best;
}

}  // namespace standpoint
