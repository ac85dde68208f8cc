#include "io/words/summary_words.h"

#include <algorithm>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

/// What stands in the way, without how far away and how deep it is.
std::string short_cause(const Scene& scene, const Cause& cause) {
  const auto body = [&] {
    if (!cause.body) return std::string("a body");
    std::string words = scene.bodies[cause.body->index].name;
    if (cause.face) words += ", " + *cause.face;
    return words;
  };
  switch (cause.rule) {
    case Rule::out_of_range:
      return "out of range";
    case Rule::elevation:
      return "too steep for the instrument";
    case Rule::no_fit:
      return cause.body ? "does not fit beside " + body() : "does not fit this feature";
    case Rule::acceptance:
      return "cannot be turned to face the instrument";
    case Rule::beam:
      return "beam broken by " + body();
    case Rule::shank:
      return "shank not clear of " + body();
    case Rule::head:
      return "head not clear of " + body();
  }
  return "";
}

/// The same cause of several targets once, with their names before it.
std::string short_causes(const Scene& scene, const FeatureMark& mark) {
  std::vector<std::pair<std::string, std::vector<std::string>>> by_cause;
  for (const Cause* cause : nearest_causes(mark)) {
    const std::string words = short_cause(scene, *cause);
    const auto known = std::find_if(by_cause.begin(), by_cause.end(),
                                    [&](const auto& entry) { return entry.first == words; });
    auto& targets = known != by_cause.end()
                        ? known->second
                        : by_cause.emplace_back(words, std::vector<std::string>{}).second;
    targets.push_back(target_name(scene, cause->target));
  }
  std::string line;
  for (const auto& [words, targets] : by_cause) line += "; " + list_of(targets) + ": " + words;
  return line;
}

std::vector<FeatureId> features_of(const std::vector<Warning>& warnings) {
  std::vector<FeatureId> features;
  for (const Warning& warning : warnings)
    features.insert(features.end(), warning.features.begin(), warning.features.end());
  return features;
}

std::string fewer_line(const Scene& scene, const std::vector<Warning>& warnings) {
  const auto features = features_of(warnings);
  return fmt::format("{} measured from fewer stations than the {} asked for: {}",
                     counted(features.size(), "feature", "features"),
                     scene.rules.stations_per_feature, few_of(feature_names(scene, features)));
}

std::string tight_line(const Scene& scene, const Plan& plan, const std::vector<Warning>& warnings) {
  const auto features = features_of(warnings);
  std::vector<std::string> names;
  for (const FeatureId id : features) {
    const std::optional<double>& margin = plan.features[id.index].margin;
    names.push_back(scene.features[id.index].name +
                    (margin ? " (" + length_text(scene, *margin, step::kMargin) + ")" : ""));
  }
  return fmt::format(
      "{} with a tight beam, margin below {}: {}", counted(features.size(), "feature", "features"),
      length_with_unit(scene, scene.rules.tight_margin, step::kMargin), few_of(names));
}

std::string ratio_line(const Scene& scene, const std::vector<Warning>& warnings) {
  std::vector<std::string> names;
  for (const Warning& warning : warnings) {
    for (const FeatureId id : warning.features)
      names.push_back(scene.features[id.index].name +
                      (warning.value ? " (" + fixed_text(*warning.value, 1) + ")" : ""));
  }
  return fmt::format("{} with a ratio (tolerance to uncertainty) below 4: {}",
                     counted(names.size(), "feature", "features"), few_of(names));
}

std::string in_line_line(const Scene& scene, const Plan& plan,
                         const std::vector<Warning>& warnings) {
  std::vector<std::string> who;
  for (const Warning& warning : warnings) {
    std::vector<std::string> nests, stations;
    for (const NestId id : warning.nests) nests.push_back(scene.nests[id.index].name);
    for (const StationId id : warning.stations) stations.push_back(plan.stations[id.index].name);
    who.push_back(list_of(nests) + " at " + list_of(stations));
  }
  return fmt::format("{} where the shared nests are in one line and so tie nothing: {}",
                     counted(warnings.size(), "case", "cases"),
                     fmt::format("{}", fmt::join(who, "; ")));
}

