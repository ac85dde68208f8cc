#include "planner/cover/cover_cuts.h"

#include <algorithm>

namespace standpoint {

std::vector<ColumnCut> open_row_cuts(const CoverCore& core, const Columns& chosen) {
  std::vector<ColumnCut> cuts;
  const std::vector<BitWord> touches = touched_together(core.shared, chosen);
  for (std::size_t row = 0; row < core.shared.rows.size(); ++row) {
    if (!core.shared.rows[row].is_needed || is_met(core.shared.rows[row], touches)) continue;
    for (const bool from_largest : {false, true}) {
      const std::vector<char> open =
          largest_open_set(core.shared, row, chosen, false, from_largest);
      ColumnCut cut{{}, {}, 1};
      for (std::uint32_t c = 0; c < core.size(); ++c) {
        if (open[c] == 0) cut.plus.push_back(c);
      }
      if (std::find(cuts.begin(), cuts.end(), cut) == cuts.end()) cuts.push_back(std::move(cut));
    }
  }
  return cuts;
}

std::vector<FullCut> false_full_cuts(const CoverCore& core, const Columns& chosen,
                                     const std::vector<std::size_t>& rows) {
  std::vector<FullCut> cuts;
  for (const std::size_t row : rows) {
    if (is_full(core.shared, row, chosen)) continue;
    for (const bool from_largest : {false, true}) {
      const std::vector<char> open = largest_open_set(core.shared, row, chosen, true, from_largest);
      FullCut cut{row, {}};
      for (std::uint32_t c = 0; c < core.size(); ++c) {
        // Who covers the row alone keeps it from being covered together.
        if (open[c] == 0 && !has_bit(core.shared.alone[c], row)) cut.plus.push_back(c);
      }
      if (std::find(cuts.begin(), cuts.end(), cut) == cuts.end()) cuts.push_back(std::move(cut));
    }
  }
  return cuts;
}

}  // namespace standpoint
