#include "planner/traps/scene_traps.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Geometry>

#include "geometry/shells.h"
#include "geometry/tree/tree.h"
#include "planner/model/tolerances.h"
#include "planner/model/touch.h"
#include "planner/stations/closed_bodies.h"
#include "planner/traps/placement_trials.h"
#include "planner/traps/standing_bodies.h"

namespace standpoint {
namespace {

using Kind = Trap::Kind;
using Box = Eigen::AlignedBox3d;

constexpr double kTooLarge = 3, kTooSmall = 1.0 / 2000;  // of the farthest distance

/// One touch of a feature, and what is near it.
struct Probe {
  FeatureId feature;
  Vec3 at, normal;
  double off = 0;  ///< mm to the nearest surface
  std::optional<BodyId> nearest;
};

/// The touches of a tip without size, as far as they fit the feature at all.
std::vector<Touch> touches_of(const Feature& feature) {
  const std::vector<TouchSet> sets = touch_sets(feature, 0, Rules{});
  return sets.empty() ? std::vector<Touch>{} : sets.front().touches;
}

Probe probed(const Cell& cell, FeatureId feature, const Touch& touch) {
  Probe probe{feature, touch.at, touch.normal, HUGE_VAL, std::nullopt};
  if (const auto contact = cell.tree().nearest(RoundCone::ball(touch.at, 0))) {
    probe.off = contact->nearest.margin;
    probe.nearest = contact->body;
  }
  return probe;
}

bool is_stray(const Probe& probe) {
  return probe.off > tolerance::kStray;
}

Box box_round(const Mesh& mesh) {
  Box box;
  for (const Vec3& v : mesh.vertices) box.extend(v);
  return box;
}

/// Turns the axis of a shape round whose axis has a right way; false where it has none.
bool turn_round(Shape& shape) {
  if (auto* hole = std::get_if<HoleFeature>(&shape)) {
    hole->axis = -hole->axis;
  } else if (auto* slot = std::get_if<SlotFeature>(&shape)) {
    slot->axis = -slot->axis;
  } else if (auto* cone = std::get_if<ConeFeature>(&shape)) {
    cone->axis = -cone->axis;
  } else {
    return false;
  }
  return true;
}

class TrapFinder {
 public:
  explicit TrapFinder(const Cell& cell) : cell_(cell), scene_(cell.scene()), closed_(cell) {
    for (std::size_t f = 0; f < scene_.features.size(); ++f) {
      for (const Touch& touch : touches_of(scene_.features[f]))
        probes_.push_back(probed(cell, FeatureId(f), touch));
    }
  }

  [[nodiscard]] std::vector<Trap> find() {
    look_at_placement();
    look_at_size();
    look_at_meshes();
    for (std::size_t begin = 0; begin < probes_.size();) {
      std::size_t end = begin;
      while (end < probes_.size() && probes_[end].feature == probes_[begin].feature) ++end;
      look_at_feature(begin, end);
      begin = end;
    }
    look_at_floor();
    std::stable_sort(found_.begin(), found_.end(), [](const Trap& a, const Trap& b) {
      return static_cast<int>(a.kind) < static_cast<int>(b.kind);
    });
    return std::move(found_);
  }

 private:
  void tell(Kind kind, std::optional<BodyId> body, std::optional<FeatureId> feature,
            double amount = 0) {
    Trap trap;
    trap.kind = kind;
    trap.body = body;
    trap.feature = feature;
    trap.amount = amount;
    found_.push_back(std::move(trap));
  }

  [[nodiscard]] bool is_part(std::size_t body) const {
    return scene_.bodies[body].role == BodyRole::part;
  }

  void look_at_placement() {
    std::vector<Vec3> strays;
    for (const Probe& probe : probes_)
      if (is_stray(probe)) strays.push_back(probe.at);
    if (strays.size() < 3 || 2 * strays.size() < probes_.size()) return;
    for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
      if (!is_part(b)) continue;
      const auto trial = best_trial(cell_.mesh(BodyId(b)), scene_.bodies[b].placement, strays);
      if (!trial) continue;
      tell(Kind::misplaced_part, BodyId(b), std::nullopt);
      found_.back().scale = trial->scale;
      found_.back().turn_deg = trial->turn_deg;
      found_.back().share = trial->share;
      is_misplaced_ = true;
    }
  }

  void look_at_size() {
    if (is_misplaced_) return;
    const double farthest = scene_.instrument.range.high;
    for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
      if (!is_part(b) || has_touches_on(BodyId(b))) continue;
      const double across = box_round(cell_.mesh(BodyId(b))).diagonal().norm();
      if (across > kTooLarge * farthest) tell(Kind::part_too_large, BodyId(b), {}, across);
      if (across < kTooSmall * farthest) tell(Kind::part_too_small, BodyId(b), {}, across);
    }
  }

