#include "planner/planning/choose_alignment.h"

#include <algorithm>
#include <limits>
#include <utility>

#include <tbb/parallel_for.h>

#include "planner/model/tolerances.h"
#include "planner/network/alignment.h"

namespace standpoint {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();

/// Touches that are not chosen count this little while features are added one by one: so a frame
/// that is not held yet has figures, large ones, and it shows what holds it best.
constexpr double kFaint = 1e4;

using Choice = std::vector<std::size_t>;  ///< numbers into the options, ascending

/// The features that the scene lets be chosen.
std::vector<FeatureId> allowed(const Scene& scene) {
  if (!scene.alignment->from.empty()) return scene.alignment->from;
  std::vector<FeatureId> all, datums;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    all.emplace_back(f);
    if (scene.features[f].is_datum) datums.emplace_back(f);
  }
  if (!datums.empty() && free_motions(nominal_alignment(scene, datums)).empty()) return datums;
  return all;
}

/// What each choice is worth to given stations.
class Judge {
 public:
  Judge(const Scene& scene, const std::vector<PlannedStation>& stations) : scene_(scene) {
    const ProvisionalPlan whole = provisional_plan(scene, stations, allowed(scene));
    network_ = plan_network(scene, whole.plan);
    std::vector<AlignmentTouch> all = std::move(network_.input.alignment);
    network_.input.alignment.clear();
    std::size_t next = 0;
    for (const WatchedTouch& touch : network_.touches) {
      if (!contains(whole.plan.alignment.features, touch.feature)) continue;
      if (options_.empty() || options_.back().first != touch.feature)
        options_.push_back({touch.feature, {}});
      options_.back().second.push_back(std::move(all[next++]));
    }
  }

  [[nodiscard]] std::size_t count() const { return options_.size(); }
  [[nodiscard]] FeatureId feature(std::size_t option) const { return options_[option].first; }

  /// The worst figure of all features; infinite where the frame is free. `faint`: what is not
  /// chosen counts, a little.
  [[nodiscard]] double worst(const Choice& choice, bool faint = false) const {
    NetworkInput input = network_.input;
    for (std::size_t option = 0; option < options_.size(); ++option) {
      const bool is_chosen = std::binary_search(choice.begin(), choice.end(), option);
      if (!is_chosen && !faint) continue;
      for (AlignmentTouch touch : options_[option].second) {
        if (!is_chosen) touch.covariance += kFaint * Mat3::Identity();
        input.alignment.push_back(std::move(touch));
      }
    }
    const PlanUncertainty told = predict_uncertainty(scene_, input, network_.touches);
    if (told.touches.empty()) return kNone;
    double worst = 0;
    for (const PointUncertainty& touch : told.touches) worst = std::max(worst, touch.expanded);
    return worst;
  }

 private:
  static bool contains(const std::vector<FeatureId>& features, FeatureId feature) {
    return std::find(features.begin(), features.end(), feature) != features.end();
  }

  const Scene& scene_;
  PlanNetwork network_;
  std::vector<std::pair<FeatureId, std::vector<AlignmentTouch>>> options_;
};

/// What no choice is below: as if every feature that may be chosen held the frame, from every
/// station that takes it as well as any does, and every feature were measured from the best of
/// these stations for it. Infinite where even that leaves the frame free.
double least_possible(const Scene& scene, const std::vector<PlannedStation>& stations,
                      const std::vector<FeatureId>& options) {
  Plan plan;
  plan.stations = stations;
  plan.alignment.features = options;
  NetworkInput input = plan_network(scene, plan).input;
  std::vector<WatchedTouch> touches;
  std::vector<std::size_t> ways;  // for each touch the way to measure its feature that it is of
  std::size_t way_count = 0;
  const auto add_way = [&](const PlannedFeature& planned) {
    plan.features = {planned};
    PlanNetwork network = plan_network(scene, plan);
    for (AlignmentTouch& touch : network.input.alignment)
      input.alignment.push_back(std::move(touch));
    for (WatchedTouch& touch : network.touches) {
      touches.push_back(std::move(touch));
      ways.push_back(way_count);
    }
    ++way_count;
  };
  Plan together = plan;
  together.features.resize(scene.features.size());
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    Verdict best = Verdict::blocked;
    for (const PlannedStation& station : stations)
      best = std::min(best, station.sight.features[f].verdict);
    PlannedFeature planned;
    planned.feature = FeatureId(f);
    for (std::size_t s = 0; best != Verdict::blocked && s < stations.size(); ++s) {
      const FeatureMark& mark = stations[s].sight.features[f];
      if (mark.verdict != best) continue;
      planned.verdict = best;
      planned.station = StationId(s);
      planned.target = mark.target;
      add_way(planned);
    }
    if (best != Verdict::blocked) continue;
    together.features[f] = planned;
    lay_on_all(scene, together, FeatureId(f));
    if (!together.features[f].stations.empty()) add_way(together.features[f]);
  }
  const PlanUncertainty told = predict_uncertainty(scene, input, touches);
  if (told.touches.empty()) return kNone;
  std::vector<double> of_way(way_count, 0);
  for (std::size_t t = 0; t < touches.size(); ++t)
    of_way[ways[t]] = std::max(of_way[ways[t]], told.touches[t].expanded);
  std::vector<double> of_feature(scene.features.size(), kNone);
  for (std::size_t t = 0; t < touches.size(); ++t) {
    double& least = of_feature[touches[t].feature.index];
    least = std::min(least, of_way[ways[t]]);
  }
  double worst = 0;
  for (const double figure : of_feature)
    if (figure != kNone) worst = std::max(worst, figure);
  return worst;
}

