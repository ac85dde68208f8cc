#include "io/write/drawings/drawing_areas.h"

#include <algorithm>

namespace standpoint {
namespace {

/// The corners of what a polygon shows on the sheet: cut to the sheet's four sides in turn
/// (Sutherland and Hodgman, Comm. ACM 17(1), 1974). Empty where it is off the sheet.
std::vector<Vec2> on_sheet(const Sheet& sheet, const std::vector<Vec2>& polygon) {
  std::vector<Vec2> corners;
  for (const Vec2& corner : polygon) corners.push_back(sheet.on(corner));
  const double limits[2] = {sheet.width(), sheet.height()};
  for (const int axis : {0, 1}) {
    for (const double side : {0.0, limits[axis]}) {
      const auto depth = [&](const Vec2& p) { return side == 0 ? p[axis] : side - p[axis]; };
      std::vector<Vec2> kept;
      for (std::size_t k = 0; k < corners.size(); ++k) {
        const Vec2& p = corners[k];
        const Vec2& q = corners[(k + 1) % corners.size()];
        if (depth(p) >= 0) kept.push_back(p);
        if ((depth(p) >= 0) != (depth(q) >= 0))
          kept.emplace_back(p + depth(p) / (depth(p) - depth(q)) * (q - p));
      }
      corners = std::move(kept);
    }
  }
  return corners;
}

}  // namespace

std::string area_name(const Sheet& sheet, const std::vector<Vec2>& polygon, const std::string& name,
                      LabelPlaces& labels) {
  const std::vector<Vec2> corners = on_sheet(sheet, polygon);
  if (corners.empty()) return "";
  const Vec2 corner =
      *std::max_element(corners.begin(), corners.end(),
                        [](const Vec2& a, const Vec2& b) { return a.y() - a.x() < b.y() - b.x(); });
  const std::string text = shortened(name, kMostLetters);
  for (const double rise : {6.0, 20.0, 34.0}) {
    const Vec2 at = corner + Vec2(5, -rise);
    if (labels.take_if_free(at, text, kLetter)) return svg_text(at, "start", "zone-name", text);
  }
  return "";
}

}  // namespace standpoint
