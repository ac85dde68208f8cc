#include "planner/reach/shadow.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

constexpr std::uint32_t kNone = UINT32_MAX;

/// Where a bundle is wider than this share of its length the beams go very different ways.
constexpr double kWidest = 0.5;

/// A surface of so many triangles costs about as much as asking each direction. Where it has more,
/// smaller bundles are searched.
constexpr std::size_t kMostPieces = 40'000;

/// Corners from the station, mm: across the bundle, and along it.
using Corners = std::array<Vec3, 3>;

/// Whether the middle axis (or what continues it behind the station) crosses a triangle; nothing
/// where it comes too near to an edge to tell. `length` is that of the axis.
std::optional<bool> crosses_middle(const Corners& corners, double length) {
  // Most triangles lie wholly on one side of the axis, and are told by their box.
  for (const int k : {0, 1}) {
    const auto [low, high] = std::minmax({corners[0][k], corners[1][k], corners[2][k]});
    if (low > tolerance::kWholePatchSlack || high < -tolerance::kWholePatchSlack) return false;
  }
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (std::size_t k = 0; k < 3; ++k) {
    // The sine of the angle between axis and the plane through the station and the edge.
    const Vec3 normal = corners[k].cross(corners[(k + 1) % 3]);
    const double sine = normal.z() / normal.norm();
    if (std::isnan(sine)) return std::nullopt;  // of no length, or seen from its end
    least = std::min(least, sine);
    most = std::max(most, sine);
  }
  const double slack = tolerance::kWholePatchSlack / length;
  if (least > slack || most < -slack) return true;
  if (least < -slack && most > slack) return false;
  return std::nullopt;
}

}  // namespace

std::optional<BeamBundle> BeamBundle::about(const Vec3& station, const Vec3& middle, double spread,
                                            double ball_radius) {
  const double distance = (middle - station).norm();
  const double nearest = distance - spread;
  if (nearest <= 2 * ball_radius || spread >= kWidest * distance) return std::nullopt;
  // A ball centre c from the station lies at least `nearest` along, and within asin(spread /
  // distance) of it. The beam ends ball_radius before: drawn in by the share that this is of the
  // nearest, every centre is drawn in by as much or more.
  const double q = spread / distance;
  const double length = nearest - ball_radius;
  return BeamBundle{(middle - station) / distance, length, length * q / std::sqrt(1 - q * q)};
}

/// A beam ends `ball_radius` before its ball's centre, and so beyond the disc; there it is as much
/// nearer to the line as the disc is nearer to the station.
std::optional<BeamBundle> BeamBundle::within(const Vec3& station, const Vec3& middle,
                                             double nearest, double beside, double ball_radius) {
  if (nearest <= 2 * ball_radius || beside >= kWidest * nearest) return std::nullopt;
  const double length = nearest - ball_radius;
  return BeamBundle{(middle - station).normalized(), length, beside * length / nearest};
}

/// How the station sees triangles about a bundle.
class ShadowSearch::Outlook {
 public:
  Outlook(const Vec3& station, const BeamBundle& bundle)
      : station_(station), length_(bundle.length), radius_(bundle.radius) {
    const Vec3 across = bundle.along.unitOrthogonal();
    frame_ << across, bundle.along.cross(across), bundle.along;
    frame_.transposeInPlace();
  }

  [[nodiscard]] Corners see(const Mesh& mesh, const std::array<std::uint32_t, 3>& corners) const {
    return {frame_ * (mesh.vertices[corners[0]] - station_),
            frame_ * (mesh.vertices[corners[1]] - station_),
            frame_ * (mesh.vertices[corners[2]] - station_)};
  }

  [[nodiscard]] double length() const { return length_; }

  /// Whether surely all points of the triangle that lie on some axis lie before the disc, and none
  /// of them too near to the station.
  [[nodiscard]] bool is_before_disc(const Corners& corners) const {
    const auto [near, far] = std::minmax({corners[0].z(), corners[1].z(), corners[2].z()});
    return (near > tolerance::kShadowNearest * length_ && far < length_ - kSlack) ||
           is_plane_before_disc(corners);
  }

