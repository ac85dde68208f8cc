#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <Eigen/Core>
#include <Eigen/Geometry>

/// \file
/// The plain values that everything else is told in: vectors, ids, meshes, solids. Lengths are mm,
/// angles rad, frames right-handed. As plain values they may be read from many threads at once.

/// Everything of Standpoint. Headers: scene.h and cell.h for what is asked about, sight.h for what
/// one place reaches, plan.h for the plan, why.h, nests.h and rehearsal.h for questions about it;
/// read_scene.h and write_plan.h for files.
namespace standpoint {

/// A point or direction on the floor: x and y.
using Vec2 = Eigen::Vector2d;
/// A point or direction in space.
using Vec3 = Eigen::Vector3d;
/// A rotation, or a covariance of a point.
using Mat3 = Eigen::Matrix3d;

/// A placement: x_world = pose * x_body, rotation then translation, mm.
using Pose = Eigen::Isometry3d;

/// The closed range of numbers a quantity may take.
struct Interval {
  double low = 0;   ///< the least
  double high = 0;  ///< the greatest; below `low`: the range is empty

  /// Whether `x` lies in the range, its ends included.
  [[nodiscard]] constexpr bool contains(double x) const { return low <= x && x <= high; }
};

/// An index that cannot be mistaken for an index into something else.
///
/// `Tag` names what is indexed. Ids are dense, start at 0 and index the vector that holds the
/// things.
template <class Tag>
struct Id {
  std::uint32_t index = 0;  ///< into the vector that holds the things

  constexpr Id() = default;
  /// The thing number `i`. Precondition: i < 2^32.
  constexpr explicit Id(std::size_t i) : index(static_cast<std::uint32_t>(i)) {}
  /// By index.
  friend constexpr auto operator<=>(Id, Id) = default;
};

/// A body: one mesh that can be in the way.
using BodyId = Id<struct BodyTag>;
/// A triangle, counted within its own body's mesh.
using TriangleId = Id<struct TriangleTag>;

/// A triangle mesh: a surface, not a solid. Nothing is assumed of it: it may be open, overlap
/// itself or hold degenerate triangles.
struct Mesh {
  /// World frame, mm, all finite.
  std::vector<Vec3> vertices;
  /// Three indices into `vertices` each.
  std::vector<std::array<std::uint32_t, 3>> triangles;
  /// Empty, or for each triangle the number of its face in the file (an index into `face_names`).
  std::vector<std::uint32_t> face_of_triangle;
  /// What the file calls its faces or groups ("face 17" where it has no name).
  std::vector<std::string> face_names;

  /// The three corners of one triangle. Precondition: triangle < triangles.size().
  [[nodiscard]] std::array<Vec3, 3> corners(std::size_t triangle) const {
    const auto& t = triangles[triangle];
    return {vertices[t[0]], vertices[t[1]], vertices[t[2]]};
  }
};

/// How the coordinates of a body's file became places in the scene:
/// turn * (mm_per_coordinate * x) + shift, mm.
struct Placement {
  Mat3 turn = Mat3::Identity();  ///< a rotation, after scaling
  Vec3 shift = Vec3::Zero();     ///< mm, after turning
  double mm_per_coordinate = 1;  ///< the unit of the file, > 0
};

/// The space swept by a ball that moves along a straight axis while its radius changes linearly.
///
/// One shape serves every question of the program: a beam (slightly growing), a capsule (equal
/// radii), a ball (start == end), a tapering shank. Radii are mm and >= 0; where the axis has
/// length, |end_radius - start_radius| < length (otherwise one end ball swallows the other, and the
/// caller means a ball).
struct RoundCone {
  Vec3 start;               ///< centre of the ball where it begins, mm
  Vec3 end;                 ///< centre of the ball where it ends, mm
  double start_radius = 0;  ///< mm
  double end_radius = 0;    ///< mm

  /// A ball at rest. mm; precondition: radius >= 0.
  [[nodiscard]] static RoundCone ball(const Vec3& centre, double radius) {
    return {centre, centre, radius, radius};
  }
  /// A ball that keeps its size on its way. mm; precondition: radius >= 0.
  [[nodiscard]] static RoundCone capsule(const Vec3& from, const Vec3& to, double radius) {
    return {from, to, radius, radius};
  }
};

}  // namespace standpoint
