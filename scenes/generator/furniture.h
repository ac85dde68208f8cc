#pragma once

#include <TopoDS_Shape.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

#include "rows.h"

namespace standpoint::scenes {

/// Half-angle of every nest's seat, degrees, and how far below the centre of a 38.1 mm ball it
/// touches: R cos 45.
inline constexpr double kSeat = 45;
inline constexpr double kSeatDepth = 13.47;

/// A tube on a base plate that carries a nest; the seated ball's centre is at (0, 0, height).
[[nodiscard]] TopoDS_Shape nest_post(double height);

/// Posts, upright bars and two rails along x: what a beam may slip through, or may not.
[[nodiscard]] TopoDS_Shape fence(double length);

/// Base plate, tube, top plate; its top is at `height`.
[[nodiscard]] TopoDS_Shape stand(double height);

/// A body's row; `mesh` is relative to the scene file.
[[nodiscard]] Json body(const std::string& name, const std::string& role, const std::string& mesh);
/// A body whose STL is in metres, as many are (the format itself states no unit).
[[nodiscard]] Json stl_body(const std::string& name, const std::string& role,
                            const std::string& mesh, Json pose);
[[nodiscard]] Json pose(double x, double y, double z);
[[nodiscard]] Json nest(const std::string& name, const gp_Pnt& at, const gp_Dir& normal);
/// A rectangle as a polygon of x, y.
[[nodiscard]] Json rectangle(double low_x, double low_y, double high_x, double high_y);

}  // namespace standpoint::scenes
