#pragma once

#include <vector>

#include <Eigen/Core>

#include "planner/model/touch.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Whether the touches marked in `reached` are enough for the feature (contract section 3).
///
/// With `feature.enough_touches`: when at least that many are reached. A surface: when as many are
/// as `least_touches` says. Otherwise: when they fix the element (its least-squares normal matrix
/// has full rank) and the fitted element's predicted standard error is at most 1.5 times that of
/// all touches. The standard error is the root mean square, over the places of all touches, of the
/// fitted surface's standard deviation along the normal, for touches of equal uncertainty:
/// sqrt(mean_i a_i (J^T J)^-1 a_i^T) (derived here; the criterion known as I- or V-optimality in
/// the design of experiments). Precondition: reached.size() == touches.touches.size(). O(touches).
[[nodiscard]] bool is_enough(const Feature& feature, const TouchSet& touches,
                             const std::vector<bool>& reached);

/// How the surface moves along its normal at each touch (rows) when the element's parameters change
/// (columns); lengths are scaled by the element's size. The least-squares fit of the element solves
/// these equations. O(touches).
[[nodiscard]] Eigen::MatrixXd element_rows(const Feature& feature, const TouchSet& touches);

/// The least number of touches that fixes the element of this shape taken this way: point 1,
/// plane 3, rim 1, wall (a circle) 3, cylinder 5, sphere 4, line 2, cone 6, slot 5. A surface has
/// no parameters: the share of its touches that it asks for, rounded up; at least 1.
[[nodiscard]] int least_touches(const Feature& feature, Way way);

}  // namespace standpoint
