#include "planner/part/plane_points.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "geometry/vec.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kTries = 96;  ///< places along the rims to look inward from
constexpr std::size_t kFewest = 4, kMost = 9;

using Rim = std::vector<Vec2>;

struct InnerPlace {
  Vec2 at;
  double clear = 0;  ///< distance from the nearest rim
};

double cross(const Vec2& a, const Vec2& b) {
  return a.x() * b.y() - a.y() * b.x();
}

double clearance(const Vec2& p, const std::vector<Rim>& rims) {
  double least = std::numeric_limits<double>::infinity();
  for (const Rim& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec2& a = rim[i];
      const Vec2 along = rim[(i + 1) % rim.size()] - a;
      const double square = along.squaredNorm();
      const double t = square > 0 ? std::clamp(along.dot(p - a) / square, 0.0, 1.0) : 0;
      least = std::min(least, (a + t * along - p).squaredNorm());
    }
  return std::sqrt(least);
}

bool is_inside(const Vec2& p, const std::vector<Rim>& rims) {
  bool inside = false;
  for (const Rim& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec2& a = rim[i];
      const Vec2& b = rim[(i + 1) % rim.size()];
      if ((a.y() <= p.y()) == (b.y() <= p.y())) continue;
      const double x = a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
      if (x > p.x()) inside = !inside;
    }
  return inside;
}

/// How far one can go from `p` along `way` until a rim is met.
std::optional<double> first_rim(const Vec2& p, const Vec2& way, const std::vector<Rim>& rims,
                                double from) {
  std::optional<double> first;
  for (const Rim& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec2 a = rim[i] - p, along = rim[(i + 1) % rim.size()] - rim[i];
      const double turn = cross(way, along);
      if (turn == 0) continue;
      const double t = cross(a, along) / turn, s = cross(a, way) / turn;
      if (s >= 0 && s <= 1 && t > from && (!first || t < *first)) first = t;
    }
  return first;
}

double length_of(const std::vector<Rim>& rims) {
  double length = 0;
  for (const Rim& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i)
      length += (rim[(i + 1) % rim.size()] - rim[i]).norm();
  return length;
}

/// Places on the way from a rim across the face: where a thin ring is all there is, they find it.
std::vector<InnerPlace> candidates(const std::vector<Rim>& rims) {
  std::vector<InnerPlace> found;
  const double step = length_of(rims) / kTries;
  double next = step / 2;
  for (const Rim& rim : rims)
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const Vec2& a = rim[i];
      const Vec2 along = rim[(i + 1) % rim.size()] - a;
      const double length = along.norm();
      for (; next < length; next += step) {
        const Vec2 p = a + next / length * along;
        for (const double side : {1.0, -1.0}) {
          const Vec2 way = side / length * Vec2(-along.y(), along.x());
          const auto across = first_rim(p, way, rims, 1e-6 * step);
          if (!across) continue;
          for (const double share : {0.25, 0.5, 0.75}) {
            const Vec2 at = p + share * *across * way;
            if (is_inside(at, rims)) found.push_back({at, clearance(at, rims)});
          }
          const double little = std::min(1.2 * tolerance::kOffRim, 0.5 * *across);
          if (const Vec2 at = p + little * way; is_inside(at, rims))
            found.push_back({at, clearance(at, rims)});
        }
      }
      next -= length;
    }
  return found;
}

/// Of all that are clear of the rims, those that are farthest from one another: first the one
/// farthest from the middle, then always the one farthest from those chosen.
std::vector<Vec2> spread_out(std::vector<InnerPlace> from) {
  double most = 0;
  for (const InnerPlace& c : from) most = std::max(most, c.clear);
  // Of a strip, the places a quarter off either side have just what is wanted: without the slack
  // rounding would leave those on its middle line alone, which fix no plane.
  const double wanted =
      (1 - tolerance::kOffRimSlack) * std::min(tolerance::kOffRim, tolerance::kOffRimShare * most);
  from.erase(std::remove_if(from.begin(), from.end(),
                            [&](const InnerPlace& c) { return !(c.clear >= wanted); }),
             from.end());
  if (from.empty() || !(most > 0)) return {};
  Vec2 middle = Vec2::Zero();
  for (const InnerPlace& c : from) middle += c.at / static_cast<double>(from.size());
  std::vector<double> far;
  far.reserve(from.size());
  for (const InnerPlace& c : from) far.push_back((c.at - middle).norm());
  const double span = 2 * *std::max_element(far.begin(), far.end());
  const auto wanted_count = std::min<std::size_t>(
      kMost, kFewest + static_cast<std::size_t>(span / tolerance::kSpanOfPoint));
  std::vector<Vec2> chosen;
  while (chosen.size() < wanted_count) {
    const auto best = std::max_element(far.begin(), far.end()) - far.begin();
    const Vec2 at = from[static_cast<std::size_t>(best)].at;
    if (!chosen.empty() && !(far[static_cast<std::size_t>(best)] > 0)) break;
    for (std::size_t i = 0; i < from.size(); ++i) {
      const double d = (from[i].at - at).norm();
      far[i] = chosen.empty() ? d : std::min(far[i], d);
    }
    chosen.push_back(at);
  }
  return chosen;
}

}  // namespace

std::vector<Vec3> points_inside(const Surface& plane, const std::vector<std::vector<Vec3>>& rims) {
  const Vec3 first = any_perpendicular(plane.axis), second = plane.axis.cross(first);
  std::vector<Rim> flat;
  for (const std::vector<Vec3>& rim : rims) {
    flat.emplace_back();
    for (const Vec3& p : rim)
      flat.back().emplace_back(first.dot(p - plane.at), second.dot(p - plane.at));
  }
  std::vector<Vec3> points;
  for (const Vec2& p : spread_out(candidates(flat)))
    points.push_back(plane.at + p.x() * first + p.y() * second);
  return points;
}

}  // namespace standpoint
