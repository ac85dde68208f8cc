#include "margin_oracle.h"

#include <CGAL/Exact_rational.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/squared_distance_3.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace standpoint::test {
namespace {

using Kernel = CGAL::Simple_cartesian<long double>;
using Point = Kernel::Point_3;
using Exact = CGAL::Simple_cartesian<CGAL::Exact_rational>;

Point to_cgal(const Vec3& v) {
  return {v.x(), v.y(), v.z()};
}

CGAL::Exact_rational exact(long double x) {
  // Two doubles hold a long double; the rational takes only doubles.
  const auto high = static_cast<double>(x);
  return CGAL::Exact_rational(high) +
         CGAL::Exact_rational(static_cast<double>(x - static_cast<long double>(high)));
}

/// Height over longest edge.
double thinness(const std::array<Vec3, 3>& t) {
  const double longest2 = std::max(
      {(t[1] - t[0]).squaredNorm(), (t[2] - t[1]).squaredNorm(), (t[0] - t[2]).squaredNorm()});
  return longest2 > 0 ? (t[1] - t[0]).cross(t[2] - t[0]).norm() / longest2 : 0;
}

/// Distances from one triangle. CGAL's distance takes the plane's normal from a cross product: of a
/// sliver even long double leaves too little of that, and it is taken in exact rationals.
class Distances {
 public:
  explicit Distances(const std::array<Vec3, 3>& t)
      : a_(to_cgal(t[0])), b_(to_cgal(t[1])), c_(to_cgal(t[2])), is_thin_(thinness(t) < 1e-5) {
    const auto point = [](const Vec3& v) {
      return Exact::Point_3(exact(v.x()), exact(v.y()), exact(v.z()));
    };
    if (is_thin_) exact_ = Exact::Triangle_3(point(t[0]), point(t[1]), point(t[2]));
    is_flat_ = is_thin_ && exact_.is_degenerate();
  }

  [[nodiscard]] long double operator()(const Point& p) const {
    if (is_thin_ && !is_flat_) {
      const Exact::Point_3 q(exact(p.x()), exact(p.y()), exact(p.z()));
      return std::sqrt(
          static_cast<long double>(CGAL::to_double(CGAL::squared_distance(q, exact_))));
    }
    if (!is_flat_) return std::sqrt(CGAL::squared_distance(p, Kernel::Triangle_3(a_, b_, c_)));
    return std::sqrt(std::min({CGAL::squared_distance(p, Kernel::Segment_3(a_, b_)),
                               CGAL::squared_distance(p, Kernel::Segment_3(b_, c_)),
                               CGAL::squared_distance(p, Kernel::Segment_3(c_, a_))}));
  }

 private:
  Point a_, b_, c_;
  bool is_thin_;
  bool is_flat_ = false;
  Exact::Triangle_3 exact_;
};

/// The margin at a fraction of the axis.
class AtFraction {
 public:
  AtFraction(const RoundCone& cone, const std::array<Vec3, 3>& triangle)
      : cone_(cone), distance_(triangle), start_(to_cgal(cone.start)), end_(to_cgal(cone.end)) {}

  long double operator()(long double f) const {
    const Point p(start_.x() + f * (end_.x() - start_.x()),
                  start_.y() + f * (end_.y() - start_.y()),
                  start_.z() + f * (end_.z() - start_.z()));
    const long double r0 = cone_.start_radius, r1 = cone_.end_radius;
    return distance_(p) - (r0 + f * (r1 - r0));
  }
  [[nodiscard]] long double length() const {
    return std::sqrt(CGAL::squared_distance(start_, end_));
  }

 private:
  const RoundCone& cone_;
  Distances distance_;
  Point start_, end_;
};

}  // namespace

Least least_margin(const RoundCone& cone, const std::array<Vec3, 3>& triangle) {
  const AtFraction margin(cone, triangle);
  const long double length = margin.length();
  long double best = margin(0), best_at = 0;
  const auto look = [&](long double f) {
    const long double m = margin(f);
    if (m < best) {
      best = m;
      best_at = f;
    }
    return m;
  };
  if (length > 0) {
    const long double golden = (std::sqrt(5.0L) - 1) / 2;
    long double low = 0, high = 1;
    long double a = high - golden * (high - low), b = low + golden * (high - low);
    look(1);
    long double at_a = look(a), at_b = look(b);
    for (int i = 0; i < 80; ++i) {
      if (at_a < at_b) {
        high = b;
        b = a;
        at_b = at_a;
        a = high - golden * (high - low);
        at_a = look(a);
      } else {
        low = a;
        a = b;
        at_a = at_b;
        b = low + golden * (high - low);
        at_b = look(b);
      }
    }
  }
  return {static_cast<double>(best), static_cast<double>(best_at * length)};
}

double least_margin(const RoundCone& cone, const std::vector<Mesh>& meshes) {
  const Vec3 middle = (cone.start + cone.end) / 2;
  const double half = (cone.end - cone.start).norm() / 2;
  const Vec3 axis = half > 0 ? Vec3((cone.end - cone.start) / (2 * half)) : Vec3(Vec3::Zero());
  const double radius = std::max(cone.start_radius, cone.end_radius);
  double best = std::numeric_limits<double>::infinity();
  for (const Mesh& mesh : meshes) {
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
      const auto corners = mesh.corners(i);
      const Vec3 centre = (corners[0] + corners[1] + corners[2]) / 3;
      double size = 0;
      for (const Vec3& corner : corners) size = std::max(size, (corner - centre).norm());
      const double t = std::clamp((centre - middle).dot(axis), -half, half);
      const double at_least = (centre - (middle + t * axis)).norm() - size - radius;
      if (at_least > best + 1e-6) continue;
      best = std::min(best, least_margin(cone, corners).margin);
    }
  }
  return best;
}

double distance(const Vec3& point, const std::array<Vec3, 3>& triangle) {
  return static_cast<double>(Distances(triangle)(to_cgal(point)));
}

double first_below(const RoundCone& cone, const std::array<Vec3, 3>& triangle, double along_least,
                   double margin) {
  const AtFraction margin_at(cone, triangle);
  const long double length = margin_at.length();
  if (margin_at(0) < margin) return 0;
  long double outside = 0, inside = along_least / length;
  for (int i = 0; i < 100; ++i) {
    const long double middle = (outside + inside) / 2;
    (margin_at(middle) < margin ? inside : outside) = middle;
  }
  return static_cast<double>(inside * length);
}

double reach_of(const RoundCone& cone, const std::vector<Mesh>& meshes) {
  double reach = std::max(cone.start.cwiseAbs().maxCoeff(), cone.end.cwiseAbs().maxCoeff());
  for (const Mesh& mesh : meshes) {
    for (const Vec3& v : mesh.vertices) reach = std::max(reach, v.cwiseAbs().maxCoeff());
  }
  return reach;
}

}  // namespace standpoint::test
