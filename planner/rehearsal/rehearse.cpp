#include "planner/rehearsal/rehearse.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <tbb/parallel_for.h>

#include "planner/network/chi_square.h"
#include "planner/network/propagate.h"
#include "planner/rehearsal/draws.h"
#include "planner/rehearsal/residual_tests.h"

namespace standpoint {
namespace {

/// What a touch is off by when its station's pose is.
Vec3 carried(const Vec6& pose, const Vec3& station, const Vec3& place) {
  return pose.head<3>() + pose.tail<3>().cross(place - station);
}

/// Everything the trials share.
class Rig {
 public:
  Rig(const PlanNetwork& network, const Adjustment& adjustment, const RehearsalOrder& order)
      : network_(network),
        adjustment_(adjustment),
        tests_(adjustment, order.global_level, order.local_level) {
    for (const NestObservation& o : network.input.observations)
      roots_.push_back(covariance_root(o.covariance));
    const Mat3 form = network.input.form * network.input.form * Mat3::Identity();
    for (const AlignmentTouch& touch : network.input.alignment)
      roots_.push_back(covariance_root(touch.covariance + form));
  }

  [[nodiscard]] const ResidualTests& tests() const { return tests_; }

  [[nodiscard]] std::vector<Vec3> drawn_shifts(TrialDraws& draws) const {
    std::vector<Vec3> shifts;
    shifts.reserve(roots_.size());
    for (const Mat3& root : roots_) shifts.push_back(draws.normal(root));
    return shifts;
  }

  struct Adjusted {
    Response response;
    ResidualVerdict verdict;
    double square_sum = 0;
  };
  [[nodiscard]] Adjusted adjusted(const std::vector<Vec3>& shifts) const {
    Adjusted result;
    result.response = adjustment_.respond(shifts);
    const std::vector<Vec3> left = tests_.residuals(shifts, result.response);
    result.verdict = tests_.judge(left);
    result.square_sum = tests_.square_sum(left);
    return result;
  }

  /// Greatest shift of a touch by what alone shifts these observations, mm.
  [[nodiscard]] double worst_shift(const std::vector<Vec3>& shifts) const {
    const Response response = adjustment_.respond(shifts);
    double worst = 0;
    for (const WatchedTouch& touch : network_.touches)
      worst = std::max(worst, carried(response.poses[touch.station],
                                      network_.input.stations[touch.station], touch.reading.place)
                                  .norm());
    return worst;
  }

