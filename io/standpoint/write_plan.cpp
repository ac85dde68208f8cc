#include "standpoint/write_plan.h"

#include <utility>

#include "io/use/plan_scene.h"
#include "io/write/files/plan_files.h"

namespace standpoint {

tl::expected<void, std::string> write_plan(const std::filesystem::path& folder, const Cell& cell,
                                           const Plan& plan, const Watch& watch) {
  Attendant attendant;
  attendant.watch.interrupted = watch.interrupted;
  attendant.watch.time_limit_s = watch.time_limit_s;
  const auto answer = look_into_plan(cell, plan, attendant);
  if (!answer) return tl::unexpected(answer.error().reason);
  if (auto failed = write_together(folder, plan_files(*answer)))
    return tl::unexpected(std::move(*failed));
  return {};
}

}  // namespace standpoint
