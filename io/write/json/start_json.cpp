#include "io/write/json/start_json.h"

#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/lengths.h"
#include "io/words/text.h"

namespace standpoint {
namespace {

/// Lengths and angles as somebody would type them: what rounding leaves of a figure is cut off.
Json tidy(double value) {
  constexpr double kDigits = 1e9;
  const double rounded = std::round(value * kDigits) / kDigits;
  if (rounded == std::round(rounded) && std::abs(rounded) < 1e15)
    return static_cast<std::int64_t>(rounded);
  return rounded;
}
Json tidy(const Vec2& at) {
  return Json::array({tidy(at.x()), tidy(at.y())});
}
Json tidy(const Vec3& at) {
  return Json::array({tidy(at.x()), tidy(at.y()), tidy(at.z())});
}
Json degrees(double rad) {
  return tidy(to_degrees(rad));
}

/// As one line, with a blank after each comma and colon.
std::string line_of(const Json& node) {
  if (node.is_object() || node.is_array()) {
    std::string text;
    for (const auto& [key, value] : node.items()) {
      if (!text.empty()) text += ", ";
      if (node.is_object()) text += Json(key).dump() + ": ";
      text += line_of(value);
    }
    return node.is_object() ? "{" + text + "}" : "[" + text + "]";
  }
  return node.dump();
}

/// Puts lines together and remembers what stands where.
class Lines {
 public:
  void add(const std::string& line) {
    text_ += line + "\n";
    ++count_;
  }
  void add(const std::string& pointer, const std::string& line) {
    add(line);
    result_.line_of[pointer] = count_;
  }
  /// A list, one entry a line, or `per_line` of them.
  void add_list(const std::string& key, const std::vector<Json>& entries, const char* after,
                std::size_t per_line = 1) {
    add("/" + key, fmt::format("  \"{}\": [", key));
    std::string line;
    for (std::size_t i = 0; i < entries.size(); ++i) {
      line += (line.empty() ? "    " : " ") + line_of(entries[i]);
      if (i + 1 < entries.size()) line += ",";
      if ((i + 1) % per_line != 0 && i + 1 < entries.size()) continue;
      add(line);
      line.clear();
    }
    for (std::size_t i = 0; i < entries.size(); ++i)
      result_.line_of[fmt::format("/{}/{}", key, i)] =
          result_.line_of["/" + key] + 1 + i / per_line;
    add(fmt::format("  ]{}", after));
  }
  StartText take() {
    result_.text = for_json(text_);
    return std::move(result_);
  }

