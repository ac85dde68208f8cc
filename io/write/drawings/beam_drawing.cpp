#include "io/write/drawings/beam_drawing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/text.h"

namespace standpoint {
namespace {

constexpr double kName = 12;
const Vec2 kMiddle(kDrawingWidth / 2, kDrawingHeight / 2);

/// About the line of sight.
std::string circle(const BeamDrawing& picture, std::string_view kind, double radius) {
  const Vec2 middle = picture.sheet.on(Vec2(0, 0));
  return fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", kind,
                     svg_number(middle.x()), svg_number(middle.y()), svg_number(radius));
}

std::string path(std::string_view kind, const std::string& d) {
  return fmt::format("<path class=\"{}\" d=\"{}\"/>\n", kind, d);
}

std::string bodies(const BeamDrawing& picture) {
  std::string svg;
  const auto draw = [&](const Seen& seen, const std::string& kind) {
    svg += fmt::format("<path class=\"body {}\" d=\"{}\"><title>{}</title></path>\n", kind,
                       svg_path(picture.sheet, seen.outlines),
                       for_markup(picture.scene.bodies[seen.body.index].name));
  };
  for (const Seen& seen : picture.scenery.behind) draw(seen, "behind");
  for (const Seen& seen : picture.scenery.before) {
    const std::string role(role_name(picture.scene.bodies[seen.body.index].role));
    draw(seen, seen.is_in_the_way ? role + " in-the-way" : role);
  }
  return svg;
}

/// What is hidden: the body's outlines, clipped to the room that should be free.
std::string hidden(const BeamDrawing& picture, std::string_view id) {
  std::string defs, drawn;
  const auto& all = picture.scenery.hidden;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].outlines.empty()) continue;
    defs += fmt::format("<clipPath id=\"{}-room-{}\"><path d=\"{}\"/></clipPath>\n", id, i,
                        svg_path(picture.sheet, {all[i].room}));
    drawn +=
        fmt::format("<g clip-path=\"url(#{}-room-{})\"><path class=\"hidden\" d=\"{}\"/></g>\n", id,
                    i, svg_path(picture.sheet, all[i].outlines));
  }
  if (drawn.empty()) return "";
  return "<defs>" + defs + "</defs>\n" + drawn;
}

/// The beam: where it ends, what must stay free round it there, and where it passes a body.
std::string beam(const BeamDrawing& picture, std::string_view id) {
  const double scale = picture.sheet.scale;
  const double radius = picture.look.beam.end_radius * scale;
  std::string svg = circle(picture, picture.look.is_reached ? "disc clear" : "disc", radius);
  // Over the disc, or its fill would wash the hatch out where both lie.
  svg += hidden(picture, id) + circle(picture, "allowed", radius);
  if (is_ring_drawn(picture))
    svg += circle(picture, "allowed", radius + picture.scene.rules.min_margin * scale);
  if (picture.scenery.passes)
    svg += circle(picture, "passing", picture.scenery.passing_radius * scale);
  return svg + circle(picture, "axis-dot", 1.4);
}

std::string target(const BeamDrawing& picture) {
  std::string svg;
  for (const RoundCone& solid : picture.look.target_solids)
    svg += path("target", svg_path(picture.sheet, {picture.eye.outline(solid)}));
  const auto& cause = picture.look.cause;
  if (picture.look.cut && cause && cause->rule != Rule::beam)
    svg += path("cut", svg_path(picture.sheet, {picture.eye.outline(*picture.look.cut)}));
  return svg;
}

/// How far from the middle nothing else should be put, sheet units.
double crowded_radius(const BeamDrawing& picture) {
  double radius = std::max(picture.look.beam.end_radius, picture.scenery.passing_radius);
  for (const RoundCone& solid : picture.look.target_solids) {
    for (const Vec2& p : picture.eye.outline(solid)) radius = std::max(radius, p.norm());
  }
  return std::min(radius * picture.sheet.scale, 0.5 * kDrawingHeight - 96);
}

