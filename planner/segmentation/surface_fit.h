#pragma once

#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "planner/part/face.h"

namespace standpoint {

/// Signed distance of a point from a surface, mm, along the surface's normal there; positive on the
/// side to which `outward` points. Precondition: the kind is not `other`.
[[nodiscard]] double distance(const Surface& surface, const Vec3& point);

/// The surface's normal nearest to `point`, unit: a plane's axis, else away from axis or centre.
/// Any direction at the axis or centre itself.
[[nodiscard]] Vec3 outward(const Surface& surface, const Vec3& point);

/// The plane of least squared distances, its axis to the side of `out`. Nothing for fewer than
/// three points or points in one line.
[[nodiscard]] std::optional<Surface> fit_plane(std::span<const Vec3> points, const Vec3& out);

/// The surface of `guess`'s kind, cylinder, cone or sphere, of least squared orthogonal distances:
/// Gauss-Newton with damping (Levenberg, Quart. Appl. Math. 2, 1944; Marquardt, J. SIAM 11, 1963)
/// from the guess, with derivatives derived here. `at` is brought beside the points' mean, a cone's
/// axis to where it gets wider. Nothing where the points do not hold the surface, where its radius
/// goes beyond `tolerance::kFlattestRadius` times the points' extent (it is a plane then), or
/// where a cone narrows to a cylinder or opens to a plane within `tolerance::kLeastConeAngle`.
/// O(n) a step, 50 steps at most. Pure. With `AxisFit::kept` the direction of the guess's axis
/// stays, with `AxisFit::line` the axis itself.
///
/// `hopeless`: mm; nothing, too, as soon as steps make it better by less than a hundredth while the
/// root mean square is above this: most guesses fail, and slowly.
enum class AxisFit { free, kept, line };
[[nodiscard]] std::optional<Surface> fit_round(
    const Surface& guess, std::span<const Vec3> points, AxisFit axis = AxisFit::free,
    double hopeless = std::numeric_limits<double>::infinity());

/// First guesses from points with the outward normals of the patches that they lie in; each may be
/// far off where the points are of another kind of surface.
struct NormalAt {
  Vec3 point = Vec3::Zero();
  Vec3 normal = Vec3::UnitZ();  ///< unit
};
/// Axis square to all normals (the direction of their least moment), circle by algebraic least
/// squares (Kasa, IEEE Trans. Instrum. Meas. 25, 1976).
[[nodiscard]] std::optional<Surface> guess_cylinder(std::span<const Vec3> points,
                                                    std::span<const NormalAt> normals);
/// Apex where the tangent planes of all normals meet, axis of even inclination to them.
[[nodiscard]] std::optional<Surface> guess_cone(std::span<const Vec3> points,
                                                std::span<const NormalAt> normals);
/// Algebraic least squares.
[[nodiscard]] std::optional<Surface> guess_sphere(std::span<const Vec3> points);

/// Root mean square and greatest size of the distances, mm. Zero for no points.
struct Misfit {
  double rms = 0;
  double worst = 0;
};
[[nodiscard]] Misfit misfit_of(const Surface& surface, std::span<const Vec3> points);

}  // namespace standpoint
