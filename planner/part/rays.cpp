#include "planner/part/rays.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "geometry/trigonometry.h"

namespace standpoint {
namespace {

constexpr double kPerRay = 2 * std::numbers::pi / kRays;

/// The stretch of one face, or of several that join, in the half plane of a ray.
struct Stretch {
  RayEnd low, high;
  std::vector<std::size_t> faces;
};

using Stretches = std::array<std::vector<Stretch>, kRays>;
using Crossings = std::array<std::vector<RayEnd>, kRays>;

/// The angle about the axis, counted in rays.
double angle_in_rays(const Axis& axis, const Vec3& p) {
  const Vec3 d = p - axis.at;
  return arc_tangent(axis.second.dot(d), axis.first.dot(d)) / kPerRay;
}

/// Adds where the piece of rim from `a` to `b` crosses rays. Ray k stands at k + 1/2; a piece holds
/// its lower end and not its upper one, so that a rim crosses each ray it passes once.
void add_crossings(const Axis& axis, const Edge& edge, const Vec3& a, const Vec3& b,
                   Crossings& crossings) {
  constexpr double kRound = kRays;
  double from = angle_in_rays(axis, a);
  double to = angle_in_rays(axis, b);
  if (to - from > kRound / 2) to -= kRound;
  if (from - to > kRound / 2) from -= kRound;
  const double low = std::min(from, to), high = std::max(from, to);
  const double za = axis.height(a), zb = axis.height(b);
  for (double k = std::ceil(low - 0.5); k + 0.5 < high; k += 1) {
    const double t = (k + 0.5 - from) / (to - from);
    const auto ray = static_cast<std::size_t>(k < 0 ? k + kRound : k) % kRays;
    crossings[ray].push_back({za + t * (zb - za), &edge});
  }
}

/// What of one face stands in each ray's half plane: from crossing to crossing, by turns in and
/// out.
void add_face(const PartFaces& part, std::size_t number, const Axis& axis,
              std::optional<double> tip, Stretches& stretches) {
  Crossings crossings;
  for (const Loop& loop : part.faces[number].loops)
    for (const Edge& edge : loop) {
      if (edge.beyond && *edge.beyond == number) continue;  // a seam
      for (std::size_t i = 1; i < edge.points.size(); ++i)
        add_crossings(axis, edge, edge.points[i - 1], edge.points[i], crossings);
    }
  for (std::size_t ray = 0; ray < kRays; ++ray) {
    auto& found = crossings[ray];
    if (found.size() % 2 == 1 && tip) found.push_back({*tip, nullptr});
    if (found.size() % 2 == 1) continue;  // a rim that does not close: nothing is known here
    std::sort(found.begin(), found.end(),
              [](const RayEnd& a, const RayEnd& b) { return a.height < b.height; });
    for (std::size_t i = 0; i < found.size(); i += 2)
      stretches[ray].push_back({found[i], found[i + 1], {number}});
  }
}

/// Joins what faces above one another make along one ray.
void join(std::vector<Stretch>& along, double slack) {
  std::sort(along.begin(), along.end(),
            [](const Stretch& a, const Stretch& b) { return a.low.height < b.low.height; });
  std::vector<Stretch> joined;
  for (Stretch& next : along) {
    if (joined.empty() || next.low.height > joined.back().high.height + slack) {
      joined.push_back(std::move(next));
      continue;
    }
    Stretch& last = joined.back();
    last.faces.insert(last.faces.end(), next.faces.begin(), next.faces.end());
    if (next.high.height > last.high.height) last.high = next.high;
  }
  along = std::move(joined);
}

/// The height ranges over which any ray meets a wall, apart by more than `slack`.
std::vector<Interval> ranges_of(const Stretches& stretches, double slack) {
  std::vector<Interval> all;
  for (const auto& along : stretches)
    for (const Stretch& s : along) all.push_back({s.low.height, s.high.height});
  std::sort(all.begin(), all.end(),
            [](const Interval& a, const Interval& b) { return a.low < b.low; });
  std::vector<Interval> ranges;
  for (const Interval& next : all) {
    if (ranges.empty() || next.low > ranges.back().high + slack) {
      ranges.push_back(next);
    } else {
      ranges.back().high = std::max(ranges.back().high, next.high);
    }
  }
  return ranges;
}

/// The greatest share of rays that meet a wall at one height, but for heights where it only begins
/// or ends.
double greatest_share(const std::vector<Interval>& met, double slack) {
  std::vector<std::pair<double, int>> steps;
  for (const Interval& i : met) {
    const double inward = std::min(slack, (i.high - i.low) / 4);
    steps.emplace_back(i.low + inward, 1);
    steps.emplace_back(i.high - inward, -1);
  }
  std::sort(steps.begin(), steps.end());
  int now = 0, most = 0;
  for (const auto& [height, step] : steps) most = std::max(most, now += step);
  return static_cast<double>(most) / kRays;
}

RayRun run_within(const Stretches& stretches, const Interval& range, double slack) {
  RayRun run;
  std::vector<Interval> met;
  for (std::size_t ray = 0; ray < kRays; ++ray) {
    const Stretch* lowest = nullptr;
    const Stretch* highest = nullptr;
    for (const Stretch& s : stretches[ray]) {
      if (s.low.height < range.low || s.high.height > range.high) continue;
      if (lowest == nullptr) lowest = &s;
      highest = &s;
      met.push_back({s.low.height, s.high.height});
      run.faces.insert(run.faces.end(), s.faces.begin(), s.faces.end());
    }
    if (lowest == nullptr) continue;
    run.rays.push_back(ray);
    run.low.push_back(lowest->low);
    run.high.push_back(highest->high);
  }
  run.share = greatest_share(met, slack);
  std::sort(run.faces.begin(), run.faces.end());
  run.faces.erase(std::unique(run.faces.begin(), run.faces.end()), run.faces.end());
  return run;
}

}  // namespace

Vec3 ray_direction(const Axis& axis, std::size_t ray) {
  const double angle = (static_cast<double>(ray) + 0.5) * kPerRay;
  return cosine(angle) * axis.first + sine(angle) * axis.second;
}

std::vector<RayRun> runs_along_rays(const PartFaces& part, const std::vector<std::size_t>& faces,
                                    const Axis& axis, std::optional<double> tip, double slack) {
  Stretches stretches;
  for (const std::size_t face : faces) add_face(part, face, axis, tip, stretches);
  for (auto& along : stretches) join(along, slack);
  std::vector<RayRun> runs;
  for (const Interval& range : ranges_of(stretches, slack))
    runs.push_back(run_within(stretches, range, slack));
  return runs;
}

}  // namespace standpoint
