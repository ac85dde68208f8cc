#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include <tl/expected.hpp>

#include "io/read/text/fault.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// What a plan file says, before it is looked at in its scene. Lengths mm.
struct ReadPlan {
  struct Station {
    std::string name;
    Vec3 at;
    Vec3 up = Vec3::UnitZ();  ///< the instrument's standing axis
  };
  struct Feature {
    FeatureId feature;
    std::optional<StationId> station;
    std::vector<StationId> stations;  ///< that take it together
    std::optional<TargetId> target;
    std::string where;  ///< its JSON pointer, after "FILE#" where it was read from a file
  };
  std::vector<Station> stations;
  std::vector<Feature> features;  ///< each of the scene's at most once
  std::vector<Nest> sites;        ///< of a nests.json: nests that the scene does not have yet
};

/// Reads plan.json (contract section 5), or nests.json with the plan in it, for `scene`: format,
/// version, the scene's name where it is there, units, each station's `name`, `at` and, where
/// the instrument does not stand upright, `up`, each
/// feature's `name`, `station`, `stations` and `target`; of nests.json the `sites` too. Other keys
/// are passed over. Every fault is told at once: what is missing or of the wrong type, names that
/// the scene or the plan does not have, names that stand twice, another unit than the scene's.
[[nodiscard]] tl::expected<ReadPlan, Faults> parse_plan(const std::string& text,
                                                        const Scene& scene);

/// `parse_plan` on a file; every fault tells it: "plan.json#/stations/0/at".
[[nodiscard]] tl::expected<ReadPlan, Faults> read_plan(const std::filesystem::path& file,
                                                       const Scene& scene);

/// Looks from the plan's stations again, in `cell`, whose scene has the plan's sites as nests: the
/// plan with its sights, without uncertainty, links or warnings. A fault for each feature that its
/// station or target no longer reaches, or its stations together: the plan is of another scene.
[[nodiscard]] tl::expected<Plan, Faults> look_again(const Cell& cell, const ReadPlan& read);

}  // namespace standpoint
