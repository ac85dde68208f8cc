#pragma once

#include "planner/cover/cover_budget.h"
#include "planner/cover/cover_core.h"

namespace standpoint {

// Good choices without proof: where they meet a bound of cover_bounds.h, no program is needed.

/// A connected choice that is enough: grown greedily, then improved by taking parts out and growing
/// anew until the cost `bound` is reached, a fixed number of attempts is used up or the budget is
/// over (a choice is returned even then). The same core gives the same choice.
[[nodiscard]] Columns good_choice(const CoverCore& core, int bound, CoverBudget& budget);

/// A connected choice that is enough, from one that is enough but in several parts: joined by short
/// chains, then thinned. Precondition: the core is connected.
[[nodiscard]] Columns joined_choice(const CoverCore& core, const Columns& parts);

/// A connected choice that is enough, from any: joined by short chains, grown, then thinned.
/// Precondition: the core is connected.
[[nodiscard]] Columns completed_choice(const CoverCore& core, const Columns& some);

/// The choice that one exchange of an unforced column for one of equal cost makes of another one,
/// if any is connected, enough and of more full weight than `floor`; of these the one with the
/// most. The choice itself need not be connected. Precondition: it is enough.
[[nodiscard]] std::optional<Columns> exchanged_for_more(const CoverCore& core,
                                                        const Columns& choice, int floor);

/// A choice of equal cost with at least as many full rows: exchanges as long as they help.
/// Precondition: `choice` is connected and enough.
[[nodiscard]] Columns with_more_full_rows(const CoverCore& core, Columns choice,
                                          CoverBudget& budget);

}  // namespace standpoint
