#include "io/read/cad/cad_document-inl.h"

#include <algorithm>
#include <set>
#include <string_view>

#include <fmt/format.h>

#include <IGESCAFControl_Reader.hxx>
#include <IGESData_IGESEntity.hxx>
#include <IGESData_IGESModel.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_Printer.hxx>
#include <Resource_Manager.hxx>
#include <STEPCAFControl_ExternFile.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <STEPConstruct_UnitContext.hxx>
#include <ShapeProcess_Context.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_UndefinedEntity.hxx>
#include <StepGeom_GeomRepContextAndGlobUnitAssCtxAndGlobUncertaintyAssCtx.hxx>
#include <StepGeom_GeometricRepresentationContextAndGlobalUnitAssignedContext.hxx>
#include <StepRepr_GlobalUnitAssignedContext.hxx>
#include <StepShape_Face.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TransferBRep.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XSControl_TransferReader.hxx>
#include <XSControl_WorkSession.hxx>

namespace standpoint {
namespace {

std::string text_of(const Handle(TCollection_HAsciiString) & text) {
  return text.IsNull() ? std::string() : std::string(text->ToCString());
}

/// A name that means something: some programs write "NONE" where there is none.
std::string meaningful(std::string name) {
  const bool none = std::all_of(name.begin(), name.end(), [](char c) { return c == ' '; }) ||
                    name == "NONE" || name == "$";
  return none ? std::string() : name;
}

void number_step_faces(const Handle(XSControl_WorkSession) & session, FaceNumbers& numbers,
                       std::map<std::uint64_t, std::size_t>& face_ids) {
  const auto model = Handle(StepData_StepModel)::DownCast(session->Model());
  const Handle(Transfer_TransientProcess) process = session->TransferReader()->TransientProcess();
  for (Standard_Integer i = 1; i <= model->NbEntities(); ++i) {
    const auto face = Handle(StepShape_Face)::DownCast(model->Value(i));
    if (!face.IsNull()) {
      numbers.add(TransferBRep::ShapeResult(process, face), meaningful(text_of(face->Name())));
      const auto id = static_cast<std::uint64_t>(model->IdentLabel(face));
      face_ids.emplace(id, numbers.last());
    }
  }
}

Handle(StepRepr_GlobalUnitAssignedContext)
    units_of(const Handle(StepRepr_RepresentationContext) & context) {
  const auto plain = Handle(
      StepGeom_GeometricRepresentationContextAndGlobalUnitAssignedContext)::DownCast(context);
  if (!plain.IsNull()) {
    return plain->GlobalUnitAssignedContext();
  }
  const auto with_uncertainty =
      Handle(StepGeom_GeomRepContextAndGlobUnitAssCtxAndGlobUncertaintyAssCtx)::DownCast(context);
  return with_uncertainty.IsNull() ? nullptr : with_uncertainty->GlobalUnitAssignedContext();
}

/// The length units, mm, of the representations that hold shapes.
std::set<double> step_units(const Handle(Interface_InterfaceModel) & model) {
  std::set<double> holding_shapes;
  std::set<double> any;
  for (Standard_Integer i = 1; i <= model->NbEntities(); ++i) {
    const auto shape = Handle(StepShape_ShapeRepresentation)::DownCast(model->Value(i));
    if (shape.IsNull() || shape->ContextOfItems().IsNull()) {
      continue;
    }
    const Handle(StepRepr_GlobalUnitAssignedContext) context = units_of(shape->ContextOfItems());
    STEPConstruct_UnitContext factors;
    if (!context.IsNull() && factors.ComputeFactors(context) == 0 && factors.LengthDone()) {
      any.insert(factors.LengthFactor());
      if (shape->DynamicType() != STANDARD_TYPE(StepShape_ShapeRepresentation)) {
        holding_shapes.insert(factors.LengthFactor());
      }
    }
  }
  return holding_shapes.empty() ? any : holding_shapes;
}

/// The surfaces that a file has as triangles only (AP242 tessellated), which OpenCASCADE 7.6 does
/// not know: its model then holds them as undefined entities.
std::vector<std::string> unread_tessellations(const Handle(Interface_InterfaceModel) & model) {
  std::vector<std::string> names;
  for (Standard_Integer i = 1; i <= model->NbEntities(); ++i) {
    const auto unknown = Handle(StepData_UndefinedEntity)::DownCast(model->Value(i));
    if (!unknown.IsNull()) {
      const std::string_view type = unknown->StepType();
      if (type == "TESSELLATED_SOLID" || type == "TESSELLATED_SHELL") {
        names.push_back(
            fmt::format("tessellated surface {}", model->StringLabel(unknown)->ToCString()));
      }
    }
  }
  return names;
}

using ExternFiles = NCollection_DataMap<TCollection_AsciiString, Handle(STEPCAFControl_ExternFile)>;

/// Faces of files that are referred to are numbered on, file by file in the order of their names.
void number_part_files(const STEPCAFControl_Reader& reader, CadDocument& found) {
  std::map<std::string, Handle(XSControl_WorkSession)> sessions;
  for (ExternFiles::Iterator file(reader.ExternFiles()); file.More(); file.Next()) {
    sessions.emplace(file.Key().ToCString(), file.Value()->GetWS());
  }
  for (const auto& [name, session] : sessions) {
    if (session.IsNull() || session->Model().IsNull()) continue;
    PartFile part = {name, session->LoadedFile(), {}};
    number_step_faces(session, found.numbers, part.face_ids);
    found.part_files.push_back(std::move(part));
  }
}

std::string missing_files(const STEPCAFControl_Reader& reader) {
  std::string names;
  for (ExternFiles::Iterator file(reader.ExternFiles()); file.More(); file.Next()) {
    if (file.Value()->GetLoadStatus() != IFSelect_RetDone) {
      names += (names.empty() ? "" : ", ") + std::string(file.Key().ToCString());
    }
  }
  return names;
}

/// The settings are OpenCASCADE's own, set here so that no settings file on the machine changes
/// them. Looking for crossings within wires takes time that grows with the square of a wire's edges
/// (three quarters of the whole for a stator's winding of 3474 faces) and hardly ever finds any.
void set_healing(Healing healing) {
  const Handle(ShapeProcess_Context) context = new ShapeProcess_Context("STEP");
  const Handle(Resource_Manager) settings = context->ResourceManager();
  settings->SetResource("FromSTEP.exec.op", "FixShape");
  settings->SetResource("FromSTEP.FixShape.FixSelfIntersectionMode",
                        healing == Healing::light ? 0 : -1);
  settings->SetResource("FromSTEP.FixShape.FixEdgeSameParameterMode", 0);
  settings->SetResource("FromSTEP.FixShape.CreateOpenSolidMode", 0);
}

FaceNumbers iges_faces(const Handle(XSControl_WorkSession) & session) {
  FaceNumbers numbers;
  const Handle(Interface_InterfaceModel) model = session->Model();
  const Handle(Transfer_TransientProcess) process = session->TransferReader()->TransientProcess();
  for (Standard_Integer i = 1; i <= model->NbEntities(); ++i) {
    const auto entity = Handle(IGESData_IGESEntity)::DownCast(model->Value(i));
    const TopoDS_Shape shape = TransferBRep::ShapeResult(process, model->Value(i));
    if (!entity.IsNull() && !shape.IsNull() && shape.ShapeType() == TopAbs_FACE) {
      numbers.add(shape, entity->HasName() ? meaningful(text_of(entity->NameValue())) : "");
    }
  }
  return numbers;
}

}  // namespace

void silence_importer() {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_Printer));
}

