#include "io/write/drawings/plan_drawing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "io/words/names.h"
#include "io/words/text.h"
#include "io/write/drawings/drawing_areas.h"
#include "io/write/drawings/drawing_marks.h"
#include "io/write/drawings/sheet.h"
#include "planner/crew/cautions.h"
#include "planner/crew/work_order.h"

namespace standpoint {
namespace {

constexpr double kPlanWidth = 720, kMostHeight = 560, kLeastHeight = 110;
constexpr double kPlanBorder = 30;       // sheet units kept free round what is shown
constexpr double kStrip = 50;            // below the drawing: axes and scale
constexpr std::size_t kMostBeams = 120;  // above that one beam a feature is drawn
constexpr double kNumber = 9.5;          // height of a label's figures

struct Drawing {
  const Cell& cell;
  const Scene& scene;  ///< of the cell
  const Plan& plan;
  Sheet sheet;
  bool is_from_above = true;
  bool is_planned = true;  ///< false: the scene alone, and an empty plan
};

/// The touches of a feature as it is measured, or as its nearest miss has them.
const FeatureMark* shown_mark(const Plan& plan, const PlannedFeature& planned) {
  if (const FeatureMark* mark = mark_of(plan, planned)) return mark;
  for (const Unreached& unreached : plan.unreached) {
    if (unreached.feature == planned.feature) return &unreached.mark;
  }
  if (plan.stations.empty()) return nullptr;
  return &plan.stations[0].sight.features[planned.feature.index];
}

Vec3 place_of_shape(const Shape& shape) {
  struct {
    Vec3 operator()(const PointFeature& f) const { return f.at; }
    Vec3 operator()(const PlaneFeature& f) const {
      Vec3 sum = Vec3::Zero();
      for (const Vec3& p : f.points) sum += p;
      return f.points.empty() ? sum : Vec3(sum / static_cast<double>(f.points.size()));
    }
    Vec3 operator()(const HoleFeature& f) const { return f.centre; }
    Vec3 operator()(const CylinderFeature& f) const { return f.centre; }
    Vec3 operator()(const SphereFeature& f) const { return f.centre; }
    Vec3 operator()(const LineFeature& f) const { return (f.from + f.to) / 2; }
    Vec3 operator()(const ConeFeature& f) const { return f.centre; }
    Vec3 operator()(const SlotFeature& f) const { return f.centre; }
    Vec3 operator()(const SurfaceFeature& f) const {
      Vec3 sum = Vec3::Zero();
      for (const PointFeature& touch : f.touches) sum += touch.at;
      return f.touches.empty() ? sum : Vec3(sum / static_cast<double>(f.touches.size()));
    }
  } visitor;
  return std::visit(visitor, shape);
}

/// Where a feature's symbol goes: the middle of its touches.
Vec3 place_of(const Scene& scene, const Plan& plan, const PlannedFeature& planned) {
  const FeatureMark* mark = shown_mark(plan, planned);
  if (mark == nullptr || mark->touches.empty())
    return place_of_shape(scene.features[planned.feature.index].shape);
  Vec3 sum = Vec3::Zero();
  for (const TouchMark& touch : mark->touches) sum += touch.at;
  return sum / static_cast<double>(mark->touches.size());
}

/// What must be on the sheet: parts, fixtures, stations with their stands, nests, features.
/// Surroundings and zones may run off it, zones not before there is a plan.
Box2 extent(const Cell& cell, const Plan& plan, const View& view, bool is_planned) {
  const Scene& scene = cell.scene();
  Box2 box{Vec2::Constant(HUGE_VAL), Vec2::Constant(-HUGE_VAL)};
  const auto add = [&](const Vec3& p) {
    const Vec2 flat = view.flat(p);
    box.low = box.low.cwiseMin(flat);
    box.high = box.high.cwiseMax(flat);
  };
  for (std::size_t b = 0; b < scene.bodies.size(); ++b) {
    if (scene.bodies[b].role == BodyRole::surroundings) continue;
    for (const Vec3& vertex : cell.mesh(BodyId(b)).vertices) add(vertex);
  }
  const Instrument& instrument = scene.instrument;
  for (const PlannedStation& station : plan.stations) {
    const double level = instrument.body_radius;
    for (const double along : {instrument.body_above, -instrument.body_below}) {
      // Of an upright one the corners of its box; of one that leans no less than its box.
      const Vec3 end = station.at + along * station.up;
      const Vec3 corner(level, level, is_upright(station.up) ? 0 : level);
      add(end + corner);
      add(end - corner);
    }
    if (station.zone) {
      const Vec3 foot(station.at.x(), station.at.y(), scene.zones[*station.zone].floor);
      add(foot);
    }
  }
  for (const Nest& nest : scene.nests) add(nest.at);
  for (const PlannedFeature& planned : plan.features) add(place_of(scene, plan, planned));
  if (!is_planned) {
    for (const Feature& feature : scene.features) add(place_of_shape(feature.shape));
    for (const FixedStation& place : scene.fixed_stations) add(place.at);
    for (const Zone& zone : scene.zones) {
      for (const Vec2& corner : zone.polygon) add({corner.x(), corner.y(), zone.floor});
    }
  }
  if (!(box.low.array() <= box.high.array()).all()) return {Vec2::Zero(), Vec2::Constant(1000)};
  // One point alone still needs a sheet with a size.
  if ((box.high - box.low).maxCoeff() < 1) box.high += Vec2::Constant(1000);
  return box;
}

/// Plan and elevation with one scale and one left-to-right window.
std::array<Sheet, 2> sheets(const Cell& cell, const Plan& plan, bool is_planned = true) {
  const View above{Vec3::UnitX(), Vec3::UnitY()};
  const View side{Vec3::UnitX(), Vec3::UnitZ()};
  const std::array<Box2, 2> extents{extent(cell, plan, above, is_planned),
                                    extent(cell, plan, side, is_planned)};
  const double free_width = kPlanWidth - 2 * kPlanBorder,
               free_height = kMostHeight - 2 * kPlanBorder;
  double scale = HUGE_VAL;
  for (const Box2& box : extents) {
    const Vec2 size = (box.high - box.low).cwiseMax(1e-3);
    scale = std::min({scale, free_width / size.x(), free_height / size.y()});
  }
  std::array<Sheet, 2> result;
  for (std::size_t i = 0; i < 2; ++i) {
    const Box2& box = extents[i];
    const Vec2 middle = (box.low + box.high) / 2;
    const double height =
        std::max((box.high - box.low).y() * scale + 2 * kPlanBorder, kLeastHeight) / scale;
    const Vec2 half(kPlanWidth / scale / 2, height / 2);
    result[i] = {i == 0 ? above : side, {middle - half, middle + half}, scale};
  }
  return result;
}

std::string area(const Drawing& drawing, std::string_view kind, const std::vector<Vec2>& polygon) {
  return fmt::format("<path class=\"{}\" d=\"{}\"/>\n", kind, svg_path(drawing.sheet, {polygon}));
}

/// Over a walkway seen from the side: the heights at which a beam may meet eyes.
std::string eye_band(const Drawing& drawing, const Walkway& walkway) {
  double low = walkway.polygon[0].x(), high = low;
  for (const Vec2& corner : walkway.polygon) {
    low = std::min(low, corner.x());
    high = std::max(high, corner.x());
  }
  const Vec2 corner = drawing.sheet.on(Vec3(low, 0, walkway.floor + kEyeHeight.high));
  const Vec2 opposite = drawing.sheet.on(Vec3(high, 0, walkway.floor + kEyeHeight.low));
  return fmt::format("<path class=\"walkway\" d=\"M{} {}H{}V{}H{}Z\"/>\n", svg_number(corner.x()),
                     svg_number(corner.y()), svg_number(opposite.x()), svg_number(opposite.y()),
                     svg_number(corner.x()));
}

std::string areas(const Drawing& drawing) {
  std::string svg;
  if (drawing.is_from_above) {
    for (const Zone& zone : drawing.scene.zones) {
      svg += area(drawing, "zone", zone.polygon);
      for (const auto& hole : zone.holes) svg += area(drawing, "zone", hole);
    }
    for (const KeepOut& one : drawing.scene.keep_outs)
      svg += keep_out_area(drawing.sheet, one.polygon);
  }
  for (const Walkway& walkway : drawing.scene.walkways) {
    svg += drawing.is_from_above ? area(drawing, "walkway", walkway.polygon)
                                 : eye_band(drawing, walkway);
  }
  return svg;
}

std::string area_names(const Drawing& drawing, LabelPlaces& labels) {
  if (!drawing.is_from_above) return "";
  std::string svg;
  for (const Zone& zone : drawing.scene.zones)
    svg += area_name(drawing.sheet, zone.polygon, zone.name, labels);
  for (const Walkway& walkway : drawing.scene.walkways) {
    svg += area_name(drawing.sheet, walkway.polygon, walkway.name + " (walkway)", labels);
  }
  for (const KeepOut& one : drawing.scene.keep_outs)
    svg += area_name(drawing.sheet, one.polygon, one.name + " (keep-out)", labels);
  return svg;
}

std::string floors(const Drawing& drawing) {
  if (drawing.is_from_above) return "";
  std::set<double> heights;
  for (const Zone& zone : drawing.scene.zones) heights.insert(zone.floor);
  if (heights.empty()) heights.insert(0);
  std::string svg;
  for (const double z : heights) {
    const double y = drawing.sheet.on(Vec3(0, 0, z)).y();
    svg += fmt::format("<path class=\"floor\" d=\"M0 {}H{}\"/>\n", svg_number(y),
                       svg_number(drawing.sheet.width()));
  }
  return svg;
}

std::string bodies(const Drawing& drawing, BodyRole role) {
  std::string svg;
  for (std::size_t b = 0; b < drawing.scene.bodies.size(); ++b) {
    const Body& body = drawing.scene.bodies[b];
    if (body.role != role) continue;
    const Outlines outlines = silhouette(drawing.cell.mesh(BodyId(b)), drawing.sheet.view,
                                         drawing.sheet.window, 1 / drawing.sheet.scale);
    if (outlines.empty()) continue;
    svg += fmt::format("<path class=\"body {}\" d=\"{}\"><title>{}</title></path>\n",
                       role_name(role), svg_path(drawing.sheet, outlines), for_markup(body.name));
  }
  return svg;
}

/// Lines from one station, without those that fall on one another on the sheet.
class BeamPath {
 public:
  BeamPath(const Sheet& sheet, const Vec3& from) : sheet_(sheet), from_(sheet.on(from)) {}

