#include "io/use/set_up_faults.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/read/text/json_value.h"
#include "io/words/motion_words.h"
#include "io/words/units.h"
#include "io/words/words.h"
#include "planner/model/tolerances.h"
#include "planner/model/touch.h"

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

/// What the row is about: the name of its nest or feature, and where that is what is wrong its
/// target or touch.
std::string value_of(const Scene& scene, const SeenRow& row, SetUpFaultKind kind) {
  if (row.nest) return short_text(scene.nests[row.nest->index].name);
  if (kind == SetUpFaultKind::no_way) return short_text(target_name(scene, row.target));
  if (kind == SetUpFaultKind::no_touch) return std::to_string(*row.touch + 1);
  return short_text(scene.features[row.feature.index].name);
}

/// The targets that can take the feature.
std::string takers(const Scene& scene, FeatureId feature) {
  std::vector<std::string> names;
  for (const TargetId target : all_targets(scene))
    if (!touch_sets(scene, scene.features[feature.index], target).empty())
      names.push_back(target_name(scene, target));
  return names.empty() ? "none of the scene can" : "these can: " + list_of(names);
}

/// What is asked of one row of a list that names features.
std::string row_words(const Scene& scene, const SeenRow& row, const SetUpFault& fault) {
  const std::string name = row.nest ? "" : scene.features[row.feature.index].name;
  switch (fault.kind) {
    case SetUpFaultKind::no_way:
      return fmt::format("a target that can take {}; {}", short_text(name),
                         takers(scene, row.feature));
    case SetUpFaultKind::no_touch:
      return fmt::format("a touch of {}, 1 to {} by {}", short_text(name), fault.touches,
                         short_text(target_name(scene, row.target)));
    default:
      return "the number of its touch in the column touch; its surface is not flat, and is known "
             "at its touches only";
  }
}

bool is_of_one_row(SetUpFaultKind kind) {
  return kind == SetUpFaultKind::no_way || kind == SetUpFaultKind::no_touch ||
         kind == SetUpFaultKind::needs_touch;
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
    case SetUpFaultKind::motion_free:
      return "readings that hold the set-up; it is free to " + motions_words(scene, fault.free);
    default:
      break;  // of one row: see row_words
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

Faults part_set_up_faults(const Scene& scene, const MeasuredNests& read,
                          const std::vector<SetUpFault>& faults) {
  Faults told;
  for (const SetUpFault& fault : faults) {
    std::vector<std::string> lines, names;
    for (const std::size_t i : fault.seen) {
      lines.push_back(std::to_string(read.row_lines[i]));
      const std::string name = value_of(scene, read.rows[i], fault.kind);
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    told.push_back(
        {lines.empty() ? read.file : fmt::format("{}:{}", read.file, fmt::join(lines, ",")),
         names.empty() ? counted(read.rows.size(), "reading", "readings") : list_of(names),
         is_of_one_row(fault.kind) ? row_words(scene, read.rows[fault.seen.front()], fault)
                                   : allowed_words(scene, fault),
         FaultKind::other, ""});
  }
  return told;
}

}  // namespace standpoint
