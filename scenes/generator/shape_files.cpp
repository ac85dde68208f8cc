#include "shape_files.h"

#include <fstream>

#include <APIHeaderSection_MakeHeader.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPConstruct.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_RepresentationItem.hxx>
#include <StlAPI_Writer.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <Transfer_FinderProcess.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_TransferWriter.hxx>
#include <XSControl_WorkSession.hxx>
#include <gp_Trsf.hxx>

namespace standpoint::scenes {
namespace {

Handle(TCollection_HAsciiString) text_of(const std::string& text) {
  return new TCollection_HAsciiString(text.c_str());
}

/// The face that `p` lies on; null where there is none.
TopoDS_Shape face_at(const TopoDS_Shape& shape, const gp_Pnt& p) {
  const TopoDS_Vertex vertex = BRepBuilderAPI_MakeVertex(p).Vertex();
  for (TopExp_Explorer at(shape, TopAbs_FACE); at.More(); at.Next()) {
    const BRepExtrema_DistShapeShape distance(vertex, at.Current());
    if (distance.IsDone() && distance.Value() < 1e-6) return at.Current();
  }
  return {};
}

/// The exchange library writes names of solids only; a face's name belongs into its ADVANCED_FACE.
bool name_faces(const TopoDS_Shape& shape, const std::vector<FaceName>& faces,
                STEPControl_Writer& writer) {
  const Handle(Transfer_FinderProcess) found = writer.WS()->TransferWriter()->FinderProcess();
  for (const FaceName& face : faces) {
    const TopoDS_Shape at = face_at(shape, face.on_face);
    if (at.IsNull()) return false;
    const Handle(StepRepr_RepresentationItem) item = STEPConstruct::FindEntity(found, at);
    if (item.IsNull()) return false;
    item->SetName(text_of(face.name));
  }
  return true;
}

}  // namespace

bool write_step(const TopoDS_Shape& shape, const std::string& name,
                const std::vector<FaceName>& faces, const std::filesystem::path& file) {
  const Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  TDataStd_Name::Set(shapes->AddShape(shape, Standard_False), name.c_str());

  STEPCAFControl_Writer writer;
  if (!writer.Transfer(document, STEPControl_AsIs)) return false;
  if (!name_faces(shape, faces, writer.ChangeWriter())) return false;

  APIHeaderSection_MakeHeader header(writer.ChangeWriter().Model());
  header.SetName(text_of(file.filename().string()));
  header.SetTimeStamp(text_of("2025-01-01T00:00:00"));
  header.SetAuthorValue(1, text_of("scenes/generator"));
  header.SetOrganizationValue(1, text_of("invented"));
  header.SetOriginatingSystem(text_of("scenes/generator"));
  header.SetDescriptionValue(1, text_of("invented, for the scenes of standpoint"));
  return writer.Write(file.string().c_str()) == IFSelect_RetDone;
}

bool write_stl(const TopoDS_Shape& shape, double units_per_mm, const std::filesystem::path& file) {
  gp_Trsf scale;
  scale.SetScaleFactor(units_per_mm);
  const TopoDS_Shape scaled = BRepBuilderAPI_Transform(shape, scale, true).Shape();
  const BRepMesh_IncrementalMesh mesh(scaled, 0.1 * units_per_mm);
  StlAPI_Writer writer;
  writer.ASCIIMode() = Standard_False;
  return writer.Write(scaled, file.string().c_str());
}

bool write_text(const std::string& text, const std::filesystem::path& file) {
  std::ofstream out(file, std::ios::binary);
  out << text;
  out.close();
  return out.good();
}

}  // namespace standpoint::scenes
