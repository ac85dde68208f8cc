#include "planner/nests/nest_judge.h"

#include <algorithm>
#include <cassert>
#include <limits>
#include <utility>

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

#include "planner/model/tolerances.h"
#include "planner/network/network.h"
#include "planner/network/propagate.h"
#include "planner/planning/provisional_plan.h"

namespace standpoint {
namespace {

/// Rotations are kept times this, mm, so that they compare with translations.
constexpr double kArm = 5000;

NestTies::Question tie_question(const Scene& scene, std::size_t existing,
                                const std::vector<PlannedStation>& stations, bool must_be_tied) {
  NestTies::Question question;
  question.existing = existing;
  question.stations = stations.size();
  question.shared_nests = scene.rules.shared_nests;
  question.are_asked = must_be_tied && !scene.nests.empty() && scene.rules.shared_nests > 0;
  for (const Nest& nest : scene.nests) question.places.push_back(nest.at);
  question.counts.assign(scene.nests.size(), std::vector<char>(stations.size(), 0));
  for (std::size_t s = 0; s < stations.size(); ++s) {
    for (const NestMark& nest : stations[s].sight.nests) {
      const Verdict verdict = nest.mark.verdict;
      question.counts[nest.nest.index][s] =
          verdict == Verdict::full_target ||
          (verdict == Verdict::offset_stylus && scene.rules.ties_by_stylus);
    }
  }
  return question;
}

std::vector<NestId> nests_of(std::size_t existing, const SiteSet& sites) {
  std::vector<NestId> nests;
  nests.reserve(existing + sites.size());
  for (std::size_t n = 0; n < existing; ++n) nests.emplace_back(n);
  for (const std::uint32_t site : sites) nests.emplace_back(existing + site);
  return nests;
}

/// The verdict of the best station for a feature: only such stations measure it.
Verdict best_verdict(const std::vector<PlannedStation>& stations, std::size_t feature) {
  Verdict best = Verdict::blocked;
  for (const PlannedStation& station : stations)
    best = std::min(best, station.sight.features[feature].verdict);
  return best;
}

}  // namespace

Scene with_nests(const Scene& scene, const std::vector<NestId>& kept) {
  Scene some = scene;
  some.nests.clear();
  for (const NestId nest : kept) some.nests.push_back(scene.nests[nest.index]);
  return some;
}

std::vector<PlannedStation> among_nests(std::vector<PlannedStation> stations,
                                        const std::vector<NestId>& kept) {
  for (PlannedStation& station : stations) {
    std::vector<NestMark> marks;
    station.nests.clear();
    for (std::size_t n = 0; n < kept.size(); ++n) {
      marks.push_back(std::move(station.sight.nests[kept[n].index]));
      marks.back().nest = NestId(n);
      if (marks.back().mark.verdict != Verdict::blocked) station.nests.emplace_back(n);
    }
    station.sight.nests = std::move(marks);
  }
  return stations;
}

NestJudge::NestJudge(const Scene& scene, std::size_t existing, std::vector<PlannedStation> stations,
                     bool must_be_tied)
    : scene_(&scene),
      existing_(existing),
      stations_(std::move(stations)),
      ties_(tie_question(scene, existing, stations_, must_be_tied)),
      has_figures_(states_error(scene.instrument)) {
  add_ways(stations_);
  weigh_sights();
  for (std::uint32_t site = 0; site < site_count(); ++site)
    if (!observations_of_[existing_ + site].empty()) useful_.push_back(site);
}

void NestJudge::add_ways(const std::vector<PlannedStation>& stations) {
  Plan plan;
  plan.stations = stations;
  all_ = plan_network(*scene_, plan).input;
  features_.resize(scene_->features.size());
  for (std::size_t s = 0; s < stations.size(); ++s) {
    plan.features.clear();
    for (std::size_t f = 0; f < scene_->features.size(); ++f) {
      const FeatureMark& mark = stations[s].sight.features[f];
      if (mark.verdict == Verdict::blocked || mark.verdict != best_verdict(stations, f)) continue;
      PlannedFeature planned;
      planned.feature = FeatureId(f);
      planned.verdict = mark.verdict;
      planned.station = StationId(s);
      planned.target = mark.target;
      plan.features.push_back(planned);
    }
    add_ways_of(plan);
  }
  // What several stations take together, as it is planned with all nests: nests do not change it.
  plan.features.assign(features_.size(), {});
  for (std::size_t f = 0; f < features_.size(); ++f) {
    plan.features[f].feature = FeatureId(f);
    if (features_[f].empty()) lay_on_all(*scene_, plan, FeatureId(f));
  }
  add_ways_of(plan);
  std::erase_if(features_, [](const auto& ways) { return ways.empty(); });
}

void NestJudge::add_ways_of(const Plan& plan) {
  const PlanNetwork network = plan_network(*scene_, plan);
  is_on_features_ = is_on_features_ || scene_->alignment || !network.input.datum_touches.empty();
  for (std::size_t t = 0; t < network.touches.size(); ++t) {
    const FeatureId feature = network.touches[t].feature;
    if (t == 0 || network.touches[t - 1].feature != feature)
      features_[feature.index].push_back({touches_.size(), touches_.size()});
    touches_.push_back(network.touches[t]);
    features_[feature.index].back().last = touches_.size();
  }
}

void NestJudge::weigh_sights() {
  observations_of_.resize(all_.nests.size());
  for (std::uint32_t i = 0; i < all_.observations.size(); ++i) {
    const NestObservation& o = all_.observations[i];
    observations_of_[o.nest].push_back(i);
    const auto shift = rigid_shift(all_.nests[o.nest] - all_.stations[o.station], kArm);
    tells_.push_back(shift.transpose() * weight_of(o.covariance) * shift);
  }
}

NetworkInput NestJudge::input_with(const SiteSet& sites) const {
  NetworkInput input;
  input.stations = all_.stations;
  for (const NestId nest : nests_of(existing_, sites)) {
    const auto number = static_cast<std::uint32_t>(input.nests.size());
    input.nests.push_back(all_.nests[nest.index]);
    for (const std::uint32_t i : observations_of_[nest.index]) {
      input.observations.push_back(all_.observations[i]);
      input.observations.back().nest = number;
    }
    if (std::find(all_.datum_nests.begin(), all_.datum_nests.end(), nest.index) !=
        all_.datum_nests.end())
      input.datum_nests.push_back(number);
  }
  // By station, then nest, as plan_network lists them: the same sums to the last bit.
  std::stable_sort(input.observations.begin(), input.observations.end(),
                   [](const auto& a, const auto& b) { return a.station < b.station; });
  return input;
}

/// For each feature; empty where there are no figures.
std::vector<double> NestJudge::feature_figures(const SiteSet& sites) const {
  if (!has_figures_) return {};
  std::vector<double> figures;
  if (is_on_features_) {
    const std::vector<NestId> kept = nests_of(existing_, sites);
    const ProvisionalPlan provisional =
        provisional_plan(with_nests(*scene_, kept), among_nests(stations_, kept));
    for (const PlannedFeature& planned : provisional.plan.features)
      if (planned.uncertainty) figures.push_back(planned.uncertainty->expanded);
    return figures;
  }
  const PlanUncertainty told = predict_uncertainty(*scene_, input_with(sites), touches_);
  if (told.touches.empty()) return {};
  for (const std::vector<Way>& ways : features_) {
    double best = std::numeric_limits<double>::infinity();
    for (const Way& way : ways) {
      double worst = 0;
      for (std::size_t t = way.first; t < way.last; ++t)
        worst = std::max(worst, told.touches[t].expanded);
      best = std::min(best, worst);
    }
    figures.push_back(best);
  }
  return figures;
}

std::optional<double> NestJudge::worst(const SiteSet& sites) const {
  const std::vector<double> figures = feature_figures(sites);
  if (figures.empty()) return std::nullopt;
  return *std::max_element(figures.begin(), figures.end());
}

std::vector<std::uint32_t> NestJudge::by_severity(const SiteSet& sites) const {
  if (is_on_features_) return {};
  std::vector<double> figures = feature_figures(sites);
  figures.resize(features_.size(), 0);
  std::vector<std::uint32_t> order(features_.size());
  for (std::uint32_t f = 0; f < order.size(); ++f) order[f] = f;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::uint32_t a, std::uint32_t b) { return figures[a] > figures[b]; });
  return order;
}