 private:
  const PlanNetwork& network_;
  const Adjustment& adjustment_;
  ResidualTests tests_;
  std::vector<Mat3> roots_;
};

std::vector<FeatureSpread> features_of(const PlanNetwork& network, const Network& predicted) {
  std::vector<FeatureSpread> features;
  for (const FeatureUncertainty& worst :
       feature_uncertainties(predicted, network.input, network.touches)) {
    const WatchedTouch& touch = network.touches[worst.touch];
    const Mat3 covariance =
        touch_covariance(predicted.pose_covariance[touch.station],
                         network.input.stations[touch.station], touch.reading, touch.own);
    FeatureSpread spread;
    spread.feature = worst.feature;
    spread.touch = worst.touch;
    spread.direction = greatest_direction(covariance);
    spread.predicted = std::sqrt(spread.direction.dot(covariance * spread.direction));
    features.push_back(spread);
  }
  return features;
}

/// Streams of draws: sound trials, then one for each blunder.
constexpr std::uint64_t kSoundStream = 0;

void run_sound(const PlanNetwork& network, const Rig& stage, const Watch& watch,
               Rehearsal& rehearsal) {
  const auto trials = static_cast<std::size_t>(rehearsal.order.trials);
  const std::size_t features = rehearsal.features.size();
  std::vector<Mat3> own_roots;
  for (const FeatureSpread& f : rehearsal.features)
    own_roots.push_back(covariance_root(network.touches[f.touch].own));
  std::vector<double> errors(trials * features), sums(trials);
  std::vector<char> global(trials), local(trials);
  tbb::parallel_for(std::size_t{0}, trials, [&](std::size_t t) {
    if (watch.is_interrupted()) return;
    TrialDraws draws(rehearsal.order.seed, kSoundStream, t);
    const Rig::Adjusted result = stage.adjusted(stage.drawn_shifts(draws));
    sums[t] = result.square_sum;
    global[t] = static_cast<char>(result.verdict.is_global_flagged);
    local[t] = static_cast<char>(result.verdict.is_local_flagged);
    for (std::size_t f = 0; f < features; ++f) {
      const FeatureSpread& spread = rehearsal.features[f];
      const WatchedTouch& touch = network.touches[spread.touch];
      const Vec3 off = carried(result.response.poses[touch.station],
                               network.input.stations[touch.station], touch.reading.place) +
                       draws.normal(own_roots[f]);
      errors[t * features + f] = spread.direction.dot(off);
    }
  });
  const auto share = [&](const std::vector<char>& flags) {
    return static_cast<double>(std::count(flags.begin(), flags.end(), 1)) /
           static_cast<double>(trials);
  };
  rehearsal.flagged_global = share(global);
  rehearsal.flagged_local = share(local);
  for (const double sum : sums) rehearsal.mean_square_sum += sum / static_cast<double>(trials);
  for (std::size_t f = 0; f < features; ++f) {
    double sum = 0;
    for (std::size_t t = 0; t < trials; ++t)
      sum += errors[t * features + f] * errors[t * features + f];
    FeatureSpread& spread = rehearsal.features[f];
    spread.spread = std::sqrt(sum / static_cast<double>(trials));
    spread.ratio = spread.predicted > 0 ? spread.spread / spread.predicted : 1;
    spread.is_within = spread.ratio >= rehearsal.ratio_low && spread.ratio <= rehearsal.ratio_high;
  }
}

/// Which observations a blunder shifts, and by what when its direction is drawn.
struct Blunder {
  BlunderCatch told;
  std::vector<std::pair<std::size_t, Vec3>> shifts;  ///< swapped: observation and shift
  std::vector<std::size_t> moved;                    ///< moved: observations of the new place
};

/// The two nests of a station that lie nearest to each other: the hardest to tell apart.
std::optional<Blunder> nearest_swap(const NetworkInput& input, std::uint32_t station) {
  std::optional<Blunder> nearest;
  for (std::size_t i = 0; i < input.observations.size(); ++i) {
    for (std::size_t j = i + 1; j < input.observations.size(); ++j) {
      const NestObservation &a = input.observations[i], &b = input.observations[j];
      if (a.station != station || b.station != station) continue;
      const Vec3 apart = input.nests[b.nest] - input.nests[a.nest];
      if (nearest && apart.norm() >= nearest->told.size) continue;
      nearest.emplace();
      nearest->told = {BlunderKind::swapped, a.nest, b.nest, station, apart.norm()};
      nearest->shifts = {{i, apart}, {j, -apart}};
    }
  }
  return nearest;
}

/// A nest that moves after the first station that sees it has done so.
std::optional<Blunder> move_of(const NetworkInput& input, std::uint32_t nest, double by) {
  Blunder blunder;
  std::optional<std::uint32_t> first;
  for (const NestObservation& o : input.observations)
    if (o.nest == nest && (!first || o.station < *first)) first = o.station;
  std::optional<std::uint32_t> next;
  for (std::size_t i = 0; i < input.observations.size(); ++i) {
    const NestObservation& o = input.observations[i];
    if (o.nest != nest || o.station == *first) continue;
    blunder.moved.push_back(i);
    if (!next || o.station < *next) next = o.station;
  }
  if (!next) return std::nullopt;
  blunder.told = {BlunderKind::moved, nest, nest, *next, by};
  return blunder;
}

std::vector<Blunder> blunders_of(const NetworkInput& input, double moved_by) {
  std::vector<Blunder> blunders;
  for (std::uint32_t s = 0; s < input.stations.size(); ++s)
    if (auto swap = nearest_swap(input, s)) blunders.push_back(std::move(*swap));
  for (std::uint32_t n = 0; n < input.nests.size(); ++n)
    if (auto move = move_of(input, n, moved_by)) blunders.push_back(std::move(*move));
  return blunders;
}

BlunderCatch run_blunder(const Blunder& blunder, const Rig& stage, const RehearsalOrder& order,
                         std::uint64_t stream, std::size_t observations) {
  BlunderCatch told = blunder.told;
  const int trials = std::min(order.blunder_trials, order.trials);
  int global = 0, local = 0, named = 0;
  for (int t = 0; t < trials; ++t) {
    TrialDraws draws(order.seed, stream, static_cast<std::uint64_t>(t));
    std::vector<Vec3> by_blunder(observations, Vec3::Zero());
    for (const auto& [i, shift] : blunder.shifts) by_blunder[i] += shift;
    if (!blunder.moved.empty()) {
      const Vec3 move = told.size * draws.direction();
      for (const std::size_t i : blunder.moved) by_blunder[i] += move;
    }
    told.worst_shift = std::max(told.worst_shift, stage.worst_shift(by_blunder));
    std::vector<Vec3> shifts = stage.drawn_shifts(draws);
    for (std::size_t i = 0; i < observations; ++i) shifts[i] += by_blunder[i];
    const ResidualVerdict verdict = stage.adjusted(shifts).verdict;
    global += verdict.is_global_flagged;
    local += verdict.is_local_flagged;
    named += verdict.nest && (*verdict.nest == told.nest || *verdict.nest == told.other);
  }
  const auto share = [&](int count) { return static_cast<double>(count) / std::max(1, trials); };
  told.flagged_global = share(global);
  told.flagged_local = share(local);
  told.named = share(named);
  return told;
}

}  // namespace

std::optional<Rehearsal> rehearse_network(const PlanNetwork& network, const RehearsalOrder& order,
                                          const Watch& watch) {
  if (!network.input.datum_touches.empty()) return std::nullopt;
  const AdjustmentResult result = adjust(network.input);
  if (!result.adjustment || network.input.stations.empty()) return std::nullopt;
  const Rig stage(network, *result.adjustment, order);

  Rehearsal rehearsal;
  rehearsal.order = order;
  rehearsal.degrees_of_freedom = stage.tests().degrees_of_freedom();
  const double trials = std::max(1, order.trials);
  rehearsal.ratio_low = std::sqrt(chi_square_quantile(trials, 0.025) / trials);
  rehearsal.ratio_high = std::sqrt(chi_square_quantile(trials, 0.975) / trials);
  rehearsal.features = features_of(network, result.adjustment->covariances());
  run_sound(network, stage, watch, rehearsal);

  const std::vector<Blunder> blunders = blunders_of(network.input, order.moved_by);
  rehearsal.blunders.resize(blunders.size());
  tbb::parallel_for(std::size_t{0}, blunders.size(), [&](std::size_t b) {
    if (!watch.is_interrupted())
      rehearsal.blunders[b] =
          run_blunder(blunders[b], stage, order, 1 + b,
                      network.input.observations.size() + network.input.alignment.size());
  });
  return rehearsal;
}

}  // namespace standpoint
