#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/text.h"
#include "io/write/drawings/drawing_marks.h"
#include "io/write/sheet/setup_parts.h"

namespace standpoint::page {
namespace {

constexpr double kWidth = 400, kMostHeight = 330;  // sheet units: 100 mm wide on paper
constexpr double kBorder = 34;
constexpr double kStrip = 50;  // below: axes and scale
constexpr double kLetter = 12, kFigure = 11;

/// What must be seen: the stand, with space round it, and what is measured from. More of the part
/// than that is in the plan's drawing.
Box2 extent(const StationSheet& sheet) {
  const View above;
  Box2 box{above.flat(sheet.station().at), above.flat(sheet.station().at)};
  const auto add = [&](const Vec3& p) {
    box.low = box.low.cwiseMin(above.flat(p));
    box.high = box.high.cwiseMax(above.flat(p));
  };
  for (const Landmark& mark : sheet.marks) add(mark.at);
  const Vec2 foot = Vec2::Constant(std::max(3 * sheet.scene.instrument.body_radius, 1.0));
  box.low = box.low.cwiseMin(above.flat(sheet.station().at) - foot);
  box.high = box.high.cwiseMax(above.flat(sheet.station().at) + foot);
  return box;
}

Sheet sheet_of(const StationSheet& sheet) {
  const Box2 box = extent(sheet);
  const Vec2 size = box.high - box.low;
  const double scale =
      std::min((kWidth - 2 * kBorder) / size.x(), (kMostHeight - 2 * kBorder) / size.y());
  const Vec2 middle = (box.low + box.high) / 2;
  const Vec2 half = Vec2(kWidth, size.y() * scale + 2 * kBorder) / scale / 2;
  return {View{}, {middle - half, middle + half}, scale};
}

/// The plan's ground, brought into this drawing's place and scale.
std::string ground(const StationSheet& sheet, const Sheet& here) {
  const Sheet& there = sheet.drawings.above;
  const double ratio = here.scale / there.scale;
  const Vec2 shift = here.on(there.window.low) - ratio * there.on(there.window.low);
  return fmt::format("<use href=\"#{}\" transform=\"matrix({:.5f} 0 0 {:.5f} {} {})\"/>\n",
                     kGroundId, ratio, ratio, svg_number(shift.x()), svg_number(shift.y()));
}

/// A dimension's line with a slanted tick at each end.
std::string dimension_line(const Vec2& a, const Vec2& b) {
  std::string path = fmt::format("M{} {}L{} {}", svg_number(a.x()), svg_number(a.y()),
                                 svg_number(b.x()), svg_number(b.y()));
  const Vec2 tick(3, -3);
  for (const Vec2& end : {a, b}) {
    path +=
        fmt::format("M{} {}L{} {}", svg_number(end.x() - tick.x()), svg_number(end.y() - tick.y()),
                    svg_number(end.x() + tick.x()), svg_number(end.y() + tick.y()));
  }
  return fmt::format("<path class=\"dimension\" d=\"{}\"/>\n", path);
}

/// The figure of a dimension near its middle, wherever it overlaps nothing.
std::string figure(const Vec2& a, const Vec2& b, const std::string& text, LabelPlaces& labels) {
  const auto written = [&](const LabelPlaces::Place& place) {
    return svg_text(place.at, place.anchor, "figure", text);
  };
  for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8}) {
    const auto place = labels.place(a + share * (b - a), 0, text, kFigure, false);
    if (place) return written(*place);
  }
  return written(labels.place((a + b) / 2, 0, text, kFigure, true).value());
}

