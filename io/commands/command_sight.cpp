#include <algorithm>
#include <ostream>

#include <nlohmann/json.hpp>

#include "io/answers/measured_json.h"
#include "io/answers/measured_words.h"
#include "io/answers/sight_json.h"
#include "io/answers/sight_text.h"
#include "io/answers/standing_place.h"
#include "io/commands/commands.h"
#include "io/scene/read_scene.h"
#include "planner/cell.h"
#include "planner/reach/sight.h"

namespace standpoint {
namespace {

bool is_something_required_blocked(const Scene& scene, const Sight& sight) {
  return std::any_of(sight.features.begin(), sight.features.end(), [&](const FeatureMark& mark) {
    return scene.features[mark.feature.index].required && mark.verdict == Verdict::blocked;
  });
}

std::vector<Verdict> verdicts_of(const Sight& sight) {
  std::vector<Verdict> verdicts;
  for (const FeatureMark& mark : sight.features) verdicts.push_back(mark.verdict);
  for (const NestMark& nest : sight.nests) verdicts.push_back(nest.mark.verdict);
  return verdicts;
}

}  // namespace

Exit sight_command(const Request& request, const Console& console) {
  const auto read = read_scene(request.scene);
  if (!read) return tell_faults(read.error(), request.json, console);
  const Scene& scene = read->scene;
  auto place = standing_place(request, scene);
  if (!place) return tell_faults(place.error(), request.json, console);
  if (console.is_interrupted()) return tell_failure("interrupted", console);

  const Cell cell(scene);
  const Sight sight = look_from(cell, place->at);
  if (place->planned)
    place->planned->effect =
        compare(scene, verdicts_from(cell, place->planned->at), verdicts_of(sight));
  if (console.is_interrupted()) return tell_failure("interrupted", console);
  if (request.json) {
    console.out << (place->measured ? sight_json(scene, sight, json::measured(scene, *place))
                                    : sight_json(scene, sight));
  } else if (!request.quiet) {
    print_measured(scene, *place, console.out);
    print_sight(scene, sight, console.out);
  }
  return is_something_required_blocked(scene, sight) ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
