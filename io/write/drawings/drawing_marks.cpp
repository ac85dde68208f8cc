#include "io/write/drawings/drawing_marks.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <utility>

#include <fmt/format.h>

#include "geometry/trigonometry.h"
#include "geometry/vec.h"
#include "io/words/lengths.h"
#include "io/write/drawings/plan_drawing.h"

namespace standpoint {
namespace {

std::string line(const Vec2& a, const Vec2& b) {
  return fmt::format("M{} {}L{} {}", svg_number(a.x()), svg_number(a.y()), svg_number(b.x()),
                     svg_number(b.y()));
}

std::string circle(std::string_view kind, const Vec2& at, double radius) {
  return fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", kind,
                     svg_number(at.x()), svg_number(at.y()), svg_number(radius));
}

/// The convex hull of some points, counter-clockwise: lower chain, then upper.
std::vector<Vec2> hull_of(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(), [](const Vec2& a, const Vec2& b) {
    return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
  });
  const auto turns_left = [](const Vec2& a, const Vec2& b, const Vec2& c) {
    const Vec2 u = b - a, v = c - a;
    return u.x() * v.y() - u.y() * v.x() > 0;
  };
  std::vector<Vec2> hull;
  for (int chain = 0; chain < 2; ++chain) {
    const std::size_t first = hull.size();
    for (const Vec2& point : points) {
      while (hull.size() >= first + 2 && !turns_left(hull[hull.size() - 2], hull.back(), point))
        hull.pop_back();
      hull.push_back(point);
    }
    if (!hull.empty()) hull.pop_back();  // the next chain begins there
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

}  // namespace

std::string_view verdict_class(Verdict verdict) {
  switch (verdict) {
    case Verdict::full_target:
      return "full";
    case Verdict::offset_stylus:
      return "stylus";
    case Verdict::blocked:
      return "blocked";
  }
  return "";
}

std::string verdict_mark(Verdict verdict, const Vec2& at) {
  const std::string kind(verdict_class(verdict));
  if (verdict == Verdict::full_target) return circle("mark " + kind, at, kMarkRadius);
  const bool is_diamond = verdict == Verdict::offset_stylus;
  const double r = is_diamond ? kMarkRadius + 1 : kMarkRadius;
  const auto corner = [&](double x, double y) {
    return svg_number(at.x() + r * x) + ' ' + svg_number(at.y() + r * y);
  };
  if (is_diamond) {
    return fmt::format("<path class=\"mark {}\" d=\"M{}L{}L{}L{}Z\"/>\n", kind, corner(0, -1),
                       corner(1, 0), corner(0, 1), corner(-1, 0));
  }
  const std::string cross =
      fmt::format("M{}L{}M{}L{}", corner(-1, -1), corner(1, 1), corner(1, -1), corner(-1, 1));
  return fmt::format("<path class=\"halo\" d=\"{}\"/><path class=\"mark {}\" d=\"{}\"/>\n", cross,
                     kind, cross);
}

std::string feature_mark(const Vec2& at) {
  const double r = kMarkRadius - 1;
  return fmt::format("<path class=\"mark unjudged\" d=\"M{} {}h{}v{}h{}Z\"/>\n",
                     svg_number(at.x() - r), svg_number(at.y() - r), svg_number(2 * r),
                     svg_number(2 * r), svg_number(-2 * r));
}

std::string nest_mark(const Vec2& at) {
  return circle("nest", at, kMarkRadius - 0.5) + circle("dot", at, 1.2);
}

std::string stand_from_above(const Vec2& at, double footprint_radius) {
  constexpr double kLeast = 7;
  const double r = std::max(footprint_radius, kLeast);
  std::string legs;
  for (int i = 0; i < 3; ++i) {
    const double angle = (-90 + 120 * i) * std::numbers::pi / 180;
    legs += line(at, at + r * Vec2(cosine(angle), sine(angle)));
  }
  return circle("stand", at, r) + fmt::format("<path class=\"legs\" d=\"{}\"/>\n", legs) +
         circle("centre", at, 2.6);
}

std::string stand_from_side(const Vec2& centre, double half_width, double above, double below) {
  const double w = std::max(half_width, 5.0);
  const Vec2 foot = centre + Vec2(0, std::max(below, 8.0));
  // The legs spread from a hub a third of the way down.
  const Vec2 hub = centre + (foot - centre) / 3;
  const std::string legs = line(centre, foot) + line(hub, foot + Vec2(-w, 0)) +
                           line(hub, foot + Vec2(w, 0)) +
                           line(centre, centre - Vec2(0, std::max(above, 3.0)));
  return fmt::format("<path class=\"legs\" d=\"{}\"/>\n", legs) + circle("centre", centre, 2.6);
}

std::string stand_as_it_leans(const Sheet& sheet, const Stance& stance,
                              const Instrument& instrument) {
  constexpr int kSides = 24;
  const Vec3 foot = stance.at - instrument.body_below * stance.up;
  const Vec3 head = stance.at + instrument.body_above * stance.up;
  const Vec3 x = any_perpendicular(stance.up), y = stance.up.cross(x);
  std::vector<Vec2> points;
  for (int i = 0; i < kSides; ++i) {
    const double angle = 2 * std::numbers::pi * i / kSides;
    const Vec3 side = instrument.body_radius * (cosine(angle) * x + sine(angle) * y);
    for (const Vec3& end : {foot, head}) points.push_back(sheet.view.flat(end + side));
  }
  return fmt::format("<path class=\"stand\" d=\"{}\"/>\n<path class=\"legs\" d=\"{}\"/>\n",
                     svg_path(sheet, {hull_of(std::move(points))}),
                     line(sheet.on(foot), sheet.on(head))) +
         circle("centre", sheet.on(stance.at), 2.6);
}

std::string stand_mark(const Sheet& sheet, bool is_from_above, const Instrument& instrument,
                       const Stance& stance, double below) {
  if (!is_upright(stance.up)) return stand_as_it_leans(sheet, stance, instrument);
  const Vec2 at = sheet.on(stance.at);
  const double radius = instrument.body_radius * sheet.scale;
  return is_from_above ? stand_from_above(at, radius)
                       : stand_from_side(at, radius, instrument.body_above * sheet.scale,
                                         below * sheet.scale);
}

std::string keep_out_area(const Sheet& sheet, const std::vector<Vec2>& polygon) {
  Vec2 middle = Vec2::Zero();
  for (const Vec2& corner : polygon) middle += corner / static_cast<double>(polygon.size());
  std::string across;
  for (const Vec2& corner : polygon) across += line(sheet.on(corner), sheet.on(middle));
  return fmt::format("<path class=\"keep-out\" d=\"{}{}\"/>\n", svg_path(sheet, {polygon}), across);
}

/// The greatest power of ten that is at most `length` (> 0), to its nearest double.
double decade_below(double length) {
  double tens = 1;
  if (length < 1) {
    while (1 / tens > length) tens *= 10;
    return 1 / tens;
  }
  while (tens * 10 <= length) tens *= 10;
  return tens;
}

std::string scale_bar(const Scene& scene, const Sheet& sheet, const Vec2& at) {
  const double longest = 0.22 * sheet.width() / sheet.scale / scene.mm_per_unit;
  const double decade = decade_below(longest);
  double length = decade;
  for (const double step : {2.0, 5.0}) {
    if (step * decade <= longest) length = step * decade;
  }
  const double on_sheet = length * scene.mm_per_unit * sheet.scale;
  const Vec2 end = at + Vec2(on_sheet, 0);
  const Vec2 middle = at + Vec2(on_sheet / 2, 0);
  const Vec2 tick(0, 3);
  return fmt::format("<path class=\"bar\" d=\"{}{}{}{}\"/>\n", line(at, end),
                     line(at - tick, at + tick), line(middle - tick / 2, middle + tick / 2),
                     line(end - tick, end + tick)) +
         svg_text(end + Vec2(7, 3.5), "start", "small", fmt::format("{} {}", length, scene.units));
}

std::string axes_mark(const Vec2& at, std::string_view right, std::string_view up) {
  constexpr double kArm = 26, kTip = 4;
  const Vec2 x = at + Vec2(kArm, 0), y = at - Vec2(0, kArm);
  return fmt::format("<path class=\"axis\" d=\"{}{}{}{}{}{}\"/>\n", line(at, x),
                     line(x, x + Vec2(-kTip, -kTip / 2)), line(x, x + Vec2(-kTip, kTip / 2)),
                     line(at, y), line(y, y + Vec2(-kTip / 2, kTip)),
                     line(y, y + Vec2(kTip / 2, kTip))) +
         svg_text(x + Vec2(4, 3.5), "start", "small", right) +
         svg_text(y + Vec2(0, -4), "middle", "small", up);
}

std::string verdict_symbol(Verdict verdict) {
  return "<svg class=\"symbol\" viewBox=\"-6 -6 12 12\" width=\"12\" height=\"12\" "
         "aria-hidden=\"true\">" +
         verdict_mark(verdict, Vec2::Zero()) + "</svg>";
}

}  // namespace standpoint
