#pragma once

#include <optional>
#include <vector>

#include "planner/stations/reach_table.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

// What a table of reach leaves open at first (`Rods::later`), and how it is asked for.

/// All targets of the scene but its two-ball styli, in order.
[[nodiscard]] std::vector<TargetId> targets_but_rods(const Scene& scene);

/// The first rod that the feature allows, where it is asked for later: the feature may not be
/// split, and allows something else. Nothing where all is asked for at once.
[[nodiscard]] std::optional<TargetId> first_rod_left(const Scene& scene, FeatureId feature);

/// For each feature some of the candidates.
using Cells = std::vector<std::vector<CandidateId>>;

/// Asks for those of `cells` that are open, each once, over all cores: they are taken by stylus
/// then, or blocked, as if all had been asked for at once. Returns early when `watch` is
/// interrupted.
void ask_open(const Cell& cell, const std::vector<Candidate>& candidates, Cells cells,
              const Watch& watch, ReachTable& table);

/// Every cell of these features.
[[nodiscard]] Cells rows_of(const ReachTable& table, const std::vector<FeatureId>& features);

/// Every cell there is.
[[nodiscard]] Cells all_cells(const ReachTable& table);

}  // namespace standpoint
