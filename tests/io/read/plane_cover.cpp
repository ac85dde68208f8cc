#include "tests/io/read/plane_cover.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/vec.h"

namespace standpoint::test {
namespace {

/// Points over the longer side of what is looked at.
constexpr int kAcross = 48;

/// A plane's own coordinates.
struct Flat {
  Vec3 at, u, v;
  explicit Flat(const Surface& plane)
      : at(plane.at), u(plane.axis.unitOrthogonal()), v(plane.axis.cross(u)) {}
  [[nodiscard]] Vec2 seen(const Vec3& p) const { return {u.dot(p - at), v.dot(p - at)}; }
  [[nodiscard]] Vec3 back(const Vec2& p) const { return at + p.x() * u + p.y() * v; }
};

using Sides = std::vector<std::pair<Vec2, Vec2>>;

Sides sides_of(const Face& face, const Flat& flat) {
  Sides sides;
  for (const Loop& loop : face.loops)
    for (const Edge& edge : loop)
      for (std::size_t i = 1; i < edge.points.size(); ++i)
        sides.emplace_back(flat.seen(edge.points[i - 1]), flat.seen(edge.points[i]));
  return sides;
}

/// By the sides that a ray to the right crosses.
bool is_inside(const Sides& sides, const Vec2& p) {
  bool inside = false;
  for (const auto& [a, b] : sides) {
    if ((a.y() > p.y()) == (b.y() > p.y())) continue;
    if (p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) inside = !inside;
  }
  return inside;
}

double from_rim(const Sides& sides, const Vec2& p) {
  double least = std::numeric_limits<double>::infinity();
  for (const auto& [a, b] : sides) {
    const Vec2 along = b - a;
    const double length = along.squaredNorm();
    const double t = length > 0 ? std::clamp((p - a).dot(along) / length, 0.0, 1.0) : 0;
    least = std::min(least, (p - a - t * along).norm());
  }
  return least;
}

}  // namespace

PlaneCover::PlaneCover(const PartFaces& part, double within, double rim)
    : part_(part), within_(within), rim_(rim) {}

const Face* PlaneCover::face_over(const Vec3& point, const Vec3& normal) const {
  for (const Face& face : part_.faces) {
    const Surface& s = face.surface;
    if (s.kind != SurfaceKind::plane || s.axis.dot(normal) < 0.9999) continue;
    if (std::abs(s.axis.dot(point - s.at)) > within_) continue;
    const Flat flat(s);
    if (is_inside(sides_of(face, flat), flat.seen(point))) return &face;
  }
  return nullptr;
}

PlaneCover::Share PlaneCover::share_of(const PartFaces& of, const FoundFeature& plane) const {
  double all = 0, covered = 0, doubtful = 0;
  for (const Face& face : of.faces) {
    if (!std::binary_search(plane.faces.begin(), plane.faces.end(), face.number)) continue;
    const Flat flat(face.surface);
    const Sides sides = sides_of(face, flat);
    Vec2 low = Vec2::Constant(std::numeric_limits<double>::infinity()), high = -low;
    for (const auto& [a, b] : sides) {
      low = low.cwiseMin(a);
      high = high.cwiseMax(a);
    }
    const double step = (high - low).maxCoeff() / kAcross;
    if (!(step > 0)) continue;
    for (double y = low.y() + step / 2; y < high.y(); y += step)
      for (double x = low.x() + step / 2; x < high.x(); x += step) {
        const Vec2 p(x, y);
        if (!is_inside(sides, p) || from_rim(sides, p) < rim_) continue;
        const double area = step * step;
        all += area;
        const Face* over = face_over(flat.back(p), face.surface.axis);
        if (over == nullptr) continue;
        covered += area;
        if (over->fit && over->fit->doubtful) doubtful += area;
      }
  }
  if (all <= 0) return {1, 0};
  return {covered / all, doubtful / all};
}

}  // namespace standpoint::test
