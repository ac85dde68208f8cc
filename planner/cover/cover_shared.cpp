#include "planner/cover/cover_shared.h"

#include <algorithm>
#include <cassert>
#include <numeric>

namespace standpoint {
namespace {

ConstBitSpan of_way(const SharedRow::Way& way, ConstBitSpan touches) {
  return touches.subspan(way.first, words_for(way.touches));
}

bool is_enough(const SharedRow::Way& way, ConstBitSpan touches) {
  const ConstBitSpan own = of_way(way, touches);
  const std::size_t count = count_bits(own);
  if (count < way.least) return false;
  return way.is_count || (*way.test)(own);
}

void add_to(std::vector<BitWord>& sum, ConstBitSpan more) {
  for (std::size_t w = 0; w < sum.size(); ++w) sum[w] |= more[w];
}

/// Whether, of one row, each column's touches by `inner` are touches by `outer` too.
bool is_way_within(const SharedRows& shared, const SharedRow::Way& inner,
                   const SharedRow::Way& outer) {
  if (inner.test != outer.test || inner.touches != outer.touches) return false;
  for (std::size_t c = 0; c < shared.touched.rows(); ++c) {
    if (!is_subset(of_way(inner, shared.touched[c]), of_way(outer, shared.touched[c])))
      return false;
  }
  return true;
}

/// The ways of a row that no other one makes needless; of equal ones the first stays.
std::vector<SharedRow::Way> needed_ways(const SharedRows& shared, const SharedRow& row,
                                        bool is_full_asked) {
  std::vector<SharedRow::Way> kept;
  for (const bool is_full : {true, false}) {  // a full way can stand for another, not the reverse
    for (const SharedRow::Way& way : row.ways) {
      if (way.is_full != is_full) continue;
      const auto stands_for = [&](const SharedRow::Way& other) {
        return is_way_within(shared, way, other);
      };
      if (std::any_of(kept.begin(), kept.end(), stands_for)) continue;
      std::erase_if(kept, [&](const SharedRow::Way& other) {
        return (!is_full_asked || way.is_full || !other.is_full) &&
               is_way_within(shared, other, way);
      });
      kept.push_back(way);
    }
  }
  return kept;
}

std::size_t count_in_row(const SharedRows& shared, const SharedRow& row, std::uint32_t column) {
  std::size_t most = 0;
  for (const SharedRow::Way& way : row.ways)
    most = std::max(most, count_bits(of_way(way, shared.touched[column])));
  return most;
}

/// Whether a column has touches of the row that are not among `touches`.
bool adds_to_row(const SharedRows& shared, const SharedRow& row, std::uint32_t column,
                 ConstBitSpan touches) {
  return std::any_of(row.ways.begin(), row.ways.end(), [&](const SharedRow::Way& way) {
    return !is_subset(of_way(way, shared.touched[column]), of_way(way, touches));
  });
}

void set_all(const SharedRow& row, BitSpan touches) {
  for (const SharedRow::Way& way : row.ways)
    for (std::size_t t = 0; t < way.touches; ++t) set_bit(touches, way.first * 64 + t);
}

}  // namespace

std::vector<BitWord> touched_together(const SharedRows& shared, const Columns& set) {
  std::vector<BitWord> sum(words_for(shared.touched.bits()), 0);
  if (shared.empty()) return sum;
  for (const std::uint32_t column : set) add_to(sum, shared.touched[column]);
  return sum;
}

bool is_met(const SharedRow& row, ConstBitSpan touches) {
  return std::any_of(row.ways.begin(), row.ways.end(),
                     [&](const SharedRow::Way& way) { return is_enough(way, touches); });
}

bool is_met_fully(const SharedRow& row, ConstBitSpan touches) {
  return std::any_of(row.ways.begin(), row.ways.end(), [&](const SharedRow::Way& way) {
    return way.is_full && is_enough(way, touches);
  });
}

bool are_met(const SharedRows& shared, ConstBitSpan touches) {
  return std::all_of(shared.rows.begin(), shared.rows.end(),
                     [&](const SharedRow& row) { return !row.is_needed || is_met(row, touches); });
}

bool is_full(const SharedRows& shared, std::size_t row, const Columns& set) {
  const auto has = [&](const BitMatrix& matrix) {
    return std::any_of(set.begin(), set.end(),
                       [&](std::uint32_t c) { return has_bit(matrix[c], row); });
  };
  if (has(shared.alone_fully)) return true;
  if (has(shared.alone)) return false;
  return is_met_fully(shared.rows[row], touched_together(shared, set));
}

int count_full(const SharedRows& shared, const Columns& set) {
  int count = 0;
  for (std::size_t row = 0; row < shared.rows.size(); ++row) count += is_full(shared, row, set);
  return count;
}

bool is_shared_no_better(const SharedRows& shared, std::uint32_t column, std::uint32_t by,
                         bool is_full_asked) {
  if (!is_subset(shared.touched[column], shared.touched[by])) return false;
  if (!is_full_asked) return true;
  const ConstBitSpan alone = shared.alone[column], fully = shared.alone_fully[column];
  const ConstBitSpan alone_by = shared.alone[by], fully_by = shared.alone_fully[by];
  for (std::size_t w = 0; w < alone.size(); ++w) {
    if ((fully[w] & ~fully_by[w]) != 0) return false;
    if ((alone_by[w] & ~fully_by[w] & ~(alone[w] & ~fully[w])) != 0) return false;
  }
  return true;
}

SharedRows part_of(const SharedRows& shared, const Columns& columns,
                   const std::vector<char>& row_kept, bool is_full_asked) {
  SharedRows part;
  if (shared.empty()) return part;
  std::vector<std::size_t> from_row;
  std::vector<std::pair<std::size_t, std::size_t>> from_word;  // first, count: in order
  std::size_t words = 0;
  for (std::size_t row = 0; row < shared.rows.size(); ++row) {
    if (row_kept[row] == 0) continue;
    from_row.push_back(row);
    SharedRow& kept = part.rows.emplace_back(shared.rows[row]);
    kept.ways = needed_ways(shared, shared.rows[row], is_full_asked);
    for (SharedRow::Way& way : kept.ways) {
      from_word.emplace_back(way.first, words_for(way.touches));
      way.first = words;
      words += words_for(way.touches);
    }
  }
  part.touched = BitMatrix(columns.size(), words * 64);
  part.alone = part.alone_fully = BitMatrix(columns.size(), part.rows.size());
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const ConstBitSpan from = shared.touched[columns[i]];
    auto to = part.touched[i].begin();
    for (const auto& [first, count] : from_word) {
      const ConstBitSpan own = from.subspan(first, count);
      to = std::copy(own.begin(), own.end(), to);
    }
    for (std::size_t row = 0; row < from_row.size(); ++row) {
      if (has_bit(shared.alone[columns[i]], from_row[row])) set_bit(part.alone[i], row);
      if (has_bit(shared.alone_fully[columns[i]], from_row[row])) set_bit(part.alone_fully[i], row);
    }
  }
  return part;
}

