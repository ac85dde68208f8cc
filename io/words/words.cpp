#include "io/words/words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/stance_words.h"

namespace standpoint {
namespace {

std::string margin_words(const Scene& scene, double mm) {
  return length_with_unit(scene, mm, step::kMargin);
}

std::string blocker_words(const Scene& scene, const Cause& cause) {
  if (!cause.body) return "a body";
  std::string words = scene.bodies[cause.body->index].name;
  if (cause.face) words += ", " + *cause.face;
  return words;
}

/// ", which stands 12.4 mm deep in it", or how near it comes where it does not touch.
std::string depth_words(const Scene& scene, const Cause& cause, std::string_view what) {
  if (!cause.margin || !std::isfinite(*cause.margin)) return "";
  if (*cause.margin < 0)
    return fmt::format(", which stands {} deep in {}", margin_words(scene, -*cause.margin), what);
  return fmt::format(", which comes within {} of {}", margin_words(scene, *cause.margin), what);
}

std::string range_words(const Scene& scene, const Cause& cause) {
  const Interval& range = scene.instrument.range;
  const std::string allowed =
      fmt::format("its range is {} to {}", length_text(scene, range.low, step::kPlace),
                  length_with_unit(scene, range.high, step::kPlace));
  if (!cause.distance) return "out of the instrument's range; " + allowed;
  return fmt::format("out of range, {} from the instrument; {}",
                     length_with_unit(scene, *cause.distance, step::kPlace), allowed);
}

std::string elevation_words(const Scene& scene) {
  const Interval& elevation = scene.instrument.elevation_rad;
  return fmt::format("too steep for the instrument, whose elevation is {} to {} degrees",
                     fixed_text(to_degrees(elevation.low), 0),
                     fixed_text(to_degrees(elevation.high), 0));
}

std::string fit_words(const Scene& scene, const Cause& cause) {
  const HoleAdapter* adapter = hole_adapter(scene, cause.target);
  if (!cause.body && adapter != nullptr) {
    return fmt::format("its pin is for holes of {} to {}",
                       length_text(scene, adapter->hole_diameter.low, step::kUncertainty),
                       length_with_unit(scene, adapter->hole_diameter.high, step::kUncertainty));
  }
  if (!cause.body) return "its ball is too large or too small for this feature";
  const bool is_base = adapter != nullptr && !cause.solid;
  return "does not fit at the contact: in the way is " + blocker_words(scene, cause) +
         depth_words(scene, cause, is_base ? "its base" : "its ball");
}

std::string acceptance_words(const Scene& scene, const Cause& cause) {
  if (is_full_target(scene, cause.target)) {
    const FullTarget& target = full_target(scene, cause.target);
    return fmt::format(
        "cannot be rolled far enough: facing the instrument within its acceptance of {} degrees, "
        "it would rest on its reflector",
        fixed_text(to_degrees(target.acceptance_rad), 0));
  }
  if (const auto* rod = std::get_if<TwoBallStylus>(&offset_stylus(scene, cause.target))) {
    return fmt::format(
        "cannot be held so that the beam comes within {} degrees of square to its rod",
        fixed_text(to_degrees(rod->acceptance_rad), 0));
  }
  return "cannot be turned to face the instrument";
}

std::string beam_words(const Scene& scene, const Cause& cause) {
  std::string words = "beam broken";
  if (cause.distance)
    words += fmt::format(" {} from the instrument",
                         length_with_unit(scene, *cause.distance, step::kPlace));
  return words + " by " + blocker_words(scene, cause) + depth_words(scene, cause, "it");
}

}  // namespace

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string list_of(const std::vector<std::string>& names) {
  constexpr std::size_t kShown = 6;
  const bool is_cut = names.size() > kShown;
  const std::size_t shown = is_cut ? kShown : names.size();
  std::string words;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) words += !is_cut && i + 1 == shown ? " and " : ", ";
    words += names[i];
  }
  if (is_cut) words += fmt::format(" and {} more", names.size() - shown);
  return words;
}

std::string cause_sentence(const Scene& scene, const Cause& cause) {
  std::string target = target_name(scene, cause.target) + ": ";
  switch (cause.rule) {
    case Rule::out_of_range:
      return target + range_words(scene, cause);
    case Rule::elevation:
      return target + elevation_words(scene);
    case Rule::no_fit:
      return target + fit_words(scene, cause);
    case Rule::acceptance:
      return target + acceptance_words(scene, cause);
    case Rule::beam:
      return target + beam_words(scene, cause);
    case Rule::shank:
      return target + "shank cannot be held clear of " + blocker_words(scene, cause) +
             depth_words(scene, cause, "it");
    case Rule::head:
      return target + "head cannot be held clear of " + blocker_words(scene, cause) +
             depth_words(scene, cause, "it");
  }
  return target;
}

std::vector<const Cause*> nearest_causes(const FeatureMark& mark) {
  // Of many touches one cause a target is enough to say what is wrong: the one nearest to reaching.
  std::vector<const Cause*> nearest;
  const auto gap = [](const Cause& c) {
    return c.margin ? *c.margin : -std::numeric_limits<double>::infinity();
  };
  for (const TouchMark& touch : mark.touches) {
    for (const Cause& cause : touch.causes) {
      const auto known = std::find_if(nearest.begin(), nearest.end(), [&](const Cause* other) {
        return other->target == cause.target;
      });
      if (known == nearest.end()) {
        nearest.push_back(&cause);
      } else if (gap(cause) > gap(**known)) {
        *known = &cause;
      }
    }
  }
  return nearest;
}

