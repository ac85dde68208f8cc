#include "io/write/drawings/sheet.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/text.h"

namespace standpoint {

std::string svg_number(double value) {
  std::string text = fixed_text(value, 1);
  if (text.size() > 2 && text.compare(text.size() - 2, 2, ".0") == 0) text.resize(text.size() - 2);
  return text;
}

std::string svg_path(const Sheet& sheet, const Outlines& outlines) {
  std::string path;
  for (const auto& outline : outlines) {
    char command = 'M';
    for (const Vec2& corner : outline) {
      const Vec2 p = sheet.on(corner);
      path += command + svg_number(p.x()) + ' ' + svg_number(p.y());
      command = 'L';
    }
    path += 'Z';
  }
  return path;
}

std::string svg_text(const Vec2& at, std::string_view anchor, std::string_view kind,
                     std::string_view text) {
  return fmt::format("<text class=\"{}\" x=\"{}\" y=\"{}\" text-anchor=\"{}\">{}</text>\n", kind,
                     svg_number(at.x()), svg_number(at.y()), anchor, for_markup(text));
}

std::string shortened(std::string_view text, std::size_t most) {
  const std::string clean = well_formed(text);
  std::size_t points = 0, cut = clean.size();
  for (std::size_t i = 0; i < clean.size(); ++i) {
    const bool is_start = (static_cast<unsigned char>(clean[i]) & 0xC0) != 0x80;
    if (!is_start) continue;
    if (points == most - 1) cut = i;
    ++points;
  }
  return points <= most ? clean : clean.substr(0, cut) + "\u2026";
}

namespace {

/// About the room of a text whose baseline starts at `left`.
Box2 text_box(const Vec2& left, std::string_view text, double height) {
  constexpr double kWidthShare = 0.58;  // of the height, for a middling letter of a sans serif
  const double width = kWidthShare * height * static_cast<double>(columns_of(text));
  return {left - Vec2(0, 0.8 * height), left + Vec2(width, 0.25 * height)};
}

}  // namespace

bool LabelPlaces::take_if_free(const Vec2& at, std::string_view text, double height) {
  const Box2 box = text_box(at, text, height);
  if (!is_free(box)) return false;
  take(box);
  return true;
}

bool LabelPlaces::is_free(const Box2& box) const {
  if ((box.low.array() < page_.low.array()).any() || (box.high.array() > page_.high.array()).any())
    return false;
  return std::none_of(taken_.begin(), taken_.end(), [&](const Box2& other) {
    return (box.low.array() < other.high.array()).all() &&
           (other.low.array() < box.high.array()).all();
  });
}

std::optional<LabelPlaces::Place> LabelPlaces::place(const Vec2& point, double radius,
                                                     std::string_view text, double height,
                                                     bool must) {
  const Box2 room = text_box(Vec2::Zero(), text, height);
  const double width = room.high.x() - room.low.x();
  const double gap = radius + 3;
  struct Choice {
    double x, y;  // middle of the text from the point, in gaps; text's own size is added
    const char* anchor;
  };
  constexpr std::array<Choice, 8> kChoices{{{1, 0, "start"},
                                            {0, -1, "middle"},
                                            {0, 1, "middle"},
                                            {-1, 0, "end"},
                                            {0.7, -0.7, "start"},
                                            {-0.7, -0.7, "end"},
                                            {0.7, 0.7, "start"},
                                            {-0.7, 0.7, "end"}}};
  std::optional<Place> first;
  std::optional<Box2> first_box;
  for (const Choice& choice : kChoices) {
    const Vec2 at(point.x() + choice.x * gap,
                  point.y() + choice.y * (gap + height / 2) + 0.35 * height);
    const double left = choice.x > 0 ? at.x() : choice.x < 0 ? at.x() - width : at.x() - width / 2;
    const Box2 box = text_box({left, at.y()}, text, height);
    if (!first) {
      first = Place{at, choice.anchor};
      first_box = box;
    }
    if (!is_free(box)) continue;
    take(box);
    return Place{at, choice.anchor};
  }
  if (!must) return std::nullopt;
  take(*first_box);
  return first;
}

}  // namespace standpoint
