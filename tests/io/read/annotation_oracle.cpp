#include "tests/io/read/annotation_oracle.h"

#include <set>
#include <unordered_map>

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <StepShape_Face.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TransferBRep.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XCAFDimTolObjects_DatumObject.hxx>
#include <XCAFDimTolObjects_GeomToleranceObject.hxx>
#include <XCAFDoc_Datum.hxx>
#include <XCAFDoc_DimTolTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_GeomTolerance.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>

namespace standpoint {
namespace {

using FaceNumber = std::unordered_map<const TopoDS_TShape*, std::size_t>;

std::string words_of(XCAFDimTolObjects_GeomToleranceType type) {
  switch (type) {
    case XCAFDimTolObjects_GeomToleranceType_Angularity:
      return "angularity";
    case XCAFDimTolObjects_GeomToleranceType_CircularRunout:
      return "circular run-out";
    case XCAFDimTolObjects_GeomToleranceType_CircularityOrRoundness:
      return "roundness";
    case XCAFDimTolObjects_GeomToleranceType_Coaxiality:
    case XCAFDimTolObjects_GeomToleranceType_Concentricity:
      return "coaxiality";
    case XCAFDimTolObjects_GeomToleranceType_Cylindricity:
      return "cylindricity";
    case XCAFDimTolObjects_GeomToleranceType_Flatness:
      return "flatness";
    case XCAFDimTolObjects_GeomToleranceType_Parallelism:
      return "parallelism";
    case XCAFDimTolObjects_GeomToleranceType_Perpendicularity:
      return "perpendicularity";
    case XCAFDimTolObjects_GeomToleranceType_Position:
      return "position";
    case XCAFDimTolObjects_GeomToleranceType_ProfileOfLine:
      return "profile of a line";
    case XCAFDimTolObjects_GeomToleranceType_ProfileOfSurface:
      return "profile of a surface";
    case XCAFDimTolObjects_GeomToleranceType_Straightness:
      return "straightness";
    case XCAFDimTolObjects_GeomToleranceType_Symmetry:
      return "symmetry";
    case XCAFDimTolObjects_GeomToleranceType_TotalRunout:
      return "total run-out";
    default:
      return "none";
  }
}

/// The number of each face, and of each face's entity, in the order of OpenCASCADE's model.
FaceNumber number_faces(const Handle(XSControl_WorkSession) & session, OracleAnnotation& oracle) {
  FaceNumber number;
  const Handle(Interface_InterfaceModel) model = session->Model();
  std::size_t count = 0;
  for (Standard_Integer i = 1; i <= model->NbEntities(); ++i) {
    const auto face = Handle(StepShape_Face)::DownCast(model->Value(i));
    if (face.IsNull()) continue;
    ++count;
    const std::string label = model->StringLabel(face)->ToCString();  // "#12"
    oracle.face_numbers[std::stoull(label.substr(1))] = count;
    const TopoDS_Shape shape =
        TransferBRep::ShapeResult(session->TransferReader()->TransientProcess(), face);
    for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
      number.emplace(it.Current().TShape().get(), count);
    }
  }
  return number;
}

std::vector<std::size_t> faces_on(const TDF_LabelSequence& shapes, const FaceNumber& number) {
  std::set<std::size_t> faces;
  for (const TDF_Label& label : shapes) {
    const TopoDS_Shape shape = XCAFDoc_ShapeTool::GetShape(label);
    if (shape.IsNull()) continue;
    for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
      faces.insert(number.at(it.Current().TShape().get()));
    }
  }
  return {faces.begin(), faces.end()};
}

}  // namespace

OracleAnnotation annotation_by_opencascade(const std::filesystem::path& file) {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_Printer));
  OracleAnnotation oracle;
  STEPCAFControl_Reader reader;
  reader.SetGDTMode(Standard_True);
  if (reader.ReadFile(file.c_str()) != IFSelect_RetDone) return oracle;
  Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
  reader.Transfer(document);
  const FaceNumber number = number_faces(reader.Reader().WS(), oracle);
  const Handle(XCAFDoc_DimTolTool) table = XCAFDoc_DocumentTool::DimTolTool(document->Main());
  TDF_LabelSequence labels;
  table->GetGeomToleranceLabels(labels);
  for (const TDF_Label& label : labels) {
    Handle(XCAFDoc_GeomTolerance) attribute;
    if (!label.FindAttribute(XCAFDoc_GeomTolerance::GetID(), attribute)) continue;
    const Handle(XCAFDimTolObjects_GeomToleranceObject) object = attribute->GetObject();
    OracleTolerance tolerance;
    tolerance.kind = words_of(object->GetType());
    if (!object->GetSemanticName().IsNull())
      tolerance.name = object->GetSemanticName()->ToCString();
    tolerance.width = object->GetValue();
    tolerance.is_diameter =
        object->GetTypeOfValue() == XCAFDimTolObjects_GeomToleranceTypeValue_Diameter;
    TDF_LabelSequence first;
    TDF_LabelSequence second;
    table->GetRefShapeLabel(label, first, second);
    tolerance.faces = faces_on(first, number);
    TDF_LabelSequence datums;
    table->GetDatumWithObjectOfTolerLabels(label, datums);
    for (const TDF_Label& at : datums) {
      Handle(XCAFDoc_Datum) datum;
      if (at.FindAttribute(XCAFDoc_Datum::GetID(), datum)) {
        tolerance.datums.emplace_back(datum->GetObject()->GetName()->ToCString());
      }
    }
    oracle.tolerances.push_back(tolerance);
  }
  return oracle;
}

}  // namespace standpoint
