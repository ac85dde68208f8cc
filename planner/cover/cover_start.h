#pragma once

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_core.h"

namespace standpoint {

// Good choices without proof, and bounds without programs: where they meet, no program is needed.

/// No choice has fewer columns than this: the greater of two bounds. Rows that no column has in
/// common need a column each (times need); and k columns cover no more than the k largest do.
[[nodiscard]] int least_columns(const CoverCore& core);

/// A connected choice that is enough: grown greedily, then improved by taking parts out and growing
/// anew until `bound` columns are reached, a fixed number of attempts is used up or the budget is
/// over (a choice is returned even then). The same core gives the same choice.
[[nodiscard]] Columns good_choice(const CoverCore& core, int bound, CoverBudget& budget);

/// A connected choice that is enough, from one that is enough but in several parts: joined by short
/// chains, then thinned. Precondition: the core is connected.
[[nodiscard]] Columns joined_choice(const CoverCore& core, const Columns& parts);

/// The choice that one exchange of an unforced column makes of another one, if any is connected,
/// enough and of more full weight than `floor`; of these the one with the most. The choice itself
/// need not be connected. Precondition: it is enough.
[[nodiscard]] std::optional<Columns> exchanged_for_more(const CoverCore& core,
                                                        const Columns& choice, int floor);

/// A choice of as many columns with at least as many full rows: exchanges as long as they help.
/// Precondition: `choice` is connected and enough.
[[nodiscard]] Columns with_more_full_rows(const CoverCore& core, Columns choice,
                                          CoverBudget& budget);

}  // namespace standpoint