 private:
  StartText result_;
  std::string text_;
  std::size_t count_ = 0;
};

Json text(const std::string& words) {
  return json::text(words);
}

std::vector<Json> body_objects(const StartScene& scene) {
  std::vector<Json> bodies;
  for (const StartPart& part : scene.parts)
    bodies.push_back({{"name", text(part.name)},
                      {"role", "part"},
                      {"mesh", text(part.mesh)},
                      {"frame", "part"}});
  if (scene.has_floor)
    bodies.push_back({{"name", "floor"},
                      {"role", "surroundings"},
                      {"floor", {{"size", tidy(scene.layout.floor_size)}}}});
  return bodies;
}

Json error_term(const ErrorTerm& term) {
  constexpr double kMmPerMetre = 1000;
  return {{"fixed", tidy(term.fixed)}, {"per_metre", tidy(term.per_mm * kMmPerMetre)}};
}

void add_instrument(const Instrument& instrument, Lines& lines) {
  lines.add("/instrument",
            fmt::format(R"(  "instrument": {{"name": {},)", Json(instrument.name).dump()));
  const auto field = [&](const char* key, const Json& value, const char* after) {
    lines.add(std::string("/instrument/") + key,
              fmt::format("    {}: {}{}", Json(key).dump(), line_of(value), after));
  };
  field("beam",
        {{"diameter", tidy(instrument.beam_diameter)},
         {"growth_mrad", tidy(instrument.beam_growth_rad * 1000)}},
        ",");
  lines.add(
      "/instrument/range",
      fmt::format(R"(    "range": {}, "elevation": {},)",
                  line_of(Json::array({tidy(instrument.range.low), tidy(instrument.range.high)})),
                  line_of(Json::array({degrees(instrument.elevation_rad.low),
                                       degrees(instrument.elevation_rad.high)}))));
  field("body",
        {{"radius", tidy(instrument.body_radius)},
         {"above", tidy(instrument.body_above)},
         {"below", tidy(instrument.body_below)}},
        ",");
  field("error",
        {{"coverage_factor", tidy(instrument.error.coverage_factor)},
         {"transverse", error_term(instrument.error.transverse)},
         {"radial", error_term(instrument.error.radial)}},
        "},");
}

std::vector<Json> ball_objects(const StartKit& kit) {
  std::vector<Json> balls;
  for (const FullTarget& ball : kit.full_targets)
    balls.push_back({{"name", text(ball.name)},
                     {"diameter", tidy(2 * ball.radius)},
                     {"acceptance", degrees(ball.acceptance_rad)},
                     {"aperture", degrees(ball.aperture_rad)}});
  return balls;
}

Json stylus_object(const MirrorStylus& stylus) {
  return {{"name", text(stylus.name)},
          {"kind", "mirror"},
          {"tip_diameter", tidy(2 * stylus.shank.tip_radius)},
          {"length", tidy(stylus.length)},
          {"shank_diameter", tidy(2 * stylus.shank.radius)},
          {"head_diameter", tidy(2 * stylus.head_radius)},
          {"swing", degrees(stylus.swing_rad)}};
}

Json stylus_object(const TwoBallStylus& stylus) {
  return {{"name", text(stylus.name)},
          {"kind", "two-ball"},
          {"tip_diameter", tidy(2 * stylus.shank.tip_radius)},
          {"ball_distances", {tidy(stylus.ball_distances[0]), tidy(stylus.ball_distances[1])}},
          {"ball_diameter", tidy(2 * stylus.ball_radius)},
          {"shank_diameter", tidy(2 * stylus.shank.radius)},
          {"acceptance", degrees(stylus.acceptance_rad)}};
}

std::vector<Json> stylus_objects(const StartKit& kit) {
  std::vector<Json> styli;
  for (const OffsetStylus& stylus : kit.offset_styli)
    styli.push_back(std::visit([](const auto& one) { return stylus_object(one); }, stylus));
  return styli;
}

std::vector<Json> site_objects(const Layout& layout) {
  std::vector<Json> sites;
  for (const Nest& site : layout.nest_sites)
    sites.push_back({{"name", text(site.name)},
                     {"at", tidy(site.at)},
                     {"normal", tidy(site.normal)},
                     {"seat", degrees(site.seat_rad)}});
  return sites;
}

void add_zones(const Layout& layout, Lines& lines) {
  lines.add("/stations", R"(  "stations": {"zones": [)");
  Json heights = Json::array();
  for (const double height : layout.heights) heights.push_back(tidy(height));
  for (std::size_t i = 0; i < layout.aisles.size(); ++i) {
    const Rectangle& aisle = layout.aisles[i];
    const Json polygon{tidy(aisle.low), tidy(Vec2(aisle.high.x(), aisle.low.y())), tidy(aisle.high),
                       tidy(Vec2(aisle.low.x(), aisle.high.y()))};
    const Json zone{{"name", text(aisle.name)},
                    {"polygon", polygon},
                    {"heights", heights},
                    {"spacing", tidy(layout.spacing)}};
    lines.add(fmt::format("/stations/zones/{}", i),
              "    " + line_of(zone) + (i + 1 < layout.aisles.size() ? "," : ""));
  }
  lines.add("  ]},");
}

}  // namespace

StartText start_text(const StartScene& scene) {
  Lines lines;
  lines.add("{");
  lines.add(
      "/name",
      fmt::format(R"(  "format": "standpoint-scene", "version": 1, "name": {}, "units": "mm",)",
                  text(scene.name).dump()));
  if (scene.hall)
    lines.add("/include", fmt::format(R"(  "include": [{}],)", text(*scene.hall).dump()));
  lines.add("/frames/0",
            fmt::format(R"(  "frames": [{}],)",
                        line_of({{"name", "part"},
                                 {"translate", tidy(scene.footing.translate)},
                                 {"rotate_xyz_deg", tidy(scene.footing.rotate_xyz_deg)}})));
  lines.add_list("bodies", body_objects(scene), ",");
  if (scene.has_instrument) add_instrument(scene.kit.instrument, lines);
  if (scene.has_targets) {
    lines.add_list("full_targets", ball_objects(scene.kit), ",");
    lines.add_list("offset_styli", stylus_objects(scene.kit), ",");
  }
  constexpr std::size_t kSitesPerLine = 2;
  if (scene.has_nest_sites)
    lines.add_list("nest_sites", site_objects(scene.layout), ",", kSitesPerLine);
  if (scene.has_zones) add_zones(scene.layout, lines);
  lines.add("/feature_lists/0",
            fmt::format(R"(  "feature_lists": [{}])",
                        line_of({{"file", text(scene.feature_list)}, {"frame", "part"}})));
  lines.add("}");
  return lines.take();
}

std::string start_json(const StartScene& scene, const StartText& text,
                       const std::filesystem::path& folder) {
  Json object;
  object["format"] = "standpoint-start";
  object["version"] = 1;
  object["scene"] = json::text((folder / kSceneFile).string());
  object["features"] =
      scene.features.empty() ? Json(nullptr) : json::text((folder / kFeatureList).string());
  object["found"] = scene.features.size();
  object["guesses"] = Json::array();
  for (const StartGuess& guess : scene.guesses)
    object["guesses"].push_back({{"line", text.line_of.at(guess.pointer)},
                                 {"pointer", json::text(guess.pointer)},
                                 {"guess", json::text(guess.what)},
                                 {"change", json::text(guess.change)}});
  return json::write(object);
}

}  // namespace standpoint