std::string cure_words(const Scene& scene, const Cure& cure) {
  const std::string length = length_with_unit(scene, cure.shift.norm(), step::kPlace);
  if (cure.kind == CureKind::shift_station) return "shift the station " + length;
  return (cure.shift.z() > 0 ? "raise the instrument " : "lower the instrument ") + length;
}

/// An arrow of one length: how far is in its words, for to scale it would mostly leave the picture.
std::string cure_arrow(const BeamDrawing& picture, LabelPlaces& labels) {
  if (picture.cure == nullptr) return "";
  constexpr double kLength = 58, kBarb = 9, kGap = 9, kLeastShare = 0.05;
  const Vec2 across = picture.eye.across(picture.cure->shift);
  // Along the beam nothing is seen to move; the words below the picture say it.
  if (across.norm() < kLeastShare * picture.cure->shift.norm()) return "";
  const Vec2 way = Vec2(across.x(), -across.y()).normalized();
  const Vec2 side(-way.y(), way.x());
  const Vec2 tail = kMiddle + (crowded_radius(picture) + kGap) * way;
  const Vec2 tip = tail + kLength * way;
  std::string d;
  const auto line = [&](const Vec2& a, const Vec2& b) {
    d += fmt::format("M{} {}L{} {}", svg_number(a.x()), svg_number(a.y()), svg_number(b.x()),
                     svg_number(b.y()));
  };
  line(tail, tip);
  line(tip, tip - kBarb * way + 0.55 * kBarb * side);
  line(tip, tip - kBarb * way - 0.55 * kBarb * side);
  const Vec2 low = tail.cwiseMin(tip) - Vec2::Constant(6);
  labels.take({low, tail.cwiseMax(tip) + Vec2::Constant(6)});
  const std::string words = cure_words(picture.scene, *picture.cure);
  const auto place =
      labels.place((tail + tip) / 2, 8 + std::abs(way.x()) * kLength / 2, words, kName, true);
  return path("arrow-halo", d) + path("arrow", d) +
         svg_text(place->at, place->anchor, "cure-name", words);
}

std::string names(const BeamDrawing& picture, LabelPlaces& labels) {
  std::string svg;
  const Box2& window = picture.scenery.window;
  const double keep_off = crowded_radius(picture) / picture.sheet.scale;
  const auto name = [&](const Seen& seen, const std::vector<Seen>& over, std::string_view kind,
                        std::string_view more) {
    const std::string text =
        shortened(picture.scene.bodies[seen.body.index].name, kMostBeamLetters) + std::string(more);
    const double half = 0.29 * kName * static_cast<double>(columns_of(text));
    if (const auto at = name_place(seen, over, window, keep_off)) {
      const Vec2 start = picture.sheet.on(*at) + Vec2(-half, 0.35 * kName);
      if (labels.take_if_free(start, text, kName)) {
        svg += svg_text(start, "start", kind, text);
        return;
      }
    }
    // What is in the way is named even where its name must stand beside it.
    if (!seen.is_in_the_way) return;
    if (const auto at = point_to_name(seen, window, keep_off)) {
      const auto place = labels.place(picture.sheet.on(*at), 2, text, kName, true);
      svg += svg_text(place->at, place->anchor, kind, text);
    }
  };
  const std::vector<Seen>& before = picture.scenery.before;
  // What is in the way has the first choice, then the nearest.
  for (const bool is_in_the_way : {true, false}) {
    for (std::size_t i = before.size(); i-- > 0;) {
      if (before[i].is_in_the_way != is_in_the_way) continue;
      const std::vector<Seen> over(before.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                                   before.end());
      name(before[i], over, is_in_the_way ? "in-the-way-name" : "name", "");
    }
  }
  for (const Seen& seen : picture.scenery.behind) name(seen, before, "behind-name", ", behind");
  return svg;
}

constexpr double kInset = 74;  // radius of the inset

double drawn_radius(const BeamDrawing& picture) {
  return std::max(picture.look.beam.end_radius, picture.scenery.passing_radius);
}

