#pragma once

#include <cstdint>
#include <vector>

#include "standpoint/shapes.h"

namespace standpoint {

/// The closed surfaces of a mesh.
struct Shells {
  /// For each triangle 0 where its surface is not closed; else s + 1 for shell s, and -(s + 1)
  /// where its corners run against those of its shell.
  std::vector<std::int32_t> of_triangle;
  /// For each shell the volume it holds, mm³; negative where its triangles face inward, as the
  /// walls of a hall do.
  std::vector<double> volume;
};

/// Finds the shells of a mesh: sets of triangles that hang together by edges and have no open edge.
/// Vertices at exactly equal places are one; a triangle given twice alike counts once, one with two
/// corners at one place not at all.
///
/// Which side of a shell is its inside is told by the order of the corners. It holds as it stands
/// where each edge is run through as often one way as the other. Where it is not, and each edge
/// has two triangles, single triangles are turned round: the greater area keeps its order. What
/// neither fits (one side only, or edges of three triangles) is no shell.
///
/// Preconditions: triangle indices in range, fewer than 2^31 triangles. O(n) expected for meshes
/// whose vertices have few triangles each, about 80 bytes a triangle meanwhile. Safe from many
/// threads. Derived here.
[[nodiscard]] Shells closed_shells(const Mesh& mesh);

}  // namespace standpoint
