// The committed bedplate is the part that it claims to be.

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>
#include <BRepBndLib.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TDF_ChildIterator.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include "scene_shapes.h"

namespace standpoint::scenes {
namespace {

TopoDS_Shape bedplate() {
  return read_step(scenes_folder() / "demo" / "bedplate.step");
}

TEST(Bedplate, IsOneValidSolid) {
  const TopoDS_Shape shape = bedplate();
  EXPECT_TRUE(BRepCheck_Analyzer(shape).IsValid());
  int solids = 0;
  for (TopExp_Explorer at(shape, TopAbs_SOLID); at.More(); at.Next()) ++solids;
  EXPECT_EQ(solids, 1);
}

TEST(Bedplate, MeasuresWhatItsDescriptionSays) {
  Bnd_Box bounds;
  BRepBndLib::AddOptimal(bedplate(), bounds, false, false);
  const gp_XYZ size = bounds.CornerMax().XYZ() - bounds.CornerMin().XYZ();
  EXPECT_NEAR(size.X(), 3600, 1e-3);
  EXPECT_NEAR(size.Y(), 2200, 1e-3);
  EXPECT_NEAR(size.Z(), 1100, 1e-3);
}

double disc(double radius) {
  return std::numbers::pi * radius * radius;
}
/// What a rounding of `radius` takes off four upright edges of a prism, as an area.
double rounded_off(double radius) {
  return (4 - std::numbers::pi) * radius * radius;
}

/// The volume by hand, region by region, from the drawing's numbers (derived here).
double volume_by_hand() {
  double v = (3600.0 * 2000 - rounded_off(160)) * 300;       // slab
  v += 4 * disc(90) * 100;                                   // trunnions
  v += 450 * (800 * 400 + disc(400) / 2 - disc(310));        // drive end
  v += 350 * (600 * 400 + disc(300) / 2 - disc(200));        // tail end
  const double slope = 350.0 / 360;                          // of a gusset's edge
  v += 2 * 60 * std::pow(340 - 20 / slope, 2) * slope / 2;   // above slab, west of 1000
  v += disc(360) * 120 - disc(230) * 120 - disc(250) * 300;  // flange, yaw bore
  v += 4 * 300 * 200 * 40;                                   // pads
  v -= (420.0 * 640 - rounded_off(40)) * 200;                // pocket
  v -= 4 * disc(30) * 300;                                   // anchors
  v += 2 * disc(45) * 180;                                   // lifting pins
  // Tooling balls on studs of radius 12, centres 70 above the slab: the stud ends inside the ball.
  const double stud = disc(12) * 70 - 2 * std::numbers::pi / 3 * (27000 - std::pow(900 - 144, 1.5));
  v += 4 * (4 * std::numbers::pi / 3 * 27000 + stud);
  v -= 15 * disc(2.5) * 14;                                                        // dowels
  v -= 4 * disc(12) * 60 + 8 * disc(11) * 45 + 4 * disc(13) * 80 + disc(15) * 60;  // bolts, drain
  return v;
}

TEST(Bedplate, HasTheVolumeOfItsDrawing) {
  GProp_GProps properties;
  BRepGProp::VolumeProperties(bedplate(), properties, 1e-9);
  EXPECT_NEAR(properties.Mass() / volume_by_hand(), 1, 1e-6);
}

TEST(Bedplate, NamesItsSolid) {
  STEPCAFControl_Reader reader;
  reader.SetNameMode(true);
  ASSERT_EQ(reader.ReadFile((scenes_folder() / "demo" / "bedplate.step").string().c_str()),
            IFSelect_RetDone);
  Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
  ASSERT_TRUE(reader.Transfer(document));
  TDF_LabelSequence shapes;
  XCAFDoc_DocumentTool::ShapeTool(document->Main())->GetFreeShapes(shapes);
  ASSERT_EQ(shapes.Length(), 1);
  Handle(TDataStd_Name) name;
  ASSERT_TRUE(shapes.First().FindAttribute(TDataStd_Name::GetID(), name));
  EXPECT_EQ(name->Get(), TCollection_ExtendedString("bedplate"));
}

TEST(Bedplate, NamesItsMainFaces) {
  std::ifstream in(scenes_folder() / "demo" / "bedplate.step");
  const std::string text((std::istreambuf_iterator<char>(in)), {});
  for (const char* face :
       {"slab-top", "drive-bore", "drive-crown", "pad-3", "pocket-floor", "underside"}) {
    EXPECT_NE(text.find("ADVANCED_FACE('" + std::string(face) + "'"), std::string::npos) << face;
  }
}

}  // namespace
}  // namespace standpoint::scenes
