#include "io/read/lists/qif_list.h"

#include <cmath>
#include <fstream>
#include <iterator>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geometry/vec.h"
#include "io/read/lists/face_points.h"
#include "tests/draw.h"
#include "tests/io/read/body_files.h"
#include "tests/io/read/broken_list.h"
#include "tests/io/read/qif_text.h"

namespace standpoint {
namespace {

using test::qif_text;
using test::qif_with;
using testing::ElementsAre;
using testing::HasSubstr;

ListOptions of_qif() {
  ListOptions options;
  options.file = "p.qif";
  return options;
}

FeatureList read(const std::string& text, const ListOptions& options = of_qif()) {
  const auto list = parse_feature_list(text, options);
  EXPECT_TRUE(list) << testing::PrintToString(test::lines_of(list ? Faults{} : list.error()));
  return list ? *list : FeatureList{};
}

TEST(QifList, ReadsEveryKindWithItsUnits) {
  const FeatureList list = read(qif_text());
  ASSERT_EQ(list.features.size(), 7u);
  EXPECT_TRUE(list.passed_over.empty());
  const auto& of = [&](std::size_t i) -> const FoundFeature& { return list.features[i].feature; };
  EXPECT_EQ(of(0).name, "pad-1");
  EXPECT_EQ(of(0).kind, FoundKind::point);
  EXPECT_EQ(of(0).centre, Vec3(412.5, -80, 61));
  EXPECT_EQ(list.features[0].where, "p.qif:39:4");
  EXPECT_EQ(of(1).kind, FoundKind::plane);
  EXPECT_EQ(of(1).points.size(), 6u);
  EXPECT_EQ(of(2).kind, FoundKind::hole);
  EXPECT_EQ(of(2).axis, Vec3::UnitZ());  // out of the opening
  EXPECT_NEAR(of(2).depth, 17, 1e-12);
  EXPECT_TRUE(of(2).through);
  EXPECT_EQ(of(3).kind, FoundKind::cylinder);
  EXPECT_FALSE(of(3).hollow);
  EXPECT_NEAR(of(3).diameter, 3 * 25.4, 1e-12);              // in inches there
  EXPECT_LE((of(3).centre - Vec3(21, 2, 3)).norm(), 1e-12);  // half-way along
  EXPECT_EQ(of(4).kind, FoundKind::sphere);
  EXPECT_TRUE(list.features[4].is_upward);
  EXPECT_EQ(of(5).kind, FoundKind::cone);
  EXPECT_EQ(of(5).axis, -Vec3::UnitZ());  // toward where it narrows
  EXPECT_NEAR(of(5).length, 10, 1e-12);
  EXPECT_NEAR(of(5).angle_rad, std::acos(0.0), 1e-12);
  EXPECT_EQ(of(6).kind, FoundKind::slot);
  EXPECT_EQ(of(6).axis, Vec3::UnitZ());
  EXPECT_NEAR(std::abs(of(6).along.x()), 1, 1e-12);
  EXPECT_EQ(of(6).width, 12);
  EXPECT_EQ(of(6).length, 50);
  EXPECT_EQ(of(6).depth, 8);
}

TEST(QifList, TakesTolerancesAndDatums) {
  const FeatureList list = read(qif_text());
  EXPECT_EQ(list.tolerances, 2u);
  EXPECT_EQ(list.features[2].feature.tolerance, 0.15);
  EXPECT_EQ(list.features[2].feature.tolerance_from, "position 0.15 | A (#41)");
  EXPECT_EQ(list.features[1].feature.tolerance, 0.05);
  EXPECT_TRUE(list.features[1].feature.datum);
  EXPECT_FALSE(list.features[2].feature.datum);
  EXPECT_FALSE(list.features[0].feature.tolerance);
}

// A zone that says where the feature lies goes before one of form; then the narrower one.
TEST(QifList, ChoosesAmongTheTolerancesOfOneFeature) {
  const FeatureList list = read(qif_with("<Id>22</Id></FeatureNominalIds></FlatnessC",
                                         "<Id>23</Id></FeatureNominalIds></FlatnessC"));
  EXPECT_EQ(list.features[2].feature.tolerance, 0.15);
  EXPECT_FALSE(list.features[1].feature.tolerance);
  std::string text =
      qif_with("</PositionCharacteristicNominal>",
               "</PositionCharacteristicNominal><PositionCharacteristicNominal "
               "id=\"43\"><CharacteristicDefinitionId>33</CharacteristicDefinitionId>"
               "<FeatureNominalIds n=\"1\"><Id>23</Id></FeatureNominalIds>"
               "</PositionCharacteristicNominal>");
  const std::string more =
      "<PositionCharacteristicDefinition id=\"33\"><ToleranceValue linearUnit=\"inch\">0.001"
      "</ToleranceValue></PositionCharacteristicDefinition>";
  text.insert(text.find("<FlatnessCharacteristicDefinition"), more);
  EXPECT_NEAR(read(text).features[2].feature.tolerance.value_or(0), 0.0254, 1e-15);
}

// The schema: metres and radians where the document names no unit.
TEST(QifList, TakesMetresWhereTheDocumentNamesNoUnit) {
  std::string text = qif_text();
  const std::size_t from = text.find("<PrimaryUnits>");
  const std::string end = "</PrimaryUnits>";
  text.erase(from, text.find(end) + end.size() - from);
  text.replace(text.find("<FullAngle>90<"), 14, "<FullAngle>1.5<");
  const FeatureList list = read(text);
  EXPECT_EQ(list.features[0].feature.centre, Vec3(412500, -80000, 61000));
  EXPECT_EQ(list.features[5].feature.angle_rad, 1.5);
  EXPECT_NEAR(list.features[3].feature.diameter, 76.2, 1e-12);  // names its own
}

TEST(QifList, TellsAHoleFromABoreByItsWidth) {
  EXPECT_EQ(read(qif_with("<Diameter>9.2<", "<Diameter>60<")).features[2].feature.kind,
            FoundKind::hole);
  const FoundFeature bore = read(qif_with("<Diameter>9.2<", "<Diameter>61<")).features[2].feature;
  EXPECT_EQ(bore.kind, FoundKind::cylinder);
  EXPECT_TRUE(bore.hollow);
  EXPECT_NEAR(bore.length, 17, 1e-12);
  EXPECT_LE((bore.centre - Vec3(131, 47, 58.4 - 8.5)).norm(), 1e-12);
  ListOptions options = of_qif();
  options.holes_up_to = 9;
  EXPECT_EQ(read(qif_text(), options).features[2].feature.kind, FoundKind::cylinder);
}

TEST(QifList, TakesAPrefixOfTheNamespace) {
  std::string text = qif_text();
  for (std::size_t at = 0; (at = text.find('<', at)) != text.npos; ++at) {
    if (text[at + 1] == '?') continue;
    text.insert(text[at + 1] == '/' ? at + 2 : at + 1, "q:");
  }
  text.replace(text.find("xmlns="), 6, "xmlns:q=");
  EXPECT_EQ(read(text).features.size(), 7u);
}

TEST(QifList, TellsWhatItPassesOver) {
  const auto reason = [](const std::string& text) {
    const FeatureList list = read(text);
    return list.passed_over.empty() ? ""
                                    : list.passed_over[0].name + ": " + list.passed_over[0].reason;
  };
  EXPECT_EQ(reason(qif_with("EXTERNAL</InternalExternal><Diameter>33",
                            "INTERNAL</InternalExternal><Diameter>33")),
            "ball: the inside of a sphere");
  EXPECT_EQ(reason(qif_with("<Length>40</Length>", "")),
            "boss: a cylinder whose length is not stated");
  EXPECT_EQ(reason(qif_with("<Direction>0 0 -1</Direction></Axis>",
                            "<Direction>0 0 -1</Direction></Axis><Sweep><DirBeg>1 0 0</DirBeg>"
                            "<DomainAngle>0 180</DomainAngle></Sweep>")),
            "dowel-1: a part of a cylinder");
  EXPECT_EQ(reason(qif_with("<FeatureDefinitionId>11<", "<FeatureDefinitionId xId=\"3\">9<")),
            "pad-1: its definition stands in another document");
  EXPECT_EQ(reason(qif_with(
                "<PolyLine count=\"5\">0 0 50 60 0 50 60 30 50 0 30 50 0 0 50</PolyLine>", "")),
            "top: a plane whose extent is not stated");
  // Nothing is left of it.
  const auto nothing = parse_feature_list(
      "<QIFDocument xmlns=\"http://qifstandards.org/xsd/qif3\" versionQIF=\"3.0.0\"><Features>"
      "<FeatureDefinitions n=\"1\"><LineFeatureDefinition id=\"1\"/></FeatureDefinitions>"
      "<FeatureNominals n=\"1\"><LineFeatureNominal id=\"2\"><FeatureDefinitionId>1"
      "</FeatureDefinitionId></LineFeatureNominal></FeatureNominals></Features></QIFDocument>",
      of_qif());
  ASSERT_FALSE(nothing);
  EXPECT_THAT(test::lines_of(nothing.error()),
              ElementsAre("p.qif:1:162: got only 1 of other kinds, expected a feature that can "
                          "be listed"));
}

TEST(QifList, BoundsDepthAndNumber) {
  std::string deep =
      "<QIFDocument xmlns=\"http://qifstandards.org/xsd/qif3\" versionQIF=\"3.0.0\">";
  for (int i = 0; i < 300'000; ++i) deep += "<a>";
  for (int i = 0; i < 300'000; ++i) deep += "</a>";
  const auto too_deep = parse_feature_list(deep + "</QIFDocument>", of_qif());
  ASSERT_FALSE(too_deep);
  EXPECT_THAT(test::lines_of(too_deep.error()),
              ElementsAre(HasSubstr("expected at most 64 elements within one another")));
  std::string many = "<QIFDocument>";
  for (int i = 0; i < 4'000'000; ++i) many += "<a/>";
  const auto too_many = parse_feature_list(many + "</QIFDocument>", of_qif());
  ASSERT_FALSE(too_many);
  EXPECT_THAT(test::lines_of(too_many.error()),
              ElementsAre("p.qif: got 4000002 elements and attributes, expected at most 4000000"));
}

TEST(QifList, ReadsPointsAsNests) {
  const auto list = parse_nest_list(qif_text(), of_qif());
  ASSERT_TRUE(list);
  ASSERT_EQ(list->nests.size(), 1u);
  EXPECT_EQ(list->nests[0].nest.name, "pad-1");
  EXPECT_EQ(list->nests[0].nest.normal, Vec3::UnitZ());
  EXPECT_TRUE(list->nests[0].has_usual_seat);
}

/// Whether a point lies in a polygon, by the angle that its border goes round it.
bool is_round_it(const std::vector<Vec3>& border, const Vec3& point, const Vec3& normal) {
  double turned = 0;
  for (std::size_t i = 0; i < border.size(); ++i) {
    const Vec3 a = border[i] - point;
    const Vec3 b = border[(i + 1) % border.size()] - point;
    turned += std::atan2(normal.dot(a.cross(b)), a.dot(b));
  }
  return std::abs(turned) > 3;
}

TEST(FacePoints, LieWithinTheBorder) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    test::Draw draw(seed);
    const Vec3 at = draw.in_box(1000), normal = draw.direction();
    const Vec3 u = any_perpendicular(normal), v = normal.cross(u);
    // A star: it does not cross itself, and may be far from convex.
    std::vector<Vec3> border;
    const std::size_t corners = 3 + draw.below(30);
    for (std::size_t i = 0; i < corners; ++i) {
      const double angle = 2 * std::numbers::pi * (static_cast<double>(i) + draw.between(0, 0.9)) /
                           static_cast<double>(corners);
      const double radius = draw.size(0.1, 100);
      border.push_back(at + radius * (std::cos(angle) * u + std::sin(angle) * v));
    }
    const auto points = points_within(border, at, normal);
    ASSERT_EQ(points.size(), 6u);
    for (const Vec3& point : points) {
      EXPECT_TRUE(is_round_it(border, point, normal));
      EXPECT_NEAR((point - at).dot(normal), 0, 1e-9);
    }
  }
}

TEST(FacePoints, AreNoneWhereThereIsNoArea) {
  EXPECT_TRUE(points_within({}, Vec3::Zero(), Vec3::UnitZ()).empty());
  EXPECT_TRUE(
      points_within({{0, 0, 0}, {1, 1, 0}, {2, 2, 0}, {0, 0, 0}}, Vec3::Zero(), Vec3::UnitZ())
          .empty());
}

}  // namespace
}  // namespace standpoint
