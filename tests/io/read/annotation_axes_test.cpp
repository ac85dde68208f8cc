// Annotation on axes that a file draws beside its part, in texts written by hand.

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/cad/annotation.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

/// A round face #`id`: a cylinder about the line along z through (x, 0), from z = `low` to `high`.
std::string cylinder(int id, double x, double radius, double low, double high) {
  return fmt::format(
      "#{0}=ADVANCED_FACE('',(#{1}),#{2},.F.);#{1}=FACE_BOUND('',#{3},.T.);"
      "#{3}=EDGE_LOOP('',(#{4}));#{4}=ORIENTED_EDGE('',*,*,#{5},.T.);"
      "#{5}=EDGE_CURVE('',#{6},#{7},$,.T.);#{6}=VERTEX_POINT('',#{8});#{7}=VERTEX_POINT('',#{9});"
      "#{8}=CARTESIAN_POINT('',({10},0.,{12}));#{9}=CARTESIAN_POINT('',({10},0.,{13}));"
      "#{2}=CYLINDRICAL_SURFACE('',#{14},{11});#{14}=AXIS2_PLACEMENT_3D('',#{15},#9002,$);"
      "#{15}=CARTESIAN_POINT('',({16},0.,7.));\n",
      id, id + 1, id + 2, id + 3, id + 4, id + 5, id + 6, id + 7, id + 8, id + 9, x + radius,
      radius, low, high, id + 10, id + 11, x);
}

/// A line along z through (x, 0); with ends where `high` is above `low`.
std::string line(int id, double x, double low = 0, double high = 0) {
  const std::string drawn = fmt::format(
      "#{0}=LINE('',#{1},#9003);#{1}=CARTESIAN_POINT('',({2},0.,0.));", id + 1, id + 2, x);
  // The vector is 2 long, so that parameters are halves.
  return high > low ? drawn + fmt::format(
                                  "#{}=TRIMMED_CURVE('',#{},(PARAMETER_VALUE({})),("
                                  "PARAMETER_VALUE({})),.T.,.PARAMETER.);",
                                  id, id + 1, low / 2, high / 2)
                    : drawn;
}

/// Faces 1 and 2, of radius 5 about x = 0, from z = 0 to 10 and from 20 to 30: two lugs in line.
/// Face 3 of radius 9 about the first, face 4 of radius 5 about x = 100; face 5, of another part,
/// where face 1 is.
Annotation read(const std::string& drawn, int item) {
  const std::string text =
      "#1=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));"
      "#2=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.4),#1);#9002=DIRECTION('',(0.,0.,1.));"
      "#9003=VECTOR('',#9002,2.);#90=PRODUCT_DEFINITION_SHAPE('','',#99);"
      "#91=SHAPE_DEFINITION_REPRESENTATION(#90,#92);"
      "#92=ADVANCED_BREP_SHAPE_REPRESENTATION('',(#93),#98);"
      "#93=CLOSED_SHELL('',(#100,#200,#300,#400));" +
      cylinder(100, 0, 5, 0, 10) + cylinder(200, 0, 5, 20, 30) + cylinder(300, 0, 9, 0, 10) +
      cylinder(400, 100, 5, 0, 10) + cylinder(500, 0, 5, 0, 10) +
      "#50=SHAPE_ASPECT('','',#90,.T.);#60=POSITION_TOLERANCE('','',#2,#50);" +
      fmt::format("#51=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#50,#91,#{});", item) + drawn;
  return read_annotation(text, {{100, 1}, {200, 2}, {300, 3}, {400, 4}, {500, 5}});
}

std::vector<std::size_t> faces_on(const std::string& drawn, int item) {
  const Annotation found = read(drawn, item);
  EXPECT_EQ(found.tolerances.size(), 1U);
  return found.tolerances.empty() ? std::vector<std::size_t>{99} : found.tolerances[0].faces;
}

