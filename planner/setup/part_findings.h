#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/setup/part_fit.h"

namespace standpoint {

enum class FindingKind : std::uint8_t {
  blunder,       ///< one reading is off
  wrong_target,  ///< readings with another target than told: a known one of the scene
  offset,        ///< readings all off by one amount along their normals that no target explains
};

/// Readings that do not fit the rest.
struct PartFinding {
  FindingKind kind = FindingKind::blunder;
  std::vector<std::size_t> rows;  ///< ascending
  double off = 0;  ///< mm: of a blunder its length; else by how much larger the ball was than told
  double standard = 0;               ///< standard uncertainty of `off` where it is no blunder, mm
  Vec3 off_in_world = Vec3::Zero();  ///< of a blunder: the error that the reading has, mm
  TargetId told;                     ///< where it is no blunder
  std::optional<TargetId> used;      ///< of wrong_target: the nearest in radius
  std::vector<TargetId> also;        ///< others that explain it too
  bool is_all = false;  ///< no blunder: these are all touches for which that target was told

  double drop = 0;   ///< of chi-square
  int freedoms = 1;  ///< degrees of freedom of the drop where all is sound
  double bound = 0;  ///< see `find_wrong_rows`

  double shift_of_centre = 0;  ///< by how much it shifts the fitted measuring centre, mm
  double shift_of_touch =
      0;  ///< of its readings: by how much the pose shifts the one it shifts most
  std::size_t shifted_row = 0;  ///< that one
};

struct PartFindings {
  std::vector<PartFinding> findings;  ///< the most telling first
  PartFitInput corrected;             ///< without blunders, with the offsets that were found
  PartFit fit;                        ///< of that
  std::size_t runs_tried = 0;         ///< how many runs the level was divided among at first
};

/// Looks for readings that do not fit the rest, the most telling first, each time with those found
/// before taken out. Two families of hypotheses are tried. A *blunder* in any one row (data
/// snooping, `row_tests`). An *offset* that touches have in common along their normals: every run
/// of touches that follow each other in the list with the same told target (rows that no radius
/// shifts, nests and rims, stand aside), and every told target as a whole. The level of each family
/// is 1 % divided by what it tries (Bonferroni), so a sound list has a finding once in fifty at
/// most. The likeliest are fitted anew; the one whose drop exceeds its bound by most is taken;
/// among those that chance would part once in a hundred thousand one that a target of the scene
/// explains is preferred, since it supposes less. An offset is that of another target where it
/// agrees with the difference of their radii within what chance gives once in a hundred thousand,
/// or within a fiftieth of it, for the part's own form. At most ten findings, none where all
/// observations are spent on the pose. First-order tests, whole fits. O(findings x (rows^2 +
/// fits)).
[[nodiscard]] PartFindings find_wrong_rows(const Scene& scene, const std::vector<SeenRow>& seen,
                                           const PartFitInput& input, const PartFit& fit);

}  // namespace standpoint
