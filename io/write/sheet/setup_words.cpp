#include "io/write/sheet/setup_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/words.h"

namespace standpoint {
namespace {

constexpr double kSettingStep = 1e-3;

std::string trimmed(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::vector<Setting> settings_of(const Scene& scene, const FullTarget& ball) {
  return {{"kind", "full target (SMR, ball reflector): corner cube in the ball\u2019s centre"},
          {"ball radius", setting_text(scene, ball.radius)},
          {"offset, ball\u2019s centre to contact", setting_text(scene, ball.radius)}};
}

std::vector<Setting> settings_of(const Scene& scene, const HoleAdapter& adapter,
                                 const FullTarget& ball) {
  return {
      {"kind", fmt::format("full target on a pin in the hole (hole adapter), ball {}", ball.name)},
      {"ball radius", setting_text(scene, ball.radius)},
      {"offset, ball\u2019s centre to the rim\u2019s plane", setting_text(scene, adapter.height)}};
}

Setting tip_radius(const Scene& scene, const Shank& shank) {
  return {"ball radius, of the tip", shank.tip_radius > 0 ? setting_text(scene, shank.tip_radius)
                                                          : setting_text(scene, 0) + " (a point)"};
}

std::vector<Setting> settings_of(const Scene& scene, const MirrorStylus& mirror) {
  return {{"kind", "mirror stylus (mirror probe): its tip\u2019s centre is what is seen"},
          tip_radius(scene, mirror.shank),
          {"offset, tip\u2019s centre to mirror", setting_text(scene, mirror.length)}};
}

std::vector<Setting> settings_of(const Scene& scene, const TwoBallStylus& rod) {
  return {
      {"kind", "two-ball stylus (hidden-point rod): its tip is worked out from both reflectors"},
      tip_radius(scene, rod.shank),
      {"offsets, tip\u2019s centre to the reflectors",
       trimmed(length_text(scene, rod.ball_distances[0], kSettingStep)) + " and " +
           setting_text(scene, rod.ball_distances[1])},
      {"both offsets wrong by a length (another tip)",
       "every point lies off by as much along the rod"}};
}

/// From the centre that is seen to what is touched, along the normal: the radius of the ball that
/// touches; of a hole adapter the height of its ball over the rim's plane.
double offset_of(const Scene& scene, TargetId target) {
  const HoleAdapter* adapter = hole_adapter(scene, target);
  return adapter != nullptr ? adapter->height : touching_radius(scene, target);
}

std::string at_words(const Scene& scene, const Vec3& at) {
  return place_text(scene, at, step::kPlace);
}

}  // namespace

std::string setting_text(const Scene& scene, double mm) {
  return trimmed(length_text(scene, mm, kSettingStep)) + " " + scene.units;
}

std::vector<Setting> target_settings(const Scene& scene, TargetId target) {
  if (const HoleAdapter* adapter = hole_adapter(scene, target))
    return settings_of(scene, *adapter, full_target(scene, target));
  if (is_full_target(scene, target)) return settings_of(scene, full_target(scene, target));
  return std::visit([&](const auto& stylus) { return settings_of(scene, stylus); },
                    offset_stylus(scene, target));
}

double shift_if_left(const Scene& scene, TargetId before, TargetId now) {
  return offset_of(scene, now) - offset_of(scene, before);
}

std::string shift_sentence(const Scene& scene, TargetId before, TargetId now,
                           std::string_view what) {
  const double shift = shift_if_left(scene, before, now);
  const std::string radius = setting_text(scene, offset_of(scene, before));
  if (std::abs(shift) < kSettingStep / 2) {
    return fmt::format("The radius stays at {}, as of {}; the kind and the offset do not.", radius,
                       target_name(scene, before));
  }
  return fmt::format("Left at {} ({}), {} would lie {} off along its normal, {} the material.",
                     radius, target_name(scene, before), what, setting_text(scene, std::abs(shift)),
                     shift < 0 ? "into" : "out of");
}

std::string nominal_words(const Scene& scene, const Feature& feature) {
  struct {
    const Scene& scene;
    std::string operator()(const PointFeature& f) const {
      return "point, at " + at_words(scene, f.at);
    }
    std::string operator()(const PlaneFeature& f) const {
      return f.points.empty() ? "plane" : "plane, first point at " + at_words(scene, f.points[0]);
    }
    std::string operator()(const HoleFeature& f) const {
      return fmt::format("hole, {} wide, at {}", setting_text(scene, 2 * f.radius),
                         at_words(scene, f.centre));
    }
    std::string operator()(const CylinderFeature& f) const {
      return fmt::format("{}, {} wide, middle at {}", f.inside ? "bore" : "cylinder",
                         setting_text(scene, 2 * f.radius), at_words(scene, f.centre));
    }
    std::string operator()(const SphereFeature& f) const {
      return fmt::format("sphere, {} wide, centre at {}", setting_text(scene, 2 * f.radius),
                         at_words(scene, f.centre));
    }
    std::string operator()(const LineFeature& f) const {
      return fmt::format("line, from {} to {}", at_words(scene, f.from), at_words(scene, f.to));
    }
    std::string operator()(const ConeFeature& f) const {
      return fmt::format("cone, {}, {} wide in its middle, at {}", f.inside ? "inside" : "outside",
                         setting_text(scene, 2 * f.radius), at_words(scene, f.centre));
    }
    std::string operator()(const SlotFeature& f) const {
      return fmt::format("slot, {} wide, {} long, at {}", setting_text(scene, f.width),
                         setting_text(scene, f.length), at_words(scene, f.centre));
    }
    std::string operator()(const SurfaceFeature& f) const {
      return fmt::format("surface of {}, {}, {} apart", scene.bodies[f.body.index].name,
                         counted(f.touches.size(), "touch", "touches"),
                         setting_text(scene, f.spacing));
    }
  } visitor{scene};
  return std::visit(visitor, feature.shape);
}

std::string rim_words(const Scene& scene, const TouchMark& touch, const Reached& seated) {
  const double height = (seated.optical_centre - touch.at).dot(touch.normal);
  return fmt::format("on the rim, ball\u2019s centre {} over it", setting_text(scene, height));
}

std::string adapter_words(const Scene& scene, const HoleAdapter& adapter, const Feature& hole) {
  return fmt::format("{}, {}, in {}", adapter.name, setting_text(scene, adapter.height), hole.name);
}

std::string landmark_words(const Scene& scene, const Landmark& landmark) {
  if (landmark.feature) {
    const Feature& feature = scene.features[landmark.feature->index];
    const bool is_hole = std::holds_alternative<HoleFeature>(feature.shape);
    const bool is_slot = std::holds_alternative<SlotFeature>(feature.shape);
    return (is_hole ? "hole " : is_slot ? "slot " : "point ") + feature.name;
  }
  if (landmark.nest) return "nest " + scene.nests[landmark.nest->index].name;
  const BoxCorner& corner = *landmark.corner;
  return fmt::format("{}{}, corner at its {} x and {} y", corner.is_on_body ? "" : "box round ",
                     scene.bodies[corner.body.index].name,
                     corner.is_at_most_x ? "greatest" : "least",
                     corner.is_at_most_y ? "greatest" : "least");
}

}  // namespace standpoint
