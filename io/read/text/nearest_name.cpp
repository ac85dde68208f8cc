#include "io/read/text/nearest_name.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdint>
#include <cstdlib>
#include <tuple>
#include <vector>

namespace standpoint {
namespace {

// Names longer than this get no hint by edits: a hint is not worth the time.
constexpr std::size_t kLongest = 40;

std::string squeezed(std::string_view name) {
  std::string out;
  for (const char c : name) {
    if (c == '-' || c == '_' || c == ' ') continue;
    out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return out;
}

/// Edits that turn `a` into `b`, a swap of neighbours being one: optimal string alignment (the
/// restricted form of Damerau's distance; the recurrence is the textbook one).
int edits_between(std::string_view a, std::string_view b) {
  std::array<std::array<int, kLongest + 1>, 3> rows{};
  for (std::size_t j = 0; j <= b.size(); ++j) rows[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    auto& row = rows[i % 3];
    const auto& above = rows[(i + 2) % 3];
    const auto& above_that = rows[(i + 1) % 3];
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int replaced = above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, replaced});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], above_that[j - 2] + 1);
    }
  }
  return rows[a.size() % 3][b.size()];
}

/// Among equally few edits: the longer the same beginning, the nearer; then the nearer the first
/// characters that differ, so that of pad-1 to pad-8 the last is nearest to pad-9.
struct Nearness {
  int edits = 0;
  std::size_t unlike = 0;  ///< characters of the wanted name after the same beginning
  int step = 0;            ///< between the first two characters that differ

  [[nodiscard]] bool is_less_than(const Nearness& other) const {
    return std::tie(edits, unlike, step) < std::tie(other.edits, other.unlike, other.step);
  }
};

Nearness nearness(const std::string& wanted, const std::string& candidate) {
  Nearness result{edits_between(wanted, candidate), 0, 0};
  const auto [w, c] =
      std::mismatch(wanted.begin(), wanted.end(), candidate.begin(), candidate.end());
  result.unlike = static_cast<std::size_t>(wanted.end() - w);
  if (w != wanted.end() && c != candidate.end())
    result.step = std::abs(static_cast<unsigned char>(*w) - static_cast<unsigned char>(*c));
  return result;
}

int most_edits(std::size_t length) {
  if (length < 3) return 0;
  return length <= 5 ? 1 : 2;
}

}  // namespace

std::string_view nearest_name(std::string_view name, std::span<const std::string_view> names) {
  if (name.size() > kLongest) return {};
  const std::string wanted = squeezed(name);
  std::string_view best;
  Nearness best_so_far{most_edits(wanted.size()) + 1, 0, 0};
  for (const std::string_view candidate : names) {
    if (candidate.size() > kLongest || candidate.empty()) continue;
    const auto longer = static_cast<int>(std::max(candidate.size(), name.size()));
    const auto shorter = static_cast<int>(std::min(candidate.size(), name.size()));
    // Blanks and hyphens may differ by a few more characters than edits are allowed.
    if (longer - shorter > best_so_far.edits + 4) continue;
    const Nearness near = nearness(wanted, squeezed(candidate));
    if (near.is_less_than(best_so_far)) {
      best = candidate;
      best_so_far = near;
    }
  }
  return best;
}

}  // namespace standpoint
