#include "io/read/lists/feature_list.h"

#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/lists/nest_list.h"
#include "tests/source_dir.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

ListOptions in_mm() {
  ListOptions options;
  options.file = "points.csv";
  options.default_units = "mm";
  return options;
}

/// What `text` gives, all well.
std::vector<ListedFeature> read(std::string_view text, const ListOptions& options = in_mm()) {
  const auto list = parse_feature_list(text, options);
  EXPECT_TRUE(list) << text << (list ? "" : list.error()[0].where + " " + list.error()[0].allowed);
  return list ? list->features : std::vector<ListedFeature>{};
}

Faults faults(std::string_view text, const ListOptions& options = in_mm()) {
  const auto list = parse_feature_list(text, options);
  EXPECT_FALSE(list) << text;
  return list ? Faults{} : list.error();
}

TEST(FeatureList, ReadsPointsWithTheirNormals) {
  const auto features = read(
      "name,x,y,z,i,j,k\n"
      "pad-1,1.5,-2,+3,0,0,2\n"
      "\"pad 2, left\",1e3,.5,0,1,0,0\n");
  ASSERT_EQ(features.size(), 2u);
  EXPECT_EQ(features[0].feature.name, "pad-1");
  EXPECT_EQ(features[0].feature.kind, FoundKind::point);
  EXPECT_EQ(features[0].feature.centre, Vec3(1.5, -2, 3));
  EXPECT_EQ(features[0].feature.axis, Vec3::UnitZ());
  EXPECT_EQ(features[0].where, "points.csv:2:1");
  EXPECT_TRUE(features[0].required);
  EXPECT_FALSE(features[0].is_upward);
  EXPECT_EQ(features[1].feature.name, "pad 2, left");
  EXPECT_EQ(features[1].feature.centre, Vec3(1000, 0.5, 0));
}

// What spreadsheets write, country by country: the same list in all of them.
TEST(FeatureList, ReadsTheSameFromEveryDialect) {
  const std::vector<std::string> texts = {
      "name,x,y,z,diameter,depth,required\nh1,1.5,-2.25,1000,5,12.5,true\n",
      "\xEF\xBB\xBFname,x,y,z,diameter,depth,required\r\nh1,1.5,-2.25,1000,5,12.5,TRUE\r\n",
      "name;x;y;z;diameter;depth;required\r\nh1;1,5;-2,25;1000;5;12,5;WAHR\r\n",
      "name;x;y;z;diameter;depth;required\nh1;1.5;-2.25;1000;5;12.5;yes\n",
      "name\tx\ty\tz\tdiameter\tdepth\trequired\nh1\t1,5\t-2,25\t1000\t5\t12,5\tvrai\n",
      "sep=;\r\nname;x;y;z;diameter;depth;required\r\nh1;1,5;-2,25;1000;5;12,5;1\r\n",
      "\n;;;;\nName ; X ; Y ; Z ; Diameter ; Depth ; Required ; \n;;;;;;;\n"
      " h1 ; 1,5 ; \xE2\x88\x92"
      "2,25 ; 1000 ; 5 ; 12,5 ; y ;\n;;;;;;\n\n",
      "\"name\",\"x\",\"y\",\"z\",\"diameter\",\"depth\",\"required\"\r"
      "\"h1\",\"1.5\",\"-2.25\",\"1000\",\"5\",\"12.5\",\"true\"\r",
      "depth,diameter,z,y,x,name,note\n12.5,5,1000,-2.25,1.5,h1,\"a note,\nof two lines\"\n",
  };
  for (const std::string& text : texts) {
    SCOPED_TRACE(text);
    const auto features = read(text);
    ASSERT_EQ(features.size(), 1u);
    const FoundFeature& hole = features[0].feature;
    EXPECT_EQ(hole.name, "h1");
    EXPECT_EQ(hole.kind, FoundKind::hole);
    EXPECT_EQ(hole.centre, Vec3(1.5, -2.25, 1000));
    EXPECT_EQ(hole.diameter, 5);
    EXPECT_EQ(hole.depth, 12.5);
    EXPECT_EQ(hole.axis, Vec3::UnitZ());
    EXPECT_TRUE(features[0].is_upward);
    EXPECT_TRUE(features[0].required);
  }
}

