#include "planner/cover/cover_shared_program.h"

#include <algorithm>
#include <map>

namespace standpoint {
namespace {

/// Terms of one way beyond which it is left to the cuts: the program's relaxation,
/// solved anew with each cut, would cost more than the touches save.
constexpr std::size_t kMostTerms = 100000;

BinaryProgram::Terms columns_with(const BitMatrix& matrix, std::size_t row) {
  BinaryProgram::Terms terms;
  for (std::uint32_t c = 0; c < matrix.rows(); ++c) {
    if (has_bit(matrix[c], row)) terms.push_back({c, 1});
  }
  return terms;
}

/// The columns that have a touch, with how many touches they have in common.
using TouchClasses = std::map<Columns, int>;

TouchClasses touch_classes(const SharedRows& shared, std::size_t row, const SharedRow::Way& way) {
  std::vector<Columns> by_touch(way.touches);
  std::size_t terms = 0;
  for (std::uint32_t c = 0; c < shared.touched.rows(); ++c) {
    if (has_bit(shared.alone[c], row)) continue;
    for_each_bit(shared.touched[c].subspan(way.first, words_for(way.touches)), [&](std::size_t t) {
      by_touch[t].push_back(c);
      ++terms;
    });
  }
  TouchClasses classes;
  if (terms > kMostTerms) return classes;
  for (Columns& columns : by_touch) {
    if (!columns.empty()) ++classes[std::move(columns)];
  }
  return classes;
}

void ask_for_way(BinaryProgram& program, const TouchClasses& classes, std::size_t least,
                 std::uint32_t is_taken) {
  if (classes.empty()) return;
  BinaryProgram::Terms count{{is_taken, -static_cast<int>(least)}};
  for (const auto& [columns, touches] : classes) {
    const std::uint32_t is_had = program.add_variable(0);
    count.push_back({is_had, touches});
    BinaryProgram::Terms terms{{is_had, -1}};
    for (const std::uint32_t c : columns) terms.push_back({c, 1});
    program.add_row(std::move(terms), 0, BinaryProgram::kNoBound);
  }
  program.add_row(std::move(count), 0, BinaryProgram::kNoBound);
}

}  // namespace

void ask_for_touches(BinaryProgram& program, const CoverCore& core) {
  for (std::size_t row = 0; row < core.shared.rows.size(); ++row) {
    if (!core.shared.rows[row].is_needed) continue;
    BinaryProgram::Terms one_of = columns_with(core.shared.alone, row);
    for (const SharedRow::Way& way : core.shared.rows[row].ways) {
      const std::uint32_t is_taken = program.add_variable(0);
      one_of.push_back({is_taken, 1});
      ask_for_way(program, touch_classes(core.shared, row, way), way.least, is_taken);
    }
    program.add_row(std::move(one_of), 1, BinaryProgram::kNoBound);
  }
}

SharedFullRows ask_for_shared_full_rows(BinaryProgram& program, const CoverCore& core,
                                        const std::vector<FullCut>& cuts) {
  SharedFullRows full;
  for (std::size_t row = 0; row < core.shared.rows.size(); ++row) {
    const std::vector<SharedRow::Way>& ways = core.shared.rows[row].ways;
    BinaryProgram::Terms reasons = columns_with(core.shared.alone_fully, row);
    full.is_full.push_back(program.add_variable(-1));
    full.is_together.push_back(UINT32_MAX);
    if (std::any_of(ways.begin(), ways.end(), [](const auto& way) { return way.is_full; })) {
      const std::uint32_t is_together = full.is_together.back() = program.add_variable(0);
      reasons.push_back({is_together, 1});
      // Who covers the row alone, and not fully, keeps it from being covered together.
      BinaryProgram::Terms by_stylus;
      for (std::uint32_t c = 0; c < core.size(); ++c) {
        if (has_bit(core.shared.alone[c], row) && !has_bit(core.shared.alone_fully[c], row))
          by_stylus.push_back({c, 1});
      }
      const auto count = static_cast<int>(by_stylus.size());
      by_stylus.push_back({is_together, count});
      if (count > 0) program.add_row(std::move(by_stylus), -BinaryProgram::kNoBound, count);
    }
    reasons.push_back({full.is_full.back(), -1});
    program.add_row(std::move(reasons), 0, BinaryProgram::kNoBound);
  }
  for (const FullCut& cut : cuts) {
    BinaryProgram::Terms terms{{full.is_together[cut.row], -1}};
    for (const std::uint32_t c : cut.plus) terms.push_back({c, 1});
    program.add_row(std::move(terms), 0, BinaryProgram::kNoBound);
  }
  return full;
}

std::vector<std::size_t> rows_said(const std::vector<std::uint32_t>& is_together,
                                   const std::vector<char>& values) {
  std::vector<std::size_t> rows;
  for (std::size_t row = 0; row < is_together.size(); ++row) {
    if (is_together[row] != UINT32_MAX && values[is_together[row]] != 0) rows.push_back(row);
  }
  return rows;
}

}  // namespace standpoint
