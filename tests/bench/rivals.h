#pragma once

#include <memory>
#include <span>
#include <vector>

#include "geometry/round_cone.h"
#include "standpoint/shapes.h"

namespace standpoint::bench {

/// Rays without width against the same triangles, through Embree: a robust scene, one thread.
class EmbreeScene {
 public:
  /// `threads` of its device, 0 for all: while it lives oneTBB as a whole has no more.
  explicit EmbreeScene(const std::vector<Mesh>& bodies, int threads = 1);
  ~EmbreeScene();
  EmbreeScene(const EmbreeScene&) = delete;
  EmbreeScene& operator=(const EmbreeScene&) = delete;

  /// Whether the axis meets anything between its ends.
  [[nodiscard]] bool is_axis_blocked(const RoundCone& beam) const;
  /// Which axes meet nothing, asked for in one stream (rtcOccluded1M, incoherent).
  [[nodiscard]] std::vector<bool> clear_axes_by_stream(std::span<const RoundCone> beams) const;
  /// The same in packets of sixteen (rtcOccluded16).
  [[nodiscard]] std::vector<bool> clear_axes_by_packets(std::span<const RoundCone> beams) const;
  /// The axis and 16 lines along the rim, stopping at the first that is blocked.
  [[nodiscard]] bool is_bundle_blocked(const RoundCone& beam) const;
  [[nodiscard]] double build_seconds() const;
  /// What Embree says it has allocated, bytes.
  [[nodiscard]] std::size_t bytes() const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

/// The axis as a segment against CGAL's AABB tree (double, do_intersect).
class CgalTree {
 public:
  explicit CgalTree(const std::vector<Mesh>& bodies);
  ~CgalTree();
  CgalTree(const CgalTree&) = delete;
  CgalTree& operator=(const CgalTree&) = delete;

  [[nodiscard]] bool is_axis_blocked(const RoundCone& beam) const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace standpoint::bench
