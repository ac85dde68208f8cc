#pragma once

#include <utility>
#include <vector>

#include "standpoint/shapes.h"

namespace standpoint::test {

/// A corner of a profile: distance from the axis and height, mm.
using ProfilePoint = std::pair<double, double>;

/// The closed mesh of a turned part: a closed profile, material on its left as it runs, turned
/// round the z axis in `facets` steps. Corners with r = 0 lie on the axis. Every vertex lies on the
/// true surface. Needs no code of the program.
[[nodiscard]] Mesh turned(const std::vector<ProfilePoint>& profile, int facets);

/// A prism over a regular polygon, its corners on a circle of this radius.
[[nodiscard]] Mesh prism(int sides, double radius, double height);

/// Points of an arc as corners of a profile, both ends with it.
[[nodiscard]] std::vector<ProfilePoint> arc(double r, double z, double radius, double from_deg,
                                            double to_deg, int steps);

/// Each side cut in `n`: vertices that lie in flat and straight places.
[[nodiscard]] std::vector<ProfilePoint> finer(const std::vector<ProfilePoint>& profile, int n);

/// The mesh moved by a pose.
[[nodiscard]] Mesh moved(Mesh mesh, const Pose& pose);

/// Normal scatter on every coordinate.
[[nodiscard]] Mesh scattered(Mesh mesh, double sigma, unsigned seed);

/// The same surface in another order: triangles and vertices shuffled, corners turned, and each
/// vertex held once for every triangle, as STL does.
[[nodiscard]] Mesh reordered(const Mesh& mesh, unsigned seed);

/// Both meshes in one.
[[nodiscard]] Mesh both(Mesh a, const Mesh& b);

}  // namespace standpoint::test