  void add(const Vec3& end) {
    const Vec2 p = sheet_.on(end);
    const std::string text = svg_number(p.x()) + ' ' + svg_number(p.y());
    if (!ends_.insert(text).second) return;
    path_ += 'M' + svg_number(from_.x()) + ' ' + svg_number(from_.y()) + 'L' + text;
  }
  [[nodiscard]] std::string svg(std::string_view kind) const {
    if (path_.empty()) return "";
    return fmt::format("<path class=\"beam {}\" d=\"{}\"/>\n", kind, path_);
  }

 private:
  const Sheet& sheet_;
  Vec2 from_;
  std::string path_;
  std::set<std::string> ends_;
};

bool are_beams_joined(const Plan& plan) {
  std::size_t count = 0;
  for (const PlannedFeature& planned : plan.features)
    count += is_measured(planned) ? shown_mark(plan, planned)->touches.size() : 0;
  return count > kMostBeams;
}

std::string beams(const Drawing& drawing) {
  const Plan& plan = drawing.plan;
  const bool is_joined = are_beams_joined(plan);
  std::string svg;
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    const PlannedStation& station = plan.stations[s];
    BeamPath to_nests(drawing.sheet, station.at);
    for (const NestId nest : station.nests) to_nests.add(drawing.scene.nests[nest.index].at);
    svg += to_nests.svg("tie");
    for (const Verdict verdict : {Verdict::full_target, Verdict::offset_stylus}) {
      BeamPath path(drawing.sheet, station.at);
      for (const PlannedFeature& planned : plan.features) {
        if (!is_told_at(planned, StationId(s)) || planned.verdict != verdict) continue;
        if (is_joined) {
          path.add(place_of(drawing.scene, plan, planned));
          continue;
        }
        const FeatureMark& mark = mark_at(plan, planned, StationId(s));
        for (std::size_t t = 0; t < mark.by_target.size(); ++t) {
          const auto& reached = mark.by_target[t];
          if (!reached || !is_taken_from(planned, StationId(s), t)) continue;
          for (const Vec3& end : reached->beam_ends) path.add(end);
        }
      }
      svg += path.svg(verdict_class(verdict));
    }
  }
  return svg;
}

Box2 box_about(const Vec2& at, double radius) {
  return {at - Vec2::Constant(radius), at + Vec2::Constant(radius)};
}

std::string label(LabelPlaces& labels, const Vec2& at, double radius, std::string_view kind,
                  const std::string& text, double height, bool must) {
  const auto place = labels.place(at, radius, text, height, must);
  return place ? svg_text(place->at, place->anchor, kind, text) : "";
}

/// Features and fixed places of a scene that is not planned.
std::string scene_marks(const Drawing& drawing, LabelPlaces& labels) {
  const auto& [cell, scene, plan, sheet, is_from_above, is_planned] = drawing;
  std::string svg, names;
  for (const Feature& feature : scene.features) {
    const Vec2 at = sheet.on(place_of_shape(feature.shape));
    svg += feature_mark(at);
    labels.take(box_about(at, kMarkRadius));
  }
  for (const FixedStation& place : scene.fixed_stations) {
    const Vec2 at = sheet.on(place.at);
    const double radius = scene.instrument.body_radius * sheet.scale;
    for (const Vec3& up : place.instrument_ups)
      svg += stand_mark(sheet, is_from_above, scene.instrument, {place.at, up},
                        scene.instrument.body_below);
    names += label(labels, at, std::max(radius, 7.0), "station-name",
                   shortened(place.name, kMostLetters), kLetter + 2, true);
  }
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    names += label(labels, sheet.on(place_of_shape(scene.features[f].shape)), kMarkRadius, "number",
                   std::to_string(f + 1), kNumber, false);
  }
  return svg + names;
}

