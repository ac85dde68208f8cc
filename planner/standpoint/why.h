#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "standpoint/cell.h"
#include "standpoint/plan.h"
#include "standpoint/sight.h"

/// \file
/// Why a beam is blocked, and what would fix it. Lengths are mm, places in the scene's frame.

namespace standpoint {

/// What somebody asks about: a feature or a nest.
using Subject = std::variant<FeatureId, NestId>;

/// How a subject stands as seen from one place.
struct SubjectMark {
  Verdict verdict = Verdict::blocked;  ///< by the best target
  std::optional<double> margin;        ///< mm; of a blocked subject that of the nearest miss
  std::vector<TouchMark> touches;      ///< a nest has one
  /// For each touch how the target that takes the subject reaches it.
  std::vector<std::optional<Reached>> by_target;
};

/// What changing from one list of verdicts to another is worth over the whole scene.
struct Effect {
  std::vector<Subject> gained;  ///< reached now, or by full target instead of stylus
  std::vector<Subject> lost;    ///< no longer reached, or by stylus instead of full target
};

/// One body that stands in a beam (or in a shank, head or ball), and how.
struct Obstruction {
  BodyId body;                      ///< which one
  TriangleId triangle;              ///< of its least margin
  std::optional<std::string> face;  ///< what its file calls the face there
  double distance = 0;     ///< along the axis, mm, where this body first comes nearer than allowed
  double margin = 0;       ///< the body's least margin, mm
  Vec3 at = Vec3::Zero();  ///< the body's point there
  Vec3 side =
      Vec3::Zero();    ///< unit, from the axis toward that point; zero where it is on the axis
  bool stops = false;  ///< the axis itself meets the body; else it only clips the rim
};

/// What could be done about a blocked beam, the least effort first.
enum class CureKind : std::uint8_t {
  planned_station,  ///< measure it from another station of the plan
  other_target,     ///< take a target that the scene does not list for this feature
  change_height,    ///< generate or lower the measuring centre on its stand
  shift_station,    ///< shift the station on its floor
  move_body,        ///< move a fixture
  remove_body,      ///< take a fixture away
  add_station,      ///< stand at one more candidate
};

/// One change that cures, found by search and tried by the same rules.
struct Cure {
  CureKind kind = CureKind::change_height;  ///< what is changed
  Vec3 station = Vec3::Zero();              ///< where the instrument stands then
  Vec3 up = Vec3::UnitZ();                  ///< its standing axis then
  Vec3 shift = Vec3::Zero();                ///< of the station or the body, mm
  std::optional<BodyId> body;               ///< that is moved or taken away
  std::optional<TargetId> target;           ///< that reaches it then
  /// How a stylus is held then, where it has the least room of all touches: unit, tip to mirror or
  /// balls. The two below: how near any body comes to it there.
  std::optional<Vec3> shank_direction;
  std::optional<double> shank_clearance;  ///< of the shank; mm
  std::optional<double> head_clearance;   ///< of the heads; mm
  std::string name;  ///< of the plan's station or the fixed place, where it has one
  Verdict verdict = Verdict::blocked;  ///< then: never blocked
  std::optional<double> margin;        ///< then, mm
  /// Over all features and nests, against the place asked about as it is. Where `places` of
  /// diagnose has stations of a plan: against the plan with the place asked about among its
  /// stations. A feature is then lost only where no other of them reaches it as well; a nest counts
  /// as seen from the place itself, since that is what ties it. Measuring from a station that the
  /// plan has anyway changes nothing.
  Effect effect;
};

/// A place where the subject could be measured from, beside the one asked about.
struct OtherPlace {
  Vec3 at;                  ///< of the measuring centre, mm
  std::string name;         ///< may be empty
  bool is_planned = false;  ///< a station of the plan; else a candidate
  Vec3 up = Vec3::UnitZ();  ///< the instrument's standing axis there
};

/// How an instrument stands at another place. O(1).
[[nodiscard]] inline Stance stance_of(const OtherPlace& place) {
  return {place.at, place.up};
}
/// How an instrument stands when something is cured so. O(1).
[[nodiscard]] inline Stance stance_of(const Cure& cure) {
  return {cure.station, cure.up};
}

/// How far the searches go and how fine they are, mm.
struct CureSearch {
  double height_step = 10;           ///< between heights tried
  double free_height = 500;          ///< how far up and down outside every zone
  double shift_step = 50;            ///< between rings of places tried
  double longest_shift = 2000;       ///< of the station
  double longest_body_shift = 1600;  ///< of a fixture
  double width = 1;                  ///< to which the smallest change is narrowed down
};

/// What the searches found.
struct Cures {
  /// By effort, the smallest of each kind; but every other station of the plan that cures, full
  /// targets first, then the larger margin.
  std::vector<Cure> cures;
  /// Where nothing cures: the place, of all tried, with the greatest margin, and that margin.
  std::optional<Vec3> nearest_miss;
  Vec3 nearest_up = Vec3::UnitZ();       ///< how the instrument stands there
  std::optional<double> nearest_margin;  ///< mm
};

/// How far something may shift before a subject is no longer reached.
struct Steadiness {
  /// Any shift up to this keeps it reached: proved for a full target on all touches it takes, from
  /// the beam's margin, range, elevation and acceptance; nothing where a stylus takes it (how it is
  /// held changes with every shift, and is only searched). mm.
  std::optional<double> proved;
  /// The shortest shift found that breaks it, of those tried; nothing where none within `longest`
  /// does. mm.
  std::optional<Vec3> breaks;
  double longest = 0;  ///< how far shifts were tried, mm
  int directions = 0;  ///< in how many directions
  double width = 0;    ///< how closely each was narrowed down, mm
};

/// Why one target does not reach one touch, with everything that stands in its way.
struct ExplainedCause {
  Cause cause;                      ///< the rule that fails
  std::vector<Obstruction> bodies;  ///< in the beam, shank, head or ball; empty for other rules
};

/// One touch, with everything that stands in its way.
struct ExplainedTouch {
  TouchMark mark;                      ///< how it is marked
  std::vector<ExplainedCause> causes;  ///< as mark.causes; empty when reached
  /// Of a touch that is reached: what its beam passes nearer than `tight_margin`.
  std::vector<Obstruction> grazes;
};

/// The answer to "why does this beam keep breaking, and what cures it?".
struct Diagnosis {
  Subject subject;                          ///< what was asked about
  Vec3 station = Vec3::Zero();              ///< from where, mm
  Vec3 up = Vec3::UnitZ();                  ///< the instrument's standing axis there
  SubjectMark mark;                         ///< how it stands as a whole
  std::vector<ExplainedTouch> touches;      ///< as mark.touches
  Cures cures;                              ///< searched where it is not reached by full target
  std::optional<Steadiness> station_shift;  ///< where it is reached
  std::optional<Steadiness> part_shift;     ///< where it is reached
};

/// Explains how `subject` stands from `station`, and what would cure it: the cures keep its
/// standing axis, but for stations and places of `places`, which have their own. `places`: where
/// else the instrument could stand, the plan's stations first. `search`: how far and how finely.
/// `watch`: may call it off; the cures are then those found so far.
///
/// Preconditions: a feature or nest of the cell's scene; finite places. The cost is that of the
/// searches: hundreds to thousands of verdicts, some trees. Deterministic. Safe to call from many
/// threads at once. Throws std::bad_alloc.
[[nodiscard]] Diagnosis diagnose(const Cell& cell, Subject subject, const Stance& station,
                                 const std::vector<OtherPlace>& places, const CureSearch& search,
                                 const Watch& watch);

}  // namespace standpoint
