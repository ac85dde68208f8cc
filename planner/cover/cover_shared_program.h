#pragma once

#include <cstdint>
#include <vector>

#include "planner/cover/cover_cuts.h"
#include "planner/cover/cover_program.h"

namespace standpoint {

// Shared rows in the integer programs. Variables 0..size-1 of a program are the core's columns.

/// Adds for each needed shared row: a variable for each way, one of which must be 1 where no chosen
/// column covers the row alone, and then at least `SharedRow::Way::least` touches must be had by
/// chosen columns. Exact where ways are decided by count; else it asks less than is needed, and
/// `open_row_cuts` bring what is left. Of a way with more than a fixed number of terms nothing is
/// asked.
void ask_for_touches(BinaryProgram& program, const CoverCore& core);

/// The variables of the shared rows in the third aim.
struct SharedFullRows {
  std::vector<std::uint32_t> is_full;  ///< of each row: may be 1 where it is covered fully
  /// Of each row: 1 where it is said to be covered fully by several columns together. UINT32_MAX
  /// for a row without a full way.
  std::vector<std::uint32_t> is_together;
};

/// Adds them, and that a row is full where a chosen column covers it fully alone, or where several
/// do together and no chosen one covers it alone; with the cuts known so far.
SharedFullRows ask_for_shared_full_rows(BinaryProgram& program, const CoverCore& core,
                                        const std::vector<FullCut>& cuts);

/// The rows that a solution says to be covered fully together.
[[nodiscard]] std::vector<std::size_t> rows_said(const std::vector<std::uint32_t>& is_together,
                                                 const std::vector<char>& values);

}  // namespace standpoint
