#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/motion_words.h"
#include "io/words/names.h"
#include "io/words/words.h"
#include "planner/network/plan_network.h"

namespace standpoint {
namespace {

std::vector<std::string> station_names(const Plan& plan, const std::vector<StationId>& ids) {
  std::vector<std::string> names;
  names.reserve(ids.size());
  for (const StationId id : ids) names.push_back(plan.stations[id.index].name);
  return names;
}

std::string no_uncertainty_sentence(const Scene& scene, const Plan& plan, const Warning& warning) {
  const std::string first = "No uncertainty is predicted: ";
  if (scene.alignment) {
    const std::vector<Motion> free = free_motions(plan_network(scene, plan).input.alignment);
    if (!free.empty()) {
      const std::string held_by = holding_words(scene, free, plan.alignment.features);
      return fmt::format(
          "{}what is taken of the alignment's features leaves the part free to {}.{}", first,
          motions_words(scene, free), held_by.empty() ? "" : " " + held_by + " would hold it.");
    }
  }
  if (scene.nests.empty() && plan.stations.size() > 1)
    return first + "the scene has no nests that would tie its stations into one network.";
  if (!warning.stations.empty()) {
    return fmt::format("{}the nests seen do not fix {} against the rest of the network.", first,
                       list_of(station_names(plan, warning.stations)));
  }
  return first + "the nests seen do not make a network.";
}

std::string fewer_sentence(const Scene& scene, const std::vector<FeatureId>& features) {
  return fmt::format("{} {} measured from fewer stations than the {} asked for.",
                     list_of(feature_names(scene, features)), features.size() == 1 ? "is" : "are",
                     scene.rules.stations_per_feature);
}

std::string tight_sentence(const Scene& scene, const Plan& plan, const Warning& warning) {
  std::vector<std::string> names;
  for (const FeatureId id : warning.features) {
    const std::optional<double>& margin = plan.features[id.index].margin;
    names.push_back(scene.features[id.index].name +
                    (margin ? " (" + length_with_unit(scene, *margin, step::kMargin) + ")" : ""));
  }
  return fmt::format(
      "Tight: {}. {} a body with a margin (beam clearance) below {}. A small error in setting up "
      "can break {}.",
      list_of(names), names.size() == 1 ? "Its beam passes" : "Their beams pass",
      length_with_unit(scene, scene.rules.tight_margin, step::kMargin),
      names.size() == 1 ? "it" : "them");
}

/// A length in the scene's units with enough digits to show a millimetre, never less than it is.
std::string at_least_text(const Scene& scene, double mm) {
  return length_with_unit(scene, std::ceil(mm / step::kPlace) * step::kPlace, step::kPlace);
}

std::string in_line_sentence(const Scene& scene, const Plan& plan, const Warning& warning) {
  std::vector<std::string> nests;
  for (const NestId nest : warning.nests) nests.push_back(scene.nests[nest.index].name);
  const std::vector<std::string> stations = station_names(plan, warning.stations);
  const std::string who = warning.features.empty()
                              ? fmt::format("{} share", list_of(stations))
                              : fmt::format("A place that reaches {} shares",
                                            list_of(feature_names(scene, warning.features)));
  const std::string with = warning.features.empty() ? "" : " with " + list_of(stations);
  const std::string many =
      fmt::format("{} {}{}. These would be enough to tie them", who, list_of(nests), with);
  if (warning.ends.size() != 2 || warning.value.value_or(0) <= 0)
    return many + ", but they are all in one place.";
  return fmt::format(
      "{}, but they are all in one line. One more nest that both see would tie them if it stands "
      "at "
      "least {} off the line from {} to {}, between these two.",
      many, at_least_text(scene, *warning.value), scene.nests[warning.ends[0].index].name,
      scene.nests[warning.ends[1].index].name);
}

/// About all of `warnings`, which are of kind `ratio`.
std::string ratio_sentence(const Scene& scene, const std::vector<Warning>& warnings) {
  std::vector<std::string> names;
  for (const Warning& warning : warnings) {
    for (const FeatureId id : warning.features) {
      names.push_back(scene.features[id.index].name +
                      (warning.value ? " (" + fixed_text(*warning.value, 1) + ")" : ""));
    }
  }
  return fmt::format(
      "Ratio (tolerance to uncertainty, T / 2U) below 4, the least that is commonly asked for: "
      "{}.",
      fmt::join(names, ", "));
}

}  // namespace

std::string warning_sentence(const Scene& scene, const Plan& plan, const Warning& warning) {
  const auto features = [&] { return list_of(feature_names(scene, warning.features)); };
  const auto stations = [&] { return list_of(station_names(plan, warning.stations)); };
  const bool is_one = warning.features.size() == 1;
  switch (warning.kind) {
    case WarningKind::no_nests:
      return "The scene has no nests: the stations are planned without being tied to one another, "
             "so what is measured from different ones cannot be joined.";
    case WarningKind::fewer_than_asked:
      return fewer_sentence(scene, warning.features);
    case WarningKind::unreached:
      return fmt::format("{} {} required, but no candidate reaches {}.", features(),
                         is_one ? "is" : "are", is_one ? "it" : "them");
    case WarningKind::lost_to_ties:
      return fmt::format(
          "{} could be reached, but only from places that share too few nests with "
          "the rest of the plan ({} not in one line are needed).",
          features(), scene.rules.shared_nests);
    case WarningKind::in_one_line:
      return in_line_sentence(scene, plan, warning);
    case WarningKind::kept_collides:
      return fmt::format(
          "{} {} kept as asked, though the instrument would cut into a body or stand inside "
          "one there.",
          stations(), warning.stations.size() == 1 ? "is" : "are");
    case WarningKind::kept_in_keep_out:
      return fmt::format("{} {} kept as asked, though {} over a keep-out.", stations(),
                         warning.stations.size() == 1 ? "is" : "are",
                         warning.stations.size() == 1 ? "it stands" : "they stand");
    case WarningKind::kept_not_tied:
      return "The stations to be kept cannot be tied to one another through shared nests; the plan "
             "is made without ties.";
    case WarningKind::tight:
      return tight_sentence(scene, plan, warning);
    case WarningKind::ratio:
      return ratio_sentence(scene, {warning});
    case WarningKind::no_uncertainty:
      return no_uncertainty_sentence(scene, plan, warning);
    case WarningKind::time_limit:
      return "The time limit ended the search before its proof: there may be a plan with fewer "
             "stations. A longer --time-limit may find it.";
  }
  return "";
}

std::vector<std::string> warning_sentences(const Scene& scene, const Plan& plan) {
  std::vector<std::string> sentences;
  std::vector<Warning> ratios;
  for (const Warning& warning : plan.warnings) {
    if (warning.kind == WarningKind::ratio) {
      ratios.push_back(warning);
    } else {
      sentences.push_back(warning_sentence(scene, plan, warning));
    }
  }
  if (!ratios.empty()) sentences.push_back(ratio_sentence(scene, ratios));
  return sentences;
}

}  // namespace standpoint
