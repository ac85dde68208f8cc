#pragma once

#include <algorithm>
#include <bit>
#include <cassert>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace standpoint {

// Sets of small numbers as bits: the coverings and links of ten thousand candidates fit into a few
// megabytes, and "is this a subset of that" takes a few words until the first difference.

using BitWord = std::uint64_t;
using BitSpan = std::span<BitWord>;
using ConstBitSpan = std::span<const BitWord>;

/// How many words hold `bits` bits.
[[nodiscard]] constexpr std::size_t words_for(std::size_t bits) {
  return (bits + 63) / 64;
}

inline void set_bit(BitSpan set, std::size_t bit) {
  set[bit / 64] |= BitWord{1} << (bit % 64);
}
inline void clear_bit(BitSpan set, std::size_t bit) {
  set[bit / 64] &= ~(BitWord{1} << (bit % 64));
}
[[nodiscard]] inline bool has_bit(ConstBitSpan set, std::size_t bit) {
  return (set[bit / 64] >> (bit % 64) & 1) != 0;
}

/// Whether both hold the same bits. Precondition: equal sizes.
[[nodiscard]] inline bool is_equal(ConstBitSpan a, ConstBitSpan b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end());
}

/// Whether every bit of `inner` is in `outer`. Precondition: equal sizes.
[[nodiscard]] inline bool is_subset(ConstBitSpan inner, ConstBitSpan outer) {
  for (std::size_t w = 0; w < inner.size(); ++w) {
    if ((inner[w] & ~outer[w]) != 0) return false;
  }
  return true;
}

[[nodiscard]] inline std::size_t count_bits(ConstBitSpan set) {
  std::size_t count = 0;
  for (const BitWord word : set) count += static_cast<std::size_t>(std::popcount(word));
  return count;
}

/// How many bits are in both. Precondition: equal sizes.
[[nodiscard]] inline std::size_t count_common(ConstBitSpan a, ConstBitSpan b) {
  std::size_t count = 0;
  for (std::size_t w = 0; w < a.size(); ++w) {
    count += static_cast<std::size_t>(std::popcount(a[w] & b[w]));
  }
  return count;
}

/// Calls `f(bit)` for every bit of the set, ascending.
template <class F>
void for_each_bit(ConstBitSpan set, F&& f) {
  for (std::size_t w = 0; w < set.size(); ++w) {
    for (BitWord word = set[w]; word != 0; word &= word - 1) {
      f(w * 64 + static_cast<std::size_t>(std::countr_zero(word)));
    }
  }
}

/// A table of bits; each row is a set. Rows start on a word, unused bits are zero.
class BitMatrix {
 public:
  BitMatrix() = default;
  BitMatrix(std::size_t rows, std::size_t bits)
      : rows_(rows), bits_(bits), stride_(words_for(bits)), words_(rows * stride_, 0) {}

  [[nodiscard]] std::size_t rows() const { return rows_; }
  [[nodiscard]] std::size_t bits() const { return bits_; }

  /// Precondition: row < rows().
  [[nodiscard]] BitSpan operator[](std::size_t row) {
    assert(row < rows_);
    return BitSpan(words_).subspan(row * stride_, stride_);
  }
  [[nodiscard]] ConstBitSpan operator[](std::size_t row) const {
    assert(row < rows_);
    return ConstBitSpan(words_).subspan(row * stride_, stride_);
  }

  /// Rows become bits and bits become rows. O(set bits + words).
  [[nodiscard]] BitMatrix transposed() const {
    BitMatrix result(bits_, rows_);
    for (std::size_t row = 0; row < rows_; ++row) {
      for_each_bit((*this)[row], [&](std::size_t bit) { set_bit(result[bit], row); });
    }
    return result;
  }

 private:
  std::size_t rows_ = 0, bits_ = 0, stride_ = 0;
  std::vector<BitWord> words_;
};

}  // namespace standpoint