Columns necessary_columns(const SharedRows& shared) {
  const auto size = static_cast<std::uint32_t>(shared.touched.rows());
  std::vector<BitWord> once(words_for(shared.touched.bits()), 0), twice = once;
  for (std::uint32_t c = 0; c < size; ++c) {
    const ConstBitSpan own = shared.touched[c];
    for (std::size_t w = 0; w < own.size(); ++w) {
      twice[w] |= once[w] & own[w];
      once[w] |= own[w];
    }
  }
  Columns necessary;
  for (std::uint32_t c = 0; c < size; ++c) {
    std::vector<BitWord> others = once;  // without it goes what nobody else has
    const ConstBitSpan own = shared.touched[c];
    bool has_its_own = false;
    for (std::size_t w = 0; w < own.size(); ++w) {
      others[w] &= ~(own[w] & ~twice[w]);
      has_its_own = has_its_own || others[w] != once[w];
    }
    if (has_its_own && !are_met(shared, others)) necessary.push_back(c);
  }
  return necessary;
}

std::vector<char> largest_open_set(const SharedRows& shared, std::size_t row, const Columns& chosen,
                                   bool is_full_asked, bool from_largest) {
  const SharedRow& asked = shared.rows[row];
  const auto is_open = [&](ConstBitSpan touches) {
    return is_full_asked ? !is_met_fully(asked, touches) : !is_met(asked, touches);
  };
  std::vector<BitWord> touches = touched_together(shared, chosen);
  assert(is_open(touches));
  std::vector<char> open(shared.touched.rows(), 0);
  for (const std::uint32_t column : chosen) open[column] = 1;
  Columns rest;
  std::vector<std::size_t> size(open.size());
  for (std::uint32_t c = 0; c < open.size(); ++c) {
    if (open[c] != 0 || has_bit(shared.alone[c], row)) continue;
    size[c] = count_in_row(shared, asked, c);
    rest.push_back(c);
  }
  std::stable_sort(rest.begin(), rest.end(), [&](std::uint32_t a, std::uint32_t b) {
    return from_largest ? size[a] > size[b] : size[a] < size[b];
  });
  for (const std::uint32_t column : rest) {
    if (adds_to_row(shared, asked, column, touches)) {
      std::vector<BitWord> more = touches;
      add_to(more, shared.touched[column]);
      if (!is_open(more)) continue;
      touches = std::move(more);
    }
    open[column] = 1;
  }
  return open;
}

