#include "io/words/names.h"

#include <algorithm>

namespace standpoint {

std::string_view verdict_name(Verdict verdict) {
  switch (verdict) {
    case Verdict::full_target:
      return "full-target";
    case Verdict::offset_stylus:
      return "offset-stylus";
    case Verdict::blocked:
      return "blocked";
  }
  return "";
}

std::string_view source_name(Source source) {
  switch (source) {
    case Source::across_beam:
      return "across-beam";
    case Source::along_beam:
      return "along-beam";
    case Source::alignment:
      return "alignment";
    case Source::form:
      return "form";
    case Source::station_pose:
      return "station-pose";
    case Source::nest_repeatability:
      return "nest-repeatability";
    case Source::stylus:
      return "stylus";
    case Source::part_temperature:
      return "part-temperature";
    case Source::expansion:
      return "expansion";
    case Source::air_temperature:
      return "air-temperature";
    case Source::air_pressure:
      return "air-pressure";
    case Source::humidity:
      return "humidity";
    case Source::bending:
      return "bending";
  }
  return {};
}

std::string_view verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::full_target:
      return "full target";
    case Verdict::offset_stylus:
      return "offset stylus";
    case Verdict::blocked:
      return "blocked";
  }
  return "";
}

std::string_view rule_name(Rule rule) {
  switch (rule) {
    case Rule::out_of_range:
      return "out-of-range";
    case Rule::elevation:
      return "elevation";
    case Rule::no_fit:
      return "no-fit";
    case Rule::acceptance:
      return "acceptance";
    case Rule::beam:
      return "beam";
    case Rule::shank:
      return "shank";
    case Rule::head:
      return "head";
  }
  return "";
}

std::string_view role_name(BodyRole role) {
  switch (role) {
    case BodyRole::part:
      return "part";
    case BodyRole::fixture:
      return "fixture";
    case BodyRole::surroundings:
      return "surroundings";
  }
  return "";
}

std::string_view warning_name(WarningKind kind) {
  switch (kind) {
    case WarningKind::no_nests:
      return "no-nests";
    case WarningKind::fewer_than_asked:
      return "fewer-than-asked";
    case WarningKind::unreached:
      return "unreached";
    case WarningKind::lost_to_ties:
      return "lost-to-ties";
    case WarningKind::in_one_line:
      return "in-one-line";
    case WarningKind::kept_collides:
      return "kept-collides";
    case WarningKind::kept_in_keep_out:
      return "kept-in-keep-out";
    case WarningKind::kept_not_tied:
      return "kept-not-tied";
    case WarningKind::tight:
      return "tight";
    case WarningKind::ratio:
      return "ratio";
    case WarningKind::no_uncertainty:
      return "no-uncertainty";
    case WarningKind::time_limit:
      return "time-limit";
  }
  return "";
}

std::string_view proof_name(ProofStatus status) {
  return status == ProofStatus::optimal ? "optimal" : "feasible";
}

std::string_view way_name(Way way) {
  switch (way) {
    case Way::surface:
      return "surface";
    case Way::rim:
      return "rim";
    case Way::wall:
      return "wall";
    case Way::adapter:
      return "adapter";
  }
  return "";
}

const Reached* reached_by_target(const FeatureMark& mark, std::size_t touch) {
  if (touch >= mark.by_target.size() || !mark.by_target[touch]) return nullptr;
  return &*mark.by_target[touch];
}

std::size_t count_reached(const FeatureMark& mark) {
  std::size_t count = 0;
  for (std::size_t t = 0; t < mark.by_target.size(); ++t)
    count += reached_by_target(mark, t) != nullptr ? 1 : 0;
  return count;
}

std::vector<std::string> feature_names(const Scene& scene, const std::vector<FeatureId>& ids) {
  std::vector<std::string> names;
  names.reserve(ids.size());
  for (const FeatureId id : ids) names.push_back(scene.features[id.index].name);
  return names;
}

bool is_all_required_reached(const Scene& scene, const Plan& plan) {
  return std::none_of(plan.features.begin(), plan.features.end(), [&](const PlannedFeature& f) {
    return scene.features[f.feature.index].required && f.verdict == Verdict::blocked;
  });
}

}  // namespace standpoint
