#include "tests/io/read/qif_text.h"

#include <gtest/gtest.h>

namespace standpoint::test {

std::string qif_text() {
  return R"(<?xml version="1.0" encoding="utf-8"?>
<QIFDocument xmlns="http://qifstandards.org/xsd/qif3" versionQIF="3.0.0" idMax="60">
 <QPId>5d2a5f1c-0a3e-4c11-9d2e-7b4f6e8a9c01</QPId>
 <StandardsDefinitions n="1"><Standard id="52"><Organization><StandardsOrganizationEnum>ISO</StandardsOrganizationEnum></Organization><Designator>1101:2017</Designator></Standard></StandardsDefinitions>
 <FileUnits>
  <PrimaryUnits>
   <AngularUnit><UnitName>deg</UnitName><UnitConversion><Factor>0.017453292519943</Factor></UnitConversion></AngularUnit>
   <LinearUnit><UnitName>mm</UnitName><UnitConversion><Factor>0.001</Factor></UnitConversion></LinearUnit>
  </PrimaryUnits>
  <OtherUnits n="1">
   <LinearUnit><UnitName>inch</UnitName><UnitConversion><Factor>0.0254</Factor></UnitConversion></LinearUnit>
  </OtherUnits>
 </FileUnits>
 <DatumDefinitions n="1">
  <DatumDefinition id="50">
   <DatumLabel>A</DatumLabel>
   <FeatureNominalIds n="1"><Id>22</Id></FeatureNominalIds>
  </DatumDefinition>
 </DatumDefinitions>
 <DatumReferenceFrames n="1">
  <DatumReferenceFrame id="51">
   <Datums n="1"><Datum>
    <SimpleDatum><DatumDefinitionId>50</DatumDefinitionId><MaterialModifier>NONE</MaterialModifier><ReferencedComponent>ACTUAL</ReferencedComponent></SimpleDatum>
    <Precedence><PrecedenceEnum>PRIMARY</PrecedenceEnum></Precedence>
   </Datum></Datums>
  </DatumReferenceFrame>
 </DatumReferenceFrames>
 <Features>
  <FeatureDefinitions n="7">
   <PointFeatureDefinition id="11"/>
   <PlaneFeatureDefinition id="12"/>
   <CylinderFeatureDefinition id="13"><InternalExternal>INTERNAL</InternalExternal><Diameter>9.2</Diameter><Length>17</Length><Bottom><BottomEnum>THROUGH</BottomEnum></Bottom></CylinderFeatureDefinition>
   <CylinderFeatureDefinition id="14"><InternalExternal>EXTERNAL</InternalExternal><Diameter linearUnit="inch">3</Diameter><Length>40</Length></CylinderFeatureDefinition>
   <SphereFeatureDefinition id="15"><InternalExternal>EXTERNAL</InternalExternal><Diameter>33</Diameter></SphereFeatureDefinition>
   <ConeFeatureDefinition id="16"><InternalExternal>INTERNAL</InternalExternal><Diameter>20</Diameter><FullAngle>90</FullAngle><LargeEndDistance>5</LargeEndDistance><SmallEndDistance>-5</SmallEndDistance></ConeFeatureDefinition>
   <ElongatedCylinderFeatureDefinition id="17"><InternalExternal>INTERNAL</InternalExternal><Diameter>12</Diameter><Length>50</Length><Depth>8</Depth></ElongatedCylinderFeatureDefinition>
  </FeatureDefinitions>
  <FeatureNominals n="7">
   <PointFeatureNominal id="21"><Name>pad-1</Name><FeatureDefinitionId>11</FeatureDefinitionId><Location>412.5 -80 61</Location><Normal>0 0 1</Normal></PointFeatureNominal>
   <PlaneFeatureNominal id="22"><Name>top</Name><FeatureDefinitionId>12</FeatureDefinitionId><Location>0 0 50</Location><Normal>0 0 1</Normal><PolyLine count="5">0 0 50 60 0 50 60 30 50 0 30 50 0 0 50</PolyLine></PlaneFeatureNominal>
   <CylinderFeatureNominal id="23"><Name>dowel-1</Name><FeatureDefinitionId>13</FeatureDefinitionId><Axis><AxisPoint>131 47 58.4</AxisPoint><Direction>0 0 -1</Direction></Axis></CylinderFeatureNominal>
   <CylinderFeatureNominal id="24"><Name>boss</Name><FeatureDefinitionId>14</FeatureDefinitionId><Axis><AxisPoint>1 2 3</AxisPoint><Direction>1 0 0</Direction></Axis></CylinderFeatureNominal>
   <SphereFeatureNominal id="25"><Name>ball</Name><FeatureDefinitionId>15</FeatureDefinitionId><Location>7 8 9</Location></SphereFeatureNominal>
   <ConeFeatureNominal id="26"><Name>seat</Name><FeatureDefinitionId>16</FeatureDefinitionId><Axis><AxisPoint>0 0 40</AxisPoint><Direction>0 0 1</Direction></Axis></ConeFeatureNominal>
   <ElongatedCylinderFeatureNominal id="27"><Name>slot-1</Name><FeatureDefinitionId>17</FeatureDefinitionId><CenterPlane><Point>10 20 50</Point><Normal>0 1 0</Normal></CenterPlane><DepthVector>0 0 -1</DepthVector></ElongatedCylinderFeatureNominal>
  </FeatureNominals>
 </Features>
 <Characteristics>
  <FormalStandardId>52</FormalStandardId>
  <CharacteristicDefinitions n="2">
   <PositionCharacteristicDefinition id="31"><ToleranceValue>0.15</ToleranceValue><DatumReferenceFrameId>51</DatumReferenceFrameId><MaterialCondition>NONE</MaterialCondition><ZoneShape><DiametricalZone/></ZoneShape></PositionCharacteristicDefinition>
   <FlatnessCharacteristicDefinition id="32"><ToleranceValue>0.05</ToleranceValue></FlatnessCharacteristicDefinition>
  </CharacteristicDefinitions>
  <CharacteristicNominals n="2">
   <PositionCharacteristicNominal id="41"><CharacteristicDefinitionId>31</CharacteristicDefinitionId><FeatureNominalIds n="1"><Id>23</Id></FeatureNominalIds></PositionCharacteristicNominal>
   <FlatnessCharacteristicNominal id="42"><CharacteristicDefinitionId>32</CharacteristicDefinitionId><FeatureNominalIds n="1"><Id>22</Id></FeatureNominalIds></FlatnessCharacteristicNominal>
  </CharacteristicNominals>
 </Characteristics>
</QIFDocument>
)";
}

std::string qif_with(const std::string& what, const std::string& replacement) {
  std::string text = qif_text();
  const std::size_t at = text.find(what);
  EXPECT_NE(at, std::string::npos) << what;
  if (at != std::string::npos) text.replace(at, what.size(), replacement);
  return text;
}

}  // namespace standpoint::test
