#pragma once

#include <map>
#include <memory>
#include <vector>

#include "planner/cover/bits.h"
#include "planner/cover/cover.h"

namespace standpoint {

/// A set of columns, by their numbers in a core, ascending where nothing else is said.
using Columns = std::vector<std::uint32_t>;

/// A `TouchTest` with its answers remembered. Not to be shared between threads.
class KnownEnough {
 public:
  explicit KnownEnough(std::shared_ptr<const TouchTest> test) : test_(std::move(test)) {}

  [[nodiscard]] bool operator()(ConstBitSpan touches) const {
    const auto [known, is_new] = answers_.try_emplace({touches.begin(), touches.end()}, false);
    if (is_new) known->second = (*test_)(touches);
    return known->second;
  }

 private:
  std::shared_ptr<const TouchTest> test_;
  mutable std::map<std::vector<BitWord>, bool> answers_;
};

/// A row that columns may also cover together, each some of its touches, by one way throughout.
struct SharedRow {
  struct Way {
    std::size_t first = 0;    ///< word of SharedRows::touched at which its touches begin
    std::size_t touches = 0;  ///< how many
    bool is_full = false;     ///< by full target
    std::size_t least = 0;    ///< fewer touches are never enough
    bool is_count = false;    ///< `least` of them are always enough
    std::shared_ptr<const KnownEnough> test;
  };
  bool is_needed = true;  ///< it counts for the coverage
  std::vector<Way> ways;
};

/// The shared rows of a core. A column that covers such a row alone has all of its touches by every
/// way: so the row is covered exactly where the touches of all chosen columns, by some way, are
/// enough. For the third aim alone it matters who covers it alone.
struct SharedRows {
  std::vector<SharedRow> rows;
  BitMatrix touched;      ///< columns x touches; each way begins on a word
  BitMatrix alone;        ///< columns x rows: covers the row without another column
  BitMatrix alone_fully;  ///< of those, by full target

  [[nodiscard]] bool empty() const { return rows.empty(); }
};

/// The touches that some columns have together. O(columns x words).
[[nodiscard]] std::vector<BitWord> touched_together(const SharedRows& shared, const Columns& set);

/// Whether these touches are enough by one of the row's ways.
[[nodiscard]] bool is_met(const SharedRow& row, ConstBitSpan touches);
/// The same, by full ways alone.
[[nodiscard]] bool is_met_fully(const SharedRow& row, ConstBitSpan touches);
/// Whether all needed rows are met.
[[nodiscard]] bool are_met(const SharedRows& shared, ConstBitSpan touches);

/// Whether the row is covered by full target: by one column alone or, where none covers it alone,
/// by several together.
[[nodiscard]] bool is_full(const SharedRows& shared, std::size_t row, const Columns& set);
/// How many rows are.
[[nodiscard]] int count_full(const SharedRows& shared, const Columns& set);

/// Whether all that `column` has, `by` has; with `is_full_asked` also all that counts for the third
/// aim: `by` covers a row alone and not fully only where `column` does.
[[nodiscard]] bool is_shared_no_better(const SharedRows& shared, std::uint32_t column,
                                       std::uint32_t by, bool is_full_asked);

/// The rows of some columns (in that order), without the rows that are not kept. Ways of one test
/// whose touches another way has too are left out; of full ways only for another full one, where
/// `is_full_asked`.
[[nodiscard]] SharedRows part_of(const SharedRows& shared, const Columns& columns,
                                 const std::vector<char>& row_kept, bool is_full_asked);

/// The columns without which all others leave a needed row open.
[[nodiscard]] Columns necessary_columns(const SharedRows& shared);

/// The columns that have none of the row's touches, or only such that the row stays open: the set
/// grown from `chosen` as far as it goes, without who covers the row alone. With `is_full_asked`
/// only full ways count. Columns come by fewest touches, or with `from_largest` by most.
/// Precondition: `chosen` leaves the row open. One entry a column.
[[nodiscard]] std::vector<char> largest_open_set(const SharedRows& shared, std::size_t row,
                                                 const Columns& chosen, bool is_full_asked,
                                                 bool from_largest);

/// The shared rows of some of the problem's columns: those that some of them can cover together.
/// `number` becomes, for each row of the problem, its number here, or UINT32_MAX.
[[nodiscard]] SharedRows make_shared_rows(const CoverProblem& problem, const Columns& columns,
                                          std::vector<std::uint32_t>& number);

/// Whether these columns (of the problem, ascending) cover the row together by one way; with
/// `is_full_asked` by a full one.
[[nodiscard]] bool cover_together(const CoverProblem& problem, std::uint32_t row,
                                  const Columns& columns, bool is_full_asked);

}  // namespace standpoint
