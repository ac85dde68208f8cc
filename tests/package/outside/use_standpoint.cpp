// use-standpoint SCENE FOLDER: plans a scene made in memory, then asks a scene file why one of its
// features is not reached from its fixed place, plans it, and writes the plan into a folder.
#include <cstdio>

#include <standpoint/plan.h>
#include <standpoint/read_scene.h>
#include <standpoint/why.h>
#include <standpoint/write_plan.h>

using namespace standpoint;

/// A plate 400 mm wide with one pad on it, and two places where the instrument could stand.
Cell small_cell() {
  auto plate = std::make_shared<Mesh>();
  plate->vertices = {{-200, 0, 800}, {200, 0, 800}, {200, 0, 1200}, {-200, 0, 1200}};
  plate->triangles = {{0, 1, 2}, {0, 2, 3}};
  Scene scene;
  scene.bodies = {{"plate", BodyRole::part}};
  scene.instrument.beam_diameter = 6;
  scene.instrument.range = {400, 40000};
  scene.instrument.elevation_rad = {-1, 1};
  scene.full_targets = {{"ball-38", 19.05, 0.52, 0.73}};
  scene.rules.rim_contact_rad = {0.35, 1.31};
  scene.features = {{"pad", PointFeature{{0, 0, 1000}, {0, -1, 0}}}};
  scene.fixed_stations = {{"front", {0, -2000, 1000}}, {"back", {0, 2000, 1000}}};
  return {scene, {plate}};
}

int main(int count, char** arguments) {
  if (count != 3) return 2;
  const auto small = make_plan(small_cell());
  if (!small) return 3;
  for (const PlannedStation& station : small->stations)
    std::printf("the pad is measured from %s\n", station.name.c_str());

  const auto read = read_scene(arguments[1]);
  if (!read) {
    for (const Fault& fault : read.error())
      std::printf("%s: expected %s\n", fault.where.c_str(), fault.allowed.c_str());
    return 1;
  }
  const Cell cell(read->scene, read->meshes);
  const auto plan = make_plan(cell);
  if (!plan || plan->unreached.empty()) return 3;
  const FeatureId asked = plan->unreached.front().feature;
  const Diagnosis why = diagnose(cell, asked, cell.scene().fixed_stations.front().at, {}, {}, {});
  for (const ExplainedTouch& touch : why.touches)
    for (const ExplainedCause& explained : touch.causes)
      std::printf("%s cannot take %s\n", target_name(cell.scene(), explained.cause.target).c_str(),
                  cell.scene().features[asked.index].name.c_str());
  if (const auto written = write_plan(arguments[2], cell, *plan); !written) {
    std::printf("%s\n", written.error().c_str());
    return 3;
  }
}