Document open_step(const std::filesystem::path& file, Healing healing, bool one_unit_is_needed) {
  STEPCAFControl_Reader reader;
  reader.SetColorMode(Standard_False);
  reader.SetLayerMode(Standard_False);
  reader.SetPropsMode(Standard_False);
  reader.SetGDTMode(Standard_False);
  reader.SetMatMode(Standard_False);
  reader.SetViewMode(Standard_False);
  // Ready-made triangles only where there is no exact surface, lest a face come twice.
  Interface_Static::SetCVal("read.step.tessellated", "OnNoBRep");
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
  set_healing(healing);
  if (reader.ReadFile(file.c_str()) != IFSelect_RetDone) {
    return tl::unexpected(std::string("it is not a readable STEP file"));
  }
  CadDocument found;
  found.format = "STEP";
  const Handle(XSControl_WorkSession) session = reader.Reader().WS();
  const std::set<double> units = step_units(session->Model());
  if (units.size() > 1 && one_unit_is_needed) {
    return tl::unexpected(
        fmt::format("it mixes length units (of {} mm), so that mesh_units cannot replace them",
                    fmt::join(units, " and ")));
  }
  if (!units.empty()) {
    found.stated_mm_per_unit = *units.rbegin();
    found.coordinates_per_unit = *units.rbegin();
  }
  found.unread = unread_tessellations(session->Model());
  found.document = new TDocStd_Document("BinXCAF");
  if (!reader.Transfer(found.document) && found.unread.empty()) {
    return tl::unexpected(std::string("it holds no shape that can be read"));
  }
  if (const std::string missing = missing_files(reader); !missing.empty()) {
    return tl::unexpected("it refers to other files that are missing: " + missing);
  }
  number_step_faces(session, found.numbers, found.face_ids);
  number_part_files(reader, found);
  return found;
}

Document open_iges(const std::filesystem::path& file) {
  IGESCAFControl_Reader reader;
  reader.SetColorMode(Standard_False);
  reader.SetLayerMode(Standard_False);
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
  if (reader.ReadFile(file.c_str()) != IFSelect_RetDone) {
    return tl::unexpected(std::string("it is not a readable IGES file"));
  }
  CadDocument found;
  found.format = "IGES";
  const double unit = reader.IGESModel()->GlobalSection().UnitValue();
  if (unit > 0) {
    found.stated_mm_per_unit = unit;
    found.coordinates_per_unit = unit;
  }
  found.document = new TDocStd_Document("BinXCAF");
  if (!reader.Transfer(found.document)) {
    return tl::unexpected(std::string("it holds no shape that can be read"));
  }
  found.numbers = iges_faces(reader.WS());
  return found;
}

}  // namespace standpoint
