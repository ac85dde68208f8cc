#pragma once

#include <atomic>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

#include "standpoint/cell.h"
#include "standpoint/scene.h"
#include "standpoint/sight.h"

/// \file
/// The main job, and the finished plan as plain values. Lengths are mm, places in the scene's
/// frame.

namespace standpoint {

/// A place where the instrument could stand.
struct Candidate {
  Vec3 at;                            ///< of the measuring centre, mm
  std::string name;                   ///< of a fixed station, else empty
  std::optional<std::uint32_t> zone;  ///< index into Scene::zones
  bool keep = false;                  ///< part of every plan
  double cost = 1;          ///< what standing there costs, in the measure of the second aim
  Vec3 up = Vec3::UnitZ();  ///< the instrument's standing axis
};

/// How well a point is known (contract section 6).
struct PointUncertainty {
  Mat3 covariance = Mat3::Zero();  ///< mm^2, in the network datum
  double expanded = 0;             ///< 2 sqrt(greatest eigenvalue), mm
};

/// A station of the plan.
struct PlannedStation {
  std::string name;                   ///< "S1", "S2", ...; a fixed place keeps its own name
  Vec3 at;                            ///< of the measuring centre, mm
  std::optional<std::uint32_t> zone;  ///< index into Scene::zones; empty for a fixed place
  std::vector<NestId> nests;          ///< that it takes
  /// Translation (mm) first, then rotation about the measuring centre (rad).
  std::optional<Eigen::Matrix<double, 6, 6>> pose_covariance;
  Sight sight;              ///< everything as seen from here
  Vec3 up = Vec3::UnitZ();  ///< the instrument's standing axis
};

/// How an instrument stands at a candidate. O(1).
[[nodiscard]] inline Stance stance_of(const Candidate& candidate) {
  return {candidate.at, candidate.up};
}
/// How an instrument stands at a station. O(1).
[[nodiscard]] inline Stance stance_of(const PlannedStation& station) {
  return {station.at, station.up};
}

/// A feature in the plan.
struct PlannedFeature {
  FeatureId feature;                   ///< which one
  Verdict verdict = Verdict::blocked;  ///< from `station`, or from `stations` together
  std::optional<StationId> station;    ///< the one that measures it; empty where several share it
  std::vector<StationId> also_from;    ///< further ones where several are asked for
  std::optional<TargetId> target;      ///< that takes it
  std::optional<double> margin;        ///< the least of the touches that `target` reaches, mm
  /// Where no station alone reaches enough of it (contract section 9, "Split"): those that take its
  /// touches together, ascending.
  std::vector<StationId> stations;
  /// Of such a feature, as these stations see it together: each touch as `target` takes it from the
  /// station that does so best; where none does, as it is best seen.
  std::optional<FeatureMark> shared_mark;
  /// Of such a feature, for each touch of `shared_mark` the station that takes it, if one does.
  std::vector<std::optional<StationId>> touch_stations;
  /// For each touch of its mark (`mark_of`); empty where it is not reached or there is no network.
  std::vector<std::optional<PointUncertainty>> touch_uncertainty;
  std::optional<PointUncertainty> uncertainty;  ///< of the worst touch
};

/// Two stations that are tied by the nests they share (contract section 4).
struct Link {
  StationId a;                ///< the first of the two in the plan's order
  StationId b;                ///< the other
  std::vector<NestId> nests;  ///< that both take
};

/// How far the search for fewer stations went.
enum class ProofStatus {
  optimal,  ///< proven: no plan does it with fewer
  feasible  ///< the time limit ended the search: fewer may do
};

/// How far the search went among the sets of stations that are equal in the first three aims of
/// contract section 4.
struct LaterAims {
  int judged = 0;       ///< sets whose network was solved and whose margins were measured
  bool is_all = false;  ///< none of the others is better: each was judged, or ruled out by a bound
  /// Proven: no such set has a smaller worst expanded uncertainty, mm. Empty: nothing is proven, or
  /// there are no figures.
  std::optional<double> worst_at_least;
};

/// What is proven about the second aim: the number of stations or, where they differ in cost, what
/// they cost together.
struct Optimality {
  ProofStatus status = ProofStatus::optimal;  ///< how far the search went
  int stations = 0;                           ///< of the plan
  double lower_bound = 0;      ///< proven: no plan has fewer, or costs less where costs differ
  std::optional<double> cost;  ///< of the plan's stations together, where costs differ
  LaterAims later;             ///< about the aims after the first three
};

/// How many places for the instrument there were.
struct CandidateTally {
  int tried = 0;          ///< all that were generated, each place once for each standing axis
  int body_collides = 0;  ///< dropped: the instrument's body cuts a mesh
  int inside_body = 0;    ///< dropped: the measuring centre lies inside a closed body
  int duplicate = 0;      ///< dropped: another candidate stands in the same place, in the same way
  int keep_out = 0;       ///< dropped: the measuring centre is over a keep-out
};

/// A feature that the plan does not measure, with the causes where it comes nearest to it.
struct Unreached {
  FeatureId feature;        ///< which one
  FeatureMark mark;         ///< as seen from `at`
  std::optional<Vec3> at;   ///< of the plan's stations the one where it comes nearest
  Vec3 up = Vec3::UnitZ();  ///< how the instrument stands there
};

/// What a warning is about.
enum class WarningKind {
  no_nests,          ///< several stations, no nests: planned without ties
  fewer_than_asked,  ///< a feature is measured from fewer stations than asked
  unreached,         ///< a required feature that no candidate reaches
  lost_to_ties,      ///< a feature reachable only from candidates that cannot be tied to the rest
  in_one_line,       ///< two stations share enough nests, but all in one line
  kept_collides,     ///< a kept station whose body cuts a mesh, or that stands inside a body
  kept_not_tied,     ///< kept stations that no chain of candidates ties together
  tight,             ///< a beam under tight_margin
  ratio,             ///< tolerance / expanded uncertainty below 4 (contract section 6)
  no_uncertainty,    ///< there is no network, and why
  time_limit,        ///< the search stopped before its proof
  kept_in_keep_out,  ///< a kept station that stands over a keep-out
};

/// What the planner wants said; io/ puts it into words.
struct Warning {
  WarningKind kind;                      ///< what it is about
  std::vector<FeatureId> features = {};  ///< that it concerns
  std::vector<StationId> stations = {};  ///< that it concerns
  std::vector<NestId> nests = {};        ///< that it concerns
  std::optional<double> value = {};      ///< mm, or the ratio, or the count, as the kind says
  /// For in_one_line: the two of `nests` that are farthest apart; `value` is how far off the line
  /// through them one more nest must stand. `stations` are the two; where `features` are given it
  /// is one, and the other is a place that reaches them and cannot be in the plan for this.
  std::vector<NestId> ends = {};
};

/// What the part's own frame is laid on (contract section 13).
struct PlannedAlignment {
  std::vector<FeatureId> features;  ///< empty without an alignment, or where none holds the frame
  /// Where the program chose them: the greatest expanded uncertainty of all features with every
  /// feature that it might have chosen. No choice from these stations is below it, mm.
  std::optional<double> worst_at_least;
  bool is_best = false;  ///< it tried every choice of so many features
};

/// A finished plan: plain results, ready to be written (write_plan).
struct Plan {
  std::vector<PlannedStation> stations;  ///< indexed by StationId
  std::vector<PlannedFeature> features;  ///< one for each feature of the scene, in its order
  std::vector<Link> links;               ///< all pairs of tied stations
  Optimality optimality;                 ///< what is proven about the number of stations
  CandidateTally candidates;             ///< how many places were tried
  PlannedAlignment alignment;            ///< what holds the part's frame
  std::vector<Unreached> unreached;      ///< every feature that is not measured, and why
  std::vector<Warning> warnings;         ///< what people should know before they rely on it
};

/// Whether the plan measures the feature, from one station or from several together. O(1).
[[nodiscard]] inline bool is_measured(const PlannedFeature& planned) {
  return planned.station.has_value() || !planned.stations.empty();
}

/// The station that takes a touch of the feature's mark: of a feature that several share the one
/// for this touch, else the feature's own. Precondition: `touch` is one of the mark's. O(1).
[[nodiscard]] inline std::optional<StationId> station_of(const PlannedFeature& planned,
                                                         std::size_t touch) {
  return planned.stations.empty() ? planned.station : planned.touch_stations[touch];
}

/// The feature's touches as the plan takes them: its shared mark, or the mark in its station's
/// sight, wherever that lists it. Null where the plan does not measure it or the sight has no such
/// mark. O(1) where the sight is whole.
[[nodiscard]] inline const FeatureMark* mark_of(const Plan& plan, const PlannedFeature& planned) {
  if (planned.shared_mark) return &*planned.shared_mark;
  if (!planned.station) return nullptr;
  const std::vector<FeatureMark>& marks = plan.stations[planned.station->index].sight.features;
  const std::size_t place = planned.feature.index;
  if (place < marks.size() && marks[place].feature == planned.feature) return &marks[place];
  for (const FeatureMark& mark : marks) {
    if (mark.feature == planned.feature) return &mark;
  }
  return nullptr;
}

/// The stages of a long job, in their order.
enum class Stage {
  candidates,  ///< places where the instrument could stand
  reach,       ///< what each of them reaches
  stations,    ///< the fewest that do
  choose,      ///< the best of them
  network      ///< the uncertainty of what they measure
};

/// How a long job tells how far it is, and is told to stop.
struct Watch {
  /// Called from one thread at a time; fraction in 0..1 of the stage. May be empty.
  std::function<void(Stage stage, double fraction)> progress;
  /// Set from outside (a signal handler): the job ends soon and says it was interrupted.
  const std::atomic<bool>* interrupted = nullptr;
  /// For the integer programs together, s.
  double time_limit_s = 120;

  /// Whether somebody has called the job off. Safe from any thread.
  [[nodiscard]] bool is_interrupted() const {
    return interrupted != nullptr && interrupted->load(std::memory_order_relaxed);
  }
  /// Calls `progress`, if there is one.
  void tell(Stage stage, double fraction) const {
    if (progress) progress(stage, fraction);
  }
};

/// The main job (contract section 4): candidates, what each reaches, the fewest stations, the
/// network that ties them, what to warn of.
///
/// On all cores (oneTBB); safe to call from many threads at once. Nothing where `watch` was
/// interrupted. The same scene gives the same plan, at any number of
/// threads; only where `watch.time_limit_s` ended a proof may it differ. Throws std::bad_alloc.
/// Exponential in the worst case, in practice bound by candidates x touches queries of the tree.
[[nodiscard]] std::optional<Plan> make_plan(const Cell& cell, const Watch& watch = {});

}  // namespace standpoint
