#pragma once

#include <iosfwd>

#include "planner/why/diagnosis.h"

namespace standpoint {

/// Prints a diagnosis for people: what is in the way, how badly, and the cures.
void print_why(const Scene& scene, const Diagnosis& diagnosis, std::ostream& out);

}  // namespace standpoint
