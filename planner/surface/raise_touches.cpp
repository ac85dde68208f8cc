#include "planner/surface/raise_touches.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/same_place.h"
#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"
#include "planner/surface/surface_places.h"

namespace standpoint {
namespace {

constexpr double kSteps = 8;    ///< lines to choose from in one spacing
constexpr double kFiner = 128;  ///< times finer the lines become at most
/// Places to choose from: 64 for each touch that may be, and more; then, where the first lines gave
/// none.
constexpr std::size_t kMostPlaces = 150'000, kMostPlacesSought = 50'000;
constexpr double kSharpCosine = 0.8660254037844386;  ///< of 30 degrees between two triangles
constexpr double kAwayCosine = -0.5;                 ///< of 120 degrees between two normals

/// An edge of a triangle: its ends, the lesser first.
struct MeshEdge {
  std::uint32_t low = 0, high = 0;
  std::size_t triangle = 0;

  [[nodiscard]] bool is_same(const MeshEdge& other) const {
    return low == other.low && high == other.high;
  }
};

Vec3 normal_of(const Mesh& mesh, std::size_t triangle) {
  const auto [a, b, c] = mesh.corners(triangle);
  return (b - a).cross(c - a).normalized();
}

/// Of edges that are one: whether a ball beside it has the same surface on its other side.
bool is_smooth(const Mesh& mesh, const std::vector<MeshEdge>& edges, std::size_t from,
               std::size_t to) {
  if (to - from != 2) return false;
  return normal_of(mesh, edges[from].triangle).dot(normal_of(mesh, edges[from + 1].triangle)) >=
         kSharpCosine;
}

/// The open and sharp edges of a mesh, each as a triangle without area.
Mesh sharp_edges(const Mesh& mesh) {
  const auto triangles = joined_triangles(mesh);
  std::vector<MeshEdge> edges;
  edges.reserve(3 * triangles.size());
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    if (is_collapsed(triangles[t])) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax(triangles[t][k], triangles[t][(k + 1) % 3]);
      edges.push_back({low, high, t});
    }
  }
  std::sort(edges.begin(), edges.end(), [](const MeshEdge& a, const MeshEdge& b) {
    if (!a.is_same(b)) return a.low != b.low ? a.low < b.low : a.high < b.high;
    return a.triangle < b.triangle;
  });
  Mesh sharp;
  sharp.vertices = mesh.vertices;
  for (std::size_t from = 0, to = 0; from < edges.size(); from = to) {
    while (to < edges.size() && edges[to].is_same(edges[from])) ++to;
    if (is_smooth(mesh, edges, from, to)) continue;
    sharp.triangles.push_back({edges[from].low, edges[from].high, edges[from].high});
  }
  return sharp;
}

/// Leaves only the places about which a ball is clear of a mesh by `margin`.
void keep_clear(const Mesh& mesh, double ball_radius, double margin,
                std::vector<PointFeature>& places) {
  if (mesh.triangles.empty()) return;
  const Tree tree(std::vector<const Mesh*>{&mesh});
  std::vector<RoundCone> balls;
  balls.reserve(places.size());
  for (const PointFeature& place : places)
    balls.push_back(RoundCone::ball(place.at + ball_radius * place.normal, ball_radius));
  const std::vector<bool> clear = tree.are_clear(balls, margin);
  std::size_t kept = 0;
  for (std::size_t i = 0; i < places.size(); ++i)
    if (clear[i]) places[kept++] = places[i];
  places.resize(kept);
}

/// Places taken one by one, each the farthest from those taken before.
class FarthestFirst {
 public:
  explicit FarthestFirst(const std::vector<PointFeature>& places)
      : places_(places), off2_(places.size(), std::numeric_limits<double>::infinity()) {}

  /// At most one more than may be: who asks sees that there are too many.
  [[nodiscard]] std::vector<PointFeature> take(double spacing) {
    std::vector<PointFeature> taken;
    for (std::size_t next = middle(); taken.size() <= kMostSurfaceTouches; next = farthest()) {
      if (off2_[next] < spacing * spacing) break;
      taken.push_back(places_[next]);
      keep_away(places_[next]);
    }
    return taken;
  }

 private:
  [[nodiscard]] std::size_t middle() const {
    Vec3 sum = Vec3::Zero();
    for (const PointFeature& place : places_) sum += place.at;
    const Vec3 mean = sum / static_cast<double>(places_.size());
    const auto nearest = std::min_element(
        places_.begin(), places_.end(), [&](const PointFeature& a, const PointFeature& b) {
          return (a.at - mean).squaredNorm() < (b.at - mean).squaredNorm();
        });
    return static_cast<std::size_t>(nearest - places_.begin());
  }

  /// Of equal ones the first.
  [[nodiscard]] std::size_t farthest() const {
    return static_cast<std::size_t>(std::max_element(off2_.begin(), off2_.end()) - off2_.begin());
  }

  void keep_away(const PointFeature& touch) {
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (places_[i].normal.dot(touch.normal) < kAwayCosine) continue;
      off2_[i] = std::min(off2_[i], (places_[i].at - touch.at).squaredNorm());
    }
  }

  const std::vector<PointFeature>& places_;
  std::vector<double> off2_;  ///< squared distance to the nearest that is taken, mm2
};

RaisedTouches none(NoTouches why) {
  return {{}, why};
}

}  // namespace

RaisedTouches raise_touches(const Mesh& mesh, const SurfaceSelection& selection,
                            const SurfaceRule& rule) {
  const double size = size_of(mesh, selection);
  if (!(size > 0)) return none(NoTouches::nothing_selected);
  const Mesh edges = sharp_edges(mesh);
  const double off_edge = std::min(tolerance::kOffEdge, rule.spacing / 10);
  // A strip that the lines miss is sought by finer ones.
  std::vector<PointFeature> places;
  bool is_any = false;
  double step = std::min(rule.spacing, size) / kSteps;
  const double finest = step / kFiner;
  for (std::size_t most = kMostPlaces; places.empty(); step /= 2, most = kMostPlacesSought) {
    SurfacePlaces found = surface_places(mesh, selection, step, most);
    if (found.is_too_many && most == kMostPlaces) return none(NoTouches::too_many);
    is_any = is_any || !found.places.empty();
    if (found.is_too_many || step < finest)
      return none(is_any ? NoTouches::no_rest : NoTouches::nothing_selected);
    keep_clear(edges, 0, off_edge, found.places);
    keep_clear(mesh, rule.ball_radius, -tolerance::kRestDepth, found.places);
    places = std::move(found.places);
  }
  std::vector<PointFeature> touches = FarthestFirst(places).take(rule.spacing);
  if (touches.size() > kMostSurfaceTouches) return none(NoTouches::too_many);
  std::sort(touches.begin(), touches.end(), [](const PointFeature& a, const PointFeature& b) {
    return std::lexicographical_compare(a.at.data(), a.at.data() + 3, b.at.data(), b.at.data() + 3);
  });
  return {std::move(touches), std::nullopt};
}

}  // namespace standpoint