namespace {

/// The touches of one way that some columns of the problem have together.
std::vector<BitWord> together_by(const SharedWay& way, const Columns& columns) {
  std::vector<BitWord> sum(words_for(way.touches), 0);
  for (std::size_t i = 0; i < way.columns.size(); ++i) {
    if (std::binary_search(columns.begin(), columns.end(), way.columns[i]))
      add_to(sum, way.taken[i]);
  }
  return sum;
}

bool is_enough_by(const SharedWay& way, const Columns& columns) {
  const std::vector<BitWord> touches = together_by(way, columns);
  const std::size_t count = count_bits(touches);
  return count >= way.least && (way.is_count || (*way.is_enough)(touches));
}

}  // namespace

bool cover_together(const CoverProblem& problem, std::uint32_t row, const Columns& columns,
                    bool is_full_asked) {
  return std::any_of(problem.shared.begin(), problem.shared.end(), [&](const SharedWay& way) {
    return way.row == row && (way.is_full || !is_full_asked) && is_enough_by(way, columns);
  });
}

SharedRows make_shared_rows(const CoverProblem& problem, const Columns& columns,
                            std::vector<std::uint32_t>& number) {
  SharedRows shared;
  number.assign(problem.rows, UINT32_MAX);
  std::map<const TouchTest*, std::shared_ptr<const KnownEnough>> tests;
  std::vector<const SharedWay*> ways;  // in the order of their words
  std::size_t words = 0;
  for (const SharedWay& way : problem.shared) {
    const bool is_needed = problem.counts[way.row];
    // Of rows that do not count only the third aim asks. A way that is never enough may go.
    if ((!is_needed && !way.is_full) || !is_enough_by(way, columns)) continue;
    if (number[way.row] == UINT32_MAX) {
      number[way.row] = static_cast<std::uint32_t>(shared.rows.size());
      shared.rows.push_back({is_needed, {}});
    }
    auto& test = tests[way.is_enough.get()];
    if (!test) test = std::make_shared<KnownEnough>(way.is_enough);
    shared.rows[number[way.row]].ways.push_back(
        {words, way.touches, way.is_full, way.least, way.is_count, test});
    ways.push_back(&way);
    words += words_for(way.touches);
  }
  if (shared.empty()) return shared;
  shared.touched = BitMatrix(columns.size(), words * 64);
  shared.alone = shared.alone_fully = BitMatrix(columns.size(), shared.rows.size());
  std::size_t first = 0;
  for (const SharedWay* way : ways) {
    for (std::size_t i = 0; i < way->columns.size(); ++i) {
      const auto at = std::lower_bound(columns.begin(), columns.end(), way->columns[i]);
      if (at == columns.end() || *at != way->columns[i]) continue;
      const ConstBitSpan own = way->taken[i];
      std::copy(own.begin(), own.end(),
                shared.touched[static_cast<std::size_t>(at - columns.begin())].begin() +
                    static_cast<std::ptrdiff_t>(first));
    }
    first += words_for(way->touches);
  }
  for (std::size_t i = 0; i < columns.size(); ++i) {
    for (const std::uint32_t row : problem.covers[columns[i]]) {
      if (number[row] == UINT32_MAX) continue;
      set_bit(shared.alone[i], number[row]);
      set_all(shared.rows[number[row]], shared.touched[i]);
    }
    for (const std::uint32_t row : problem.fully[columns[i]])
      if (number[row] != UINT32_MAX) set_bit(shared.alone_fully[i], number[row]);
  }
  return shared;
}

}  // namespace standpoint
