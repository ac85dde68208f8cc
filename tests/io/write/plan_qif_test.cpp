#include "io/write/qif/plan_qif.h"

#include <array>
#include <cstdlib>
#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <pugixml.hpp>

#include "io/read/lists/feature_list.h"
#include "io/read/lists/nest_list.h"
#include "planner/crew/work_order.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/broken_list.h"
#include "tests/io/read/qif_text.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::ElementsAre;

ListOptions of_plan() {
  ListOptions options;
  options.file = "plan.qif";
  return options;
}

/// The hand-made scene with a feature of every kind, and a hole and a bore whose widths alone would
/// tell the wrong kind.
Scene scene_of_all_kinds() {
  Scene scene = hand_made::scene();
  const auto add = [&](const char* name, const Shape& shape) {
    Feature feature;
    feature.name = name;
    feature.shape = shape;
    feature.tolerance = 0.25;
    scene.features.push_back(feature);
  };
  add("top & <side>",
      PlaneFeature{{{0, 0, 5}, {90, 0, 5}, {0, 70, 5}, {33, 21, 5}}, Vec3::UnitZ()});
  add("wide hole", HoleFeature{{1, 2, 3}, Vec3(0.6, 0, 0.8), 55, 2e-6});
  add("narrow bore", CylinderFeature{{4, 5, 6}, -Vec3::UnitY(), 8, 31, true});
  add("boss-2", CylinderFeature{{4, 5, 6}, Vec3::UnitX(), 80, 131, false});
  add("ball", SphereFeature{{7, 8, 9}, Vec3(0, -0.6, 0.8), 16});
  add("edge", LineFeature{{1, 2, 3}, {1, 62, 83}, Vec3(0, -0.8, 0.6)});
  add("taper", ConeFeature{{3, 2, 1}, Vec3(0.6, 0, -0.8), 21, 0.3, 40, true});
  add("spigot", ConeFeature{{3, 2, 1}, Vec3::UnitY(), 21, 1.2, 4, false});
  add("slot", SlotFeature{{5, 5, 5}, Vec3(0, 0.8, 0.6), Vec3(0, 0.6, -0.8), 12, 40, 9});
  return scene;
}

/// A plan that measures none of the features that were added.
Plan plan_of(const Scene& scene) {
  Plan plan = hand_made::plan();
  for (std::size_t i = plan.features.size(); i < scene.features.size(); ++i) {
    PlannedFeature planned;
    planned.feature = FeatureId(i);
    plan.features.push_back(planned);
  }
  return plan;
}

void expect_near(const Vec3& a, const Vec3& b) {
  EXPECT_LE((a - b).norm(), 1e-9) << a.transpose() << " | " << b.transpose();
}
void expect_same(const PointFeature& a, const PointFeature& b) {
  expect_near(a.at, b.at);
  expect_near(a.normal, b.normal);
}
void expect_same(const PlaneFeature& a, const PlaneFeature& b) {
  ASSERT_EQ(a.points.size(), b.points.size());
  for (std::size_t i = 0; i < a.points.size(); ++i) expect_near(a.points[i], b.points[i]);
  expect_near(a.normal, b.normal);
}
void expect_same(const HoleFeature& a, const HoleFeature& b) {
  expect_near(a.centre, b.centre);
  expect_near(a.axis, b.axis);
  EXPECT_NEAR(a.radius, b.radius, 1e-12);
  EXPECT_NEAR(a.depth, b.depth, 1e-12);
}
void expect_same(const CylinderFeature& a, const CylinderFeature& b) {
  expect_near(a.centre, b.centre);
  expect_near(a.axis, b.axis);
  EXPECT_NEAR(a.radius, b.radius, 1e-12);
  EXPECT_NEAR(a.length, b.length, 1e-12);
  EXPECT_EQ(a.inside, b.inside);
}
void expect_same(const SphereFeature& a, const SphereFeature& b) {
  expect_near(a.centre, b.centre);
  expect_near(a.toward, b.toward);
  EXPECT_NEAR(a.radius, b.radius, 1e-12);
}

