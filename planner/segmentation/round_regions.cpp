#include "planner/segmentation/round_regions.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "planner/segmentation/rim_layers.h"
#include "planner/segmentation/tolerances.h"

namespace standpoint {
namespace {

constexpr std::size_t kGuessPoints = 24;  ///< of one patch, for a first fit
constexpr std::size_t kGrowPoints = 300;  ///< of a growing region
constexpr std::size_t kFitPoints = 1500;  ///< of a grown one
constexpr std::size_t kNeighboursTried = 6;
constexpr int kMostLayers = 12;
constexpr double kBeforePeeling = 2;  ///< what rows of a tangent round make of scatter
constexpr int kFitsTried = 16;        ///< from one patch: what fits none by then will not
constexpr int kFewFits = 6;           ///< the same where there are many patches, for time
constexpr std::size_t kFewPatches = 250;

Vec3 direction(const Patch& patch) {
  const double length = patch.area.norm();
  return length > 0 ? Vec3(patch.area / length) : Vec3(Vec3::UnitZ());
}

class Search {
 public:
  explicit Search(const PatchedMesh& in)
      : in_(in),
        is_done_(in.patches.all.size(), false),
        stamp_(in.patches.all.size(), 0),
        fits_tried_(in.patches.all.size() > kFewPatches ? kFewFits : kFitsTried) {}

  std::vector<Region> run() {
    std::vector<std::uint32_t> order(in_.patches.all.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return area_of(a) > area_of(b); });
    std::vector<Region> found;
    for (const std::uint32_t seed : order) {
      if (is_done_[seed]) continue;
      is_done_[seed] = true;
      if (std::optional<Region> region = best_from(seed)) {
        for (const std::uint32_t p : region->patches) is_done_[p] = true;
        found.push_back(std::move(*region));
      } else if (order.size() > tolerance::kManyPatches) {
        pass_over_neighbours(seed);
      }
    }
    return found;
  }

  /// Whether the region's patches and vertices are enough to be no accident; fills what it is
  /// judged by. `spare`: times by which the distances may be more than scatter makes them.
  bool judge(Region& region, double spare = 1) const {
    measure(region);
    const std::size_t needed = (region.step_rad > tolerance::kWideStep     ? 6
                                : region.step_rad > tolerance::kMiddleStep ? 4
                                                                           : 3) *
                               (region.surface.kind == SurfaceKind::sphere ? 2 : 1);
    double largest = 0;
    for (const std::uint32_t p : region.patches) largest = std::max(largest, area_of(p));
    if (region.bends < needed || largest > tolerance::kOneFacetsShare * region.area) return false;
    const std::vector<Vec3> points = corners_of(in_.mesh, region.triangles, kFitPoints);
    if (points.size() < 8) return false;
    if (misfit_of(region.surface, points).rms >
        spare * rms_allowed(in_, region.surface.kind, points.size()))
      return false;
    if (region.surface.kind == SurfaceKind::sphere && !has_inner_vertices(region)) return false;
    const std::optional<Surface> plane = fit_plane(points, Vec3::UnitZ());
    return plane && misfit_of(*plane, points).rms > tolerance::kDoubtfulRise * in_.scatter;
  }

  /// The patches that hang together with the first of `from`, of those that `region` holds.
  void flood(Region& region, std::uint32_t seed, std::size_t most) {
    ++now_;
    region.triangles.clear();
    std::vector<std::uint32_t> members;
    if (take_held(region, seed)) members.push_back(seed);
    stamp_[seed] = now_;
    for (std::size_t next = 0; next < members.size() && members.size() < most; ++next) {
      for (const Beside& beside : in_.patches.all[members[next]].beside) {
        if (stamp_[beside.patch] == now_) continue;
        stamp_[beside.patch] = now_;
        if (take_held(region, beside.patch)) members.push_back(beside.patch);
      }
    }
    std::sort(members.begin(), members.end());
    std::sort(region.triangles.begin(), region.triangles.end());
    region.patches = std::move(members);
  }

