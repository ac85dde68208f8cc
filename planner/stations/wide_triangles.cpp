#include "planner/stations/wide_triangles.h"

#include <algorithm>

namespace standpoint {
namespace {

double least_height(const Vec3& a, const Vec3& b, const Vec3& c) {
  const double longest = std::max({(b - a).norm(), (c - a).norm(), (c - b).norm()});
  return longest == 0 ? 0 : (b - a).cross(c - a).norm() / longest;
}

}  // namespace

WideTriangles::WideTriangles(const std::vector<Vec3>& places, double spread) : spread_(spread) {
  if (places.size() > kMostPlaces) return;
  count_ = places.size();
  third_ = BitMatrix(count_ * count_, count_);
  // A thousandth more than needed covers the roundings.
  const double least = 0.1001 * spread;
  for (std::size_t a = 0; a < count_; ++a) {
    for (std::size_t b = a + 1; b < count_; ++b) {
      const BitSpan row = third_[a * count_ + b];
      for (std::size_t c = b + 1; c < count_; ++c) {
        const double height = least_height(places[a], places[b], places[c]);
        if (height > 0 && height >= least) set_bit(row, c);
      }
    }
  }
}

bool WideTriangles::prove_off_one_line(ConstBitSpan subset) const {
  if (count_ == 0) return false;
  for (std::size_t w = 0; w < subset.size(); ++w) {
    for (BitWord rest = subset[w]; rest != 0; rest &= rest - 1) {
      const std::size_t a = w * 64 + static_cast<std::size_t>(std::countr_zero(rest));
      for (std::size_t v = w; v < subset.size(); ++v) {
        for (BitWord others = v == w ? rest & (rest - 1) : subset[v]; others != 0;
             others &= others - 1) {
          const std::size_t b = v * 64 + static_cast<std::size_t>(std::countr_zero(others));
          const ConstBitSpan third = third_[a * count_ + b];
          for (std::size_t x = v; x < subset.size(); ++x) {
            if ((third[x] & subset[x]) != 0) return true;
          }
        }
      }
    }
  }
  return false;
}

}  // namespace standpoint