std::string marks(const Drawing& drawing, LabelPlaces& labels) {
  const auto& [cell, scene, plan, sheet, is_from_above, is_planned] = drawing;
  std::string svg, names;
  const Instrument& instrument = scene.instrument;
  for (const PlannedFeature& planned : plan.features) {
    const Vec2 at = sheet.on(place_of(scene, plan, planned));
    svg += verdict_mark(planned.verdict, at);
    labels.take(box_about(at, kMarkRadius));
  }
  for (const Nest& nest : scene.nests) {
    svg += nest_mark(sheet.on(nest.at));
    labels.take(box_about(sheet.on(nest.at), kMarkRadius));
  }
  for (const PlannedStation& station : plan.stations) {
    const Vec2 at = sheet.on(station.at);
    const double radius = instrument.body_radius * sheet.scale;
    const double floor =
        station.zone ? scene.zones[*station.zone].floor : station.at.z() - instrument.body_below;
    svg += stand_mark(sheet, is_from_above, instrument, stance_of(station), station.at.z() - floor);
    labels.take(box_about(at, std::max(radius, 7.0)));
  }
  for (const PlannedStation& station : plan.stations) {
    const double radius = is_from_above ? std::max(instrument.body_radius * sheet.scale, 7.0) : 5;
    names += label(labels, sheet.on(station.at), radius, "station-name",
                   shortened(station.name, kMostLetters), kLetter + 2, true);
  }
  for (const Nest& nest : scene.nests) {
    names += label(labels, sheet.on(nest.at), kMarkRadius, "nest-name",
                   shortened(nest.name, kMostLetters), kNumber, false);
  }
  for (const PlannedFeature& planned : plan.features) {
    names += label(labels, sheet.on(place_of(scene, plan, planned)), kMarkRadius, "number",
                   std::to_string(planned.feature.index + 1), kNumber, false);
  }
  return svg + names + (is_planned ? "" : scene_marks(drawing, labels));
}

