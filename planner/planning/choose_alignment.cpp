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
  Choice all(judge.count());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  const double least = judge.worst(all);
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