void expect_same(const LineFeature& a, const LineFeature& b) {
  expect_near(a.from, b.from);
  expect_near(a.to, b.to);
  expect_near(a.normal, b.normal);
}
void expect_same(const ConeFeature& a, const ConeFeature& b) {
  expect_near(a.centre, b.centre);
  expect_near(a.axis, b.axis);
  EXPECT_NEAR(a.radius, b.radius, 1e-9);
  EXPECT_NEAR(a.half_angle_rad, b.half_angle_rad, 1e-12);
  EXPECT_NEAR(a.length, b.length, 1e-9);
  EXPECT_EQ(a.inside, b.inside);
}
void expect_same(const SlotFeature& a, const SlotFeature& b) {
  expect_near(a.centre, b.centre);
  expect_near(a.axis, b.axis);
  expect_near(a.along, b.along);
  EXPECT_NEAR(a.width, b.width, 1e-9);
  EXPECT_NEAR(a.length, b.length, 1e-9);
  EXPECT_NEAR(a.depth, b.depth, 1e-9);
}
/// A surface is told by its touches and is read by nobody.
void expect_same(const SurfaceFeature& /*a*/, const SurfaceFeature& /*b*/) {
  FAIL();
}

TEST(PlanQif, IsReadBackAsTheScenesFeatures) {
  const Scene scene = scene_of_all_kinds();
  const auto list = parse_feature_list(plan_qif(scene, plan_of(scene)), of_plan());
  ASSERT_TRUE(list) << testing::PrintToString(test::lines_of(list.error()));
  EXPECT_TRUE(list->passed_over.empty());
  const std::vector<Feature> features = scene_features(*list);
  ASSERT_EQ(features.size(), scene.features.size());
  for (std::size_t i = 0; i < features.size(); ++i) {
    const Feature& read = features[i];
    const Feature& wanted = scene.features[i];
    SCOPED_TRACE(wanted.name);
    EXPECT_EQ(read.name, wanted.name);
    ASSERT_EQ(read.shape.index(), wanted.shape.index());
    std::visit(
        [&](const auto& shape) {
          expect_same(std::get<std::decay_t<decltype(shape)>>(read.shape), shape);
        },
        wanted.shape);
    ASSERT_EQ(read.tolerance.has_value(), wanted.tolerance.has_value());
    if (wanted.tolerance) EXPECT_NEAR(*read.tolerance, *wanted.tolerance, 1e-12);
  }
}

TEST(PlanQif, TellsItsNestsFromItsPoints) {
  const Scene scene = scene_of_all_kinds();
  const auto list = parse_nest_list(plan_qif(scene, plan_of(scene)), of_plan());
  ASSERT_TRUE(list);
  ASSERT_EQ(list->nests.size(), scene.nests.size());
  for (std::size_t i = 0; i < scene.nests.size(); ++i) {
    EXPECT_EQ(list->nests[i].nest.name, scene.nests[i].name);
    expect_near(list->nests[i].nest.at, scene.nests[i].at);
    expect_near(list->nests[i].nest.normal, scene.nests[i].normal);
  }
}

// The steps are the order of work: a group for each station, a step for each turn of a target.
TEST(PlanQif, HoldsTheStepsInTheOrderOfWork) {
  const Scene scene = scene_of_all_kinds();
  const Plan plan = plan_of(scene);
  pugi::xml_document document;
  ASSERT_TRUE(document.load_string(plan_qif(scene, plan).c_str()));
  std::map<std::string, std::string> name_of;
  for (const pugi::xml_node item :
       document.child("QIFDocument").child("Features").child("FeatureItems").children())
    name_of[item.attribute("id").value()] = item.child_value("FeatureName");
  std::vector<std::vector<std::vector<std::string>>> steps;
  const pugi::xml_node root = document.child("QIFDocument").child("Plan").child("OrderedPlanRoot");
  for (const pugi::xml_node station : root.child("Steps").children()) {
    auto& turns = steps.emplace_back();
    for (const pugi::xml_node turn :
         station.child("OrderedActionGroup").child("Steps").children()) {
      auto& names = turns.emplace_back();
      for (const pugi::xml_node id :
           turn.child("MeasureSpecifiedFeatures").child("FeatureItemIds").children())
        names.push_back(name_of.at(id.child_value()));
    }
  }
  std::vector<std::vector<std::vector<std::string>>> wanted;
  for (const StationWork& work : order_work(scene, plan)) {
    auto& turns = wanted.emplace_back();
    for (const TargetTurn& turn : work.turns) {
      auto& names = turns.emplace_back();
      for (const NestId nest : turn.nests) names.push_back(scene.nests[nest.index].name);
      for (const FeatureId id : turn.features) names.push_back(scene.features[id.index].name);
    }
  }
  EXPECT_EQ(steps, wanted);
  EXPECT_EQ(steps.size(), 2u);
}