/// Whether `a` is smaller by more than people would notice.
bool is_less(double a, double b) {
  if (b == kNone) return a != kNone;
  return a < b - tolerance::kSameUncertainty * b;
}

/// The number of the best of these choices, the first of those that do not differ.
std::size_t best_of(const Judge& judge, const std::vector<Choice>& choices, bool faint,
                    double& worst) {
  std::vector<double> figures(choices.size());
  tbb::parallel_for(std::size_t{0}, choices.size(),
                    [&](std::size_t i) { figures[i] = judge.worst(choices[i], faint); });
  const double least = *std::min_element(figures.begin(), figures.end());
  std::size_t best = 0;
  while (is_less(least, figures[best])) ++best;
  worst = figures[best];
  return best;
}

/// How many choices of `take` among `count` there are, or `most` + 1.
std::size_t choice_count(std::size_t count, std::size_t take, std::size_t most) {
  std::size_t choices = 1;
  for (std::size_t i = 0; i < take; ++i) {
    choices = choices * (count - i) / (i + 1);
    if (choices > most) return most + 1;
  }
  return choices;
}

std::vector<Choice> all_choices(std::size_t count, std::size_t take) {
  std::vector<Choice> choices;
  Choice choice(take);
  for (std::size_t i = 0; i < take; ++i) choice[i] = i;
  while (true) {
    choices.push_back(choice);
    std::size_t i = take;
    while (i > 0 && choice[i - 1] == count - take + i - 1) --i;
    if (i == 0) return choices;
    ++choice[i - 1];
    for (std::size_t j = i; j < take; ++j) choice[j] = choice[j - 1] + 1;
  }
}

Choice with(Choice choice, std::size_t option) {
  choice.insert(std::upper_bound(choice.begin(), choice.end(), option), option);
  return choice;
}

Choice one_by_one(const Judge& judge, std::size_t take) {
  Choice choice;
  while (choice.size() < take) {
    std::vector<Choice> larger;
    for (std::size_t option = 0; option < judge.count(); ++option)
      if (!std::binary_search(choice.begin(), choice.end(), option))
        larger.push_back(with(choice, option));
    double worst = 0;
    choice = larger[best_of(judge, larger, true, worst)];
  }
  return choice;
}

/// Exchanges one against another while that helps.
Choice exchanged(const Judge& judge, Choice choice, double& worst) {
  worst = judge.worst(choice);
  while (true) {
    std::vector<Choice> others;
    for (std::size_t i = 0; i < choice.size(); ++i) {
      Choice rest = choice;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      for (std::size_t option = 0; option < judge.count(); ++option)
        if (!std::binary_search(choice.begin(), choice.end(), option))
          others.push_back(with(rest, option));
    }
    if (others.empty()) return choice;
    double best_worst = 0;
    const std::size_t best = best_of(judge, others, false, best_worst);
    if (!is_less(best_worst, worst)) return choice;
    choice = others[best];
    worst = best_worst;
  }
}

}  // namespace

AlignmentChoice choose_alignment(const Scene& scene, const std::vector<PlannedStation>& stations) {
  AlignmentChoice answer;
  if (stations.empty()) return answer;
  const Judge judge(scene, stations);
  const auto most = static_cast<std::size_t>(*scene.alignment->choose);
  const std::size_t take = std::min(most, judge.count());
  if (take == 0) return answer;
  const double least = least_possible(scene, stations, allowed(scene));
  if (least == kNone) return answer;  // all together do not hold it
  answer.worst_of_all = least;
  answer.is_exhaustive = choice_count(judge.count(), take, kMostChoices) <= kMostChoices;
  double worst = kNone;
  Choice choice;
  if (answer.is_exhaustive) {
    const std::vector<Choice> choices = all_choices(judge.count(), take);
    choice = choices[best_of(judge, choices, false, worst)];
  } else {
    choice = exchanged(judge, one_by_one(judge, take), worst);
  }
  if (worst == kNone) return answer;
  answer.worst = worst;
  for (const std::size_t option : choice) answer.features.push_back(judge.feature(option));
  std::sort(answer.features.begin(), answer.features.end());
  return answer;
}

PlannedAlignment aligned_features(const Scene& scene, const std::vector<PlannedStation>& stations) {
  if (!scene.alignment) return {};
  if (!scene.alignment->choose) return {scene.alignment->features, std::nullopt, false};
  const AlignmentChoice choice = choose_alignment(scene, stations);
  return {choice.features, choice.worst_of_all, choice.is_exhaustive};
}

}  // namespace standpoint
