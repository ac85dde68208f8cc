#pragma once

#include <string>
#include <string_view>

#include "io/write/drawings/sheet.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Two drawings that share scale and their left-to-right extent, so that one stands below the other
/// as on any drawing sheet.
struct PlanDrawings {
  std::string plan;       ///< seen from above: an <svg> element
  std::string elevation;  ///< seen along +Y
  /// There are too many touches to draw a beam to each: one goes to the middle of each feature.
  bool are_beams_joined = false;
  Sheet above;  ///< where the plan lies: what the element `kGroundId` is drawn in
};

/// The element of the plan that holds what stands and lies on the ground (bodies, zones, walkways),
/// for other drawings of the same page to show again.
inline constexpr std::string_view kGroundId = "plan-ground";

/// Draws the bodies, zones, walkways, stations, nests, features and beams of a plan to scale, as
/// SVG that needs nothing from outside. The classes it uses are styled by page_style(). Feature
/// symbols carry the feature's number (1 for the first of the scene). Same input, same text.
[[nodiscard]] PlanDrawings draw_plan(const Cell& cell, const Plan& plan);

/// A scene before it is planned, drawn in the same way: bodies, zones, walkways, fixed places,
/// nests and features, whatever of them there is. Features have one symbol for all.
struct SceneDrawings {
  std::string plan;       ///< seen from above: an <svg> element
  std::string elevation;  ///< seen along +Y
  Vec2 plan_size;         ///< of its view box, sheet units
  Vec2 elevation_size;
};
[[nodiscard]] SceneDrawings draw_scene(const Cell& cell);

/// The symbol of a verdict by itself, as in the drawings: an inline <svg>.
[[nodiscard]] std::string verdict_symbol(Verdict verdict);

/// What the drawings' symbols, lines and fills mean, in words: a <ul>.
[[nodiscard]] std::string drawing_legend(const Scene& scene, const Plan& plan);

}  // namespace standpoint