 private:
  void measure(Region& region) const {
    region.area = 0;
    region.chord = 0;
    region.step_rad = 0;
    region.bends = region.patches.size();
    for (const std::uint32_t t : region.triangles) {
      region.area += in_.mesh.area_vectors[t].norm();
      region.step_rad = std::max(region.step_rad, turn_over(region.surface, in_.mesh, t));
      for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
        const Vec3 middle =
            0.5 * (in_.mesh.vertices[in_.mesh.corner(s)] + in_.mesh.vertices[in_.mesh.end(s)]);
        region.chord = std::max(region.chord, std::abs(distance(region.surface, middle)));
      }
    }
  }

  /// Any two circles about one axis lie on a sphere. Only vertices that the region has all round
  /// them tell of one.
  [[nodiscard]] bool has_inner_vertices(const Region& region) const {
    std::vector<std::uint32_t> all, rim;
    for (const std::uint32_t t : region.triangles) {
      for (std::uint32_t s = 3 * t; s < 3 * t + 3; ++s) {
        all.push_back(in_.mesh.corner(s));
        const std::uint32_t other = in_.mesh.across[s];
        if (other != kNobody &&
            std::binary_search(region.triangles.begin(), region.triangles.end(), other / 3)) {
          continue;
        }
        rim.push_back(in_.mesh.corner(s));
        rim.push_back(in_.mesh.end(s));
      }
    }
    for (auto* list : {&all, &rim}) {
      std::sort(list->begin(), list->end());
      list->erase(std::unique(list->begin(), list->end()), list->end());
    }
    return all.size() >= rim.size() + 3;
  }

  [[nodiscard]] double area_of(std::uint32_t p) const { return in_.patches.all[p].area.norm(); }

  /// Small neighbours of a patch that fits nothing will not either, on a free-form surface.
  void pass_over_neighbours(std::uint32_t seed) {
    for (const Beside& beside : in_.patches.all[seed].beside) {
      if (area_of(seed) < 4 * area_of(beside.patch)) is_done_[beside.patch] = true;
    }
  }

  [[nodiscard]] bool is_near(const Region& region, std::uint32_t v) const {
    return std::abs(distance(region.surface, in_.mesh.vertices[v])) <= in_.within;
  }

  /// Adds a patch's triangles to a region whose surface holds it. Where scatter has put strips of a
  /// neighbour into a patch, what is left without them counts, if it is half of the patch.
  bool take_held(Region& region, std::uint32_t p) const {
    const Patch& patch = in_.patches.all[p];
    const bool is_whole = std::all_of(patch.vertices.begin(), patch.vertices.end(),
                                      [&](std::uint32_t v) { return is_near(region, v); });
    if (!is_whole && (!in_.is_scattered || patch.triangles.size() < 2)) return false;
    const std::size_t before = region.triangles.size();
    Vec3 area = Vec3::Zero();
    for (const std::uint32_t t : patch.triangles) {
      const auto& corners = in_.mesh.triangles[t];
      const bool is_held = is_whole || std::all_of(corners.begin(), corners.end(),
                                                   [&](auto v) { return is_near(region, v); });
      if (!is_held) continue;
      if (turns_wider(region.surface, in_.mesh, t, tolerance::kWidestStep)) {
        region.triangles.resize(before);
        return false;
      }
      area += in_.mesh.area_vectors[t];
      region.triangles.push_back(t);
    }
    const Vec3 out = (region.hollow ? -1 : 1) * outward(region.surface, patch.middle);
    if (2 * area.norm() > patch.area.norm() && angle_between(out, area) <= lean_allowed(patch)) {
      return true;
    }
    region.triangles.resize(before);
    return false;
  }

  /// How far a patch's normal may be off the surface's: a narrow one's is turned by scatter.
  [[nodiscard]] double lean_allowed(const Patch& patch) const {
    double length = 0;
    for (const std::uint32_t v : patch.vertices) {
      length = std::max(length, (in_.mesh.vertices[v] - patch.middle).norm());
    }
    const double width = patch.area.norm() / std::max(length, 1e-12);
    if (width <= 0) return 3.2;
    return tolerance::kFacetLean + 4 * in_.scatter / width;
  }

  /// Where there is scatter, patches may have strips of a neighbour: many vertices, little area.
  [[nodiscard]] std::vector<Vec3> points_of(std::uint32_t p) const {
    if (!in_.is_scattered) return vertices_of(in_, {p}, kGuessPoints);
    double largest = 0;
    for (const std::uint32_t t : in_.patches.all[p].triangles) {
      largest = std::max(largest, in_.mesh.area_vectors[t].norm());
    }
    std::vector<std::uint32_t> large;
    for (const std::uint32_t t : in_.patches.all[p].triangles) {
      if (4 * in_.mesh.area_vectors[t].norm() >= largest) large.push_back(t);
    }
    return corners_of(in_.mesh, large, kGuessPoints);
  }

