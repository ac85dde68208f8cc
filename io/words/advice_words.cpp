#include "io/words/advice_words.h"

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/stance_words.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

std::string_view reason_words(Reason reason) {
  switch (reason) {
    case Reason::range:
      return "the instrument's own error at that distance";
    case Reason::stylus:
      return "what the stylus adds";
    case Reason::weak_tie:
      return "a weak tie: how well the nests fix the station";
    case Reason::extrapolation:
      return "extrapolation: the feature lies far from the middle of the station's nests";
  }
  return "";
}

std::string_view tie_words(Tie tie) {
  switch (tie) {
    case Tie::no_nest:
      return "is tied by no nest";
    case Tie::none_shared:
      return "shares no nest with the rest";
    case Tie::one_nest:
      return "is tied by one nest only: it can turn about it";
    case Tie::one_place:
      return "is tied by nests in one place only: it can turn about it";
    case Tie::two_nests:
      return "is tied by two nests only: it can turn about their line";
    case Tie::one_line:
      return "is tied by nests in one line only: it can turn about it";
    case Tie::linkage:
      return "is tied only to stations that are not fixed themselves";
    case Tie::too_weak:
      return "is tied too weakly for a prediction";
  }
  return "";
}

std::string worst_words(const Scene& scene, const FeatureUncertainty& worst) {
  return fmt::format("{} ({})", length_with_unit(scene, worst.expanded, step::kUncertainty),
                     scene.features[worst.feature.index].name);
}

}  // namespace

std::string_view reason_name(Reason reason) {
  switch (reason) {
    case Reason::range:
      return "range";
    case Reason::stylus:
      return "stylus";
    case Reason::weak_tie:
      return "weak-tie";
    case Reason::extrapolation:
      return "extrapolation";
  }
  return "";
}

std::string contributor_sentence(const Scene& scene, const WorstContributor& contributor) {
  const double share = contributor.shares[static_cast<std::size_t>(contributor.reason)];
  return fmt::format(
      "{}: U {} along ({}, {}, {}); {:.0f} % of its variance is {}",
      scene.features[contributor.uncertainty.feature.index].name,
      length_with_unit(scene, contributor.uncertainty.expanded, step::kUncertainty),
      fixed_text(contributor.direction.x(), 2), fixed_text(contributor.direction.y(), 2),
      fixed_text(contributor.direction.z(), 2), 100 * share, reason_words(contributor.reason));
}

std::string loss_sentence(const Scene& scene, const Plan& plan, const Advice& advice,
                          const NestLoss& loss) {
  const std::string without = "without " + scene.nests[loss.nest.index].name + ": ";
  if (!loss.after.worst) {
    if (loss.after.deficient.empty()) return without + "no network is left";
    const Deficiency& first = loss.after.deficient.front();
    return without + "no network is left; " +
           (first.against_datum
                ? std::string("the nests that are left do not hold a frame")
                : plan.stations[first.station].name + " " + std::string(tie_words(first.tie)));
  }
  std::string sentence = without + "worst U " + worst_words(scene, *loss.after.worst);
  if (advice.worst_now && *advice.worst_now > 0)
    sentence +=
        fmt::format(", {:.2f} times that of now", loss.after.worst->expanded / *advice.worst_now);
  return sentence;
}

std::vector<std::string> gain_sentences(const Scene& scene, const Advice& advice) {
  std::vector<std::string> sentences;
  const auto share = [&](double worst) {
    return advice.worst_now && *advice.worst_now > 0
               ? fmt::format(", {:.0f} % less", 100 * (1 - worst / *advice.worst_now))
               : std::string();
  };
  if (advice.best_nest) {
    sentences.push_back(fmt::format("one nest more, {}: worst U {}{}", advice.best_nest->nest.name,
                                    worst_words(scene, *advice.best_nest->after.worst),
                                    share(advice.best_nest->after.worst->expanded)));
  } else if (advice.nests_tried > 0) {
    sentences.push_back(fmt::format("no further nest helps ({} tried)", advice.nests_tried));
  }
  if (advice.best_station) {
    const StationGain& gain = *advice.best_station;
    const std::string where =
        gain.name.empty()
            ? fmt::format("at ({}) {}", place_text(scene, gain.at, step::kPlace), scene.units)
            : gain.name;
    sentences.push_back(
        fmt::format("one station more, {}{}: worst U {}{} (the best of {} places tried)", where,
                    after_place(gain.up), length_with_unit(scene, gain.worst, step::kUncertainty),
                    share(gain.worst), advice.stations_tried));
  } else if (advice.stations_tried > 0) {
    sentences.push_back(
        fmt::format("no further station helps ({} places tried)", advice.stations_tried));
  }
  return sentences;
}

std::vector<std::string> practice_sentences(const Scene& scene, const Plan& plan,
                                            const Practice& practice) {
  std::vector<std::string> sentences;
  for (const StationPractice& station : practice.stations) {
    std::string sentence = plan.stations[station.station.index].name + " measures " +
                           counted(station.nests, "nest", "nests");
    if (station.with)
      sentence += fmt::format(" and shares {} with {}", station.most_shared,
                              plan.stations[station.with->index].name);
    sentences.push_back(std::move(sentence));
  }
  std::vector<std::string> fill;
  for (std::size_t axis = 0; axis < 3; ++axis)
    if (practice.fill[axis])
      fill.push_back(fmt::format("{:.0f} % of the touches' extent in {}",
                                 100 * *practice.fill[axis], "xyz"[axis]));
  if (!fill.empty()) sentences.push_back("the nests span " + list_of(fill));
  if (practice.farthest) {
    sentences.push_back(fmt::format("the longest reach beyond the box of the nests is {}, to {}",
                                    length_with_unit(scene, practice.longest_reach, step::kPlace),
                                    scene.features[practice.farthest->index].name));
  } else if (!fill.empty()) {
    sentences.push_back("no touch lies outside the box of the nests");
  }
  return sentences;
}

}  // namespace standpoint