std::string drawn(const Drawing& drawing, std::string_view id, const std::string& title) {
  const Sheet& sheet = drawing.sheet;
  const double width = sheet.width(), height = sheet.height();
  LabelPlaces labels({{0, 0}, {width, height}});
  std::string svg = fmt::format(
      "<svg class=\"drawing\" viewBox=\"0 0 {} {}\" role=\"img\" aria-labelledby=\"{}-title\">\n"
      "<title id=\"{}-title\">{}</title>\n"
      "<defs><clipPath id=\"{}-window\"><rect width=\"{}\" height=\"{}\"/></clipPath></defs>\n"
      "<g clip-path=\"url(#{}-window)\">\n",
      svg_number(width), svg_number(height + kStrip), id, id, for_markup(title), id,
      svg_number(width), svg_number(height), id);
  // Areas lie on the floor, which may itself be a body.
  svg += fmt::format("<g id=\"{}-ground\" class=\"sheet-ground\">\n", id) +
         bodies(drawing, BodyRole::surroundings) + areas(drawing) + floors(drawing) +
         bodies(drawing, BodyRole::fixture) + bodies(drawing, BodyRole::part) + "</g>\n" +
         area_names(drawing, labels) + beams(drawing) + marks(drawing, labels) + "</g>\n";
  svg += fmt::format("<rect class=\"frame\" width=\"{}\" height=\"{}\"/>\n", svg_number(width),
                     svg_number(height));
  const double base = height + kStrip - 6;
  svg += axes_mark({8, base}, "X", drawing.is_from_above ? "Y" : "Z");
  svg += scale_bar(drawing.scene, sheet, {90, base - 3});
  return svg + "</svg>\n";
}

}  // namespace

PlanDrawings draw_plan(const Cell& cell, const Plan& plan) {
  const Scene& scene = cell.scene();
  const auto [above, side] = sheets(cell, plan);
  return {drawn({cell, scene, plan, above, true}, "plan", "Top view of " + scene.name),
          drawn({cell, scene, plan, side, false}, "elevation",
                "Elevation of " + scene.name + ", seen along the Y axis"),
          are_beams_joined(plan), above};
}

SceneDrawings draw_scene(const Cell& cell) {
  const Plan none;
  const Scene& scene = cell.scene();
  const auto [above, side] = sheets(cell, none, false);
  return {drawn({cell, scene, none, above, true, false}, "plan", "Top view of " + scene.name),
          drawn({cell, scene, none, side, false, false}, "elevation",
                "Elevation of " + scene.name + ", seen along the Y axis"),
          Vec2(above.width(), above.height() + kStrip), Vec2(side.width(), side.height() + kStrip)};
}

}  // namespace standpoint