  /// The corners' edges, first to second and so on, that some axis of the bundle may cross: bits.
  /// Precondition: the triangle is before the disc.
  [[nodiscard]] unsigned edges_that_may_cross(const Corners& corners) const {
    const double nearest = tolerance::kShadowNearest * length_;
    unsigned edges = 0;
    if (std::min({corners[0].z(), corners[1].z(), corners[2].z()}) >= nearest) {
      const std::array<Vec2, 3> at = {on_disc(corners[0]), on_disc(corners[1]),
                                      on_disc(corners[2])};
      for (unsigned k = 0; k < 3; ++k) edges |= is_in_disc(at[k], at[(k + 1) % 3]) ? 1u << k : 0u;
      return edges;
    }
    for (unsigned k = 0; k < 3; ++k) {
      const Vec3 &a = corners[k], &b = corners[(k + 1) % 3];
      if (a.z() < nearest && b.z() < nearest) continue;
      const Vec2 p = on_disc(a.z() < nearest ? cut(a, b, nearest) : a);
      const Vec2 q = on_disc(b.z() < nearest ? cut(b, a, nearest) : b);
      edges |= is_in_disc(p, q) ? 1u << k : 0u;
    }
    return edges;
  }

 private:
  static constexpr double kSlack = tolerance::kWholePatchSlack;

  /// Whether a line in the plane of the disc, from p to q, has a point in it.
  [[nodiscard]] bool is_in_disc(const Vec2& p, const Vec2& q) const {
    const Vec2 edge = q - p;
    const double squared = edge.squaredNorm(), foot = -p.dot(edge);
    const double reach2 = (radius_ + kSlack) * (radius_ + kSlack);
    if (foot <= 0) return p.squaredNorm() <= reach2;
    if (foot >= squared) return q.squaredNorm() <= reach2;
    const double turn = p.x() * edge.y() - p.y() * edge.x();
    return turn * turn <= reach2 * squared;
  }

  /// For a large triangle, whose corners may lie anywhere: whether its plane crosses every axis
  /// before the disc, and passes the station by more than what is too near.
  [[nodiscard]] bool is_plane_before_disc(const Corners& corners) const {
    const Vec3 ab = corners[1] - corners[0], ac = corners[2] - corners[0];
    Vec3 normal = ab.cross(ac);
    const double twice_area = normal.norm();
    const double longest2 = std::max({ab.squaredNorm(), ac.squaredNorm(), (ac - ab).squaredNorm()});
    if (!(twice_area > tolerance::kThinnestTriangle * longest2)) return false;
    normal /= twice_area;
    const double height = std::abs(normal.dot(corners[0]));
    if (normal.dot(corners[0]) < 0) normal = -normal;
    // Of all axes, as (x, y, 1) with (x, y) within the disc as a share of its distance.
    const double least_climb = normal.z() - radius_ / length_ * normal.head<2>().norm();
    return height > 2 * tolerance::kShadowNearest * length_ &&
           height + kSlack < (length_ - kSlack) * least_climb;
  }

  /// Where the edge from a to b is `depth` along.
  [[nodiscard]] static Vec3 cut(const Vec3& a, const Vec3& b, double depth) {
    return a + (depth - a.z()) / (b.z() - a.z()) * (b - a);
  }

  /// Where the line of sight to a point crosses the plane of the disc, from its middle.
  [[nodiscard]] Vec2 on_disc(const Vec3& point) const {
    return length_ / point.z() * point.head<2>();
  }

  Vec3 station_;
  Mat3 frame_;
  double length_, radius_;
};