/// The first mark's two offsets, along the axes and square to one another; the horizontal
/// distance of the others. Offsets too small to be drawn are left to the table.
std::string dimensions(const StationSheet& sheet, const Sheet& here, LabelPlaces& labels) {
  constexpr double kLeast = 14;
  const Vec3& station = sheet.station().at;
  std::string lines, figures;
  const auto add = [&](const Vec3& a, const Vec3& b) {
    const Vec2 from = here.on(a), to = here.on(b);
    if ((from - to).norm() < kLeast) return;
    lines += dimension_line(from, to);
    figures +=
        figure(from, to, length_text(sheet.scene, (a - b).head<2>().norm(), step::kPlace), labels);
  };
  for (std::size_t m = 0; m < sheet.marks.size(); ++m) {
    const Vec3& at = sheet.marks[m].at;
    if (m > 0) {
      add(at, station);
      continue;
    }
    const Vec3 bend(station.x(), at.y(), at.z());
    add(at, bend);
    add(bend, station);
  }
  return lines + figures;
}

std::string landmark_mark(const Vec2& at) {
  constexpr double kArm = 5;
  return fmt::format(
      "<path class=\"landmark\" d=\"M{} {}H{}M{} {}V{}\"/>\n"
      "<circle class=\"landmark\" cx=\"{}\" cy=\"{}\" r=\"3\"/>\n",
      svg_number(at.x() - kArm), svg_number(at.y()), svg_number(at.x() + kArm), svg_number(at.x()),
      svg_number(at.y() - kArm), svg_number(at.y() + kArm), svg_number(at.x()), svg_number(at.y()));
}

Box2 box_about(const Vec2& at, double radius) {
  return {at - Vec2::Constant(radius), at + Vec2::Constant(radius)};
}

std::string marks(const StationSheet& sheet, const Sheet& here, LabelPlaces& labels) {
  const Vec2 stand = here.on(sheet.station().at);
  const double radius = std::max(sheet.scene.instrument.body_radius * here.scale, 7.0);
  std::string svg =
      is_upright(sheet.station().up)
          ? stand_from_above(stand, radius)
          : stand_as_it_leans(here, stance_of(sheet.station()), sheet.scene.instrument);
  std::string names;
  labels.take(box_about(stand, radius));
  for (const Landmark& mark : sheet.marks) labels.take(box_about(here.on(mark.at), 6));
  const auto name = [&](const Vec2& at, double gap, const std::string& text) {
    const auto place = labels.place(at, gap, text, kLetter, true);
    names += svg_text(place->at, place->anchor, "station-name", text);
  };
  constexpr std::size_t kMostLetters = 20;
  name(stand, radius, shortened(sheet.station().name, kMostLetters));
  for (std::size_t m = 0; m < sheet.marks.size(); ++m) {
    svg += landmark_mark(here.on(sheet.marks[m].at));
    name(here.on(sheet.marks[m].at), 5, std::string(1, static_cast<char>('A' + m)));
  }
  return svg + names;
}

}  // namespace

std::string station_drawing(const StationSheet& sheet) {
  const Sheet here = sheet_of(sheet);
  const double width = here.width(), height = here.height();
  LabelPlaces labels({{0, 0}, {width, height}});
  const std::string id = fmt::format("stand-{}", sheet.id.index + 1);
  const std::string symbols = marks(sheet, here, labels);
  const double base = height + kStrip - 8;
  return fmt::format(
             "<svg class=\"drawing\" viewBox=\"-1 -1 {} {}\" role=\"img\" "
             "aria-labelledby=\"{}-title\">\n<title id=\"{}-title\">{}</title>\n"
             "<defs><clipPath id=\"{}-window\"><rect width=\"{}\" height=\"{}\"/></clipPath>"
             "</defs>\n<g clip-path=\"url(#{}-window)\">\n",
             svg_number(width + 2), svg_number(height + kStrip + 1), id, id,
             for_markup("Top view: where " + sheet.station().name + " stands"), id,
             svg_number(width), svg_number(height), id) +
         ground(sheet, here) + dimensions(sheet, here, labels) + symbols + "</g>\n" +
         fmt::format("<rect class=\"frame\" width=\"{}\" height=\"{}\"/>\n", svg_number(width),
                     svg_number(height)) +
         axes_mark({8, base}, "X", "Y") + scale_bar(sheet.scene, here, {70, base - 3}) + "</svg>\n";
}

}  // namespace standpoint::page