std::vector<std::string> blocked_sentences(const Scene& scene, const FeatureMark& mark) {
  std::vector<std::string> sentences;
  for (const Cause* cause : nearest_causes(mark))
    sentences.push_back(cause_sentence(scene, *cause));
  return sentences;
}

namespace {

bool is_warned(const Plan& plan, WarningKind kind, FeatureId feature) {
  return std::any_of(plan.warnings.begin(), plan.warnings.end(), [&](const Warning& warning) {
    return warning.kind == kind &&
           std::count(warning.features.begin(), warning.features.end(), feature) > 0;
  });
}

/// Where the causes are seen from: a station's name, or a place.
std::string seen_from(const Scene& scene, const Plan& plan, const Stance& stance) {
  for (const PlannedStation& station : plan.stations) {
    if (stance_of(station) == stance) return station.name;
  }
  return fmt::format("({}) {}{}", place_text(scene, stance.at, step::kPlace), scene.units,
                     after_place(stance.up));
}

std::string reason_of(const Scene& scene, const Plan& plan, FeatureId feature) {
  if (is_warned(plan, WarningKind::lost_to_ties, feature))
    return "reached only from places that cannot be tied to the rest of the plan";
  if (is_warned(plan, WarningKind::unreached, feature)) return "reached from no candidate";
  if (!scene.features[feature.index].required) return "reached from no station of the plan";
  return "not reached";
}

}  // namespace

namespace {

/// "hidden-point device: mirror probe or hidden-point rod", as far as the scene has them.
std::string stylus_kinds(const Scene& scene) {
  const auto has = [&](bool is_mirror) {
    return std::any_of(scene.offset_styli.begin(), scene.offset_styli.end(),
                       [&](const OffsetStylus& stylus) {
                         return std::holds_alternative<MirrorStylus>(stylus) == is_mirror;
                       });
  };
  std::string words = "hidden-point device";
  if (has(true)) words += ": mirror probe";
  if (has(false)) words += has(true) ? " or hidden-point rod" : ": hidden-point rod";
  return words;
}

}  // namespace

BlockedText blocked_text(const Scene& scene, const Plan& plan, FeatureId feature) {
  BlockedText text;
  text.reason = reason_of(scene, plan, feature);
  for (const Unreached& unreached : plan.unreached) {
    if (unreached.feature != feature) continue;
    if (unreached.at) text.from = seen_from(scene, plan, {*unreached.at, unreached.up});
    text.causes = blocked_sentences(scene, unreached.mark);
    if (unreached.mark.touches.empty())
      text.causes.emplace_back("none of the targets that may be used can take it");
  }
  return text;
}

std::string reached_sentence(const Scene& scene, const Plan& plan) {
  std::size_t required = 0, reached = 0, further = 0, full = 0, stylus = 0, shared = 0;
  for (const PlannedFeature& planned : plan.features) {
    const bool is_required = scene.features[planned.feature.index].required;
    const bool is_reached = planned.verdict != Verdict::blocked;
    required += is_required ? 1 : 0;
    reached += is_required && is_reached ? 1 : 0;
    further += !is_required && is_reached ? 1 : 0;
    full += planned.verdict == Verdict::full_target ? 1 : 0;
    stylus += planned.verdict == Verdict::offset_stylus ? 1 : 0;
    shared += planned.stations.empty() ? 0 : 1;
  }
  std::string words = fmt::format("{} of {} reached", reached,
                                  counted(required, "required feature", "required features"));
  if (further > 0) words += fmt::format(", and {} not required", further);
  words += fmt::format("; {} by full target (SMR, ball reflector), {} by offset stylus ({}).", full,
                       stylus, stylus_kinds(scene));
  if (shared > 0)
    words += fmt::format(" {} {} taken by several stations together.", shared,
                         shared == 1 ? "of them is" : "of them are");
  return words;
}

std::string optimality_sentence(const Plan& plan) {
  const Optimality& o = plan.optimality;
  if (plan.stations.empty()) return "No station: no candidate reaches a required feature.";
  const std::string stations = counted(plan.stations.size(), "station", "stations");
  if (o.cost && o.status == ProofStatus::optimal)
    return fmt::format("{} at a cost of {}, proven the least over all candidates.", stations,
                       *o.cost);
  if (o.cost)
    return fmt::format(
        "{} at a cost of {}; at least {} is needed, so less may do: the proof was "
        "not finished.",
        stations, *o.cost, o.lower_bound);
  if (o.status == ProofStatus::optimal)
    return stations + ", proven the fewest over all candidates.";
  return fmt::format("{}; at least {} {} needed, so fewer may do: the proof was not finished.",
                     stations, o.lower_bound, o.lower_bound == 1 ? "is" : "are");
}

std::string candidates_sentence(const CandidateTally& tally) {
  std::string words = counted(static_cast<std::size_t>(tally.tried), "place", "places") +
                      " considered for the instrument";
  if (tally.body_collides > 0)
    words += fmt::format("; {} dropped where it would cut into a body", tally.body_collides);
  if (tally.inside_body > 0)
    words += fmt::format("; {} dropped as inside a closed body", tally.inside_body);
  if (tally.keep_out > 0) words += fmt::format("; {} dropped over a keep-out", tally.keep_out);
  if (tally.duplicate > 0) words += fmt::format("; {} dropped as given twice", tally.duplicate);
  return words + ".";
}

}  // namespace standpoint
