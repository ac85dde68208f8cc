#pragma once

#include <optional>
#include <vector>

#include "planner/network/network.h"
#include "standpoint/scene.h"

namespace standpoint {

/// A nest as the instrument read it where it stands.
struct SeenNest {
  NestId nest;
  Vec3 at = Vec3::Zero();  ///< seated ball's centre, instrument's frame (its origin is the
                           ///< measuring centre), mm
};

enum class SetUpFaultKind {
  too_few,        ///< fewer than three nests
  unknown_nest,   ///< not a nest of the scene
  repeated_nest,  ///< read twice
  at_instrument,  ///< read at the measuring centre itself, where no nest can be
  in_line,        ///< the nests are in one line (`some_off_line`): the set-up can turn about it
  wrong_units,    ///< all places fit when scaled by `scale`, a ratio of two units of length
  mirrored,       ///< the places fit when mirrored: a left-handed frame
  swapped_names,  ///< the places fit when the two `nests` exchange their names

  // Of a list that names features too (part_set_up.h):
  no_way,       ///< the target that was told cannot take the feature
  no_touch,     ///< the feature has only `touches` touches by that target
  needs_touch,  ///< a curved surface: the row must say which of its touches it is
  motion_free,  ///< the readings leave the motions `free` to the set-up
};

/// Why observations give no set-up.
struct SetUpFault {
  SetUpFaultKind kind = SetUpFaultKind::too_few;
  std::vector<std::size_t> seen;  ///< which observations, ascending; empty where it is about all
  double scale = 1;               ///< of wrong_units: scene lengths are so many times the read ones
  std::size_t touches = 0;        ///< of no_touch
  std::vector<Motion> free = {};  ///< of motion_free; world frame
};

/// What leaving out one nest does.
struct LeaveOneOut {
  bool is_tried = false;  ///< the others are at least three and off one line
  double drop = 0;        ///< of chi-square, >= 0
  bool others_fit = false;
  Vec3 measuring_centre = Vec3::Zero();  ///< fitted without it, world, mm
};

/// Where the instrument really stands. World frame, mm.
struct RealStation {
  Pose world_from_instrument = Pose::Identity();
  Vec3 measuring_centre = Vec3::Zero();
  double tilt_rad = 0;  ///< of the instrument's Z axis against the scene's vertical, 0..pi

  std::vector<SeenNest> seen;      ///< as given
  std::vector<Vec3> residuals;     ///< of each: where the fit puts it less where the scene has it
  std::vector<double> normalised;  ///< root of the weighted square; empty where nothing is tested

  /// Whether the scene states the instrument's error (`states_error`). Where it does not, all
  /// observations weigh the same, and what follows is empty or false.
  bool is_tested = false;
  double chi_square = 0;
  int degrees_of_freedom = 0;          ///< 3 nests - 6
  double chi_bound = 0;                ///< 95 % of sound set-ups stay below
  bool fits = false;                   ///< chi_square <= chi_bound
  std::vector<LeaveOneOut> without;    ///< of each nest
  double drop_bound = 0;               ///< see `resect`; a nest is suspect above
  std::optional<std::size_t> suspect;  ///< into `seen`: the greatest drop, where above the bound
  /// Other nests that could be it as well: the rest fits without them too. Into `seen`.
  std::vector<std::size_t> rivals;
  /// Translation (mm) first, rotation (rad) about the measuring centre.
  std::optional<Mat6> pose_covariance;
};

/// How the instrument really stands. Its Z axis is its standing axis; within
/// `tolerance::kUprightTilt` of the scene's vertical it counts as upright, as it was set up. O(1).
[[nodiscard]] Stance stance_of(const RealStation& station);

struct SetUpResult {
  std::optional<RealStation> set_up;
  std::vector<SetUpFault> faults;  ///< not empty when there is no set-up
};

/// The set-up from which `seen` was read: weighted best rigid fit (fit_rigidly) of the observations
/// to the scene's nests, which count as certain. Weights: contract section 6, and the room's
/// repeatability of nests where stated; equal where the scene states no error.
///
/// Tests. chi_square of all residuals against its 95 % bound. Then each nest is left out in turn,
/// where the rest still fixes the pose: the drop in chi-square is chi-square with 3 degrees of
/// freedom where that nest is sound (all three coordinates are given up), so the nest with the
/// greatest drop is suspect where it exceeds the 1 % bound divided among the n nests (Bonferroni):
/// p = 1 - 0.01 / n. With three nests none can be left out; with four the three left are held by
/// three degrees of freedom only, and `rivals` are common.
///
/// Faults of the input are told all at once. Wrong units are looked for always (a similarity whose
/// scale is within `tolerance::kUnitSlack` of a ratio of mm, cm, m, in, ft and which leaves at most
/// 1 % of the spread). A mirrored frame and swapped names are looked for where the error is stated
/// and the misfit is one that chance gives once in a million: mirrored, the fit must come under its
/// bound; of all exchanges of two names exactly one must. Nests in one plane cannot tell a mirrored
/// frame: it fits as an instrument standing on its head.
///
/// Among more than a hundred nests swapped names are not looked for.
/// Pure. O(nests^3). docs/measured.md.
[[nodiscard]] SetUpResult resect(const Scene& scene, const std::vector<SeenNest>& seen);

}  // namespace standpoint
