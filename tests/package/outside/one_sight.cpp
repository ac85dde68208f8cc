// A scene made in memory, one sight asked of it: no file is read.

#include <cstdio>

#include <memory>

#include <standpoint/cell.h>
#include <standpoint/sight.h>

namespace {

using namespace standpoint;

/// A wall of two triangles, square to y, 400 mm wide and 400 mm high about (x, y, 1000).
std::shared_ptr<const Mesh> wall(double x, double y) {
  auto mesh = std::make_shared<Mesh>();
  mesh->vertices = {{x - 200, y, 800}, {x + 200, y, 800}, {x + 200, y, 1200}, {x - 200, y, 1200}};
  mesh->triangles = {{0, 1, 2}, {0, 2, 3}};
  return mesh;
}

Scene small_scene() {
  Scene scene;
  scene.bodies.push_back({"panel", BodyRole::part});
  scene.bodies.push_back({"screen", BodyRole::surroundings});
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
  const Cell cell(small_scene(), {wall(0, 0), wall(1000, -1000)});
  // From straight ahead the panel is free; from the other place the screen stands half-way.
  const Sight free = look_from(cell, {0, -2000, 1000});
  const Sight hidden = look_from(cell, {2000, -2000, 1000});
  const bool right = free.features[0].verdict == Verdict::full_target &&
                     hidden.features[0].verdict == Verdict::blocked;
  if (!right) std::puts("one-sight: the verdicts are wrong");
  return right ? 0 : 1;
}
