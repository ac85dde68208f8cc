#pragma once

#include <optional>
#include <vector>

#include "io/read/bodies/body_reader.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// Something odd about a body that is no fault of the file's form: the reader should look, the
/// program goes on.
struct BodyRemark {
  enum class Kind {
    too_large,           ///< for the other bodies; `ratio` times their usual size
    too_small,           ///< likewise, `ratio` below 1
    same_in_other_unit,  ///< just as `other`, but `ratio` times as large: a unit's factor
    unit_contradicts,    ///< `mesh_units` says `ratio` times the unit that the file states
    up_axis_differs,     ///< the file says that up is +X or +Y, the scene's up is +Z
    lost_faces,          ///< `count` faces of the CAD file are missing or covered only roughly
    fanned_polygons,     ///< `count` polygons cross themselves; more than them is covered
    defects,             ///< `count` defects of the mesh, see BodyReport::defects
  };
  BodyId body;
  Kind kind = Kind::too_large;
  double ratio = 1;
  std::optional<BodyId> other;
  /// For sizes: what one unit of the file's numbers would have to be, mm, for the body to fit,
  /// where one of the usual units would do it.
  std::optional<double> fitting_mm_per_unit;
  std::size_t count = 0;
};

/// Looks over the bodies of a scene, BodyId(i) being reports[i]. In order of body, then of kind.
///
/// A size is the diagonal of a body's box. It is odd where it is more than 300 times, or less than
/// 1/300 of, the geometric median of the other bodies' sizes: a metre taken for a millimetre is a
/// factor of 1000, while a dowel on a machine bed stays under 300. Smaller factors of units (25.4,
/// 304.8 and the like) occur among honest bodies, so they are told only where another body has the
/// same three extents (to 1 part in 500) but for the factor. O(n^2) for n bodies.
[[nodiscard]] std::vector<BodyRemark> remarks(const std::vector<BodyReport>& reports);

}  // namespace standpoint
