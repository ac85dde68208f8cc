#include <algorithm>
#include <ostream>

#include <nlohmann/json.hpp>

#include "io/cli/commands.h"
#include "io/cli/progress.h"
#include "io/use/look.h"
#include "io/write/json/measured_json.h"
#include "io/write/json/sight_json.h"
#include "io/write/text/sight_text.h"
#include "io/write/words/measured_words.h"

namespace standpoint {
namespace {

bool is_something_required_blocked(const Scene& scene, const Sight& sight) {
  return std::any_of(sight.features.begin(), sight.features.end(), [&](const FeatureMark& mark) {
    return scene.features[mark.feature.index].required && mark.verdict == Verdict::blocked;
  });
}

}  // namespace

Exit sight_command(const Request& request, const Console& console) {
  ProgressLine progress(console.err, false);
  const auto answer = look(request, attendant_at(console, progress));
  if (!answer) return tell_no_answer(answer.error(), request.json, console);
  const Scene& scene = answer->cell.scene();
  if (request.json) {
    console.out << (answer->place.measured
                        ? sight_json(scene, answer->sight, json::measured(scene, answer->place))
                        : sight_json(scene, answer->sight));
  } else if (!request.quiet) {
    print_measured(scene, answer->place, console.out);
    print_sight(scene, answer->sight, console.out);
  }
  return is_something_required_blocked(scene, answer->sight) ? Exit::blocked : Exit::done;
}

}  // namespace standpoint
