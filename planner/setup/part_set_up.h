#pragma once

#include <optional>
#include <vector>

#include "planner/setup/held_row.h"
#include "planner/setup/part_findings.h"
#include "planner/setup/resection.h"

namespace standpoint {

/// What the fit leaves at one row.
struct PartRow {
  Vec3 off = Vec3::Zero();  ///< along what it is held, where the fit puts it less where it should
                            ///< be; world, mm
  double length = 0;        ///< of `off`; of one direction signed, positive out of the material, mm
  double normalised = 0;    ///< root of its part of chi-square, without unit
  int freedoms = 0;         ///< in how many directions the other rows check it (`row_tests`)
  double drop = 0;          ///< of chi-square without it, to first order; 0 where unchecked
};

/// A set-up by nests and the part's surfaces together.
struct PartStation {
  std::vector<SeenRow> seen;          ///< as given
  std::vector<PartRow> rows;          ///< of each
  bool is_tested = false;             ///< the error is stated, and not all is spent on the pose
  std::vector<PartFinding> findings;  ///< empty where nothing is tested
  std::size_t runs_tried = 0;         ///< for offsets, see `PartFindings`

  /// Where there are findings: the pose with blunders left out and offsets taken off, and how the
  /// rest fits it.
  std::optional<Pose> corrected;
  double corrected_chi_square = 0;
  int corrected_freedoms = 0;  ///< degrees of freedom
  double corrected_bound = 0;  ///< 95 % of sound set-ups stay below; 0 without freedoms
};

struct PartSetUpResult {
  /// The pose by all rows as they were told; `seen`, `residuals`, `without` are empty.
  std::optional<RealStation> set_up;
  PartStation part;
  std::vector<SetUpFault> faults;  ///< not empty when there is no set-up; rows by their index
};

/// The set-up from which nests and touches of features were read: the least-squares fit of
/// `fit_to_part`, without any guess of the pose. What each row holds: `held_row`. Weights: contract
/// section 6, a nest's repeatability and the alignment's form where stated; where the scene states
/// no error all weigh the same, and nothing is tested.
///
/// Faults of rows come all at once; then readings that leave a motion free; wrong units where three
/// rows or more have places of their own (`unit_slip`); a mirrored frame and two swapped names (of
/// nests, or of features of one shape) under the same conditions as `resect`. Then
/// `find_wrong_rows`. Nests count as certain. Preconditions: ids of the scene. Pure. O(fits x
/// rows), with a gross misfit O(names^2 fits). docs/measured.md.
[[nodiscard]] PartSetUpResult stand_by_part(const Scene& scene, const std::vector<SeenRow>& seen);

}  // namespace standpoint
