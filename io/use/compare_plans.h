#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "io/read/plan/plan_record.h"
#include "io/use/answered.h"
#include "io/use/request.h"

namespace standpoint {

// What changed from one plan to another (contract section 8). Features go by their names, stations
// by their places. Indices are those of the record of the side that is named. Lengths mm.

/// A station that both plans have: in the same place, or moved.
struct KeptStation {
  std::size_t before = 0, after = 0;
  double moved = 0;  ///< how far
  bool is_moved = false;
  bool is_renamed = false;
  bool is_turned = false;  ///< the instrument stands in another way
};

/// A feature that both plans measure, differently. At least one flag is true.
struct FeatureChange {
  std::size_t before = 0, after = 0;
  bool verdict = false;      ///< full target against offset stylus
  bool station = false;      ///< from a station that stands elsewhere; not for a mere new name
  bool target = false;       ///< with another target
  bool margin = false;       ///< by kMarginChange or more; also from or to no body anywhere
  bool uncertainty = false;  ///< by kUncertaintyChange or more; also from or to none predicted
};

/// A link between stations that are linked in both plans, over other nests.
struct LinkChange {
  std::size_t before = 0, after = 0;
  std::vector<std::string> lost, gained;  ///< nests
};

struct Comparison {
  // Names, in the order of the plan that measures them.
  std::vector<std::string> gained;                   ///< measured after, not before
  std::vector<std::string> lost;                     ///< measured before, not after
  std::vector<std::string> only_before, only_after;  ///< the other plan does not have them
  std::vector<FeatureChange> changed;                ///< in the order of the plan before
  std::vector<KeptStation> kept;                     ///< in the order of the plan before
  std::vector<std::size_t> removed, added;           ///< stations
  std::vector<std::size_t> lost_links, gained_links;
  std::vector<LinkChange> changed_links;
};

/// Compares two plans. Stations are matched in this order: those within kSamePlace of each other,
/// nearest first; fixed places of the same name; those within kFarthestMove, nearest first. Equal
/// distances go by the order of the plans. O(s² log s + n log n) for s stations and n features.
[[nodiscard]] Comparison compare(const PlanRecord& before, const PlanRecord& after);

/// Whether links connect all stations; true for one station or none.
[[nodiscard]] bool is_tied(const PlanRecord& plan);

/// A feature that the plan measures.
[[nodiscard]] inline bool is_measured(const PlanRecord::Feature& feature) {
  return feature.verdict != Verdict::blocked;
}

/// `compare`: two plans, and what changed from the first to the second.
struct CompareAnswer {
  PlanRecord before, after;
  Comparison comparison;
};

/// Reads both plans and compares them. Faults: those of both files; two plans that have no feature
/// in common.
[[nodiscard]] Answered<CompareAnswer> compare_plans(const Request& request);

}  // namespace standpoint