TEST(FeatureList, ReadsEveryKindAndWhatASceneTakesOfIt) {
  const auto list = parse_feature_list(
      "name,type,x,y,z,i,j,k,diameter,depth,length,width,angle,side,through,along_i,along_j,along_"
      "k,"
      "tolerance,required,datum\n"
      "p,point,1,2,3,0,0,1,,,,,,,,,,,0.2,no,\n"
      "top,plane,0,0,5,0,0,1,,,,,,,,,,,0.1,,yes\n"
      "h,hole,1,2,3,0,0,1,5,12,,,,,yes,,,,,,\n"
      "top,plane,9,0,5,,,,,,,,,,,,,,,,\n"
      "c,cylinder,1,2,3,0,1,0,180,,120,,,inside,,,,,,,\n"
      "b,Cylinder,1,2,3,0,1,0,18,0,12,0,,Outside,,,,,,,\n"
      "s,sphere,1,2,3,0,0,-4,60,,,,,,,,,,,,\n"
      "top,plane,0,9,5,0,0,1,,,,,,,,,,,0.1,yes,yes\n"
      "k,cone,1,2,3,0,0,1,30,,10,,90,inside,,,,,,,\n"
      "l,slot,1,2,3,0,0,1,,8,40,12,,,,0,1,0,,,\n",
      in_mm());
  ASSERT_TRUE(list) << list.error()[0].where << list.error()[0].allowed;
  const auto& features = list->features;
  ASSERT_EQ(features.size(), 8u);
  EXPECT_EQ(features[0].feature.tolerance, 0.2);
  EXPECT_FALSE(features[0].required);
  EXPECT_THAT(features[1].feature.points, ElementsAre(Vec3(0, 0, 5), Vec3(9, 0, 5), Vec3(0, 9, 5)));
  EXPECT_TRUE(features[1].feature.datum);
  EXPECT_TRUE(features[2].feature.through);
  EXPECT_TRUE(features[3].feature.hollow);
  EXPECT_EQ(features[3].feature.length, 120);
  EXPECT_FALSE(features[4].feature.hollow);
  EXPECT_EQ(features[5].feature.toward, -Vec3::UnitZ());
  EXPECT_NEAR(features[6].feature.angle_rad, std::acos(0.0), 1e-15);
  EXPECT_EQ(features[7].feature.along, Vec3::UnitY());
  EXPECT_EQ(features[7].feature.width, 12);

  const auto scene = scene_features(*list);
  ASSERT_EQ(scene.size(), 8u);
  EXPECT_EQ(std::get<PointFeature>(scene[0].shape).at, Vec3(1, 2, 3));
  EXPECT_FALSE(scene[0].required);
  EXPECT_EQ(scene[0].tolerance, 0.2);
  EXPECT_EQ(std::get<PlaneFeature>(scene[1].shape).points.size(), 3u);
  EXPECT_EQ(std::get<HoleFeature>(scene[2].shape).radius, 2.5);
  EXPECT_TRUE(std::get<CylinderFeature>(scene[3].shape).inside);
  EXPECT_EQ(std::get<CylinderFeature>(scene[3].shape).radius, 90);
  EXPECT_EQ(std::get<SphereFeature>(scene[5].shape).toward, -Vec3::UnitZ());
  const auto& cone = std::get<ConeFeature>(scene[6].shape);
  EXPECT_EQ(cone.radius, features[6].feature.diameter / 2);
  EXPECT_NEAR(cone.half_angle_rad, std::acos(0.0) / 2, 1e-15);
  const auto& slot = std::get<SlotFeature>(scene[7].shape);
  EXPECT_EQ(slot.along, Vec3::UnitY());
  EXPECT_EQ(slot.width, 12);
}

// A line has two rows, with its two ends.
TEST(FeatureList, ALineHasARowForEachEnd) {
  const auto lines = read(
      "name,x [mm],y,z,i,j,k,type\n"
      "edge,0,0,5,1,0,1,line\n"
      "pad,1,2,3,0,0,1,point\n"
      "edge,80,0,5,,,,line\n");
  ASSERT_EQ(lines.size(), 2u);
  EXPECT_EQ(lines[0].feature.kind, FoundKind::line);
  EXPECT_EQ(lines[0].feature.length, 80);
  FeatureList list;
  list.features = lines;
  EXPECT_EQ(lines[0].feature.axis, Vec3(1, 0, 1).normalized());
  const auto line = std::get<LineFeature>(scene_features(list)[0].shape);
  EXPECT_EQ(line.from, Vec3(0, 0, 5));
  EXPECT_EQ(line.to, Vec3(80, 0, 5));
  EXPECT_EQ(line.normal, Vec3::UnitZ()) << "made square to the line";
}

