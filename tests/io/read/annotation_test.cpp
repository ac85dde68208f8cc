// Annotation in texts written by hand, each for one way in which a STEP file may state it.

#include "io/read/cad/annotation.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

/// Units (#1 mm, #2 inch, #4 degree), widths (#10 0.4 mm, #11 0.01 inch, #12 0 mm, #13 an angle),
/// datums A to C (#20 to #22) of which A is face 3, a datum system A | B(M) | A-C (#30), aspects of
/// one face each (#50 of face 1, #51 of face 2) and the two together (#52). Faces 1 to 4 are #101
/// to #104.
constexpr const char* kAround = R"(
#1=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));
#2=(CONVERSION_BASED_UNIT('inch',#3)LENGTH_UNIT()NAMED_UNIT(#6));
#3=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#1);
#4=(CONVERSION_BASED_UNIT('degree',#5)NAMED_UNIT(#7)PLANE_ANGLE_UNIT());
#5=PLANE_ANGLE_MEASURE_WITH_UNIT(PLANE_ANGLE_MEASURE(0.017453292519943295),#8);
#8=(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.));
#10=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.4),#1);
#11=(LENGTH_MEASURE_WITH_UNIT()MEASURE_REPRESENTATION_ITEM()MEASURE_WITH_UNIT(LENGTH_MEASURE(0.01),#2)REPRESENTATION_ITEM(''));
#12=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(0.),#1);
#13=PLANE_ANGLE_MEASURE_WITH_UNIT(PLANE_ANGLE_MEASURE(1.),#4);
#20=DATUM('',$,#90,.F.,'A');
#21=DATUM('',$,#90,.F.,'B');
#22=DATUM('',$,#90,.F.,'C');
#23=DATUM_FEATURE('',$,#90,.T.);
#24=SHAPE_ASPECT_RELATIONSHIP('',$,#23,#20);
#25=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#23,#91,#103);
#30=DATUM_SYSTEM('',$,#90,.F.,(#31,#32,#33));
#31=DATUM_REFERENCE_COMPARTMENT('',$,#90,.F.,#20,$);
#32=DATUM_REFERENCE_COMPARTMENT('',$,#90,.F.,#21,(SIMPLE_DATUM_REFERENCE_MODIFIER(.MAXIMUM_MATERIAL_REQUIREMENT.)));
#33=DATUM_REFERENCE_COMPARTMENT('',$,#90,.F.,COMMON_DATUM_LIST((#34,#35)),$);
#34=DATUM_REFERENCE_ELEMENT($,$,$,.F.,#20,$);
#35=DATUM_REFERENCE_ELEMENT($,$,$,.F.,#22,$);
#50=SHAPE_ASPECT('','',#90,.T.);
#51=SHAPE_ASPECT('','',#90,.T.);
#52=COMPOSITE_SHAPE_ASPECT('','',#90,.T.);
#53=SHAPE_ASPECT_RELATIONSHIP('',$,#52,#50);
#54=SHAPE_ASPECT_RELATIONSHIP('',$,#52,#51);
#55=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#50,#91,#101);
#56=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#51,#91,#102);
#90=PRODUCT_DEFINITION_SHAPE('','',#99);
)";

const std::map<std::uint64_t, std::size_t> kFaces = {{101, 1}, {102, 2}, {103, 3}, {104, 4}};

Annotation read(const std::string& more) {
  return read_annotation(kAround + more, kFaces);
}

/// The one tolerance of a text in which all of it is read.
GeometricTolerance only(const std::string& more) {
  const Annotation found = read(more);
  EXPECT_THAT(found.not_read, IsEmpty()) << more;
  EXPECT_EQ(found.tolerances.size(), 1U) << more;
  return found.tolerances.empty() ? GeometricTolerance() : found.tolerances.front();
}

