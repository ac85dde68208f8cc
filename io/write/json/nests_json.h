#pragma once

#include <string>
#include <vector>

#include "planner/crew/cautions.h"
#include "planner/planning/advice.h"
#include "standpoint/nests.h"

namespace standpoint {

/// What is proven of a choice of nests.
[[nodiscard]] ProofStatus proof_of(const NestChoice& choice);

/// What was bounded in the search, one sentence an entry; empty where nothing was.
[[nodiscard]] std::vector<std::string> bounded_sentences(const NestChoice& choice);

/// The text of nests.json (contract section 7), ending with a newline. `optimality.nests` and
/// `lower_bound` count the whole list `nests`: those that were there and the chosen sites.
[[nodiscard]] std::string nests_json(const NestChoice& choice, const Advice& advice,
                                     const Cautions& cautions);

}  // namespace standpoint
