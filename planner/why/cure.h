#pragma once

#include <optional>
#include <string>
#include <vector>

#include "planner/plan.h"
#include "planner/planning/watch.h"
#include "planner/why/subject.h"

namespace standpoint {

/// What could be done about a blocked beam, the least effort first.
enum class CureKind : std::uint8_t {
  planned_station,  ///< measure it from another station of the plan
  other_target,     ///< take a target that the scene does not list for this feature
  change_height,    ///< raise or lower the measuring centre on its stand
  shift_station,    ///< shift the station on its floor
  move_body,        ///< move a fixture
  remove_body,      ///< take a fixture away
  add_station,      ///< stand at one more candidate
};

/// One change that cures, found by search and tried by the same rules.
struct Cure {
  CureKind kind = CureKind::change_height;
  Vec3 station = Vec3::Zero();     ///< where the instrument stands then
  Vec3 shift = Vec3::Zero();       ///< of the station or the body, mm
  std::optional<BodyId> body;      ///< that is moved or taken away
  std::optional<TargetId> target;  ///< that reaches it then
  /// How a stylus is held then, where it has the least room of all touches: unit, tip to mirror or
  /// balls; and the clearances of its shank and its heads to any body there, mm (tightest_held).
  std::optional<Vec3> shank_direction;
  std::optional<double> shank_clearance, head_clearance;
  std::string name;  ///< of the plan's station or the fixed place, where it has one
  Verdict verdict = Verdict::blocked;  ///< then: never blocked
  std::optional<double> margin;        ///< then, mm
  /// Over all features and nests, against the place asked about as it is. Where `places` of
  /// find_cures has stations of a plan: against the plan with the place asked about among its
  /// stations. A feature is then lost only where no other of them reaches it as well; a nest counts
  /// as seen from the place itself, since that is what ties it. Measuring from a station that the
  /// plan has anyway changes nothing.
  Effect effect;
};

/// A place where the subject could be measured from, beside the one asked about.
struct OtherPlace {
  Vec3 at;
  std::string name;         ///< may be empty
  bool is_planned = false;  ///< a station of the plan; else a candidate
};

/// How far the searches go and how fine they are, mm.
struct CureSearch {
  double height_step = 10;      ///< between heights tried
  double free_height = 500;     ///< how far up and down outside every zone
  double shift_step = 50;       ///< between rings of places tried
  double longest_shift = 2000;  ///< of the station
  double longest_body_shift = 1600;
  double width = 1;  ///< to which the smallest change is narrowed down
};

struct Cures {
  /// By effort, the smallest of each kind; but every other station of the plan that cures, full
  /// targets first, then the larger margin.
  std::vector<Cure> cures;
  /// Where nothing cures: the place, of all tried, with the greatest margin, and that margin.
  std::optional<Vec3> nearest_miss;
  std::optional<double> nearest_margin;
};

/// Searches what makes `subject` reachable from `station`, where it is blocked (or, with
/// `by_full_target`, not reached by full target). Heights and shifts stay within the zone that
/// holds the station (in plan; where none does, heights within `free_height`, and no shift), and
/// where the instrument's body cuts no mesh. A search looks at steps and narrows the first success
/// down by halving: a set of cures thinner than the step may be missed, and the change is smallest
/// to within `width` along its own direction. Every cure returned was decided by the rules of reach
/// in the whole changed scene. Only fixtures are moved or taken away. Returns early when
/// interrupted.
[[nodiscard]] Cures find_cures(const Cell& cell, Subject subject, const Vec3& station,
                               const std::vector<OtherPlace>& places, const CureSearch& search,
                               const Watch& watch);

}  // namespace standpoint
