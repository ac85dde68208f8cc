#include "geometry/round_cone.h"

#include <algorithm>
#include <cmath>

#include "geometry/tolerances.h"

namespace standpoint {
namespace {

/// The cone's axis in the form all formulas use: radius at t is start_radius + slope t.
struct Axis {
  Vec3 start;
  Vec3 direction;  ///< unit; zero for a ball
  double length = 0;
  double start_radius = 0;
  double slope = 0;
  double cosine = 1;  ///< sqrt(1 - slope^2)
  double greatest_radius = 0;

  explicit Axis(const RoundCone& cone) : start(cone.start), start_radius(cone.start_radius) {
    const Vec3 along = cone.end - cone.start;
    length = along.norm();
    direction = length > 0 ? Vec3(along / length) : Vec3(Vec3::Zero());
    slope = length > 0 ? (cone.end_radius - cone.start_radius) / length : 0.0;
    cosine = std::sqrt(std::max(0.0, 1 - slope * slope));
    greatest_radius = std::max(cone.start_radius, cone.end_radius);
  }
};

/// Collects the least margin over points offered to it, all of which lie on the triangle.
class LeastMargin {
 public:
  /// Points whose margin is above `limit` need not be looked at.
  LeastMargin(const Axis& axis, double limit) : axis_(axis) {
    best_.margin = std::numeric_limits<double>::infinity();
    if (limit < best_.margin) set_reach(limit);
  }

  /// The margin of one point, `q` from the axis' start (docs/beam.md, eq. 2).
  void offer(const Vec3& q) {
    // The cross product, not a difference of squares: exact to the last places also on the axis.
    const double rho2 = axis_.length > 0 ? axis_.direction.cross(q).squaredNorm() : q.squaredNorm();
    if (rho2 > reach2_) return;
    const double z = q.dot(axis_.direction);
    const double rho = std::sqrt(rho2);
    const double lean = axis_.cosine > 0 ? rho * axis_.slope / axis_.cosine : 0.0;
    const double t = std::clamp(z + lean, 0.0, axis_.length);
    const double distance = axis_.length > 0 ? std::sqrt((z - t) * (z - t) + rho * rho) : rho;
    const double margin = distance - (axis_.start_radius + axis_.slope * t);
    if (!(margin < best_.margin)) return;
    best_ = {margin, t, axis_.start + q};
    set_reach(margin);
  }

  /// Whether no point at this distance from the axis' line, squared, or farther has a smaller
  /// margin, for a distance worked out from lengths whose squares add up to `lengths2`.
  [[nodiscard]] bool is_out_of_reach(double rho2, double lengths2) const {
    return rho2 > reach2_ + tolerance::kOutOfReach * lengths2;
  }

  [[nodiscard]] const Nearest& best() const { return best_; }

 private:
  void set_reach(double margin) {
    const double reach = margin + axis_.greatest_radius +
                         tolerance::kOutOfReach * (std::abs(margin) + axis_.greatest_radius);
    reach2_ = std::min(reach2_, reach > 0 ? reach * reach : 0);
  }

