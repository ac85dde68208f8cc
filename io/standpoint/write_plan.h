#pragma once

#include <filesystem>
#include <string>

#include <tl/expected.hpp>

#include "standpoint/cell.h"
#include "standpoint/plan.h"

/// \file
/// From a plan to its files.

namespace standpoint {

/// Writes plan.json, stations.csv, touches.csv and page.html (contract section 5) into `folder`,
/// which is made where it is missing: all four or none. Files of these names are replaced; a reader
/// sees the old or the new content of each, never a part. The bytes are those of the command
/// `standpoint plan`.
///
/// The files also tell what the plan hangs on (each nest knocked off, one nest or station more) and
/// what to take care of. Both are worked out here, on all cores; this can take as long as the plan
/// did. `watch` may call it off; of `watch.progress` nothing is told.
///
/// Precondition: `plan` is a plan of `cell`, as make_plan gives it. Failure: one plain sentence
/// without its full stop, such as "interrupted" or what the disk says; nothing was written then.
/// Throws std::bad_alloc. Safe to call from many threads with different folders. POSIX.
[[nodiscard]] tl::expected<void, std::string> write_plan(const std::filesystem::path& folder,
                                                         const Cell& cell, const Plan& plan,
                                                         const Watch& watch = {});

}  // namespace standpoint
