#include "planner/cover/cover_ties.h"

#include <algorithm>
#include <map>

namespace standpoint {
namespace {

/// The columns between `part` and the rest of the choice: those linked with `part` from which,
/// without passing another one of them, the rest can be reached.
Columns between(const CoverCore& core, const Columns& part, const Columns& chosen) {
  const std::vector<char> beside_part = core.graph->neighbours(part);
  std::vector<char> allowed(core.size());
  for (std::size_t c = 0; c < core.size(); ++c) allowed[c] = beside_part[c] == 0;
  for (const std::uint32_t column : part) allowed[column] = 0;
  LinkGraph::Walk walk(*core.graph, allowed);
  for (const std::uint32_t column : chosen) {
    if (allowed[column] != 0) walk.begin_at(column);
  }
  Columns beyond;
  while (const auto column = walk.next()) beyond.push_back(*column);
  const std::vector<char> beside_rest = core.graph->neighbours(beyond);
  Columns result;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    // Columns of the part itself are linked with the part, too; they are not linked with the rest.
    if (beside_part[c] != 0 && beside_rest[c] != 0) result.push_back(c);
  }
  return result;
}

/// For each part that remains without some columns, whether it is enough by itself.
std::vector<char> enough_parts(const CoverCore& core,
                               const std::vector<std::uint32_t>& part_number) {
  std::map<std::uint32_t, Columns> parts;
  for (std::uint32_t c = 0; c < core.size(); ++c) {
    if (part_number[c] != LinkGraph::kNone) parts[part_number[c]].push_back(c);
  }
  std::vector<char> enough;
  enough.reserve(parts.size());
  for (const auto& [number, columns] : parts) {
    enough.push_back(static_cast<char>(is_enough(core, columns)));
  }
  return enough;
}

}  // namespace

std::vector<ColumnCut> broken_ties(const CoverCore& core, const Columns& chosen) {
  std::vector<ColumnCut> cuts;
  for (const Columns& part : core.graph->parts_of(chosen)) {
    const Columns wall = between(core, part, chosen);
    std::vector<char> allowed(core.size(), 1);
    for (const std::uint32_t column : wall) allowed[column] = 0;
    const std::vector<std::uint32_t> number = core.graph->part_numbers(allowed);
    const std::vector<char> enough = enough_parts(core, number);
    if (std::count(enough.begin(), enough.end(), 1) == 0) {
      cuts.push_back({wall, {}, 1});
      continue;
    }
    if (enough[number[part.front()]] == 0) {
      for (const std::uint32_t column : part) cuts.push_back({wall, {column}, 0});
      continue;
    }
    for (const std::uint32_t other : chosen) {
      if (number[other] == number[part.front()]) continue;
      if (enough[number[other]] == 0) {
        cuts.push_back({wall, {other}, 0});
      } else {
        cuts.push_back({wall, {part.front(), other}, -1});
      }
    }
  }
  std::vector<ColumnCut> distinct;
  for (ColumnCut& cut : cuts) {
    if (std::find(distinct.begin(), distinct.end(), cut) == distinct.end()) {
      distinct.push_back(std::move(cut));
    }
  }
  return distinct;
}

}  // namespace standpoint
