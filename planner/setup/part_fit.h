#pragma once

#include <optional>
#include <vector>

#include "planner/setup/held_row.h"

namespace standpoint {

/// Readings, and how they are taken.
struct PartFitInput {
  std::vector<HeldRow> rows;
  std::vector<bool> left_out;  ///< of each row: not in the fit
  std::vector<double> larger;  ///< of each row: so much larger was the ball than told, mm
};

/// All rows as they were told.
[[nodiscard]] PartFitInput as_told(std::vector<HeldRow> rows);

/// A row at the fitted pose, weighted: what is left of it, and how that changes, in units of its
/// own standard uncertainty. Of a row that is left out too.
struct WeightedRow {
  RowMisfit misfit;
  Vec3 left = Vec3::Zero();  ///< its `misfit.count` first parts; the rest is 0
  Eigen::Matrix<double, 3, 6> by_motion = Eigen::Matrix<double, 3, 6>::Zero();
  Vec3 by_radius = Vec3::Zero();  ///< per mm by which the ball was larger
  Mat3 root = Mat3::Identity();   ///< lower, of its covariance: `misfit.off` is root * `left`, mm
};

/// The instrument's pose as fitted to nests and part.
struct PartFit {
  Pose world_from_instrument = Pose::Identity();
  double chi_square = 0;
  int observations = 0;  ///< directions of all rows in the fit; 6 of them are spent on the pose
  std::vector<WeightedRow> rows;
  /// What `by_motion` is about: a shift of `centre`, then a turn about it, in rad times `scale`.
  Vec3 centre = Vec3::Zero();
  double scale = 1;
  Mat6 cofactor = Mat6::Zero();    ///< of that motion: the inverse of the normal matrix
  Mat6 covariance = Mat6::Zero();  ///< translation (mm), rotation (rad) about the measuring centre
};

/// How far the pose of `to` puts a reading from where that of `from` does. mm.
[[nodiscard]] double shift_between(const Pose& from, const Pose& to, const Vec3& read);

/// The pose near `start` with the least chi-square: the sum over the rows that are not left out of
/// off^T S^-1 off, off and S as `row_misfit` and `row_covariance` have them, S that of the pose
/// itself. Gauss and Newton's way, damped (K. Levenberg, Quart. Appl. Math. 2 (1944) 164-168, with
/// D. Marquardt's scaling, J. SIAM 11 (1963) 431-441), until no reading moves by more than
/// `tolerance::kFitStep`. Motions that no row resists stay as they are in `start`, and `cofactor`
/// is then meaningless: see `free_motions`. Precondition: a row that is not left out. Pure. O(rows)
/// a step.
[[nodiscard]] PartFit fit_to_part(const PartFitInput& input, const Pose& start);

/// The same without a guess, from one closed form (best_similarity's, at scale 1): of the rows that
/// have places of their own where three or more off one line do, else of all places and the middles
/// of features. O(rows) a step.
[[nodiscard]] PartFit fit_from_closed_form(const PartFitInput& input);

/// The same where few rows have places of their own: where the closed form leaves more than chance
/// gives once in a million, and places of their own do not hold the pose, the readings are turned
/// about their middle in 48 ways more. The best sum wins; since a few readings on endless surfaces
/// may fit in several ways, what the readings are off their places (or beyond their features)
/// counts too, a centimetre as much as one standard uncertainty. O(rows) a step, 49 starts at most.
[[nodiscard]] PartFit fit_to_part(const PartFitInput& input);

/// What the rows hold at the fitted pose, for `free_motions`.
[[nodiscard]] std::vector<AlignmentTouch> held_by(const PartFitInput& input, const PartFit& fit);

}  // namespace standpoint