bool needs_inset(const BeamDrawing& picture) {
  constexpr double kSmall = 16;
  return drawn_radius(picture) * picture.sheet.scale < kSmall;
}

/// Middle of the inset: the corner that is farthest from where the arrow points.
Vec2 inset_place(const BeamDrawing& picture) {
  const Vec2 across = picture.cure ? picture.eye.across(picture.cure->shift) : Vec2(-1, 1);
  constexpr double kFree = 14, kCaption = 22;
  const double x = across.x() > 0 ? kInset + kFree : kDrawingWidth - kInset - kFree;
  const double y = across.y() < 0 ? kInset + kFree : kDrawingHeight - kInset - kFree - kCaption;
  return {x, y};
}

/// The beam once more, larger, in a round window.
std::string inset(const BeamDrawing& picture, LabelPlaces& labels) {
  if (!needs_inset(picture)) return "";
  constexpr double kShown = 2.2;  // times the beam
  const Vec2 half = Vec2::Constant(kShown * drawn_radius(picture));
  const Box2 window{-half, half};
  const double scale = kInset / half.x();
  const Scenery seen =
      scenery_in(picture.cell, picture.look, picture.eye, window, static_cast<int>(2 * kInset));
  const BeamDrawing larger{picture.cell,
                           picture.scene,
                           picture.diagnosis,
                           picture.look,
                           picture.eye,
                           seen,
                           {picture.sheet.view, window, scale},
                           picture.cure};
  const Vec2 middle = inset_place(picture), corner = middle - Vec2::Constant(kInset);
  labels.take({corner - Vec2::Constant(4), middle + Vec2(kInset + 4, kInset + 24)});
  const double times = scale / picture.sheet.scale;
  const std::string words = fmt::format("the beam, {:.{}f} times larger", times, times < 3 ? 1 : 0);
  return fmt::format(
             "<defs><clipPath id=\"inset\"><circle cx=\"{0}\" cy=\"{0}\" r=\"{0}\"/></clipPath>"
             "</defs>\n<g transform=\"translate({1} {2})\">\n<circle class=\"paper\" cx=\"{0}\" "
             "cy=\"{0}\" r=\"{0}\"/>\n<g clip-path=\"url(#inset)\">\n",
             kInset, svg_number(corner.x()), svg_number(corner.y())) +
         bodies(larger) + beam(larger, "inset") + target(larger) +
         fmt::format(
             "</g>\n<circle class=\"inset-frame\" cx=\"{0}\" cy=\"{0}\" r=\"{0}\"/>\n</g>\n",
             kInset) +
         svg_text(middle + Vec2(0, kInset + 16), "middle", "name", words);
}

}  // namespace

bool is_ring_drawn(const BeamDrawing& picture) {
  const double allowed = picture.scene.rules.min_margin;
  return std::abs(allowed) * picture.sheet.scale > 0.5 &&
         picture.look.beam.end_radius + allowed > 0;
}

std::string draw_along_beam(const BeamDrawing& picture) {
  LabelPlaces labels({{4, 4}, {kDrawingWidth - 4, kDrawingHeight - 4}});
  const double crowded = crowded_radius(picture);
  labels.take({kMiddle - Vec2::Constant(crowded), kMiddle + Vec2::Constant(crowded)});
  const std::string larger = inset(picture, labels);
  const std::string arrow = cure_arrow(picture, labels);
  return fmt::format(
             "<defs><clipPath id=\"window\"><rect width=\"{0}\" "
             "height=\"{1}\"/></clipPath></defs>\n<g clip-path=\"url(#window)\">\n",
             svg_number(kDrawingWidth), svg_number(kDrawingHeight)) +
         bodies(picture) + beam(picture, "beam") + target(picture) + names(picture, labels) +
         arrow + larger +
         fmt::format("</g>\n<rect class=\"frame\" width=\"{}\" height=\"{}\"/>\n",
                     svg_number(kDrawingWidth), svg_number(kDrawingHeight));
}

}  // namespace standpoint
