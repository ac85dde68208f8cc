#include "io/write/sheet/check_sheet.h"

#include <array>
#include <utility>

#include <fmt/format.h>

#include "io/words/text.h"
#include "io/write/drawings/plan_drawing.h"
#include "io/write/sheet/page_parts.h"

namespace standpoint {
namespace {

constexpr double kGap = 16;  // between the two drawings, sheet units

/// The style with its variables filled in: not every viewer of SVG knows them.
std::string plain_style() {
  std::string style = page::style();
  for (std::size_t at = style.find("--"); at != std::string::npos; at = style.find("--", at + 2)) {
    if (style.compare(at >= 4 ? at - 4 : at, 4, "var(") == 0) continue;
    const std::size_t colon = style.find(':', at), end = style.find(';', colon);
    if (colon == std::string::npos || end == std::string::npos) break;
    const std::string use = "var(" + style.substr(at, colon - at) + ")";
    const std::size_t from = style.find_first_not_of(' ', colon + 1);
    const std::string value = style.substr(from, end - from);
    for (std::size_t used = style.find(use); used != std::string::npos; used = style.find(use))
      style.replace(used, use.size(), value);
  }
  return style;
}

/// A drawing put at height `y` in another one.
std::string nested(std::string svg, double y, const Vec2& size) {
  const std::string begin = "<svg class=\"drawing\"";
  return svg.replace(svg.find(begin), begin.size(),
                     fmt::format("<svg y=\"{}\" width=\"{}\" height=\"{}\"", svg_number(y),
                                 svg_number(size.x()), svg_number(size.y())));
}

std::string list(const char* title, const std::vector<std::string>& sentences) {
  if (sentences.empty()) return "";
  std::string html = fmt::format("<section><h2>{}</h2>\n<ul class=\"warnings\">\n", title);
  for (const std::string& sentence : sentences)
    html += fmt::format("<li>{}</li>\n", for_markup(sentence));
  return html + "</ul></section>\n";
}

std::string numbers(const Scene& scene) {
  if (scene.features.empty()) return "";
  std::string html = "<section><h2>Features</h2>\n<ol>\n";
  for (const Feature& feature : scene.features)
    html += fmt::format("<li>{}</li>\n", for_markup(feature.name));
  return html + "</ol></section>\n";
}

}  // namespace

std::string check_svg(const Cell& cell) {
  const SceneDrawings drawings = draw_scene(cell);
  const double width = drawings.plan_size.x();
  const double below = drawings.plan_size.y() + kGap;
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" "
      "viewBox=\"0 0 {0} {1}\">\n<style>{2}</style>\n<rect width=\"{0}\" height=\"{1}\" "
      "fill=\"#fff\"/>\n<g class=\"sheet\">\n{3}{4}</g>\n</svg>\n",
      svg_number(width), svg_number(below + drawings.elevation_size.y()), for_markup(plain_style()),
      nested(drawings.plan, 0, drawings.plan_size),
      nested(drawings.elevation, below, drawings.elevation_size));
}

std::string check_html(const Cell& cell, const CheckSheet& sheet) {
  const Scene& scene = cell.scene();
  const SceneDrawings drawings = draw_scene(cell);
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width\">\n<title>{0}: scene</title>\n"
      "<style>{1}</style>\n</head>\n<body>\n<div class=\"sheet\">\n<p class=\"kind\">Scene</p>\n"
      "<h1>{0}</h1>\n<p class=\"lede\">{2}</p>\n{3}"
      "<section><h2>Plan and elevation</h2>\n<figure>\n{4}</figure>\n<figure>\n{5}</figure>\n"
      "</section>\n{6}{7}</div>\n</body>\n</html>\n",
      for_markup(scene.name), page::style(), for_markup(sheet.lede),
      list("Look at these", sheet.warnings), drawings.plan, drawings.elevation,
      list("Remarks", sheet.remarks), numbers(scene));
}

}  // namespace standpoint
