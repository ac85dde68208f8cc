#pragma once

#include <cstdint>
#include <vector>

#include "geometry/tree/large_array.h"
#include "geometry/vec.h"
#include "standpoint/shapes.h"

namespace standpoint::tree {

// How the tree lies in memory. Private to the tree's own files.

/// Children of a node, and triangles of a block: as many as eight lanes of SIMD take at once.
inline constexpr int kWidth = 8;

/// A child that is a block of triangles has this bit; the rest is its index.
inline constexpr std::uint32_t kBlockBit = 0x80000000u;
inline constexpr std::uint32_t kNoChild = 0xffffffffu;

/// Eight boxes, one array a face so that they load as vectors. Frame: the scene's, from
/// Layout::origin. Rounded outward. An unused child is a point at infinity, which nothing meets.
struct alignas(64) Node {
  float face[6][kWidth];  ///< low x, y, z, then high x, y, z
  std::uint32_t child[kWidth];
};

/// Up to eight triangles, one array a coordinate; unused lanes lie 1e18 mm away.
struct alignas(32) Block {
  float corner[3][3][kWidth];  ///< [corner][axis][lane], from Layout::origin, rounded to nearest
  std::uint32_t triangle[kWidth];  ///< counted over all bodies
};

struct Layout {
  std::vector<const Mesh*> bodies;
  std::vector<std::uint32_t> first_of_body;  ///< first triangle of each body, and the total
  Vec3 origin = Vec3::Zero();                ///< middle of everything, mm
  double half_extent = 0;                    ///< greatest |coordinate - origin|, mm
  LargeArray<Node> nodes;                    ///< the root first; empty where there is no triangle
  LargeArray<Block> blocks;

  [[nodiscard]] BodyId body_of(std::uint32_t triangle) const;
  [[nodiscard]] TriangleId in_body(std::uint32_t triangle, BodyId body) const {
    return TriangleId(triangle - first_of_body[body.index]);
  }
  [[nodiscard]] std::array<Vec3, 3> corners(std::uint32_t triangle) const {
    const BodyId body = body_of(triangle);
    return bodies[body.index]->corners(triangle - first_of_body[body.index]);
  }
};

/// Builds the tree over all triangles: boxes split where the surface-area estimate of the cost is
/// least (binned), eight children a node. Deterministic.
[[nodiscard]] Layout build(std::vector<const Mesh*> bodies);

}  // namespace standpoint::tree
