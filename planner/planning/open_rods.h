#pragma once

#include <functional>
#include <vector>

#include "planner/cover/cover.h"
#include "planner/stations/open_cells.h"
#include "planner/stations/reach_table.h"
#include "planner/stations/ties.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"

namespace standpoint {

/// Asks by rods for what a choice of stations rests on, of a table that leaves them open, and for
/// nothing else (docs/stations.md, "Rods"). Does nothing where the table leaves nothing open.
class OpenRods {
 public:
  struct Asked {
    const Cell& cell;
    const std::vector<Candidate>& candidates;
    const Ties& ties;
    const Watch& watch;
  };
  /// All must outlive it.
  OpenRods(const Asked& asked, ReachTable& table) : asked_(asked), table_(table) {}

  /// The choice of `solve_stations`, of which nothing that it covers features by is open any more:
  /// it is the best of the table with everything asked for, too. Where time runs out it may be
  /// solved twice. Exponential at worst, as that is.
  [[nodiscard]] CoverSolution solve();

  /// Afterwards the table has no set equal to `chosen` that is not one, and of those that are
  /// nothing is open that a full target does not decide.
  void ask_for_equal_sets(std::vector<CandidateId> chosen,
                          const std::function<bool(const std::vector<CandidateId>&)>& is_tied);

  /// Afterwards nothing is open of the required features that `chosen` does not take as often as
  /// asked.
  void ask_for_unreached(const std::vector<CandidateId>& chosen);

  void ask_all();

 private:
  [[nodiscard]] bool is_any_open() const;
  [[nodiscard]] int times_taken(const std::vector<CandidateId>& set, FeatureId feature) const;
  [[nodiscard]] std::vector<FeatureId> lost_when_asked(const std::vector<CandidateId>& chosen);
  void ask(Cells cells) {
    ask_open(asked_.cell, asked_.candidates, std::move(cells), asked_.watch, table_);
  }

  Asked asked_;
  ReachTable& table_;
};

}  // namespace standpoint