TEST(AnnotationAxes, LineWithEndsIsOnTheFacesBesideIt) {
  EXPECT_THAT(faces_on(line(700, 0, 1, 9), 700), ElementsAre(1, 3));
  EXPECT_THAT(faces_on(line(700, 0, 12, 26), 700), ElementsAre(2));
  EXPECT_THAT(faces_on(line(700, 0, 10, 20), 700), IsEmpty());  // ends where they begin
}

TEST(AnnotationAxes, LineWithoutEndsIsOnAllFacesAboutItOfItsPart) {
  EXPECT_THAT(faces_on(line(700, 0), 701), ElementsAre(1, 2, 3));
  EXPECT_THAT(faces_on(line(700, 100), 701), ElementsAre(4));
  EXPECT_THAT(faces_on(line(700, 0.004), 701), ElementsAre(1, 2, 3));  // within 0.001 of 5
  EXPECT_THAT(faces_on(line(700, 0.02), 701), IsEmpty());
}

TEST(AnnotationAxes, PictureOfAThreadIsOnTheNearestRadiusAlone) {
  const auto thread = [](double radius) {
    return line(710, radius, 2, 8) + line(720, -radius, 2, 8) +
           fmt::format(
               "#700=GEOMETRIC_CURVE_SET('',(#730,#710,#720));#730=CIRCLE('',#731,{});"
               "#731=AXIS2_PLACEMENT_3D('',#732,#9002,$);#732=CARTESIAN_POINT('',(0.,0.,2.));",
               radius);
  };
  EXPECT_THAT(faces_on(thread(6), 700), ElementsAre(1));
  EXPECT_THAT(faces_on(thread(8.5), 700), ElementsAre(3));
}

TEST(AnnotationAxes, PlacementAndCylinderBesideThePartAreAxesToo) {
  const std::string placement =
      "#700=AXIS2_PLACEMENT_3D('',#701,$,$);#701=CARTESIAN_POINT('',(100.,0.,50.));";
  EXPECT_THAT(faces_on(placement, 700), ElementsAre(4));
  EXPECT_THAT(faces_on(placement + "#702=CYLINDRICAL_SURFACE('',#700,5.5);", 702), ElementsAre(4));
}

TEST(AnnotationAxes, LineInTheSkinOfACylinderIsOnThatCylinder) {
  EXPECT_THAT(faces_on(line(700, 9, 1, 4), 700), ElementsAre(3));
  EXPECT_THAT(faces_on(line(700, 105, 1, 4), 700), ElementsAre(4));
  EXPECT_THAT(faces_on(line(700, 7, 1, 4), 700), IsEmpty());
}

TEST(AnnotationAxes, LineAcrossTheAxisIsOnNoFace) {
  EXPECT_THAT(faces_on("#700=LINE('',#701,#702);#701=CARTESIAN_POINT('',(0.,0.,0.));"
                       "#702=VECTOR('',#703,1.);#703=DIRECTION('',(1.,0.,0.));",
                       700),
              IsEmpty());
}

TEST(AnnotationAxes, SeveralLinesWithoutACircleAreNoAxis) {
  EXPECT_THAT(faces_on(line(710, 0) + line(720, 100) + "#700=GEOMETRIC_SET('',(#711,#721));", 700),
              IsEmpty());
}

TEST(AnnotationAxes, DamagedOrCircularRecordsAreOnNoFace) {
  EXPECT_THAT(
      faces_on("#700=GEOMETRIC_SET('',(#700,#701));#701=TRIMMED_CURVE('',#701,(),());", 700),
      IsEmpty());
  EXPECT_THAT(faces_on("#700=CIRCLE('',#701,-4.);#701=AXIS2_PLACEMENT_3D('',#702,#9002,$);"
                       "#702=CARTESIAN_POINT('',(0.,0.));",
                       700),
              IsEmpty());
}

}  // namespace
}  // namespace standpoint
