// A scene made in memory, one sight asked of it: no file is read.

#include <cstdio>

#include "planner/reach/sight.h"
#include "standpoint/cell.h"

namespace {

using namespace standpoint;

/// A wall of two triangles, square to y, 400 mm wide and 400 mm high about (x, y, 1000).
Mesh wall(double x, double y) {
  Mesh mesh;
  mesh.vertices = {{x - 200, y, 800}, {x + 200, y, 800}, {x + 200, y, 1200}, {x - 200, y, 1200}};
  mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
  return mesh;
}

Scene small_scene() {
  Scene scene;
  scene.bodies.push_back({"panel", BodyRole::part, wall(0, 0)});
  scene.bodies.push_back({"screen", BodyRole::surroundings, wall(1000, -1000)});
  scene.instrument.beam_diameter = 6;
  scene.instrument.range = {400, 40000};
  scene.instrument.elevation_rad = {-1, 1};
  scene.full_targets.push_back({"ball", 19.05, 0.52, 0.73});
  scene.rules.rim_contact_rad = {0.35, 1.31};
  scene.features.push_back({"middle", PointFeature{{0, 0, 1000}, {0, -1, 0}}});
  return scene;
}

}  // namespace

int main() {
  const Scene scene = small_scene();
  const Cell cell(scene);
  // From straight ahead the panel is free; from the other place the screen stands half-way.
  const FeatureMark free = judge_feature(cell, {0, -2000, 1000}, FeatureId(0));
  const FeatureMark hidden = judge_feature(cell, {2000, -2000, 1000}, FeatureId(0));
  const bool right = free.verdict == Verdict::full_target && hidden.verdict == Verdict::blocked;
  if (!right) std::puts("one-sight: the verdicts are wrong");
  return right ? 0 : 1;
}
