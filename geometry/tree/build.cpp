#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstring>
#include <limits>

#include "geometry/tree/layout.h"

namespace standpoint::tree {
namespace {

/// x, y, z and a lane that nobody reads: one SIMD register on every machine.
using Four = Eigen::Array4f;

/// A triangle's box as the builder moves it about: x, y, z and a place for its number.
struct Item {
  Four low;
  Four high;

  [[nodiscard]] std::uint32_t triangle() const {
    std::uint32_t t = 0;
    std::memcpy(&t, &low[3], sizeof t);
    return t;
  }
};

struct Box {
  Four low = Four::Constant(std::numeric_limits<float>::max());
  Four high = Four::Constant(std::numeric_limits<float>::lowest());

  void add(const Four& other_low, const Four& other_high) {
    low = low.min(other_low);
    high = high.max(other_high);
  }
  void add(const Box& other) { add(other.low, other.high); }

  [[nodiscard]] float half_area() const {
    const Four d = high - low;
    return d[0] < 0 ? 0.0f : d[0] * d[1] + d[1] * d[2] + d[2] * d[0];
  }
};

struct Range {
  std::size_t begin = 0, end = 0;
  Box box;      ///< of the triangles
  Box centres;  ///< of their boxes' centres, times two
  [[nodiscard]] std::size_t size() const { return end - begin; }
};

struct Split {
  int axis = -1;
  int bin = 0;
  float cost = std::numeric_limits<float>::infinity();
};

constexpr int kBins = 16;
constexpr int kMostDepth =
    48;  ///< below this ranges are halved, so that no input can go deeper than 80

class Builder {
 public:
  explicit Builder(Layout& layout) : layout_(layout) {}

  void run() {
    Range all = load();
    if (all.size() == 0) return;
    layout_.nodes.reserve(items_.size() / 24 + 1);
    layout_.blocks.reserve(items_.size() / 5 + 1);
    layout_.nodes.emplace_back();
    make_node(0, all, 0);
    items_ = {};
    layout_.nodes.shrink_to_fit();
    layout_.blocks.shrink_to_fit();
  }

 private:
  Range load();
  [[nodiscard]] Range measure(std::size_t begin, std::size_t end) const;
  [[nodiscard]] Split best_split(const Range& range) const;
  [[nodiscard]] std::pair<Range, Range> divide(const Range& range, int depth);
  void make_node(std::uint32_t at, const Range& range, int depth);
  [[nodiscard]] std::uint32_t make_block(const Range& range);

