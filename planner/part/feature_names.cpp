#include "planner/part/feature_names.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <utility>

#include "planner/part/feature_filter.h"
#include "planner/part/tolerances.h"

namespace standpoint {
namespace {

/// Rounded half up.
double thousandths(double mm) {
  return std::floor(std::clamp(mm, 0.0, 1e9) * 1000 + 0.5 + tolerance::kSizeRounding);
}

std::string stem_of(const FoundFeature& feature) {
  const std::string word = std::string(kind_word(feature)) + "-";
  if (feature.kind == FoundKind::slot)
    return word + size_text(feature.width) + "x" + size_text(feature.length);
  return word + size_text(size_of(feature));
}

/// What two of the same kind and size are told apart by, in this order.
constexpr std::size_t kKeys = 6;
using Keys = std::array<double, kKeys>;

struct Entry {
  std::string stem;
  Keys keys{};
  Placed placed;
};

/// Sorts [first, last) by key number `key` and on; neighbours that are nearly equal in it count as
/// equal, so that rounding never decides.
void sort_by_place(std::vector<Entry>::iterator first, std::vector<Entry>::iterator last,
                   std::size_t key) {
  if (key == kKeys || last - first < 2) return;
  std::stable_sort(first, last,
                   [&](const Entry& a, const Entry& b) { return a.keys[key] < b.keys[key]; });
  for (auto run = first; run != last;) {
    auto end = run + 1;
    while (end != last && end->keys[key] - (end - 1)->keys[key] <= tolerance::kOrderOfPlaces) ++end;
    sort_by_place(run, end, key + 1);
    run = end;
  }
}

/// By kind, then size as a number.
bool comes_before(const Entry& a, const Entry& b) {
  const FoundFeature& f = a.placed.feature;
  const FoundFeature& g = b.placed.feature;
  if (f.kind != g.kind) return f.kind < g.kind;
  const double size = thousandths(size_of(f)), other = thousandths(size_of(g));
  return size != other ? size < other : a.stem < b.stem;
}

}  // namespace

std::string size_text(double mm) {
  constexpr std::uint64_t kParts = 1000;
  const auto whole = static_cast<std::uint64_t>(thousandths(mm));
  std::string text = std::to_string(whole / kParts);
  if (whole % kParts == 0) return text;
  std::string decimals = std::to_string(kParts + whole % kParts).substr(1);
  decimals.erase(decimals.find_last_not_of('0') + 1);
  return text + "." + decimals;
}

std::vector<FoundFeature> named(std::vector<Placed> found) {
  std::vector<Entry> entries;
  for (Placed& placed : found) {
    const Vec3 p = placed.place, a = placed.feature.axis;
    std::string stem = stem_of(placed.feature);
    entries.push_back(
        {std::move(stem), {p.x(), p.y(), p.z(), a.x(), a.y(), a.z()}, std::move(placed)});
  }
  std::stable_sort(entries.begin(), entries.end(), comes_before);
  std::vector<FoundFeature> result;
  for (auto run = entries.begin(); run != entries.end();) {
    const auto end = std::find_if(run, entries.end(),
                                  [&](const Entry& entry) { return entry.stem != run->stem; });
    sort_by_place(run, end, 0);
    for (std::size_t number = 1; run != end; ++run, ++number) {
      run->placed.feature.name = run->stem + "-" + std::to_string(number);
      result.push_back(std::move(run->placed.feature));
    }
  }
  return result;
}

}  // namespace standpoint