/// Poses of stations that are held by known nests, worked out as they are asked for.
class NestJudge::KnownNests {
 public:
  KnownNests(const NestJudge& judge, const SiteSet& sites)
      : judge_(&judge),
        told_(judge.all_.stations.size(), Mat6::Zero()),
        poses_(judge.all_.stations.size()) {
    const auto add = [&](std::size_t nest) {
      for (const std::uint32_t i : judge.observations_of_[nest])
        told_[judge.all_.observations[i].station] += judge.tells_[i];
    };
    for (std::size_t nest = 0; nest < judge.existing_; ++nest) add(nest);
    for (const std::uint32_t site : sites) add(judge.existing_ + site);
  }

  /// Greatest over the way's touches; of one whose station is not surely held nothing is known.
  [[nodiscard]] double worst(const Way& way) {
    double worst = 0;
    for (std::size_t t = way.first; t < way.last; ++t) {
      const WatchedTouch& touch = judge_->touches_[t];
      const std::optional<Mat6>& pose = pose_of(touch.station);
      if (!pose) continue;
      const Mat3 covariance =
          touch_covariance(*pose, judge_->all_.stations[touch.station], touch.reading, touch.own);
      worst = std::max(worst, point_uncertainty(covariance).expanded);
    }
    return worst;
  }

 private:
  const std::optional<Mat6>& pose_of(std::uint32_t station) {
    if (poses_[station]) return *poses_[station];
    std::optional<Mat6>& pose = poses_[station].emplace();
    const Vec6 diagonal = told_[station].diagonal();
    if (!(diagonal.minCoeff() > 0)) return pose;
    const Vec6 even = diagonal.cwiseSqrt().cwiseInverse();
    const Eigen::LLT<Mat6> cholesky(Mat6(even.asDiagonal() * told_[station] * even.asDiagonal()));
    if (cholesky.info() != Eigen::Success) return pose;
    if (!(cholesky.matrixLLT().diagonal().minCoeff() > tolerance::kLeastPivot)) return pose;
    Vec6 unit = even;
    unit.tail<3>() /= kArm;
    pose = unit.asDiagonal() * cholesky.solve(Mat6(unit.asDiagonal()));
    return pose;
  }

  const NestJudge* judge_;
  std::vector<Mat6> told_;
  std::vector<std::optional<std::optional<Mat6>>> poses_;
};

double NestJudge::bound(const SiteSet& sites, const std::vector<std::uint32_t>& order,
                        double enough) const {
  if (is_on_features_ || !has_figures_) return 0;
  KnownNests known(*this, sites);
  double greatest = 0;
  for (const std::uint32_t feature : order) {
    double least = std::numeric_limits<double>::infinity();
    for (const Way& way : features_[feature]) {
      least = std::min(least, known.worst(way));
      if (least <= greatest) break;
    }
    greatest = std::max(greatest, least);
    if (greatest > enough) break;
  }
  return greatest;
}

}  // namespace standpoint