  Layout& layout_;
  LargeArray<Item> items_;
};

Range Builder::load() {
  items_.resize(layout_.first_of_body.back());
  std::uint32_t number = 0;
  for (const Mesh* mesh : layout_.bodies) {
    for (std::size_t i = 0; i < mesh->triangles.size(); ++i, ++number) {
      const auto corners = mesh->corners(i);
      Item& item = items_[number];
      for (int axis = 0; axis < 3; ++axis) {
        const double o = layout_.origin[axis];
        const auto [least, most] =
            std::minmax({corners[0][axis] - o, corners[1][axis] - o, corners[2][axis] - o});
        // Outward by one step of float: a cast rounds to nearest.
        constexpr float kInf = std::numeric_limits<float>::infinity();
        item.low[axis] = std::nextafter(static_cast<float>(least), -kInf);
        item.high[axis] = std::nextafter(static_cast<float>(most), kInf);
      }
      std::memcpy(&item.low[3], &number, sizeof number);
      item.high[3] = 0;
    }
  }
  return measure(0, items_.size());
}

Range Builder::measure(std::size_t begin, std::size_t end) const {
  Range range{begin, end, {}, {}};
  for (std::size_t i = begin; i < end; ++i) {
    const Four& low = items_[i].low;
    const Four& high = items_[i].high;
    range.box.add(low, high);
    const Four centre = low + high;
    range.centres.add(centre, centre);
  }
  return range;
}

/// Maps a doubled centre to its bin along one axis. The same expression bins and divides, so that
/// both agree on every item.
struct Binning {
  float from, scale;
  [[nodiscard]] int operator()(const Item& item, int axis) const {
    const int bin = static_cast<int>((item.low[axis] + item.high[axis] - from) * scale);
    return std::min(bin, kBins - 1);
  }
};

Binning binning(const Range& range, int axis) {
  const float low = range.centres.low[axis];
  const float width = range.centres.high[axis] - low;
  return {low, width > 0 ? kBins * 0.999999f / width : 0.0f};
}

float blocks_for(std::size_t triangles) {
  const std::size_t blocks = (triangles + kWidth - 1) / kWidth;
  return static_cast<float>(blocks);
}

Split best_split(const Range& range, const LargeArray<Item>& items, int axis) {
  const Binning bin_of = binning(range, axis);
  if (bin_of.scale == 0 || !std::isfinite(bin_of.scale)) return {};
  Box boxes[kBins];
  std::uint32_t counts[kBins] = {};
  for (std::size_t i = range.begin; i < range.end; ++i) {
    const int bin = bin_of(items[i], axis);
    boxes[bin].add(items[i].low, items[i].high);
    ++counts[bin];
  }
  float cost_right[kBins] = {};
  Box right;
  std::size_t right_count = 0;
  for (int bin = kBins - 1; bin > 0; --bin) {
    right.add(boxes[bin]);
    right_count += counts[bin];
    cost_right[bin] = right_count ? right.half_area() * blocks_for(right_count) : 0;
  }
  Split best;
  Box left;
  std::size_t left_count = 0;
  for (int bin = 1; bin < kBins; ++bin) {
    left.add(boxes[bin - 1]);
    left_count += counts[bin - 1];
    if (left_count == 0 || left_count == range.size()) continue;
    const float cost = left.half_area() * blocks_for(left_count) + cost_right[bin];
    if (cost < best.cost) best = {axis, bin, cost};
  }
  return best;
}

Split Builder::best_split(const Range& range) const {
  Split best;
  for (int axis = 0; axis < 3; ++axis) {
    const Split split = tree::best_split(range, items_, axis);
    if (split.cost < best.cost) best = split;
  }
  return best;
}

std::pair<Range, Range> Builder::divide(const Range& range, int depth) {
  const Split split = depth < kMostDepth ? best_split(range) : Split{};
  if (split.axis < 0) {  // all centres in one place, or too deep: halve
    const std::size_t middle = range.begin + range.size() / 2;
    return {measure(range.begin, middle), measure(middle, range.end)};
  }
  const Binning bin_of = binning(range, split.axis);
  Range left{range.begin, range.begin, {}, {}};
  Range right{range.end, range.end, {}, {}};
  const auto put = [](Range& into, const Four& low, const Four& high) {
    into.box.add(low, high);
    const Four centre = low + high;
    into.centres.add(centre, centre);
  };
  // One pass partitions and measures both sides.
  while (left.end < right.begin) {
    Item& item = items_[left.end];
    const Four low = item.low;
    const Four high = item.high;
    if (bin_of(item, split.axis) < split.bin) {
      put(left, low, high);
      ++left.end;
    } else {
      put(right, low, high);
      std::swap(item, items_[--right.begin]);
    }
  }
  return {left, right};
}

std::uint32_t Builder::make_block(const Range& range) {
  const auto at = static_cast<std::uint32_t>(layout_.blocks.size());
  Block& block = layout_.blocks.emplace_back();
  for (std::size_t lane = 0; lane < kWidth; ++lane) {
    if (lane >= range.size()) {  // farther away than anything, yet its square is finite
      for (auto& corner : block.corner) {
        for (auto& axis : corner) axis[lane] = 1e18f;
      }
      block.triangle[lane] = block.triangle[0];
      continue;
    }
    const std::uint32_t triangle = items_[range.begin + lane].triangle();
    block.triangle[lane] = triangle;
    const auto corners = layout_.corners(triangle);
    for (int corner = 0; corner < 3; ++corner) {
      for (int axis = 0; axis < 3; ++axis) {
        block.corner[corner][axis][lane] =
            static_cast<float>(corners[corner][axis] - layout_.origin[axis]);
      }
    }
  }
  return at | kBlockBit;
}

void Builder::make_node(std::uint32_t at, const Range& range, int depth) {
  std::vector<Range> parts{range};
  parts.reserve(kWidth);
  while (parts.size() < kWidth) {
    // Open the part that is largest by area among those that still need opening.
    std::size_t widest = parts.size();
    float most = -1;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (parts[i].size() <= kWidth) continue;
      if (const float area = parts[i].box.half_area(); area > most) {
        most = area;
        widest = i;
      }
    }
    if (widest == parts.size()) break;
    auto [left, right] = divide(parts[widest], depth);
    parts[widest] = left;
    parts.push_back(right);
  }
  Node node;
  for (int lane = 0; lane < kWidth; ++lane) {
    for (int axis = 0; axis < 3; ++axis) {
      node.face[axis][lane] = std::numeric_limits<float>::infinity();
      node.face[axis + 3][lane] = std::numeric_limits<float>::infinity();
    }
    node.child[lane] = kNoChild;
  }
  for (std::size_t lane = 0; lane < parts.size(); ++lane) {
    const Box& box = parts[lane].box;
    for (int axis = 0; axis < 3; ++axis) {
      node.face[axis][lane] = box.low[axis];
      node.face[axis + 3][lane] = box.high[axis];
    }
    if (parts[lane].size() <= kWidth) {
      node.child[lane] = make_block(parts[lane]);
    } else {
      const auto below = static_cast<std::uint32_t>(layout_.nodes.size());
      layout_.nodes.emplace_back();
      node.child[lane] = below;
      make_node(below, parts[lane], depth + 1);
    }
  }
  layout_.nodes[at] = node;
}

}  // namespace

BodyId Layout::body_of(std::uint32_t triangle) const {
  const auto after = std::upper_bound(first_of_body.begin(), first_of_body.end(), triangle);
  return BodyId(static_cast<std::size_t>(after - first_of_body.begin() - 1));
}

Layout build(std::vector<const Mesh*> bodies) {
  Layout layout;
  layout.bodies = std::move(bodies);
  layout.first_of_body.push_back(0);
  Vec3 low = Vec3::Constant(std::numeric_limits<double>::infinity());
  Vec3 high = -low;
  for (const Mesh* mesh : layout.bodies) {
    const std::size_t total = layout.first_of_body.back() + mesh->triangles.size();
    assert(total < kBlockBit);
    layout.first_of_body.push_back(static_cast<std::uint32_t>(total));
    for (const Vec3& v : mesh->vertices) {
      assert(v.allFinite());
      low = low.cwiseMin(v);
      high = high.cwiseMax(v);
    }
  }
  if (layout.first_of_body.back() == 0) return layout;
  layout.origin = (low + high) / 2;
  layout.half_extent = (high - low).maxCoeff() / 2;
  Builder(layout).run();
  return layout;
}

}  // namespace standpoint::tree
