#include "io/beam_picture.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/beam_scenery.h"
#include "io/drawing_marks.h"
#include "io/lengths.h"
#include "io/names.h"
#include "io/text.h"
#include "io/why_words.h"
#include "io/words.h"

namespace standpoint {
namespace {

// Sheet units, as in the plan's drawings: a quarter of a millimetre on paper.
constexpr double kWidth = 720, kHeight = kWidth * kPictureShape;
constexpr double kBorder = 24, kHead = 78;  // round the drawing, and above it for the title
constexpr double kName = 12, kLine = 17;
constexpr std::size_t kMostLetters = 40, kColumns = 110;
const Vec2 kMiddle(kWidth / 2, kHeight / 2);

// Colours are from the palette of Okabe and Ito, as on the page; dash, weight and hatch say the
// same.
constexpr const char* kStyle = R"(<style>
text { font-family: system-ui, "Segoe UI", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif; font-size: 12px; fill: #1b1c1e; }
.title { font-size: 19px; font-weight: 650; }
.soft, .small, .behind-name { fill: #5c6066; }
.small { font-size: 11px; }
.name, .behind-name, .cure-name { paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
.cure-name, .in-the-way-name { font-weight: 650; }
.in-the-way-name { paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
.paper { fill: #fff; }
.frame { fill: none; stroke: #1b1c1e; stroke-width: .8; }
.body { fill-rule: evenodd; stroke-linejoin: round; stroke-width: .9; }
.part { fill: #d3d6da; stroke: #5c6066; }
.fixture { fill: #eceae4; stroke: #8d8779; stroke-dasharray: 3 1.5; }
.surroundings { fill: #f1f2f3; stroke: #a2a6ab; stroke-width: .7; }
.behind { fill: #f5f6f7; stroke: #b9bcc0; stroke-width: .6; stroke-dasharray: 1 2; }
.in-the-way { stroke: #1b1c1e; stroke-width: 1.6; stroke-dasharray: none; }
.room { fill: #fff; fill-opacity: .55; }
.hatch { fill: none; stroke: #d55e00; stroke-width: 2.2; }
.hidden { fill: url(#hidden-hatch); stroke: #d55e00; stroke-width: 1.2; fill-rule: evenodd; }
.target { fill: none; stroke: #1b1c1e; stroke-width: 1; stroke-dasharray: 5 3; }
.cut { fill: none; stroke: #d55e00; stroke-width: 1.4; stroke-dasharray: 9 3; }
.disc { fill: #fff; fill-opacity: .7; stroke: #1b1c1e; stroke-width: 1.6; }
.disc.clear { fill: #009e73; fill-opacity: .35; }
.allowed { fill: none; stroke: #1b1c1e; stroke-width: .7; }
.passing { fill: none; stroke: #d55e00; stroke-width: 1.2; stroke-dasharray: 2 2; }
.axis-dot { fill: #1b1c1e; }
.arrow { fill: none; stroke: #0072b2; stroke-width: 2.6; stroke-linecap: round; stroke-linejoin: round; }
.arrow-halo { fill: none; stroke: #fff; stroke-width: 6; stroke-linecap: round; stroke-linejoin: round; }
.bar { fill: none; stroke: #1b1c1e; stroke-width: 1; }
</style>
)";

struct Picture {
  const Scene& scene;
  const Diagnosis& diagnosis;
  const BeamLook& look;
  const Perspective& eye;
  const Scenery& scenery;
  Sheet sheet;
  const Cure* cure = nullptr;
};

std::string circle(std::string_view kind, double radius) {
  return fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", kind,
                     svg_number(kMiddle.x()), svg_number(kMiddle.y()), svg_number(radius));
}

std::string path(std::string_view kind, const std::string& d) {
  return fmt::format("<path class=\"{}\" d=\"{}\"/>\n", kind, d);
}

std::string bodies(const Picture& picture) {
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
std::string hidden(const Picture& picture) {
  std::string defs, drawn;
  const auto& all = picture.scenery.hidden;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].outlines.empty()) continue;
    defs += fmt::format("<clipPath id=\"room-{}\"><path d=\"{}\"/></clipPath>\n", i,
                        svg_path(picture.sheet, {all[i].room}));
    drawn += fmt::format("<g clip-path=\"url(#room-{})\"><path class=\"hidden\" d=\"{}\"/></g>\n",
                         i, svg_path(picture.sheet, all[i].outlines));
  }
  if (drawn.empty()) return "";
  return "<defs><pattern id=\"hidden-hatch\" width=\"6\" height=\"6\" "
         "patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path class=\"hatch\" "
         "d=\"M3 -1V7\"/></pattern>\n" +
         defs + "</defs>\n" + drawn;
}

/// Whether the room that must stay free round the beam can be told from the beam.
bool is_ring_drawn(const Picture& picture) {
  const double allowed = picture.scene.rules.min_margin;
  return std::abs(allowed) * picture.sheet.scale > 0.5 &&
         picture.look.beam.end_radius + allowed > 0;
}

/// The beam: where it ends, what must stay free round it there, and where it passes a body.
std::string beam(const Picture& picture) {
  const double scale = picture.sheet.scale;
  const double radius = picture.look.beam.end_radius * scale;
  std::string svg = circle(picture.look.is_reached ? "disc clear" : "disc", radius);
  // Over the disc, or its fill would wash the hatch out where both lie.
  svg += hidden(picture) + circle("allowed", radius);
  if (is_ring_drawn(picture))
    svg += circle("allowed", radius + picture.scene.rules.min_margin * scale);
  if (picture.scenery.passes) svg += circle("passing", picture.scenery.passing_radius * scale);
  return svg + circle("axis-dot", 1.4);
}

std::string target(const Picture& picture) {
  std::string svg;
  for (const RoundCone& solid : picture.look.target_solids)
    svg += path("target", svg_path(picture.sheet, {picture.eye.outline(solid)}));
  const auto& cause = picture.look.cause;
  if (picture.look.cut && cause && cause->rule != Rule::beam)
    svg += path("cut", svg_path(picture.sheet, {picture.eye.outline(*picture.look.cut)}));
  return svg;
}

/// How far from the middle nothing else should be put, sheet units.
double crowded_radius(const Picture& picture) {
  double radius = std::max(picture.look.beam.end_radius, picture.scenery.passing_radius);
  for (const RoundCone& solid : picture.look.target_solids) {
    for (const Vec2& p : picture.eye.outline(solid)) radius = std::max(radius, p.norm());
  }
  return std::min(radius * picture.sheet.scale, 0.5 * kHeight - 96);
}

std::string cure_words(const Scene& scene, const Cure& cure) {
  const std::string length = length_with_unit(scene, cure.shift.norm(), step::kPlace);
  if (cure.kind == CureKind::shift_station) return "shift the station " + length;
  return (cure.shift.z() > 0 ? "raise the instrument " : "lower the instrument ") + length;
}

/// An arrow of one length: how far is in its words, for to scale it would mostly leave the picture.
std::string cure_arrow(const Picture& picture, LabelPlaces& labels) {
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

std::string names(const Picture& picture, LabelPlaces& labels) {
  std::string svg;
  const Box2& window = picture.scenery.window;
  const double keep_off = crowded_radius(picture) / picture.sheet.scale;
  const auto name = [&](const Seen& seen, const std::vector<Seen>& over, std::string_view kind,
                        std::string_view more) {
    const auto at = name_place(seen, over, window, keep_off);
    if (!at) return;
    const std::string text =
        shortened(picture.scene.bodies[seen.body.index].name, kMostLetters) + std::string(more);
    // Its middle there: the place beside a point begins a gap to the right of it.
    const double half = 0.29 * kName * static_cast<double>(columns_of(text));
    const auto place =
        labels.place(picture.sheet.on(*at) - Vec2(half + 3, 0), 0, text, kName, false);
    if (place) svg += svg_text(place->at, place->anchor, kind, text);
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

std::vector<std::string> wrapped(const std::string& text) {
  std::vector<std::string> lines{""};
  for (std::size_t i = 0; i <= text.size();) {
    const std::size_t end = std::min(text.find(' ', i), text.size());
    const std::string word = text.substr(i, end - i);
    if (!lines.back().empty() && columns_of(lines.back()) + 1 + columns_of(word) > kColumns)
      lines.emplace_back();
    lines.back() += (lines.back().empty() ? "" : " ") + word;
    i = end + 1;
  }
  for (std::string& line : lines) line = shortened(line, kColumns);
  return lines;
}

/// What is wrong, and what cures it or how near it is.
std::vector<std::string> sentences(const Picture& picture) {
  const auto& [scene, diagnosis, look, eye, seen, sheet, cure] = picture;
  std::vector<std::string> all;
  const Vec3 along = (look.beam.end - look.beam.start).normalized();
  if (look.cause) all.push_back(cause_sentence(scene, *look.cause) + ".");
  constexpr std::size_t kMostBodies = 4;
  for (std::size_t i = 0; i < look.bodies.size() && i < kMostBodies; ++i)
    all.push_back(obstruction_sentence(scene, along, look.bodies[i]) + ".");
  if (look.bodies.size() > kMostBodies)
    all.push_back(fmt::format("And {} more.", look.bodies.size() - kMostBodies));
  if (look.is_reached && std::isfinite(look.margin)) {
    all.insert(all.begin(), fmt::format("Nothing comes nearer to the beam than {}.",
                                        length_with_unit(scene, look.margin, step::kMargin)));
  }
  if (cure != nullptr) {
    all.push_back(cure_sentence(scene, *cure));
  } else if (diagnosis.mark.verdict == Verdict::blocked) {
    all.emplace_back("No height and no shift of the station that was tried cures it.");
  }
  return all;
}

/// A symbol and what it means, from `at` on; its width is added to `at`.
std::string legend_entry(Vec2& at, const std::string& symbol, const std::string& words) {
  constexpr double kSymbol = 26, kLetter = 6.1;
  const double width = kSymbol + kLetter * static_cast<double>(columns_of(words)) + 18;
  if (at.x() + width > kBorder + kWidth + 18) at = {kBorder, at.y() + kLine};
  const std::string svg = fmt::format("<g transform=\"translate({} {})\">{}</g>\n",
                                      svg_number(at.x()), svg_number(at.y() - 11), symbol) +
                          svg_text(at + Vec2(kSymbol, 0), "start", "small", words);
  at.x() += width;
  return svg;
}

std::string legend(const Picture& picture, Vec2& at) {
  const bool is_clear = picture.look.is_reached;
  const Scene& scene = picture.scene;
  std::string svg = legend_entry(
      at,
      fmt::format("<circle class=\"disc{}\" cx=\"9\" cy=\"7\" r=\"6\"/>", is_clear ? " clear" : ""),
      fmt::format("beam where it ends, {} wide",
                  length_with_unit(scene, 2 * picture.look.beam.end_radius, step::kMargin)));
  svg += legend_entry(at, "<circle class=\"target\" cx=\"9\" cy=\"7\" r=\"6\"/>",
                      shortened(target_name(scene, picture.look.target), kMostLetters));
  if (picture.scenery.passes) {
    svg +=
        legend_entry(at, "<circle class=\"passing\" cx=\"9\" cy=\"7\" r=\"6\"/>",
                     "beam where it passes " +
                         shortened(scene.bodies[picture.scenery.passes->index].name, kMostLetters));
  }
  if (is_ring_drawn(picture)) {
    svg +=
        legend_entry(at, "<circle class=\"allowed\" cx=\"9\" cy=\"7\" r=\"6\"/>",
                     fmt::format("to be left free: {} round it",
                                 length_with_unit(scene, scene.rules.min_margin, step::kMargin)));
  }
  const auto& hidden = picture.scenery.hidden;
  if (std::any_of(hidden.begin(), hidden.end(),
                  [](const Hidden& h) { return !h.outlines.empty(); }))
    svg += legend_entry(at, "<path class=\"hidden\" d=\"M2 1H17V13H2Z\"/>", "clipped");
  if (!picture.scenery.behind.empty())
    svg += legend_entry(at, "<path class=\"body behind\" d=\"M2 1H17V13H2Z\"/>", "part behind");
  return svg;
}

std::string head(const Picture& picture) {
  const Scene& scene = picture.scene;
  const std::string name = shortened(subject_name(scene, picture.diagnosis.subject), kMostLetters);
  const double distance =
      (picture.look.target_solids.front().start - picture.diagnosis.station).norm();
  return svg_text({kBorder, kBorder + 17}, "start", "title",
                  fmt::format("{}: {}", name, verdict_words(picture.diagnosis.mark.verdict))) +
         svg_text(
             {kBorder, kBorder + 40}, "start", "soft",
             fmt::format("Seen along the beam from ({}) {} to {}, {} away",
                         place_text(scene, picture.diagnosis.station, step::kPlace), scene.units,
                         shortened(target_name(scene, picture.look.target), kMostLetters),
                         length_with_unit(scene, distance, step::kPlace)));
}

std::string drawn(const Picture& picture) {
  LabelPlaces labels({{4, 4}, {kWidth - 4, kHeight - 4}});
  const double crowded = crowded_radius(picture);
  labels.take({kMiddle - Vec2::Constant(crowded), kMiddle + Vec2::Constant(crowded)});
  const std::string arrow = cure_arrow(picture, labels);
  return fmt::format(
             "<defs><clipPath id=\"window\"><rect width=\"{0}\" "
             "height=\"{1}\"/></clipPath></defs>\n"
             "<g transform=\"translate({2} {3})\">\n<g clip-path=\"url(#window)\">\n",
             svg_number(kWidth), svg_number(kHeight), svg_number(kBorder), svg_number(kHead)) +
         bodies(picture) + beam(picture) + target(picture) + names(picture, labels) + arrow +
         fmt::format("</g>\n<rect class=\"frame\" width=\"{}\" height=\"{}\"/>\n</g>\n",
                     svg_number(kWidth), svg_number(kHeight));
}

std::string document(const Picture& picture) {
  std::string body = head(picture) + drawn(picture);
  Vec2 at(kBorder, kHead + kHeight + 26);
  body += scale_bar(picture.scene, picture.sheet, at - Vec2(0, 4));
  body += svg_text({kBorder + kWidth, at.y()}, "end", "small",
                   "to scale where the beam ends; what is nearer looks larger");
  at.y() += 26;
  body += legend(picture, at);
  at = {kBorder, at.y() + 12};
  for (const std::string& sentence : sentences(picture)) {
    at.y() += 4;
    for (const std::string& line : wrapped(sentence))
      body += svg_text(at += Vec2(0, kLine), "start", "text", line);
  }
  const double width = kWidth + 2 * kBorder, height = at.y() + kBorder;
  return fmt::format(
             "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" "
             "viewBox=\"0 0 {0} {1}\" role=\"img\" aria-labelledby=\"picture-title\">\n"
             "<title id=\"picture-title\">{2}, seen along the beam</title>\n",
             svg_number(width), svg_number(height),
             for_markup(subject_name(picture.scene, picture.diagnosis.subject))) +
         kStyle +
         fmt::format("<rect class=\"paper\" width=\"{}\" height=\"{}\"/>\n", svg_number(width),
                     svg_number(height)) +
         body + "</svg>\n";
}

}  // namespace

std::optional<std::string> draw_beam_picture(const Cell& cell, const Diagnosis& diagnosis) {
  const auto look = beam_to_look_along(cell, diagnosis);
  if (!look || (look->beam.end - look->beam.start).norm() < 1e-3) return std::nullopt;
  const Perspective eye(look->beam.start, look->beam.end);
  const Scenery seen = scenery(cell.scene(), *look, eye, static_cast<int>(kWidth));
  const double scale = kWidth / (seen.window.high.x() - seen.window.low.x());
  const Sheet sheet{View{Vec3::UnitX(), Vec3::UnitY()}, seen.window, scale};
  const Picture picture{
      cell.scene(), diagnosis, *look, eye, seen, sheet, smallest_station_cure(diagnosis.cures)};
  return document(picture);
}

}  // namespace standpoint
