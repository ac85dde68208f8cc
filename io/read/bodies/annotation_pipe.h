#pragma once

#include "io/read/bodies/pipe_words.h"
#include "planner/part/annotation.h"

namespace standpoint {

/// Writes annotation to a pipe, as read_annotation_from takes it.
void write_annotation(const Annotation& annotation, PipeWriter& out);

/// Reads what write_annotation wrote. `in.ok()` is false where the writer ended before, or where a
/// choice is out of range: the writer may have died with its memory in disorder. Throws as
/// PipeReader does.
[[nodiscard]] Annotation read_annotation_from(PipeReader& in);

}  // namespace standpoint
