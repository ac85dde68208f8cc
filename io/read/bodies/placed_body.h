#pragma once

#include "io/read/bodies/body_reader.h"

namespace standpoint {

/// Brings a body's vertices from its file's coordinates to where its `placement` puts them, mm, and
/// takes their box into its report. O(n).
void place_vertices(ReadBody& body);

}  // namespace standpoint