std::string kept_line(const Plan& plan, const std::vector<Warning>& warnings,
                      std::string_view what) {
  std::vector<std::string> names;
  for (const Warning& warning : warnings)
    for (const StationId id : warning.stations) names.push_back(plan.stations[id.index].name);
  return fmt::format("{} {}: {}", counted(names.size(), "kept station", "kept stations"), what,
                     few_of(names));
}

/// Without its full stop.
std::string whole_sentence(const Scene& scene, const Plan& plan, const Warning& warning) {
  std::string sentence = warning_sentence(scene, plan, warning);
  if (!sentence.empty() && sentence.back() == '.') sentence.pop_back();
  return sentence;
}

std::string warning_line(const Scene& scene, const Plan& plan,
                         const std::vector<Warning>& same_kind) {
  switch (same_kind.front().kind) {
    case WarningKind::unreached:
    case WarningKind::lost_to_ties:
      return "";
    case WarningKind::fewer_than_asked:
      return fewer_line(scene, same_kind);
    case WarningKind::tight:
      return tight_line(scene, plan, same_kind);
    case WarningKind::ratio:
      return ratio_line(scene, same_kind);
    case WarningKind::in_one_line:
      return in_line_line(scene, plan, same_kind);
    case WarningKind::kept_collides:
      return kept_line(plan, same_kind,
                       "where the instrument would cut into a body or stand inside one");
    case WarningKind::kept_in_keep_out:
      return kept_line(plan, same_kind, "that stand over a keep-out");
    case WarningKind::no_nests:
      return "no nests in the scene: what different stations measure cannot be joined";
    case WarningKind::kept_not_tied:
      return "the stations to be kept cannot be tied; the plan is made without ties";
    case WarningKind::time_limit:
      return "the time limit ended the search before its proof; try a longer --time-limit";
    case WarningKind::no_uncertainty:
      return whole_sentence(scene, plan, same_kind.front());
  }
  return "";
}

}  // namespace

std::string few_of(const std::vector<std::string>& names) {
  constexpr std::size_t kFew = 3;
  if (names.size() <= kFew) return list_of(names);
  return fmt::format("{}, {}, {} and {} more", names[0], names[1], names[2], names.size() - kFew);
}

std::string blocked_line(const Scene& scene, const Plan& plan, FeatureId feature) {
  const bool is_required = scene.features[feature.index].required;
  std::string line = is_required ? "" : "not required; ";
  line += blocked_text(scene, plan, feature).reason;
  for (const Unreached& unreached : plan.unreached) {
    if (unreached.feature != feature) continue;
    if (unreached.mark.touches.empty()) return line + "; no target that may be used can take it";
    return line + short_causes(scene, unreached.mark);
  }
  return line;
}

std::vector<std::string> warning_lines(const Scene& scene, const Plan& plan) {
  std::vector<std::vector<Warning>> kinds;
  for (const Warning& warning : plan.warnings) {
    const auto same = std::find_if(kinds.begin(), kinds.end(), [&](const auto& kind) {
      return kind.front().kind == warning.kind;
    });
    if (same == kinds.end()) {
      kinds.push_back({warning});
    } else {
      same->push_back(warning);
    }
  }
  std::vector<std::string> lines;
  for (const auto& same_kind : kinds) {
    std::string line = warning_line(scene, plan, same_kind);
    if (!line.empty()) lines.push_back(std::move(line));
  }
  return lines;
}

std::string cautions_line(const Cautions& cautions) {
  std::string line = "laser radiation";
  if (!cautions.beams.empty())
    line += "; " + counted(cautions.beams.size(), "beam", "beams") + " at eye height over walkways";
  const std::size_t high =
      cautions.stations.size() + cautions.features.size() + cautions.nests.size();
  if (high > 0) line += "; work at height at " + counted(high, "place", "places");
  line += "; stands";
  if (!cautions.not_upright.empty()) {
    line += "; instruments that do not stand upright at " +
            counted(cautions.not_upright.size(), "station", "stations");
  }
  if (!cautions.by_hand_held.empty())
    line +=
        "; hand-held devices at " + counted(cautions.by_hand_held.size(), "feature", "features");
  return line + "; machinery and lifting gear";
}

}  // namespace standpoint
