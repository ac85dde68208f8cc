#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <random>
#include <utility>

#include "geometry/vec.h"

namespace standpoint::test {

/// Draws that depend on the seed alone. They are the same with every standard library: the engine
/// is fixed by the C++ standard, and the distributions, which are not, are left out. One thread.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : engine_(seed) {}

  /// 53 random bits between the two; never `high` itself but by rounding.
  [[nodiscard]] double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
  }
  /// 0..n - 1. The first ones are likelier by at most n / 2^64.
  [[nodiscard]] std::size_t below(std::size_t n) { return static_cast<std::size_t>(engine_() % n); }
  [[nodiscard]] bool chance(double p) { return between(0, 1) < p; }
  [[nodiscard]] Vec3 in_box(const Vec3& low, const Vec3& high) {
    const double x = between(low.x(), high.x()), y = between(low.y(), high.y());
    return {x, y, between(low.z(), high.z())};
  }
  /// In a cube about the origin.
  [[nodiscard]] Vec3 in_box(double half) {
    return in_box(Vec3::Constant(-half), Vec3::Constant(half));
  }
  /// Unit, all directions alike.
  [[nodiscard]] Vec3 direction() {
    for (;;) {
      const Vec3 v = in_box(1);
      if (const double n = v.norm(); n > 0.1 && n <= 1) return v / n;
    }
  }
  /// A size between the two, each decade as likely as the next.
  [[nodiscard]] double size(double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  }
  /// Standard normal: G. E. P. Box and M. E. Muller, Ann. Math. Stat. 29 (1958) 610-611.
  [[nodiscard]] double normal() {
    const double u = 1 - between(0, 1);  // in (0, 1]
    return std::sqrt(-2 * std::log(u)) * std::cos(between(0, 2 * std::numbers::pi));
  }
  /// All orders of the items alike (R. Durstenfeld, Comm. ACM 7 (1964) 420).
  template <class Items>
  void shuffle(Items& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace standpoint::test
