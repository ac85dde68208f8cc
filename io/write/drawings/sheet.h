#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/write/drawings/silhouette.h"
#include "standpoint/shapes.h"

namespace standpoint {

/// Where a view lies on the sheet: one unit is a quarter of a millimetre on paper 180 mm wide.
struct Sheet {
  View view;
  Box2 window;       ///< that is shown, view coordinates, mm
  double scale = 1;  ///< sheet units per mm

  [[nodiscard]] double width() const { return (window.high.x() - window.low.x()) * scale; }
  [[nodiscard]] double height() const { return (window.high.y() - window.low.y()) * scale; }
  /// Sheet coordinates, right and down.
  [[nodiscard]] Vec2 on(const Vec2& flat) const {
    return {(flat.x() - window.low.x()) * scale, (window.high.y() - flat.y()) * scale};
  }
  [[nodiscard]] Vec2 on(const Vec3& p) const { return on(view.flat(p)); }
};

// Pieces of SVG. Numbers carry one decimal: a fortieth of a millimetre on paper.

[[nodiscard]] std::string svg_number(double value);
/// "M x y L x y ... Z" for each outline.
[[nodiscard]] std::string svg_path(const Sheet& sheet, const Outlines& outlines);
/// Text at a place, made safe; `anchor` is start, middle or end; `kind` its class.
[[nodiscard]] std::string svg_text(const Vec2& at, std::string_view anchor, std::string_view kind,
                                   std::string_view text);

/// `text` cut to `most` code points, the last one then an ellipsis. Precondition: most >= 1.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most);

/// Finds room for labels: each goes beside its point where it meets nothing placed before.
class LabelPlaces {
 public:
  explicit LabelPlaces(const Box2& page) : page_(page) {}

  /// Keeps labels off this box (a symbol).
  void take(const Box2& box) { taken_.push_back(box); }

  /// Takes the room of a text that starts at `at`, where it is free and on the page.
  bool take_if_free(const Vec2& at, std::string_view text, double height);

  struct Place {
    Vec2 at;  ///< of the text's baseline
    const char* anchor = "start";
  };
  /// A place for `text` of `height` sheet units beside a symbol of `radius` at `point`, and takes
  /// it; nothing where there is no room, unless `must` (then the first choice, and it may overlap).
  std::optional<Place> place(const Vec2& point, double radius, std::string_view text, double height,
                             bool must);

 private:
  [[nodiscard]] bool is_free(const Box2& box) const;

  Box2 page_;
  std::vector<Box2> taken_;
};

}  // namespace standpoint
