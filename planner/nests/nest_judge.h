#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "planner/nests/nest_ties.h"
#include "planner/network/plan_network.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// A scene with some of its nests only, in their order; everything else the same.
[[nodiscard]] Scene with_nests(const Scene& scene, const std::vector<NestId>& kept);

/// Stations that look among those nests only: their sights and nests renumbered.
[[nodiscard]] std::vector<PlannedStation> among_nests(std::vector<PlannedStation> stations,
                                                      const std::vector<NestId>& kept);

/// What sets of sites are worth to given stations. Immutable; safe to query from many threads.
class NestJudge {
 public:
  /// `scene` has the nests that are there, `existing` of them, and then every site as a nest;
  /// `stations` come with their sights of it. `must_be_tied`: whether ties are asked of them. The
  /// scene must outlive this.
  NestJudge(const Scene& scene, std::size_t existing, std::vector<PlannedStation> stations,
            bool must_be_tied = true);

  [[nodiscard]] const NestTies& ties() const { return ties_; }
  [[nodiscard]] std::size_t site_count() const { return ties_.site_count(); }
  /// Sites that a station sees; no other can help.
  [[nodiscard]] const SiteSet& useful() const { return useful_; }
  /// Whether uncertainty can be told at all: the instrument's errors are stated.
  [[nodiscard]] bool has_figures() const { return has_figures_; }

  /// The greatest expanded uncertainty over the features that these stations measure, each from the
  /// one that measures it best as `provisional_plan` lays it, mm: what the plan with just these
  /// nests is worth. Nothing where it has no figures. O(provisional_plan without its looks).
  [[nodiscard]] std::optional<double> worst(const SiteSet& sites) const;

  /// A value that `worst` of no subset of `sites` that holds a nest is below: as if the places of
  /// all these nests were known exactly, so that each station is held by its own sights of them
  /// alone. (Whatever the datum, a network's estimate of a touch is linear in the sights and
  /// unbiased, also where the nests are known; of such estimates that with known nests has the
  /// least covariance by the theorem of Gauss and Markov, and more nests only make it less.
  /// docs/nests.md.) mm; 0 where nothing can be told (a datum laid on features). Stops early with
  /// what it has when that is above `enough`. `order`: features, those most likely to be worst
  /// first (see `by_severity`).
  [[nodiscard]] double bound(const SiteSet& sites, const std::vector<std::uint32_t>& order,
                             double enough) const;

  /// The numbers of the features for `bound`, worst with `sites` first.
  [[nodiscard]] std::vector<std::uint32_t> by_severity(const SiteSet& sites) const;

 private:
  /// A way to measure a feature: from one station, or from several that share it.
  struct Way {
    std::size_t first = 0, last = 0;  ///< of `touches_`
  };
  class KnownNests;

  void add_ways(const std::vector<PlannedStation>& stations);
  void add_ways_of(const Plan& plan);
  void weigh_sights();
  [[nodiscard]] NetworkInput input_with(const SiteSet& sites) const;
  [[nodiscard]] std::vector<double> feature_figures(const SiteSet& sites) const;

  const Scene* scene_;
  std::size_t existing_;
  std::vector<PlannedStation> stations_;
  NestTies ties_;
  SiteSet useful_;
  bool has_figures_ = false;
  bool is_on_features_ = false;  ///< the datum is, or the part's frame
  NetworkInput all_;
  std::vector<WatchedTouch> touches_;
  std::vector<std::vector<Way>> features_;                   ///< those that are measured
  std::vector<std::vector<std::uint32_t>> observations_of_;  ///< of each nest, in `all_`
  /// For each observation of `all_`: what it tells of its station's pose (translation, rotation x
  /// `kArm`).
  std::vector<Mat6> tells_;
};

}  // namespace standpoint
