#include "tests/io/read/cad_files.h"

#include <cmath>

#include <gtest/gtest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <GProp_GProps.hxx>
#include <IGESControl_Controller.hxx>
#include <IGESControl_Writer.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <TDF_Label.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <gp_Ax2.hxx>

namespace standpoint {
namespace {

void be_silent() {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_Printer));
}

TopoDS_Shape bored_box() {
  const TopoDS_Shape box = BRepPrimAPI_MakeBox(100, 80, 50).Shape();
  const gp_Ax2 axis(gp_Pnt(40, 30, -10), gp_Dir(0, 0, 1));
  return BRepAlgoAPI_Cut(box, BRepPrimAPI_MakeCylinder(axis, 15, 70).Shape()).Shape();
}

void write_step(const TopoDS_Shape& shape, const std::filesystem::path& file,
                const std::string& unit) {
  be_silent();
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.unit", unit.c_str());  // a writer takes it when it is made
  STEPControl_Writer writer;
  EXPECT_EQ(writer.Transfer(shape, STEPControl_AsIs), IFSelect_RetDone);
  EXPECT_EQ(writer.Write(file.c_str()), IFSelect_RetDone);
  Interface_Static::SetCVal("write.step.unit", "MM");
}

void name(const TDF_Label& label, const char* text) {
  TDataStd_Name::Set(label, text);
}

}  // namespace

void write_bored_box(const std::filesystem::path& file, const std::string& unit) {
  write_step(bored_box(), file, unit);
}

void write_bored_box_as_iges(const std::filesystem::path& file, const std::string& unit) {
  be_silent();
  IGESControl_Controller::Init();
  IGESControl_Writer writer(unit.c_str(), 0);
  EXPECT_TRUE(writer.AddShape(bored_box()));
  writer.ComputeModel();
  EXPECT_TRUE(writer.Write(file.c_str()));
}

void write_splined_box(const std::filesystem::path& file) {
  write_step(BRepBuilderAPI_NurbsConvert(bored_box()).Shape(), file, "MM");
}

void write_open_box(const std::filesystem::path& file) {
  TopoDS_Shell shell;
  const BRep_Builder builder;
  builder.MakeShell(shell);
  for (TopExp_Explorer face(bored_box(), TopAbs_FACE); face.More(); face.Next()) {
    GProp_GProps middle;
    BRepGProp::SurfaceProperties(face.Current(), middle);
    if (middle.CentreOfMass().Z() < 49) {
      builder.Add(shell, face.Current());
    }
  }
  write_step(shell, file, "MM");
}

void write_worked_plate(const std::filesystem::path& file) {
  const gp_Dir up(0, 0, 1);
  const auto cylinder = [&](double x, double y, double low, double radius, double height) {
    return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(x, y, low), up), radius, height).Shape();
  };
  TopoDS_Shape plate = BRepPrimAPI_MakeBox(120, 80, 30).Shape();
  const double tip = 8 / std::tan(59 * M_PI / 180);
  for (const TopoDS_Shape& tool :
       {cylinder(30, 20, -1, 6, 32), cylinder(30, 20, 22, 10, 9), cylinder(80, 40, 12, 8, 19),
        BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(80, 40, 12 - tip), up), 0, 8, tip).Shape(),
        cylinder(30, 60, -1, 5, 32), cylinder(50, 60, -1, 5, 32),
        BRepPrimAPI_MakeBox(gp_Pnt(30, 55, -1), gp_Pnt(50, 65, 31)).Shape()}) {
    plate = BRepAlgoAPI_Cut(plate, tool).Shape();
  }
  plate = BRepAlgoAPI_Fuse(plate, cylinder(105, 65, 30, 7, 12)).Shape();
  write_step(plate, file, "MM");
}

void write_round_solids(const std::filesystem::path& file) {
  TopoDS_Compound all;
  const BRep_Builder builder;
  builder.MakeCompound(all);
  builder.Add(all, BRepPrimAPI_MakeSphere(200).Shape());
  builder.Add(all,
              BRepPrimAPI_MakeTorus(gp_Ax2(gp_Pnt(1000, 0, 0), gp_Dir(0, 0, 1)), 100, 25).Shape());
  builder.Add(
      all, BRepPrimAPI_MakeCone(gp_Ax2(gp_Pnt(2000, 0, 0), gp_Dir(0, 0, 1)), 60, 20, 120).Shape());
  write_step(all, file, "MM");
}

namespace {

void write_assembly(const std::filesystem::path& file, const char* prefix_of_part_files) {
  be_silent();
  const Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const TDF_Label pin = shapes->AddShape(BRepPrimAPI_MakeBox(10, 20, 30).Shape(), Standard_False);
  const TDF_Label plate =
      shapes->AddShape(BRepPrimAPI_MakeBox(300, 300, 5).Shape(), Standard_False);
  const TDF_Label whole = shapes->NewShape();
  name(pin, "pin");
  name(plate, "plate");
  name(whole, "invented assembly");
  gp_Trsf first;
  first.SetTranslation(gp_Vec(100, 0, 0));
  gp_Trsf second;
  second.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), M_PI / 2);
  second.SetTranslationPart(gp_Vec(0, 200, 0));
  shapes->AddComponent(whole, pin, TopLoc_Location(first));
  shapes->AddComponent(whole, pin, TopLoc_Location(second));
  shapes->AddComponent(whole, plate, TopLoc_Location());
  shapes->UpdateAssemblies();
  STEPCAFControl_Writer writer;
  EXPECT_TRUE(writer.Transfer(document, STEPControl_AsIs, prefix_of_part_files));
  EXPECT_EQ(writer.Write(file.c_str()), IFSelect_RetDone);
}

}  // namespace

void write_assembly(const std::filesystem::path& file) {
  write_assembly(file, nullptr);
}

void write_assembly_of_files(const std::filesystem::path& file) {
  write_assembly(file, "part-");
}

void write_loose_edge(const std::filesystem::path& file) {
  write_step(BRepBuilderAPI_MakeEdge(gp_Pnt(0, 0, 0), gp_Pnt(10, 0, 0)).Shape(), file, "MM");
}

}  // namespace standpoint
