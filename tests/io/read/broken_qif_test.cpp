// QIF documents that are wrong in one way each: what is told, to the letter.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/lists/feature_list.h"
#include "tests/io/read/broken_list.h"
#include "tests/io/read/qif_text.h"

namespace standpoint {
namespace {

using test::Broken;
using test::qif_text;
using test::qif_with;

std::vector<Broken> broken_documents() {
  return {
      {"nothing but a mark",
       "<",
       {"p.qif:1:1: got \"<\", expected valid XML, with elements within one another"}},
      {"text that is no XML",
       "<<<\n",
       {"p.qif:1:2: got \"<<\", expected valid XML, with elements within one another"}},
      {"an end tag that fits no start tag",
       qif_with(" <Features>\n", " <Feature>\n"),
       {"p.qif:47:4: got \"Features>\", expected valid XML, with an end tag for each start tag, in "
        "order"}},
      {"a document that stops",
       qif_text().substr(0, 300),
       {"p.qif:4:122: got \"Orga\", expected valid XML, with an end tag for each start tag, in "
        "order"}},
      {"a start tag that stops",
       qif_with("<SphereFeatureDefinition id=\"15\">", "<SphereFeatureDefinition id=\"15\"<"),
       {"p.qif:34:36: got \"<<InternalExternal>EXTERNAL</InternalExternal><Dia...\", expected "
        "valid XML, with a whole start tag"}},
      {"an attribute without quotes",
       qif_with("id=\"15\"", "id=15"),
       {"p.qif:34:32: got \"15><InternalExternal>EXTERNAL</InternalExternal><D...\", expected "
        "valid XML, with attributes with a name and a value in quotes"}},
      {"a comment that never ends",
       qif_with(" <Features>\n", " <!-- <Features>\n"),
       {"p.qif:59:15: got the end of the text, expected valid XML, with a comment that ends"}},
      {"a CDATA section that never ends",
       qif_with("<Name>pad-1", "<Name><![CDATA[pad-1"),
       {"p.qif:39:48: got \"pad-1</Name><FeatureDefinitionId>11</FeatureDefini...\", expected "
        "valid XML, with a CDATA section that ends"}},
      {"a processing instruction that never ends",
       qif_with(" <Features>\n", " <?note <Features>\n"),
       {"p.qif:59:15: got the end of the text, expected valid XML, with a processing instruction "
        "that ends"}},
      {"a document type with an entity",
       qif_with("<QIFDocument",
                "<!DOCTYPE q [<!ENTITY e SYSTEM \"file:///etc/hostname\">]>\n<QIFDocument"),
       {"p.qif:1:1: got a document type, expected a document without one"}},
      {"an entity that is not declared",
       qif_with(">412.5 -80 61<", ">&e; -80 61<"),
       {"p.qif:39:96: got \"&e; -80 61\", expected for Location three coordinates, each -1e9 to "
        "1e9"}},
      {"two documents in one",
       qif_with("</QIFDocument>\n", "</QIFDocument>\n<QIFDocument/>\n"),
       {"p.qif:60:1: got \"QIFDocument\", expected one element in the document, QIFDocument"}},
      {"text in Latin-1",
       qif_with("pad-1", "gr\xF6\xDF"),
       {"p.qif:39:41: got "
        "\"\xEF\xBF\xBD\xEF\xBF\xBD</Name><FeatureDefinitionId>11</FeatureDefinitio...\", expected "
        "text in UTF-8"}},
      {"text in UTF-16",
       std::string("<\0Q\0", 4),
       {"p.qif: got text in UTF-16, expected text in UTF-8"}},
      {"another document",
       "<scene/>\n",
       {"p.qif:1:1: got \"scene\", expected the element QIFDocument"}},
      {"another version's namespace",
       qif_with("xsd/qif3\"", "xsd/qif2\""),
       {"p.qif:2:1: got \"http://qifstandards.org/xsd/qif2\", expected the namespace of QIF 3.0, "
        "http://qifstandards.org/xsd/qif3"}},
      {"no namespace",
       qif_with(" xmlns=\"http://qifstandards.org/xsd/qif3\"", ""),
       {"p.qif:2:1: missing, expected the namespace of QIF 3.0, http://qifstandards.org/xsd/qif3"}},
      {"another version",
       qif_with("versionQIF=\"3.0.0\"", "versionQIF=\"2.1.0\""),
       {"p.qif:2:1: got \"2.1.0\", expected for versionQIF 3.0.0"}},
      {"no version",
       qif_with(" versionQIF=\"3.0.0\"", ""),
       {"p.qif:2:1: missing, expected for versionQIF 3.0.0"}},
      {"no features",
       "<QIFDocument xmlns=\"http://qifstandards.org/xsd/qif3\" versionQIF=\"3.0.0\"/>",
       {"p.qif:1:1: missing, expected features in Features/FeatureNominals"}},
      {"a unit without a name",
       qif_with("<UnitName>mm</UnitName>", ""),
       {"p.qif:8:4: missing, expected for UnitName in LinearUnit the name of a unit"}},
      {"a unit whose factor is a word",
       qif_with("<Factor>0.001</Factor>", "<Factor>milli</Factor>"),
       {"p.qif:8:55: got \"milli\", expected for Factor a factor, 1e-12 to 1e12"}},
      {"a unit of nothing",
       qif_with("<Factor>0.001</Factor>", "<Factor>0</Factor>"),
       {"p.qif:8:55: got \"0\", expected for Factor a factor, 1e-12 to 1e12"}},
      {"a unit with an offset",
       qif_with("<Factor>0.001</Factor>", "<Factor>0.001</Factor><Offset>1</Offset>"),
       {"p.qif:8:77: got \"1\", expected for Offset 0: lengths and angles have no offset"}},
      {"two units of one name",
       qif_with("<UnitName>inch</UnitName>", "<UnitName>mm</UnitName>"),
       {"p.qif:11:16: got \"mm\", expected for UnitName a name of its own; another unit has this "
        "one already",
        "p.qif:33:84: got \"inch\", expected for linearUnit the name of a unit of FileUnits"}},
      {"a unit that is not stated",
       qif_with("linearUnit=\"inch\"", "linearUnit=\"inhc\""),
       {"p.qif:33:84: got \"inhc\", expected for linearUnit the name of a unit of FileUnits; "
        "nearest: \"inch\""}},
      {"an id that is no number",
       qif_with("<SphereFeatureDefinition id=\"15\">", "<SphereFeatureDefinition id=\"S15\">"),
       {"p.qif:34:4: got \"S15\", expected for id a whole number",
        "p.qif:43:51: got \"15\", expected for FeatureDefinitionId the id of a FeatureDefinition"}},
      {"no id",
       qif_with("<SphereFeatureDefinition id=\"15\">", "<SphereFeatureDefinition>"),
       {"p.qif:34:4: missing, expected for id a whole number",
        "p.qif:43:51: got \"15\", expected for FeatureDefinitionId the id of a FeatureDefinition"}},
      {"an id twice",
       qif_with("<SphereFeatureDefinition id=\"15\">", "<SphereFeatureDefinition id=\"14\">"),
       {"p.qif:34:4: got \"14\", expected for id a number of its own; line 33 has this one already",
        "p.qif:43:51: got \"15\", expected for FeatureDefinitionId the id of a FeatureDefinition"}},
      {"no reference to a definition",
       qif_with("<FeatureDefinitionId>11</FeatureDefinitionId>", ""),
       {"p.qif:39:4: missing, expected for FeatureDefinitionId in PointFeatureNominal the id of a "
        "FeatureDefinition"}},
      {"a definition that is not there",
       qif_with("<FeatureDefinitionId>11</FeatureDefinitionId>",
                "<FeatureDefinitionId>99</FeatureDefinitionId>"),
       {"p.qif:39:51: got \"99\", expected for FeatureDefinitionId the id of a FeatureDefinition"}},
      {"a reference to something else",
       qif_with("<FeatureDefinitionId>11</FeatureDefinitionId>",
                "<FeatureDefinitionId>31</FeatureDefinitionId>"),
       {"p.qif:39:51: got \"31\", expected for FeatureDefinitionId the id of a FeatureDefinition"}},
      {"a name too long",
       qif_with("pad-1", std::string(181, 'n')),
       {"p.qif:39:33: got \"nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn...\", expected for "
        "Name a text of 1 to 180 characters without control characters"}},
      {"no location",
       qif_with("<Location>412.5 -80 61</Location>", ""),
       {"p.qif:39:4: missing, expected for Location in PointFeatureNominal three coordinates, each "
        "-1e9 to 1e9"}},
      {"an empty location",
       qif_with("412.5 -80 61", " "),
       {"p.qif:39:96: missing, expected for Location three coordinates, each -1e9 to 1e9"}},
      {"two coordinates",
       qif_with("412.5 -80 61", "412.5 -80"),
       {"p.qif:39:96: got \"412.5 -80\", expected for Location three coordinates, each -1e9 to "
        "1e9"}},
      {"a coordinate that is a word",
       qif_with("412.5 -80 61", "412.5 x 61"),
       {"p.qif:39:96: got \"412.5 x 61\", expected for Location three coordinates, each -1e9 to "
        "1e9"}},
      {"a decimal comma",
       qif_with("412.5 -80 61", "412,5 -80 61"),
       {"p.qif:39:96: got \"412,5 -80 61\", expected for Location three coordinates, each -1e9 to "
        "1e9"}},
      {"not a number",
       qif_with("412.5 -80 61", "NaN -80 61"),
       {"p.qif:39:96: got \"NaN -80 61\", expected for Location three coordinates, each -1e9 to "
        "1e9"}},
      {"infinite",
       qif_with("412.5 -80 61", "INF -80 61"),
       {"p.qif:39:96: got \"INF -80 61\", expected for Location three coordinates, each -1e9 to "
        "1e9"}},
      {"too far away",
       qif_with("412.5 -80 61", "412.5 -80 61e9"),
       {"p.qif:39:96: got \"412.5 -80 61e9\", expected for Location three coordinates, each -1e9 "
        "to 1e9"}},
      {"a normal without length",
       qif_with("61</Location><Normal>0 0 1", "61</Location><Normal>0 0 0"),
       {"p.qif:39:129: got \"0 0 0\", expected for Normal a direction with a length other than "
        "zero"}},
      {"no normal of a plane",
       qif_with("<Location>0 0 50</Location><Normal>0 0 1</Normal>", "<Location>0 0 50</Location>"),
       {"p.qif:40:4: missing, expected for Normal in PlaneFeatureNominal a direction of three "
        "numbers"}},
      {"a border off its plane",
       qif_with("60 30 50", "60 30 55"),
       {"p.qif:40:143: got \"0 0 50 60 0 50 60 30 55 0 30 50 0 0 50\", expected for PolyLine "
        "points in the plane; one of them is 5 mm off it"}},
      {"a border with half a point",
       qif_with("60 30 50", "60 30"),
       {"p.qif:40:143: got \"0 0 50 60 0 50 60 30 0 30 50 0 0 50\", expected for PolyLine points "
        "of three coordinates; there are 14 numbers"}},
      {"no axis",
       qif_with("<Axis><AxisPoint>131 47 58.4</AxisPoint><Direction>0 0 -1</Direction></Axis>", ""),
       {"p.qif:41:4: missing, expected for Axis in CylinderFeatureNominal an axis"}},
      {"an axis without direction",
       qif_with("<AxisPoint>131 47 58.4</AxisPoint><Direction>0 0 -1</Direction>",
                "<AxisPoint>131 47 58.4</AxisPoint>"),
       {"p.qif:41:101: missing, expected for Direction in Axis a direction of three numbers"}},
      {"no diameter",
       qif_with("<Diameter>9.2</Diameter>", ""),
       {"p.qif:32:4: missing, expected for Diameter in CylinderFeatureDefinition a length, 1e-9 to "
        "1e9"}},
      {"a diameter of zero",
       qif_with("<Diameter>9.2</Diameter>", "<Diameter>0</Diameter>"),
       {"p.qif:32:84: got \"0\", expected for Diameter a length, 1e-9 to 1e9"}},
      {"a diameter with its unit",
       qif_with("<Diameter>9.2</Diameter>", "<Diameter>9.2 mm</Diameter>"),
       {"p.qif:32:84: got \"9.2 mm\", expected for Diameter a length, 1e-9 to 1e9"}},
      {"a negative depth",
       qif_with("<Length>17</Length>", "<Length>-17</Length>"),
       {"p.qif:32:108: got \"-17\", expected for Length a length, 1e-9 to 1e9"}},
      {"neither inside nor outside",
       qif_with("<InternalExternal>INTERNAL</InternalExternal><Diameter>9.2",
                "<InternalExternal>INSIDE</InternalExternal><Diameter>9.2"),
       {"p.qif:32:39: got \"INSIDE\", expected for InternalExternal one of INTERNAL, EXTERNAL, "
        "NOT_APPLICABLE"}},
      {"no side",
       qif_with("<InternalExternal>EXTERNAL</InternalExternal><Diameter>33", "<Diameter>33"),
       {"p.qif:34:4: missing, expected for InternalExternal in SphereFeatureDefinition one of "
        "INTERNAL, EXTERNAL, NOT_APPLICABLE"}},
      {"a cone of half a turn",
       qif_with("<FullAngle>90</FullAngle>", "<FullAngle>180</FullAngle>"),
       {"p.qif:35:103: got \"180\", expected for FullAngle an angle between 0 and 180 degrees"}},
      {"a cone without an angle",
       qif_with("<FullAngle>90</FullAngle>", ""),
       {"p.qif:35:4: missing, expected for FullAngle in ConeFeatureDefinition an angle, -1e9 to "
        "1e9"}},
      {"a slot without its plane",
       qif_with("<CenterPlane><Point>10 20 50</Point><Normal>0 1 0</Normal></CenterPlane>", ""),
       {"p.qif:45:4: missing, expected for CenterPlane in ElongatedCylinderFeatureNominal a "
        "plane"}},
      {"a slot without its depth's direction",
       qif_with("<DepthVector>0 0 -1</DepthVector>", ""),
       {"p.qif:45:4: missing, expected for DepthVector in ElongatedCylinderFeatureNominal a "
        "direction of three numbers"}},
      {"a sweep of one angle",
       qif_with("<Direction>0 0 -1</Direction></Axis>",
                "<Direction>0 0 -1</Direction></Axis><Sweep><DirBeg>1 0 "
                "0</DirBeg><DomainAngle>90</DomainAngle></Sweep>"),
       {"p.qif:41:206: got \"90\", expected for DomainAngle two angles"}},
      {"a tolerance without a definition",
       qif_with("<CharacteristicDefinitionId>31</CharacteristicDefinitionId>", ""),
       {"p.qif:55:4: missing, expected for CharacteristicDefinitionId in "
        "PositionCharacteristicNominal the id of a CharacteristicDefinition"}},
      {"a tolerance with another kind's definition",
       qif_with("<CharacteristicDefinitionId>31</CharacteristicDefinitionId>",
                "<CharacteristicDefinitionId>32</CharacteristicDefinitionId>"),
       {"p.qif:55:43: got \"32\", expected for CharacteristicDefinitionId the id of a "
        "PositionCharacteristicDefinition"}},
      {"a tolerance of zero",
       qif_with("<ToleranceValue>0.15</ToleranceValue>", "<ToleranceValue>0</ToleranceValue>"),
       {"p.qif:51:46: got \"0\", expected for ToleranceValue a length, 1e-9 to 1e9"}},
      {"a tolerance of no feature",
       qif_with("<Id>23</Id>", "<Id>93</Id>"),
       {"p.qif:55:127: got \"93\", expected for Id the id of a FeatureNominal"}},
      {"a datum frame that is not there",
       qif_with("<DatumReferenceFrameId>51", "<DatumReferenceFrameId>50"),
       {"p.qif:51:83: got \"50\", expected for DatumReferenceFrameId the id of a "
        "DatumReferenceFrame"}},
      {"a datum that is not there",
       qif_with("<DatumDefinitionId>50", "<DatumDefinitionId>51"),
       {"p.qif:23:18: got \"51\", expected for DatumDefinitionId the id of a DatumDefinition"}},
      {"a datum of no feature",
       qif_with("<Id>22</Id>", "<Id>122</Id>"),
       {"p.qif:17:29: got \"122\", expected for Id the id of a FeatureNominal"}},
  };
}

TEST(BrokenQif, IsToldWithFileLineAndColumn) {
  for (const Broken& broken : broken_documents()) {
    SCOPED_TRACE(broken.what);
    ListOptions options;
    options.file = "p.qif";
    const auto list = parse_feature_list(broken.text, options);
    ASSERT_FALSE(list);
    EXPECT_THAT(test::lines_of(list.error()), testing::ElementsAreArray(broken.told));
  }
}

}  // namespace
}  // namespace standpoint