TEST(Annotation, PositionWithItsDatumsModifierZoneAndFaces) {
  const GeometricTolerance found = only(
      "#60=(GEOMETRIC_TOLERANCE('hole; place','',#10,#52)GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE("
      "(#30))GEOMETRIC_TOLERANCE_WITH_MODIFIERS((.MAXIMUM_MATERIAL_REQUIREMENT.))POSITION_"
      "TOLERANCE("
      "));#61=TOLERANCE_ZONE('',$,#90,.F.,(#60),#62);#62=TOLERANCE_ZONE_FORM('cylindrical or "
      "circular');");
  EXPECT_EQ(found.id, 60U);
  EXPECT_EQ(found.kind, ToleranceKind::position);
  EXPECT_EQ(found.zone, ZoneShape::diameter);
  EXPECT_DOUBLE_EQ(found.width, 0.4);
  EXPECT_THAT(found.datums, ElementsAre("A", "B(M)", "A-C"));
  EXPECT_THAT(found.modifiers, ElementsAre("(M)"));
  EXPECT_THAT(found.faces, ElementsAre(1, 2));
  EXPECT_FALSE(found.whole_part);
  EXPECT_EQ(found.name, "hole; place");
  EXPECT_EQ(found.text, "position 0.4 (M) | A | B(M) | A-C (#60)");
}

TEST(Annotation, SimpleInstanceHasItsDatumsAsFifthValue) {
  const GeometricTolerance found = only("#60=PARALLELISM_TOLERANCE('x','',#11,#51,(#30));");
  EXPECT_EQ(found.kind, ToleranceKind::parallelism);
  EXPECT_DOUBLE_EQ(found.width, 0.254);
  EXPECT_EQ(found.zone, ZoneShape::width);
  EXPECT_THAT(found.faces, ElementsAre(2));
  EXPECT_EQ(found.text, "parallelism 0.254 | A | B(M) | A-C (#60)");
}

TEST(Annotation, EveryKindOfIso1101HasItsWords) {
  const std::map<std::string, std::string> kinds = {{"POSITION", "position"},
                                                    {"COAXIALITY", "coaxiality"},
                                                    {"CONCENTRICITY", "coaxiality"},
                                                    {"SYMMETRY", "symmetry"},
                                                    {"SURFACE_PROFILE", "profile of a surface"},
                                                    {"LINE_PROFILE", "profile of a line"},
                                                    {"TOTAL_RUNOUT", "total run-out"},
                                                    {"CIRCULAR_RUNOUT", "circular run-out"},
                                                    {"PERPENDICULARITY", "perpendicularity"},
                                                    {"PARALLELISM", "parallelism"},
                                                    {"ANGULARITY", "angularity"},
                                                    {"FLATNESS", "flatness"},
                                                    {"STRAIGHTNESS", "straightness"},
                                                    {"ROUNDNESS", "roundness"},
                                                    {"CYLINDRICITY", "cylindricity"}};
  for (const auto& [type, words] : kinds) {
    EXPECT_EQ(only("#60=" + type + "_TOLERANCE('','',#10,#50);").text, words + " 0.4 (#60)");
  }
}

TEST(Annotation, FurtherTypesOfAComplexInstanceAreTold) {
  const auto text = [](const std::string& entities) {
    return only("#60=(" + entities + "GEOMETRIC_TOLERANCE('','',#10,#50));").text;
  };
  EXPECT_EQ(text("FLATNESS_TOLERANCE()GEOMETRIC_TOLERANCE_WITH_DEFINED_UNIT(#11)"),
            "flatness 0.4 per 0.254 (#60)");
  EXPECT_EQ(text("SURFACE_PROFILE_TOLERANCE()UNEQUALLY_DISPOSED_GEOMETRIC_TOLERANCE(#11)"),
            "profile of a surface 0.4 (U) 0.254 (#60)");
  EXPECT_EQ(text("POSITION_TOLERANCE()MODIFIED_GEOMETRIC_TOLERANCE(.LEAST_MATERIAL_REQUIREMENT.)"),
            "position 0.4 (L) (#60)");
  EXPECT_EQ(
      text("POSITION_TOLERANCE()GEOMETRIC_TOLERANCE_WITH_MODIFIERS((.FREE_STATE.,.EACH_RADIAL_"
           "ELEMENT.))"),
      "position 0.4 (F) (each radial element) (#60)");
  EXPECT_EQ(text("POSITION_TOLERANCE()GEOMETRIC_TOLERANCE_WITH_MAXIMUM_TOLERANCE(#11)"),
            "position 0.4 MAX 0.254 (#60)");
}

TEST(Annotation, ProjectedZoneAndBallAreTold) {
  const GeometricTolerance found = only(
      "#60=POSITION_TOLERANCE('','',#10,#50);#61=TOLERANCE_ZONE('',$,#90,.F.,(#60),#62);"
      "#62=TOLERANCE_ZONE_FORM('spherical');#63=PROJECTED_ZONE_DEFINITION(#61,(),#50,#11);");
  EXPECT_EQ(found.zone, ZoneShape::sphere);
  EXPECT_THAT(found.modifiers, ElementsAre("(P)"));
}