// Units: of the heading, else of the caller, else the default; a column may have its own.
TEST(FeatureList, TakesUnitsFromHeadingCallerOrDefault) {
  EXPECT_EQ(read("name,x [in],y (IN),z/in\np,1,2,3\n")[0].feature.centre,
            Vec3(25.4, 50.8, 3 * 25.4));
  EXPECT_EQ(read("name,x [m],y,z\np,1,2,3\n")[0].feature.centre, Vec3(1000, 2000, 3000));
  ListOptions options = in_mm();
  options.units = "cm";
  EXPECT_EQ(read("name,x,y,z\np,1,2,3\n", options)[0].feature.centre, Vec3(10, 20, 30));
  EXPECT_EQ(read("name,x [cm],y,z\np,1,2,3\n", options)[0].feature.centre, Vec3(10, 20, 30));
  const auto mixed = read("name,x [m],y,z,diameter [mm],depth\nh,1,2,3,5,0.012\n");
  EXPECT_EQ(mixed[0].feature.diameter, 5);
  EXPECT_EQ(mixed[0].feature.depth, 12);
  options.units.reset();
  options.default_units.reset();
  EXPECT_EQ(read("name,x [ft],y,z\np,1,2,3\n", options)[0].feature.centre.x(), 304.8);
}

// A thousand or a fraction: what a mixed list means cannot be known.
TEST(FeatureList, TakesOneDecimalSignInAList) {
  const auto found = faults("name;x;y;z\na;1,5;2;3\nb;1.234;2;3\nc;1.234,5;0;0\n");
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].where, "points.csv:3:3");
  EXPECT_EQ(found[0].value, "\"1.234\"");
  EXPECT_THAT(found[0].allowed, HasSubstr("with a decimal comma, as in line 2"));
  EXPECT_EQ(found[1].where, "points.csv:4:3");
}

TEST(FeatureList, TellsEveryFaultAtOnceInTheOrderOfTheFile) {
  const auto found = faults(
      "name,x,y,z,i,j,k,type,dpeth\n"
      "a,1,2,q,0,0,1,point,\n"
      ",1,2,3,0,,1,hole,\n"
      "a,1,2,3,0,0,1,ponit,\n");
  std::vector<std::string> where;
  for (const Fault& fault : found) where.push_back(fault.where);
  EXPECT_THAT(where,
              ElementsAre("points.csv:1:23", "points.csv:2:7", "points.csv:3:1", "points.csv:3:1",
                          "points.csv:3:1", "points.csv:3:10", "points.csv:4:15"));
  EXPECT_EQ(found[0].nearest, "depth");
  EXPECT_EQ(found[6].nearest, "point");
}

// The page's own example is a list.
TEST(FeatureList, ReadsTheExampleOfItsPage) {
  std::ifstream page(source_dir() / "docs/lists.md");
  std::string text;
  for (std::string line; std::getline(page, line);) {
    const bool is_example = line.rfind("    ", 0) == 0 && line.find(".csv") == line.npos;
    if (is_example) text += line.substr(4) + "\n";
  }
  const auto features = read(text);
  ASSERT_EQ(features.size(), 3u) << text;
  EXPECT_EQ(features[2].feature.name, "side-bore");
  EXPECT_EQ(features[2].feature.axis, Vec3::UnitX());
  EXPECT_EQ(features[2].feature.depth, 31.5);
}

TEST(NestList, ReadsNestsInEveryDialect) {
  ListOptions options = in_mm();
  options.file = "nests.csv";
  for (const std::string text :
       {"name,x,y,z,i,j,k,seat\nN1,2000,-500,300,0,0,1,40\nN2,1,2,3,,,,\n",
        "name;x [m];y [m];z [m];i;j;k;seat [deg];type\nN1;2;-0,5;0,3;0;0;1;40;nest\n"
        "N2;0,001;0,002;0,003\n"}) {
    const auto list = parse_nest_list(text, options);
    ASSERT_TRUE(list) << text << list.error()[0].where << list.error()[0].allowed;
    ASSERT_EQ(list->nests.size(), 2u);
    const ListedNest& first = list->nests[0];
    EXPECT_EQ(first.nest.name, "N1");
    EXPECT_EQ(first.nest.at, Vec3(2000, -500, 300));
    EXPECT_NEAR(first.nest.seat_rad, 0.6981317007977318, 1e-15);
    EXPECT_FALSE(first.is_upward);
    EXPECT_FALSE(first.has_usual_seat);
    EXPECT_EQ(first.where, "nests.csv:2:1");
    const ListedNest& second = list->nests[1];
    EXPECT_EQ(second.nest.normal, Vec3::UnitZ());
    EXPECT_NEAR(second.nest.seat_rad, 0.7853981633974483, 1e-15);
    EXPECT_TRUE(second.is_upward);
    EXPECT_TRUE(second.has_usual_seat);
  }
}

}  // namespace
}  // namespace standpoint
