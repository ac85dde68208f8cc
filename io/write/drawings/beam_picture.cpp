#include "io/write/drawings/beam_picture.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/drawings/beam_drawing.h"
#include "io/write/drawings/drawing_marks.h"
#include "io/write/words/why_words.h"

namespace standpoint {
namespace {

// Sheet units, as in the plan's drawings: a quarter of a millimetre on paper.
constexpr double kWidth = kDrawingWidth, kHeight = kDrawingHeight;
constexpr double kBorder = 24, kHead = 78;  // round the drawing, and above it for the title
constexpr double kLine = 17;
constexpr std::size_t kColumns = 112;

// Colours are from the palette of Okabe and Ito, as on the page; dash, weight and hatch say the
// same.
constexpr const char* kStyle = R"svg(<style>
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
.hatch { fill: none; stroke: #d55e00; stroke-width: 2.2; }
.hidden { fill: url(#hidden-hatch); stroke: #d55e00; stroke-width: 1.2; fill-rule: evenodd; }
.target { fill: none; stroke: #1b1c1e; stroke-width: 1; stroke-dasharray: 5 3; }
.cut { fill: none; stroke: #d55e00; stroke-width: 1.4; stroke-dasharray: 9 3; }
.disc { fill: #fff; fill-opacity: .7; stroke: #1b1c1e; stroke-width: 1.6; }
.disc.clear { fill: #009e73; fill-opacity: .35; }
.allowed { fill: none; stroke: #1b1c1e; stroke-width: .7; }
.passing { fill: none; stroke: #d55e00; stroke-width: 1.2; stroke-dasharray: 2 2; }
.inset-frame { fill: none; stroke: #1b1c1e; stroke-width: 1.2; }
.axis-dot { fill: #1b1c1e; }
.arrow { fill: none; stroke: #0072b2; stroke-width: 2.6; stroke-linecap: round; stroke-linejoin: round; }
.arrow-halo { fill: none; stroke: #fff; stroke-width: 6; stroke-linecap: round; stroke-linejoin: round; }
.bar { fill: none; stroke: #1b1c1e; stroke-width: 1; }
</style>
<defs><pattern id="hidden-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="hatch" d="M3 -1V7"/></pattern></defs>
)svg";

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

/// What is wrong, and what would fix it or how near it is.
std::vector<std::string> sentences(const BeamDrawing& picture) {
  const auto& [cell, scene, diagnosis, look, eye, seen, sheet, cure] = picture;
  std::vector<std::string> all;
  const Pierced pierced = look.cause ? pierced_by(scene, *look.cause) : Pierced::beam;
  if (look.cause) all.push_back(cause_sentence(scene, *look.cause) + ".");
  constexpr std::size_t kMostBodies = 4;
  for (std::size_t i = 0; i < look.bodies.size() && i < kMostBodies; ++i)
    all.push_back(obstruction_sentence(scene, pierced, diagnosis.station, look.bodies[i]) + ".");
  if (look.bodies.size() > kMostBodies)
    all.push_back(fmt::format("And {} more.", look.bodies.size() - kMostBodies));
  if (look.is_reached && std::isfinite(look.margin)) {
    all.insert(all.begin(), fmt::format("Nothing comes nearer to the beam than {}.",
                                        length_with_unit(scene, look.margin, step::kMargin)));
  }
  if (cure != nullptr) {
    all.push_back(cure_sentence(scene, *cure));
  } else if (diagnosis.mark.verdict == Verdict::blocked) {
    all.emplace_back("No height and no shift of the station that was tried would fix it.");
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

std::string legend(const BeamDrawing& picture, Vec2& at) {
  const bool is_clear = picture.look.is_reached;
  const Scene& scene = picture.scene;
  std::string svg = legend_entry(
      at,
      fmt::format("<circle class=\"disc{}\" cx=\"9\" cy=\"7\" r=\"6\"/>", is_clear ? " clear" : ""),
      fmt::format("beam where it ends, {} wide",
                  length_with_unit(scene, 2 * picture.look.beam.end_radius, step::kMargin)));
  svg += legend_entry(at, "<circle class=\"target\" cx=\"9\" cy=\"7\" r=\"6\"/>",
                      shortened(target_name(scene, picture.look.target), kMostBeamLetters));
  if (picture.scenery.passes) {
    svg += legend_entry(
        at, "<circle class=\"passing\" cx=\"9\" cy=\"7\" r=\"6\"/>",
        "beam where it passes " +
            shortened(scene.bodies[picture.scenery.passes->index].name, kMostBeamLetters));
  }
  if (picture.look.cut && picture.look.cause && picture.look.cause->rule != Rule::beam) {
    const Rule rule = picture.look.cause->rule;
    svg += legend_entry(at, "<circle class=\"cut\" cx=\"9\" cy=\"7\" r=\"6\"/>",
                        rule == Rule::shank  ? "shank, not clear"
                        : rule == Rule::head ? "head, not clear"
                                             : "ball that does not fit");
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

std::string head(const BeamDrawing& picture) {
  const Scene& scene = picture.scene;
  const std::string name =
      shortened(subject_name(scene, picture.diagnosis.subject), kMostBeamLetters);
  const double distance =
      (picture.look.target_solids.front().start - picture.diagnosis.station).norm();
  return svg_text({kBorder, kBorder + 17}, "start", "title",
                  fmt::format("{}: {}", name, verdict_words(picture.diagnosis.mark.verdict))) +
         svg_text(
             {kBorder, kBorder + 40}, "start", "soft",
             fmt::format("Seen along the beam from ({}) {} to {}, {} away",
                         place_text(scene, picture.diagnosis.station, step::kPlace), scene.units,
                         shortened(target_name(scene, picture.look.target), kMostBeamLetters),
                         length_with_unit(scene, distance, step::kPlace)));
}

std::string document(const BeamDrawing& picture) {
  std::string body = head(picture) + fmt::format("<g transform=\"translate({} {})\">\n{}</g>\n",
                                                 kBorder, kHead, draw_along_beam(picture));
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
  const Box2 window = picture_window(cell, *look, eye);
  const Scenery seen = scenery_in(cell, *look, eye, window, static_cast<int>(kDrawingWidth));
  const double scale = kWidth / (seen.window.high.x() - seen.window.low.x());
  const Sheet sheet{View{Vec3::UnitX(), Vec3::UnitY()}, seen.window, scale};
  const BeamDrawing picture{cell, cell.scene(), diagnosis, *look,
                            eye,  seen,         sheet,     smallest_station_cure(diagnosis.cures)};
  return document(picture);
}

}  // namespace standpoint