  /// Features that lie on a part say that its size is right.
  [[nodiscard]] bool has_touches_on(BodyId body) const {
    const auto count = std::count_if(probes_.begin(), probes_.end(), [&](const Probe& probe) {
      return probe.nearest == body && !is_stray(probe);
    });
    return count >= 3;
  }

  void look_at_meshes() {
    for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
      if (scene_.bodies[b].role == BodyRole::surroundings) continue;  // a hall is seen from inside
      const Shells shells = closed_shells(cell_.mesh(BodyId(b)));
      const bool is_inward =
          !shells.volume.empty() &&
          std::all_of(shells.volume.begin(), shells.volume.end(), [](double v) { return v < 0; });
      if (is_inward) tell(Kind::inward_mesh, BodyId(b), {});
    }
  }

  void look_at_feature(std::size_t begin, std::size_t end) {
    if (is_misplaced_) return;
    const FeatureId feature = probes_[begin].feature;
    std::size_t inward = 0;
    std::optional<BodyId> inside, around;
    double deepest = 0;
    const Probe* farthest = &probes_[begin];
    for (std::size_t i = begin; i < end; ++i) {
      const Probe& probe = probes_[i];
      if (probe.off > farthest->off) farthest = &probe;
      // Just past the surface, on either side of it.
      const Vec3 step =
          (std::min(probe.off, tolerance::kStray) + tolerance::kPastSurface) * probe.normal;
      const auto ahead = closed_.first_around(probe.at + step);
      if (!ahead) continue;
      const auto behind = closed_.first_around(probe.at - step);
      if (!is_stray(probe) && behind != ahead && probe.nearest == ahead) {
        ++inward;
        inside = ahead;
      } else if (!around || probe.off > deepest) {
        around = ahead;
        deepest = probe.off;
      }
    }
    // A surface faces as its mesh does, and of that the mesh is told.
    const bool is_raised =
        std::holds_alternative<SurfaceFeature>(scene_.features[feature.index].shape);
    if (is_raised && 2 * inward >= end - begin) return;
    if (2 * inward >= end - begin || is_axis_reversed(feature, *farthest)) {
      tell(Kind::normal_inward, inside ? inside : farthest->nearest, feature);
    } else if (around) {
      tell(Kind::feature_inside, around, feature, deepest);
    } else if (is_stray(*farthest)) {
      tell(Kind::feature_off, farthest->nearest, feature, farthest->off);
    }
  }

  /// A hole, slot or cone that lies on the wall of its part when its axis is turned round.
  [[nodiscard]] bool is_axis_reversed(FeatureId id, const Probe& farthest) const {
    if (!is_stray(farthest)) return false;
    Feature turned = scene_.features[id.index];
    if (!turn_round(turned.shape)) return false;
    const std::vector<Touch> touches = touches_of(turned);
    return std::none_of(touches.begin(), touches.end(),
                        [&](const Touch& touch) { return is_stray(probed(cell_, id, touch)); });
  }

  void look_at_floor() {
    if (scene_.zones.empty()) return;
    const Zone& zone =
        *std::min_element(scene_.zones.begin(), scene_.zones.end(),
                          [](const Zone& a, const Zone& b) { return a.floor < b.floor; });
    std::vector<double> lowest;
    for (const auto& mesh : cell_.meshes()) lowest.push_back(box_round(*mesh).min().z());
    std::vector<std::vector<BodyId>> touching;
    for (std::size_t b = 0; b < scene_.bodies.size(); ++b) {
      if (!is_part(b)) continue;
      if (lowest[b] < zone.floor - tolerance::kStray) {
        tell(Kind::part_sinks, BodyId(b), {}, zone.floor - lowest[b]);
        at_floor_of(zone);
      } else if (lowest[b] > zone.floor + tolerance::kStray) {
        if (touching.empty()) touching = touching_bodies(cell_, tolerance::kStray);
        double foot = lowest[b];
        for (const BodyId body : group_of(touching, BodyId(b)))
          foot = std::min(foot, lowest[body.index]);
        if (foot <= zone.floor + tolerance::kStray) continue;
        tell(Kind::part_floats, BodyId(b), {}, foot - zone.floor);
        at_floor_of(zone);
      }
    }
  }

  void at_floor_of(const Zone& zone) {
    found_.back().zone = zone.name;
    found_.back().floor = zone.floor;
  }

  const Cell& cell_;
  const Scene& scene_;
  ClosedBodies closed_;
  std::vector<Probe> probes_;
  std::vector<Trap> found_;
  bool is_misplaced_ = false;
};

}  // namespace

std::vector<Trap> find_traps(const Cell& cell) {
  return TrapFinder(cell).find();
}

}  // namespace standpoint
