#pragma once

#include "io/use/find_features.h"
#include "io/words/json_parts.h"

namespace standpoint {

/// Adds what the files say of tolerances to the object that `features --json` prints
/// (docs/annotation.md): "annotation", with the counts of geometric tolerances read and not read;
/// and "tolerances", "datums" and "dimensions", each entry with its file. Lengths in mm, angles in
/// degrees.
void add_annotation(const FeaturesAnswer& answer, Json& object);

}  // namespace standpoint