/// Of the triangles that the middle axis crosses before the disc, each may be the entry of a
/// surface: one that hides the bundle is crossed by its middle axis.
void ShadowSearch::find_crossed(const BeamBundle& bundle, const Outlook& outlook) {
  crossed_.clear();
  const auto axis = RoundCone::capsule(station_, station_ + bundle.length * bundle.along, 0);
  tree_->any_near(axis, 0, [&](BodyId body, TriangleId triangle) {
    const Mesh& mesh = tree_->mesh(body);
    const Corners corners = outlook.see(mesh, mesh.triangles[triangle.index]);
    if (outlook.is_before_disc(corners) && crosses_middle(corners, outlook.length()) == true) {
      crossed_.push_back({body, triangle, static_cast<std::uint32_t>(crossed_.size())});
    }
    return false;
  });
}

void ShadowSearch::make_slots(std::size_t count) {
  slots_.assign(count, kNone);
  const auto entered = std::exchange(pieces_, {});
  for (const Piece& piece : entered) (void)enter(piece.body, piece.triangle, piece.surface);
}

/// The surface that a triangle was entered for: `surface`, now, where it was for none.
std::uint32_t ShadowSearch::enter(BodyId body, TriangleId triangle, std::uint32_t surface) {
  // Odd multipliers with well mixed bits; the upper half of the product is the best mixed.
  const std::uint64_t mixed =
      (triangle.index + (static_cast<std::uint64_t>(body.index) << 32)) * 0x9E3779B97F4A7C15u;
  std::size_t slot = (mixed >> 32) & (slots_.size() - 1);
  for (; slots_[slot] != kNone; slot = (slot + 1) & (slots_.size() - 1)) {
    const Piece& piece = pieces_[slots_[slot]];
    if (piece.triangle == triangle && piece.body == body) return piece.surface;
  }
  slots_[slot] = static_cast<std::uint32_t>(pieces_.size());
  pieces_.push_back({body, triangle, surface});
  if (2 * pieces_.size() > slots_.size()) make_slots(4 * slots_.size());
  return surface;
}

/// Adds the pieces at one edge to the surface. False where their number is odd, or one of them
/// belongs to a surface already given up.
bool ShadowSearch::enters_pieces_at(const Piece& piece, std::uint32_t corner,
                                    const EdgeLinks& links) {
  const std::uint32_t side = 3 * piece.triangle.index + corner;
  bool is_even = false;
  for (std::uint32_t other = links.next(side); other != side; other = links.next(other)) {
    is_even = !is_even;
    if (enter(piece.body, TriangleId(other / 3), piece.surface) != piece.surface) return false;
  }
  return is_even;
}

/// Whether the pieces that hang together with `entry`, across edges that some axis may cross, are a
/// surface that the middle axis crosses an odd number of times.
bool ShadowSearch::is_odd_surface(const Piece& entry, const Outlook& outlook) {
  // An edge joins triangles of one body.
  const Mesh& mesh = tree_->mesh(entry.body);
  const EdgeLinks& links = tree_->edge_links(entry.body);
  bool is_odd = false;
  std::size_t next = pieces_.size();
  if (enter(entry.body, entry.triangle, entry.surface) != entry.surface) return false;
  for (; next < pieces_.size(); ++next) {
    if (pieces_.size() > kMostPieces) return false;
    const Piece piece = pieces_[next];
    const Corners corners = outlook.see(mesh, mesh.triangles[piece.triangle.index]);
    if (!outlook.is_before_disc(corners)) return false;
    const std::optional<bool> crosses = crosses_middle(corners, outlook.length());
    if (!crosses) return false;
    is_odd = is_odd != *crosses;
    const unsigned edges = outlook.edges_that_may_cross(corners);
    for (std::uint32_t k = 0; k < 3; ++k) {
      if ((edges >> k & 1) != 0 && !enters_pieces_at(piece, k, links)) return false;
    }
  }
  return is_odd;
}

bool ShadowSearch::finds_one_over(const BeamBundle& bundle) {
  const Outlook outlook(station_, bundle);
  find_crossed(bundle, outlook);
  if (crossed_.empty()) return false;
  constexpr std::size_t kFewSlots = 64;
  pieces_.clear();
  make_slots(kFewSlots);
  return std::any_of(crossed_.begin(), crossed_.end(),
                     [&](const Piece& entry) { return is_odd_surface(entry, outlook); });
}

}  // namespace standpoint