TEST(PlanQif, IsTheSameForTheSamePlanAndAnotherForAnother) {
  const Scene scene = scene_of_all_kinds();
  const Plan plan = plan_of(scene);
  const std::string text = plan_qif(scene, plan);
  EXPECT_EQ(plan_qif(scene, plan), text);
  Scene moved = scene;
  std::get<PointFeature>(moved.features[0].shape).at.x() += 1;
  const auto id = [](const std::string& of) { return of.substr(of.find("<QPId>"), 42); };
  EXPECT_NE(id(plan_qif(moved, plan)), id(text));
}

/// What the published schema says of a document; empty where it is valid.
std::string complaints(const std::string& text, const std::filesystem::path& schema,
                       const TestFolder& folder) {
  const auto file = folder.write("document.qif", text);
  const auto told = folder / "told.txt";
  const std::string command = "xmllint --nonet --noout --schema '" + schema.string() + "' '" +
                              file.string() + "' > '" + told.string() + "' 2>&1";
  const int status = std::system(command.c_str());
  std::ifstream in(told);
  const std::string words((std::istreambuf_iterator<char>(in)), {});
  return status == 0 ? "" : "status " + std::to_string(status) + ": " + words;
}

// ../shared/data/qif/schema: the schemas of QIF 3.0 (qif-community, commit 360b05e, Boost licence).
TEST(PlanQif, IsWhatThePublishedSchemaAllows) {
  const auto schema = shared_data("qif/schema/QIFDocument.xsd");
  if (!schema) GTEST_SKIP() << "qif/schema/QIFDocument.xsd is not there";
  const TestFolder folder;
  const Scene scene = scene_of_all_kinds();
  Plan plan = plan_of(scene);
  EXPECT_EQ(complaints(plan_qif(scene, plan), *schema, folder), "");
  // A surface, which is told by its touches.
  Scene with_surface = scene;
  Feature hull;
  hull.name = "hull";
  hull.shape =
      SurfaceFeature{BodyId(0), 500, 0.9, {{{1, 2, 3}, Vec3::UnitZ()}, {{4, 5, 6}, Vec3::UnitX()}}};
  with_surface.features.push_back(hull);
  const std::string told = plan_qif(with_surface, plan_of(with_surface));
  EXPECT_EQ(complaints(told, *schema, folder), "");
  const auto list = parse_feature_list(told, of_plan());
  ASSERT_TRUE(list);
  ASSERT_EQ(list->passed_over.size(), 1u);
  EXPECT_EQ(list->passed_over[0].name, "hull");
  // Names that XML has no characters for, a plan without stations, a scene without nests.
  Scene odd = scene;
  odd.features[0].name = "a\x1b\x7f\xC2\x85\xEF\xBF\xBF\"'<&> ";
  odd.instrument.name = "";
  EXPECT_EQ(complaints(plan_qif(odd, plan), *schema, folder), "");
  plan.stations.clear();
  for (PlannedFeature& planned : plan.features) planned.station.reset();
  odd.nests.clear();
  for (Feature& feature : odd.features) feature.tolerance.reset();
  EXPECT_EQ(complaints(plan_qif(odd, plan), *schema, folder), "");
  // That the check can fail, and that what the reader is tried on is valid.
  EXPECT_NE(complaints("<QIFDocument/>", *schema, folder), "");
  EXPECT_EQ(complaints(test::qif_text(), *schema, folder), "");
}

}  // namespace
}  // namespace standpoint