  std::vector<Vec3> guess_points(const std::array<std::uint32_t, 3>& three) const {
    std::vector<Vec3> points;
    for (const std::uint32_t p : three) {
      const std::vector<Vec3> mine = points_of(p);
      points.insert(points.end(), mine.begin(), mine.end());
    }
    return points;
  }

  /// Whether the patches lean no more from a guess than they may from a fitted surface, and as much
  /// again, since it is a guess. Most guesses fall here, which is far cheaper than to fit them.
  [[nodiscard]] bool faces_alike(const Surface& guess,
                                 const std::array<std::uint32_t, 3>& three) const {
    const Patch& seed = in_.patches.all[three[0]];
    const double side = outward(guess, seed.middle).dot(seed.area) < 0 ? -1 : 1;
    return std::all_of(three.begin(), three.end(), [&](std::uint32_t p) {
      const Patch& patch = in_.patches.all[p];
      return angle_between(side * outward(guess, patch.middle), patch.area) <=
             2 * lean_allowed(patch);
    });
  }

  /// Where there is scatter, patches may have strips of a neighbour: points that are off are left
  /// out, as long as two thirds stay.
  [[nodiscard]] std::optional<Surface> first_fit(const Surface& guess,
                                                 const std::vector<Vec3>& points) const {
    std::optional<Surface> fitted = fit_round(guess, points, AxisFit::free, in_.within);
    std::vector<Vec3> left = points;
    for (int round = 0; fitted && misfit_of(*fitted, left).worst > in_.within; ++round) {
      if (!in_.is_scattered || round == 3) return std::nullopt;
      left.erase(std::remove_if(
                     left.begin(), left.end(),
                     [&](const Vec3& p) { return std::abs(distance(*fitted, p)) > in_.within; }),
                 left.end());
      if (3 * left.size() < 2 * points.size()) return std::nullopt;
      fitted = fit_round(*fitted, left, AxisFit::free, in_.within);
    }
    return fitted;
  }

  /// Nothing, too, where it only leads to what is in `best` already.
  std::optional<Region> grow(const Surface& guess, const std::vector<Vec3>& points,
                             const std::array<std::uint32_t, 3>& three,
                             const std::optional<Region>& best) {
    if (!faces_alike(guess, three) || ++fits_ > fits_tried_) return std::nullopt;
    const std::optional<Surface> fitted = first_fit(guess, points);
    if (!fitted) return std::nullopt;
    Region region;
    region.surface = *fitted;
    const Patch& seed = in_.patches.all[three[0]];
    region.hollow = outward(region.surface, seed.middle).dot(seed.area) < 0;
    for (const std::uint32_t p : three) {
      if (!take_held(region, p)) return std::nullopt;
    }
    std::size_t most = 6;
    std::vector<std::uint32_t> before;
    for (int round = 0; round < 40; ++round) {
      flood(region, three[0], most);
      const bool is_full = region.patches.size() < most;
      if (region.patches.size() < 3) return std::nullopt;
      if (is_full && region.patches == before) break;
      if (!is_full && best && best->surface.kind == region.surface.kind &&
          std::includes(best->patches.begin(), best->patches.end(), region.patches.begin(),
                        region.patches.end())) {
        return std::nullopt;
      }
      before = region.patches;
      const std::optional<Surface> again =
          fit_round(region.surface, corners_of(in_.mesh, region.triangles, kGrowPoints));
      if (!again) return std::nullopt;
      region.surface = *again;
      if (!is_full) most *= 2;
      if (round > 30) most = std::max<std::size_t>(most, in_.patches.all.size() + 1);
    }
    if (const std::optional<Surface> last =
            fit_round(region.surface, corners_of(in_.mesh, region.triangles, kFitPoints))) {
      region.surface = *last;
    }
    if (!judge(region, kBeforePeeling)) return std::nullopt;
    return region;
  }

