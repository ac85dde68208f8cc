#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tl/expected.hpp>

#include "geometry/vec.h"
#include "io/read/text/fault.h"
#include "standpoint/sight.h"

namespace standpoint {

/// What a plan file says, read without its scene: names stay as they stand there. Lengths mm.
struct PlanRecord {
  struct Station {
    std::string name;  ///< no other station has it
    Vec3 at = Vec3::Zero();
    std::optional<std::string> zone;  ///< none: a fixed place
    Vec3 up = Vec3::UnitZ();          ///< the instrument's standing axis
  };
  struct Feature {
    std::string name;  ///< no other feature has it
    bool required = true;
    Verdict verdict = Verdict::blocked;
    /// Indices into `stations`: the one whose figures these are first, then the others that measure
    /// it too. Empty where it is not measured.
    std::vector<std::size_t> stations;
    bool is_shared = false;  ///< these stations take it together, none of them alone
    std::optional<std::string> target;
    std::optional<double> margin;    ///< none where the file has null
    std::optional<double> expanded;  ///< expanded uncertainty; none where none is predicted
  };
  struct Link {
    std::size_t a = 0, b = 0;  ///< indices into `stations`
    std::vector<std::string> nests;
  };
  std::string scene;  ///< its name; empty where the file has none
  std::string units;  ///< those of the file
  double mm_per_unit = 1;
  std::vector<Station> stations;
  std::vector<Feature> features;
  std::vector<Link> links;
};

/// Reads plan.json (contract section 5), or the plan in a nests.json. Needed are `format`,
/// `version`, `units`, the stations' `name` and `at`, and the features' `name` and `verdict`; of
/// the rest only what is there is read, and keys of others are passed over. Every fault is told at
/// once, with its JSON pointer: what is missing or of the wrong type, names that stand twice,
/// stations that the plan does not have. Pure. O(n log n) for n bytes.
[[nodiscard]] tl::expected<PlanRecord, Faults> parse_plan_record(const std::string& text);

/// `parse_plan_record` on a file; every fault tells it: "plan.json#/stations/0/at".
[[nodiscard]] tl::expected<PlanRecord, Faults> read_plan_record(const std::filesystem::path& file);

}  // namespace standpoint
