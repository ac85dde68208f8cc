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

namespace standpoint {

// The finished plan: plain results, ready to be written.

/// A place where the instrument could stand.
struct Candidate {
  Vec3 at;
  std::string name;                   ///< of a fixed station, else empty
  std::optional<std::uint32_t> zone;  ///< index into Scene::zones
  bool keep = false;
};

struct PointUncertainty {
  Mat3 covariance = Mat3::Zero();  ///< mm^2, in the datum of the network
  double expanded = 0;             ///< 2 sqrt(greatest eigenvalue), mm
};

struct PlannedStation {
  std::string name;  ///< "S1", "S2", ...; a fixed place keeps its own name
  Vec3 at;
  std::optional<std::uint32_t> zone;
  std::vector<NestId> nests;  ///< that it takes
  /// Translation (mm) first, then rotation about the measuring centre (rad).
  std::optional<Eigen::Matrix<double, 6, 6>> pose_covariance;
  Sight sight;  ///< everything as seen from here
};

struct PlannedFeature {
  FeatureId feature;
  Verdict verdict = Verdict::blocked;
  std::optional<StationId> station;  ///< the one that measures it
  std::vector<StationId> also_from;  ///< further ones where several are asked for
  std::optional<TargetId> target;
  std::optional<double> margin;
  /// For each touch of the mark in the station's sight; empty where it is not reached or there is
  /// no network.
  std::vector<std::optional<PointUncertainty>> touch_uncertainty;
  std::optional<PointUncertainty> uncertainty;  ///< of the worst touch
};

struct Link {
  StationId a, b;
  std::vector<NestId> nests;
};

enum class ProofStatus { optimal, feasible };

struct Optimality {
  ProofStatus status = ProofStatus::optimal;
  int stations = 0;
  int lower_bound = 0;
};

struct CandidateTally {
  int tried = 0;          ///< all that were generated, dropped ones included
  int body_collides = 0;  ///< dropped: the instrument's body cuts a mesh
  int duplicate = 0;      ///< dropped: another candidate stands in the same place
};

/// A feature that the plan does not measure, with the causes where it comes nearest to it.
struct Unreached {
  FeatureId feature;
  FeatureMark mark;        ///< as seen from `at`
  std::optional<Vec3> at;  ///< of the plan's stations the one where it comes nearest
};

enum class WarningKind {
  no_nests,          ///< several stations, no nests: planned without ties
  fewer_than_asked,  ///< a feature is measured from fewer stations than asked
  unreached,         ///< a required feature that no candidate reaches
  lost_to_ties,      ///< a feature reachable only from candidates that cannot be tied to the rest
  in_one_line,       ///< two stations share enough nests, but all in one line
  kept_collides,     ///< a kept station whose body cuts a mesh
  kept_not_tied,     ///< kept stations that no chain of candidates ties together
  tight,             ///< a beam under tight_margin
  ratio,             ///< tolerance / expanded uncertainty below 4 (contract section 6)
  no_uncertainty,    ///< there is no network, and why
  time_limit,        ///< the search stopped before its proof
};

/// What the planner wants said; io/ puts it into words.
struct Warning {
  WarningKind kind;
  std::vector<FeatureId> features = {};
  std::vector<StationId> stations = {};
  std::vector<NestId> nests = {};
  std::optional<double> value = {};  ///< mm, or the ratio, or the count, as the kind says
  /// For in_one_line: the two of `nests` that are farthest apart; `value` is how far off the line
  /// through them one more nest must stand. `stations` are the two; where `features` are given it
  /// is one, and the other is a place that reaches them and cannot be in the plan for this.
  std::vector<NestId> ends = {};
};

struct Plan {
  std::vector<PlannedStation> stations;
  std::vector<PlannedFeature> features;  ///< one for each feature of the scene, in its order
  std::vector<Link> links;
  Optimality optimality;
  CandidateTally candidates;
  std::vector<Unreached> unreached;
  std::vector<Warning> warnings;
};

enum class Stage { candidates, reach, stations, choose, network };

/// How a long job tells how far it is, and is told to stop.
struct Watch {
  /// Called from one thread at a time; fraction in 0..1 of the stage. May be empty.
  std::function<void(Stage stage, double fraction)> progress;
  /// Set from outside (a signal handler): the job ends soon and says it was interrupted.
  const std::atomic<bool>* interrupted = nullptr;
  /// For the integer programs together, s.
  double time_limit_s = 120;

  [[nodiscard]] bool is_interrupted() const {
    return interrupted != nullptr && interrupted->load(std::memory_order_relaxed);
  }
  void tell(Stage stage, double fraction) const {
    if (progress) progress(stage, fraction);
  }
};

/// The main job (contract section 4): candidates, what each reaches, the fewest stations, the
/// network that ties them, what to warn of.
///
/// Nothing where `watch` was interrupted. The same scene gives the same plan, at any number of
/// threads; only where `watch.time_limit_s` ended a proof may it differ. Throws std::bad_alloc.
/// Exponential in the worst case, in practice bound by candidates x touches queries of the tree.
[[nodiscard]] std::optional<Plan> make_plan(const Cell& cell, const Watch& watch = {});

}  // namespace standpoint