  /// Takes off rows of what the surface is tangent to, which it only seems to hold.
  void peel(Region& region) const {
    if (!in_.is_scattered) return;
    for (int layer = 0; layer < kMostLayers; ++layer) {
      std::vector<std::uint32_t> left = peeled(in_, region.surface, region.triangles);
      if (left.size() == region.triangles.size()) return;
      const std::optional<Surface> again =
          fit_round(region.surface, corners_of(in_.mesh, left, kFitPoints));
      if (!again) return;
      region.surface = *again;
      region.triangles = std::move(left);
      drop_patches(region);
    }
  }

  /// Patches of which the region has no triangle any more.
  void drop_patches(Region& region) const {
    std::vector<std::uint32_t> patches;
    for (const std::uint32_t t : region.triangles) patches.push_back(in_.patches.of_triangle[t]);
    std::sort(patches.begin(), patches.end());
    patches.erase(std::unique(patches.begin(), patches.end()), patches.end());
    region.patches = std::move(patches);
  }

  /// The mean distance of the sides' middles tells a ruled surface from one that bulges between.
  [[nodiscard]] static bool is_better(const Region& a, const Region& b) {
    if (a.area > 1.001 * b.area) return true;
    if (b.area > 1.001 * a.area) return false;
    if (a.chord < 0.8 * b.chord) return true;
    if (b.chord < 0.8 * a.chord) return false;
    return a.surface.kind < b.surface.kind;
  }

  std::optional<Region> best_from(std::uint32_t seed) {
    fits_ = 0;
    std::vector<std::uint32_t> near;
    const Vec3 mine = in_.patches.all[seed].area;
    for (const Beside& beside : in_.patches.all[seed].beside) {
      if (near.size() == kNeighboursTried) break;
      const double bend = angle_between(mine, in_.patches.all[beside.patch].area);
      if (bend < tolerance::kWidestStep) near.push_back(beside.patch);
    }
    std::optional<Region> best;
    for (std::size_t i = 0; i < near.size(); ++i) {
      for (std::size_t j = i + 1; j < near.size(); ++j) {
        const auto is_in_best = [&](std::uint32_t p) {
          return best && std::binary_search(best->patches.begin(), best->patches.end(), p);
        };
        if (is_in_best(near[i]) && is_in_best(near[j])) continue;
        try_guesses({seed, near[i], near[j]}, best);
      }
    }
    if (!best || !in_.is_scattered) return best;
    peel(*best);
    if (!judge(*best)) return std::nullopt;
    return best;
  }

  void try_guesses(const std::array<std::uint32_t, 3>& three, std::optional<Region>& best) {
    const std::vector<Vec3> points = guess_points(three);
    std::vector<NormalAt> normals;
    for (const std::uint32_t p : three) {
      normals.push_back({in_.patches.all[p].middle, direction(in_.patches.all[p])});
    }
    for (const std::optional<Surface>& guess :
         {guess_cylinder(points, normals), guess_cone(points, normals), guess_sphere(points)}) {
      if (!guess) continue;
      std::optional<Region> region = grow(*guess, points, three, best);
      if (region && (!best || is_better(*region, *best))) best = std::move(region);
    }
  }

  const PatchedMesh& in_;
  std::vector<bool> is_done_;
  std::vector<std::uint32_t> stamp_;
  std::uint32_t now_ = 0;
  int fits_tried_;
  int fits_ = 0;  ///< tried from this seed
};

}  // namespace

std::vector<Region> find_round_regions(const PatchedMesh& in) {
  Search search(in);
  std::vector<Region> found = search.run();
  std::stable_sort(found.begin(), found.end(),
                   [](const Region& a, const Region& b) { return a.area > b.area; });
  std::vector<bool> is_taken(in.patches.all.size(), false);
  std::vector<Region> kept;
  for (Region& region : found) {
    const std::size_t before = region.patches.size();
    auto& mine = region.patches;
    mine.erase(
        std::remove_if(mine.begin(), mine.end(), [&](std::uint32_t p) { return is_taken[p]; }),
        mine.end());
    auto& triangles = region.triangles;
    triangles.erase(std::remove_if(triangles.begin(), triangles.end(),
                                   [&](auto t) { return is_taken[in.patches.of_triangle[t]]; }),
                    triangles.end());
    if (2 * mine.size() < before || !search.judge(region)) continue;
    for (const std::uint32_t p : mine) is_taken[p] = true;
    kept.push_back(std::move(region));
  }
  return kept;
}

}  // namespace standpoint
