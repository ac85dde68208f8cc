#include <algorithm>

#include <fmt/format.h>

#include "io/words/names.h"
#include "io/write/drawings/drawing_marks.h"
#include "io/write/drawings/plan_drawing.h"

namespace standpoint {
namespace {

/// One entry: a small drawing and what it means.
std::string entry(const std::string& drawing, std::string_view words) {
  return fmt::format(
      "<li><svg viewBox=\"0 0 34 14\" width=\"34\" height=\"14\" aria-hidden=\"true\">{}</svg>{}"
      "</li>\n",
      drawing, words);
}

std::string beam_and_mark(Verdict verdict) {
  return fmt::format("<path class=\"beam {}\" d=\"M0 7H34\"/>", verdict_class(verdict)) +
         verdict_mark(verdict, {17, 7});
}

std::string swatch(std::string_view kind) {
  return fmt::format("<path class=\"{}\" d=\"M2 2H32V12H2Z\"/>", kind);
}

}  // namespace

std::string drawing_legend(const Scene& scene, const Plan& plan) {
  const auto has_verdict = [&](Verdict verdict) {
    return std::any_of(plan.features.begin(), plan.features.end(),
                       [&](const PlannedFeature& f) { return f.verdict == verdict; });
  };
  const auto has_role = [&](BodyRole role) {
    return std::any_of(scene.bodies.begin(), scene.bodies.end(),
                       [&](const Body& body) { return body.role == role; });
  };
  std::string list = "<ul class=\"legend\">\n";
  if (!plan.stations.empty())
    list += entry(stand_from_above({17, 7}, 6),
                  "station: stand to scale, dot at the measuring centre (instrument centre)");
  if (has_verdict(Verdict::full_target))
    list +=
        entry(beam_and_mark(Verdict::full_target), "feature by full target (SMR), and its beam");
  if (has_verdict(Verdict::offset_stylus))
    list += entry(beam_and_mark(Verdict::offset_stylus),
                  "feature by offset stylus (hidden-point device), and its beam");
  if (has_verdict(Verdict::blocked))
    list += entry(verdict_mark(Verdict::blocked, {17, 7}), "feature that is blocked");
  if (!scene.nests.empty())
    list += entry("<path class=\"beam tie\" d=\"M0 7H34\"/>" + nest_mark({17, 7}),
                  "nest (reference nest), and beams to it");
  if (has_role(BodyRole::part)) list += entry(swatch("body part"), "part");
  if (has_role(BodyRole::fixture)) list += entry(swatch("body fixture"), "fixture");
  if (has_role(BodyRole::surroundings)) list += entry(swatch("body surroundings"), "surroundings");
  if (!scene.zones.empty()) list += entry(swatch("zone"), "zone for the instrument");
  if (!scene.keep_outs.empty())
    list += entry("<path class=\"keep-out\" d=\"M2 2H32V12H2ZM2 2L32 12M32 2L2 12\"/>",
                  "keep-out: no instrument stands over it");
  if (!scene.walkways.empty())
    list += entry(swatch("walkway"), "walkway; in the elevation, eye height over it");
  return list + "</ul>\n";
}

}  // namespace standpoint
