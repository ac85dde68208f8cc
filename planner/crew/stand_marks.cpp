#include "planner/crew/stand_marks.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/trigonometry.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

struct Box {
  Vec3 low, high;
};

std::optional<Box> box_of(const Mesh& mesh) {
  if (mesh.vertices.empty()) return std::nullopt;
  Box box{mesh.vertices[0], mesh.vertices[0]};
  for (const Vec3& vertex : mesh.vertices) {
    box.low = box.low.cwiseMin(vertex);
    box.high = box.high.cwiseMax(vertex);
  }
  return box;
}

/// The four corners of the box round a body, those where it has an edge or all.
void add_corners(const Cell& cell, BodyId body, bool only_on_body,
                 std::vector<Landmark>& landmarks) {
  const Mesh& mesh = cell.mesh(body);
  const auto box = box_of(mesh);
  if (!box) return;
  for (const auto& [x, y] : {std::pair{false, false}, {true, false}, {true, true}, {false, true}}) {
    Vec3 at(x ? box->high.x() : box->low.x(), y ? box->high.y() : box->low.y(), HUGE_VAL);
    for (const Vec3& vertex : mesh.vertices) {
      if ((vertex - at).head<2>().norm() <= tolerance::kCornerOfBox)
        at.z() = std::min(at.z(), vertex.z());
    }
    const bool is_on_body = at.z() < HUGE_VAL;
    if (only_on_body && !is_on_body) continue;
    if (!is_on_body) at.z() = box->low.z();
    Landmark landmark;
    landmark.corner = BoxCorner{body, x, y, is_on_body};
    landmark.is_on_part = cell.scene().bodies[body.index].role == BodyRole::part;
    landmark.at = at;
    landmarks.push_back(landmark);
  }
}

/// Where a feature is a place that can be pointed at.
std::optional<Vec3> place_of(const Shape& shape) {
  if (const auto* point = std::get_if<PointFeature>(&shape)) return point->at;
  if (const auto* hole = std::get_if<HoleFeature>(&shape)) return hole->centre;
  if (const auto* slot = std::get_if<SlotFeature>(&shape)) return slot->centre;
  return std::nullopt;
}

/// A landmark as seen from a station, level.
struct Seen {
  std::size_t index = 0;
  double distance = 0;
  Vec2 direction = Vec2::UnitX();
};

double sine(const Seen& a, const Seen& b) {
  return std::abs(a.direction.x() * b.direction.y() - a.direction.y() * b.direction.x());
}

/// Those that are farther than `too_near`, nearest first.
std::vector<Seen> seen_from(const std::vector<Landmark>& landmarks, const Vec3& station,
                            double too_near) {
  std::vector<Seen> seen;
  for (std::size_t i = 0; i < landmarks.size(); ++i) {
    const Vec2 offset = (landmarks[i].at - station).head<2>();
    const double distance = offset.norm();
    if (distance <= std::max(too_near, tolerance::kCornerOfBox)) continue;
    seen.push_back({i, distance, offset / distance});
  }
  std::stable_sort(seen.begin(), seen.end(),
                   [](const Seen& a, const Seen& b) { return a.distance < b.distance; });
  return seen;
}

}  // namespace

std::vector<Landmark> landmarks_of(const Cell& cell) {
  const Scene& scene = cell.scene();
  std::vector<Landmark> landmarks;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    const auto at = place_of(scene.features[f].shape);
    if (!at) continue;
    Landmark landmark;
    landmark.feature = FeatureId(f);
    landmark.is_on_part = true;
    landmark.at = *at;
    landmarks.push_back(landmark);
  }
  for (std::size_t n = 0; n < scene.nests.size(); ++n) {
    Landmark landmark;
    landmark.nest = NestId(n);
    landmark.at = scene.nests[n].at;
    landmarks.push_back(landmark);
  }
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    if (scene.bodies[b].role != BodyRole::surroundings)
      add_corners(cell, BodyId(b), true, landmarks);
  }
  if (landmarks.size() >= 2) return landmarks;
  landmarks.erase(std::remove_if(landmarks.begin(), landmarks.end(),
                                 [](const Landmark& l) { return l.corner.has_value(); }),
                  landmarks.end());
  for (std::size_t b = 0; b < scene.bodies.size(); ++b)
    add_corners(cell, BodyId(b), false, landmarks);
  return landmarks;
}

std::vector<Landmark> stand_marks(const std::vector<Landmark>& landmarks, const Vec3& station,
                                  double too_near) {
  constexpr double kOffBoth = 0.25;
  const std::vector<Seen> seen = seen_from(landmarks, station, too_near);
  const std::size_t paired = std::min(seen.size(), kNearest);
  std::array<std::size_t, 2> pair{};
  double least = HUGE_VAL;
  for (std::size_t i = 0; i < paired; ++i) {
    for (std::size_t j = i + 1; j < paired; ++j) {
      const double sum = seen[i].distance + seen[j].distance;
      if (!(sum < least * sine(seen[i], seen[j]))) continue;
      least = sum / sine(seen[i], seen[j]);
      pair = {i, j};
    }
  }
  if (!(least < HUGE_VAL))
    return seen.empty() ? std::vector<Landmark>{} : std::vector{landmarks[seen[0].index]};
  const Seen &first = seen[pair[0]], &second = seen[pair[1]];
  std::vector<Landmark> marks{landmarks[first.index], landmarks[second.index]};
  const auto checks = [&](const Seen& s) {
    return sine(s, first) >= kOffBoth && sine(s, second) >= kOffBoth;
  };
  auto third = seen.end();
  if (!marks[0].is_on_part && !marks[1].is_on_part) {
    third = std::find_if(seen.begin(), seen.end(),
                         [&](const Seen& s) { return landmarks[s.index].is_on_part && checks(s); });
  }
  if (third == seen.end()) third = std::find_if(seen.begin(), seen.end(), checks);
  if (third != seen.end()) marks.push_back(landmarks[third->index]);
  return marks;
}

}  // namespace standpoint