  const Axis& axis_;
  Nearest best_;
  /// A margin is at least the distance from the axis' line less the greatest radius: beyond this
  /// distance, squared, none is smaller than the least so far.
  double reach2_ = std::numeric_limits<double>::infinity();
};

/// Offers the points of the edge p + s e, s in 0..1, that can carry the least margin: one for each
/// end cap and one for the cone between (docs/beam.md, eq. 3 and 4). Corners are offered elsewhere.
void offer_edge(const Axis& axis, const Vec3& p, const Vec3& e, LeastMargin& least) {
  const double e2 = e.squaredNorm();
  if (e2 == 0) return;
  const auto offer_at = [&](double s) {
    if (s > 0 && s < 1) least.offer(p + s * e);
  };
  if (axis.length == 0) return offer_at(-p.dot(e) / e2);
  const double ez = e.dot(axis.direction);
  const Vec3 e_across = e - ez * axis.direction;
  const Vec3 p_across = p - p.dot(axis.direction) * axis.direction;
  const double w2 = e_across.squaredNorm();
  const double s0 = w2 > 0 ? -p_across.dot(e_across) / w2 : 0.0;
  // Most edges pass nowhere near enough: told before anything is worked out exactly.
  const Vec3 nearest_across = p_across + std::clamp(s0, 0.0, 1.0) * e_across;
  if (least.is_out_of_reach(nearest_across.squaredNorm(), p.squaredNorm() + e2)) return;

  offer_at(-p.dot(e) / e2);
  const Vec3 from_end = p - axis.length * axis.direction;
  offer_at(-from_end.dot(e) / e2);
  const double curvature = axis.cosine * axis.cosine * w2 - axis.slope * axis.slope * ez * ez;
  if (w2 == 0 || curvature <= 0) return;  // monotone between the caps: an end of it is offered
  const double w = std::sqrt(w2);
  const double h = p_across.cross(e_across).norm() / w;
  offer_at(s0 + axis.slope * ez * h / (w * std::sqrt(curvature)));
}

/// Offers the points inside the face that can carry the least margin: the feet of both axis ends
/// and the point where the axis pierces it (docs/beam.md, eq. 5). `e` must be the longest edge,
/// from corner `p`, and `f` the edge from `p` to the third corner.
///
/// The plane's frame stands on the longest edge, whose direction is exact to the last places
/// however thin the triangle is. What rounding leaves in the frame is then what moving the third
/// corner by a few units in the last place would do, and no margin changes by more than a corner
/// moves. (A normal from a cross product tilts along the triangle, too: a sliver 1e-6 mm thin and
/// metres long was missed by as much as its thickness.)
void offer_face(const Axis& axis, const Vec3& p, const Vec3& e, const Vec3& f, LeastMargin& least) {
  const double width = e.norm();
  if (width == 0) return;
  const Vec3 along = e / width;
  const double apex_along = f.dot(along);
  Vec3 up = f - apex_along * along;
  up -= up.dot(along) * along;  // once more: the first difference may be nearly all rounding
  const double height = up.norm();
  if (height == 0) return;
  up /= height;
  const Vec3 normal = along.cross(up);
  // Offers the point of the plane nearest to x, if it is inside.
  const auto offer_foot = [&](const Vec3& x) {
    const Vec3 r = x - p;
    const double x_along = r.dot(along);
    const double x_up = (r - x_along * along).dot(up);
    const double share = x_up / height;
    const double low = share * apex_along;
    const double high = width + share * (apex_along - width);
    if (share >= 0 && x_along >= low && x_along <= high) {
      least.offer(p + x_along * along + x_up * up);
    }
  };
  offer_foot(Vec3::Zero());
  if (axis.length == 0) return;
  offer_foot(axis.length * axis.direction);
  const double rise = axis.direction.dot(normal);
  if (rise == 0) return;
  const double t = p.dot(normal) / rise;
  if (t >= 0 && t <= axis.length) offer_foot(t * axis.direction);
}

}  // namespace

Nearest nearest_on_triangle(const RoundCone& cone, const std::array<Vec3, 3>& triangle) {
  return nearest_if_at_most(cone, triangle, std::numeric_limits<double>::infinity());
}

Nearest nearest_if_at_most(const RoundCone& cone, const std::array<Vec3, 3>& triangle,
                           double limit) {
  const Axis axis(cone);
  const Vec3 a = triangle[0] - cone.start;
  const Vec3 b = triangle[1] - cone.start;
  const Vec3 c = triangle[2] - cone.start;
  LeastMargin least(axis, limit);
  least.offer(a);
  least.offer(b);
  least.offer(c);
  const Vec3 ab = b - a, bc = c - b, ca = a - c;
  offer_edge(axis, a, ab, least);
  offer_edge(axis, b, bc, least);
  offer_edge(axis, c, ca, least);
  const double ab2 = ab.squaredNorm(), bc2 = bc.squaredNorm(), ca2 = ca.squaredNorm();
  if (ab2 >= bc2 && ab2 >= ca2) {
    offer_face(axis, a, ab, -ca, least);
  } else if (bc2 >= ca2) {
    offer_face(axis, b, bc, -ab, least);
  } else {
    offer_face(axis, c, ca, -bc, least);
  }
  return least.best();
}

/// Height over the plane and radius both change in proportion to the way along the axis: what holds
/// at both ends holds between. With n the cross product of the edges, the n.p are off by at most 32
/// units in the last place of |e1| |e2| (|p| + |radius + margin|) together with what |n| is off by.
bool is_surely_beyond_plane(const RoundCone& cone, const std::array<Vec3, 3>& triangle,
                            double margin) {
  const Vec3 e1 = triangle[1] - triangle[0], e2 = triangle[2] - triangle[0];
  const Vec3 normal = e1.cross(e2);
  const double length = normal.norm();
  const double unsure = tolerance::kPlaneError * std::sqrt(e1.squaredNorm() * e2.squaredNorm());
  const Vec3 start = cone.start - triangle[0], end = cone.end - triangle[0];
  const double at_start = normal.dot(start), at_end = normal.dot(end);
  const double side = at_start < 0 ? -1 : 1;
  const auto is_beyond = [&](double height, const Vec3& p, double radius) {
    const double wanted = radius + margin;
    return side * height - unsure * (p.norm() + std::abs(wanted)) > wanted * length;
  };
  return is_beyond(at_start, start, cone.start_radius) && is_beyond(at_end, end, cone.end_radius);
}

double first_entry(const RoundCone& cone, const std::array<Vec3, 3>& triangle,
                   const Nearest& nearest, double margin) {
  const Axis axis(cone);
  const auto stands_in = [&](double t) {
    const Vec3 point = axis.start + t * axis.direction;
    const double radius = axis.start_radius + axis.slope * t;
    return nearest_on_triangle(RoundCone::ball(point, radius), triangle).margin < margin;
  };
  double outside = 0;
  double inside = nearest.along;
  if (stands_in(outside)) return 0;
  while (inside - outside > tolerance::kEntryWidth) {
    const double middle = outside + (inside - outside) / 2;
    if (middle <= outside || middle >= inside) break;
    (stands_in(middle) ? inside : outside) = middle;
  }
  return inside;
}

}  // namespace standpoint