TEST(Annotation, WhatIsOnADimensionIsOnItsAspect) {
  EXPECT_THAT(
      only("#60=STRAIGHTNESS_TOLERANCE('','',#10,#70);#70=DIMENSIONAL_SIZE(#52,'diameter');").faces,
      ElementsAre(1, 2));
}

TEST(Annotation, AllOverIsOnEveryFaceOfItsPartAlone) {
  const GeometricTolerance found = only(R"(#60=SURFACE_PROFILE_TOLERANCE('','',#10,#90);
#70=SHAPE_DEFINITION_REPRESENTATION(#90,#71);
#71=SHAPE_REPRESENTATION('',(#79),#98);
#72=SHAPE_REPRESENTATION_RELATIONSHIP('','',#73,#71);
#73=ADVANCED_BREP_SHAPE_REPRESENTATION('',(#74),#98);
#74=MANIFOLD_SOLID_BREP('',#75);
#75=CLOSED_SHELL('',(#101,#102,#104));
#76=(REPRESENTATION_RELATIONSHIP('','',#71,#77)REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#97)SHAPE_REPRESENTATION_RELATIONSHIP());
#77=SHAPE_REPRESENTATION('of another part',(#78),#98);
#78=CLOSED_SHELL('',(#103));)");
  EXPECT_TRUE(found.whole_part);
  EXPECT_THAT(found.faces, ElementsAre(1, 2, 4));
}

TEST(Annotation, ItemsInSetsAndShellsAreFacesAndEdgesAreNot) {
  EXPECT_THAT(only("#60=FLATNESS_TOLERANCE('','',#10,#70);#70=SHAPE_ASPECT('','',#90,.T.);"
                   "#71=ITEM_IDENTIFIED_REPRESENTATION_USAGE('',$,#70,#91,SET_REPRESENTATION_ITEM(("
                   "#104,#103)));#72=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#70,#91,#73);"
                   "#73=OPEN_SHELL('',(#101));")
                  .faces,
              ElementsAre(1, 3, 4));
  const GeometricTolerance edge = only(
      "#60=STRAIGHTNESS_TOLERANCE('','',#10,#70);#70=SHAPE_ASPECT('','',#90,.T.);"
      "#72=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#70,#91,#73);#73=EDGE_CURVE('',#101,#102,#103,.T.)"
      ";");
  EXPECT_THAT(edge.faces, IsEmpty());
}

TEST(Annotation, AspectsThatAreMadeOfOneAnotherInACircleEnd) {
  EXPECT_THAT(
      only("#60=FLATNESS_TOLERANCE('','',#10,#52);#70=SHAPE_ASPECT_RELATIONSHIP('',$,#50,#52);")
          .faces,
      ElementsAre(1, 2));
}

TEST(Annotation, WidthOfZeroIsReadAtTheLimitOfMaterialAlone) {
  EXPECT_EQ(
      only("#60=(GEOMETRIC_TOLERANCE('','',#12,#50)GEOMETRIC_TOLERANCE_WITH_MODIFIERS((.MAXIMUM_"
           "MATERIAL_REQUIREMENT.))POSITION_TOLERANCE());")
          .width,
      0);
  const Annotation found = read("#60=POSITION_TOLERANCE('','',#12,#50);");
  ASSERT_EQ(found.not_read.size(), 1U);
  EXPECT_THAT(found.not_read[0].why, HasSubstr("width is 0 mm"));
}

TEST(Annotation, WhatCannotBeReadIsToldWithItsReason) {
  struct Bad {
    const char* record;
    const char* kind;
    const char* why;
  };
  for (const Bad& bad : std::initializer_list<Bad>{
           {"FLATNESS_TOLERANCE('n','',#77,#50)", "flatness", "no width"},
           {"FLATNESS_TOLERANCE('n','',$,#50)", "flatness", "no width"},
           {"FLATNESS_TOLERANCE('n','',#13,#50)", "flatness", "no width"},
           {"FLATNESS_TOLERANCE('n')", "flatness", "no width"},
           {"FLATNESS_TOLERANCE('n','',#10,#50", "flatness", "damaged"},
           {"(GEOMETRIC_TOLERANCE('n','',#10,#50)FUTURE_TOLERANCE())", "FUTURE_TOLERANCE", "kind"},
           {"GEOMETRIC_TOLERANCE('n','',#10,#50)", "GEOMETRIC_TOLERANCE", "kind"}}) {
    const Annotation found = read("#60=" + std::string(bad.record) + ";");
    EXPECT_THAT(found.tolerances, IsEmpty()) << bad.record;
    ASSERT_EQ(found.not_read.size(), 1U) << bad.record;
    EXPECT_EQ(found.not_read[0].id, 60U);
    EXPECT_EQ(found.not_read[0].kind, bad.kind);
    EXPECT_THAT(found.not_read[0].why, HasSubstr(bad.why)) << bad.record;
  }
  const Annotation changing = read(
      "#60=LINE_PROFILE_TOLERANCE('','',#10,#50);#61=TOLERANCE_ZONE('',$,#90,.F.,(#60),#62);"
      "#62=TOLERANCE_ZONE_FORM('unknown');#63=NON_UNIFORM_ZONE_DEFINITION(#61,());");
  ASSERT_EQ(changing.not_read.size(), 1U);
  EXPECT_THAT(changing.not_read[0].why, HasSubstr("changes"));
}

TEST(Annotation, WhatOnlyLooksLikeAToleranceIsNotCounted) {
  const Annotation found = read(
      "/* #60=FLATNESS_TOLERANCE('','',#10,#50); "
      "*/\n#61=SHAPE_ASPECT('FLATNESS_TOLERANCE(','',#90,.T."
      ");#62=GEOMETRIC_TOLERANCE_RELATIONSHIP('','',#63,#64);#65=PLUS_MINUS_TOLERANCE(#66,#67);"
      "#68=ID_ATTRIBUTE('#60=FLATNESS_TOLERANCE($,$,#10,#50);',#50);");
  EXPECT_THAT(found.tolerances, IsEmpty());
  EXPECT_THAT(found.not_read, IsEmpty());
}

TEST(Annotation, FileWithoutAnyGivesNothing) {
  const Annotation found =
      read_annotation("ISO-10303-21;\nDATA;\n#1=CARTESIAN_POINT('',(0.,0.,0.));", {});
  EXPECT_TRUE(found.tolerances.empty() && found.not_read.empty() && found.datums.empty() &&
              found.sizes.empty());
}

TEST(Annotation, DatumsComeWithTheirFacesByLetter) {
  const Annotation found = read(
      "#70=PLACED_DATUM_TARGET_FEATURE('','point',#90,.T.,'1');#71=SHAPE_ASPECT_RELATIONSHIP('',$,#"
      "70,"
      "#21);#72=FEATURE_FOR_DATUM_TARGET_RELATIONSHIP('',$,#73,#70);#73=SHAPE_ASPECT('','',#90,.T.)"
      ";"
      "#74=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#73,#91,#104);");
  ASSERT_EQ(found.datums.size(), 3U);
  EXPECT_EQ(found.datums[0].letter, "A");
  EXPECT_THAT(found.datums[0].faces, ElementsAre(3));
  EXPECT_FALSE(found.datums[0].by_targets);
  EXPECT_EQ(found.datums[1].letter, "B");
  EXPECT_THAT(found.datums[1].faces, ElementsAre(4));
  EXPECT_TRUE(found.datums[1].by_targets);
  EXPECT_EQ(found.datums[2].letter, "C");
  EXPECT_THAT(found.datums[2].faces, IsEmpty());
}

TEST(Annotation, ToleranceOnADatumFeatureIsOnItsOwnFacesAlone) {
  const std::string datum_has_another = "#70=GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#20,#91,#104);";
  EXPECT_THAT(only("#60=FLATNESS_TOLERANCE('','',#10,#23);" + datum_has_another).faces,
              ElementsAre(3));
  EXPECT_THAT(read(datum_has_another).datums[0].faces, ElementsAre(3, 4));
}

TEST(Annotation, DatumsOfTheFirstEditionComeWithTheirPrecedence) {
  EXPECT_THAT(only("#60=POSITION_TOLERANCE('','',#10,#50);").datums, IsEmpty());
  EXPECT_THAT(
      only("#60=(GEOMETRIC_TOLERANCE('','',#10,#50)GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE((#71,"
           "#72))POSITION_TOLERANCE());#71=DATUM_REFERENCE(2,#21);#72=DATUM_REFERENCE(1,#20);")
          .datums,
      ElementsAre("A", "B"));
}

TEST(Annotation, DatumThatIsNotThereIsAQuestionMark) {
  EXPECT_THAT(
      only("#60=PARALLELISM_TOLERANCE('','',#10,#50,(#70));#70=DATUM_SYSTEM('',$,#90,.F.,(#71,"
           "#31));#71=DATUM_REFERENCE_COMPARTMENT('',$,#90,.F.,#79,$);")
          .datums,
      ElementsAre("?", "A"));
}

TEST(Annotation, DimensionsHaveTheirLimitsAsDeviations) {
  const Annotation found = read(R"(
#70=DIMENSIONAL_SIZE(#52,'diameter');
#71=DIMENSIONAL_CHARACTERISTIC_REPRESENTATION(#70,#72);
#72=SHAPE_DIMENSION_REPRESENTATION('',(#73),#98);
#73=(LENGTH_MEASURE_WITH_UNIT()MEASURE_REPRESENTATION_ITEM()MEASURE_WITH_UNIT(POSITIVE_LENGTH_MEASURE(1.),#2)REPRESENTATION_ITEM('nominal value'));
#74=PLUS_MINUS_TOLERANCE(#75,#70);
#75=TOLERANCE_VALUE(#76,#10);
#76=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(-0.1),#1);
#80=DIMENSIONAL_LOCATION('linear distance',$,#50,#51);
#81=DIMENSIONAL_CHARACTERISTIC_REPRESENTATION(#80,#82);
#82=SHAPE_DIMENSION_REPRESENTATION('',(#83,#84,#85),#98);
#83=MEASURE_REPRESENTATION_ITEM('nominal value',LENGTH_MEASURE(50.),#1);
#84=MEASURE_REPRESENTATION_ITEM('upper limit',LENGTH_MEASURE(50.5),#1);
#85=MEASURE_REPRESENTATION_ITEM('lower limit',LENGTH_MEASURE(49.75),#1);
#86=ANGULAR_LOCATION('angle',$,#50,#51,.EQUAL.);
#87=PLUS_MINUS_TOLERANCE(#88,#86);
#88=TOLERANCE_VALUE(#89,#13);
#89=PLANE_ANGLE_MEASURE_WITH_UNIT(PLANE_ANGLE_MEASURE(-2.),#4);
#92=DIMENSIONAL_SIZE(#50,'basic');
#93=DIMENSIONAL_SIZE(#50,'fit');
#94=PLUS_MINUS_TOLERANCE(#95,#93);
#95=LIMITS_AND_FITS('H','hole','7','');
)");
  ASSERT_EQ(found.sizes.size(), 3U);
  EXPECT_EQ(found.sizes[0].id, 70U);
  EXPECT_EQ(found.sizes[0].name, "diameter");
  EXPECT_DOUBLE_EQ(found.sizes[0].nominal.value(), 25.4);
  EXPECT_DOUBLE_EQ(found.sizes[0].lower, -0.1);
  EXPECT_DOUBLE_EQ(found.sizes[0].upper, 0.4);
  EXPECT_THAT(found.sizes[0].faces, ElementsAre(1, 2));
  EXPECT_EQ(found.sizes[1].name, "linear distance");
  EXPECT_DOUBLE_EQ(found.sizes[1].lower, -0.25);
  EXPECT_DOUBLE_EQ(found.sizes[1].upper, 0.5);
  EXPECT_TRUE(found.sizes[2].is_angle);
  EXPECT_NEAR(found.sizes[2].lower, -0.0349065850398866, 1e-12);
  EXPECT_FALSE(found.sizes[2].nominal);
}

TEST(Annotation, UnitsThatRunInACircleOrAreMissingGiveNoWidth) {
  for (const char* const unit :
       {"#70=(CONVERSION_BASED_UNIT('x',#71)LENGTH_UNIT()NAMED_UNIT(#6));#71=LENGTH_"
        "MEASURE_WITH_UNIT(LENGTH_MEASURE(2.),#70);",
        "", "#70=SHAPE_ASPECT('','',#90,.T.);"}) {
    const Annotation found = read(
        "#60=FLATNESS_TOLERANCE('','',#61,#50);#61=LENGTH_MEASURE_WITH_UNIT(LENGTH_"
        "MEASURE(2.),#70);" +
        std::string(unit));
    ASSERT_EQ(found.not_read.size(), 1U) << unit;
    EXPECT_THAT(found.not_read[0].why, HasSubstr("no width"));
  }
}

}  // namespace
}  // namespace standpoint
