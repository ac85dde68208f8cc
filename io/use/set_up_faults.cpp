#include "io/use/set_up_faults.h"

#include <cmath>

#include <fmt/format.h>

#include "io/read/text/json_value.h"
#include "io/words/units.h"
#include "io/words/words.h"
#include "planner/model/tolerances.h"

namespace standpoint {
namespace {

/// The unit that the file was written in, where scene lengths are `scale` times those read.
std::string unit_words(const Scene& scene, double scale) {
  for (std::size_t i = 0; i < kUnitNames.size(); ++i) {
    if (std::abs(scale * scene.mm_per_unit / kMmPerUnit[i] - 1) < tolerance::kUnitSlack)
      return fmt::format("; the file looks as if it were in {}", kUnitNames[i]);
  }
  return "";
}

std::string nest_of(const Scene& scene, const SeenNest& seen) {
  return seen.nest.index < scene.nests.size() ? scene.nests[seen.nest.index].name : "";
}

std::string allowed_words(const Scene& scene, const SetUpFault& fault) {
  switch (fault.kind) {
    case SetUpFaultKind::too_few:
      return "three nests or more, not in one line";
    case SetUpFaultKind::unknown_nest:
      return "the name of a nest of the scene";
    case SetUpFaultKind::repeated_nest:
      return "each nest once";
    case SetUpFaultKind::at_instrument:
      return "a place other than 0,0,0, which is the measuring centre itself";
    case SetUpFaultKind::in_line:
      return "nests that are not in one line: about a line the set-up could turn";
    case SetUpFaultKind::wrong_units:
      return fmt::format(
          "places in the scene's units, {}; these fit the scene's nests when multiplied by "
          "{:.4g}{}",
          scene.units, fault.scale, unit_words(scene, fault.scale));
    case SetUpFaultKind::mirrored:
      return "places in a right-handed frame; these fit the scene's nests only in a mirror (one "
             "axis "
             "has the wrong sign, or two are exchanged)";
    case SetUpFaultKind::swapped_names:
      return "each name at the place of its nest; all nests fit when these two exchange their "
             "names";
  }
  return "";
}

}  // namespace

Faults set_up_faults(const Scene& scene, const MeasuredNests& read,
                     const std::vector<SetUpFault>& faults) {
  Faults told;
  for (const SetUpFault& fault : faults) {
    std::vector<std::string> lines, names;
    for (const std::size_t i : fault.seen) {
      lines.push_back(std::to_string(read.lines[i]));
      names.push_back(short_text(nest_of(scene, read.seen[i])));
    }
    const bool is_about_all = names.empty() || fault.kind == SetUpFaultKind::too_few;
    told.push_back(
        {lines.empty() ? read.file : fmt::format("{}:{}", read.file, fmt::join(lines, ",")),
         is_about_all ? counted(read.seen.size(), "nest", "nests") : list_of(names),
         allowed_words(scene, fault), FaultKind::other, ""});
  }
  return told;
}

}  // namespace standpoint
