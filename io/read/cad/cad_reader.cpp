#include "io/read/cad/cad_reader.h"

#include <algorithm>
#include <new>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

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
#include <Standard_Failure.hxx>
#include <Standard_OutOfMemory.hxx>
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

#include "io/read/cad/cad_shapes-inl.h"

namespace standpoint {
namespace {

using Body = tl::expected<RawBody, std::string>;

std::string text_of(const Handle(TCollection_HAsciiString) & text) {
  return text.IsNull() ? std::string() : std::string(text->ToCString());
}

/// The deflection, in the importer's unit, that is the request's chord tolerance in the scene.
double deflection_for(const CadRequest& request, const RawBody& body) {
  const double used =
      request.mm_per_unit.value_or(body.stated_mm_per_unit.value_or(request.default_mm_per_unit));
  return request.chord_tolerance / used * body.coordinates_per_unit;
}

/// A name that means something: some programs write "NONE" where there is none.
std::string meaningful(std::string name) {
  const bool none = std::all_of(name.begin(), name.end(), [](char c) { return c == ' '; }) ||
                    name == "NONE" || name == "$";
  return none ? std::string() : name;
}

FaceNumbers step_faces(const Handle(XSControl_WorkSession) & session) {
  FaceNumbers numbers;
  const Handle(Interface_InterfaceModel) model = session->Model();
  const Handle(Transfer_TransientProcess) process = session->TransferReader()->TransientProcess();
  for (Standard_Integer i = 1; i <= model->NbEntities(); ++i) {
    const auto face = Handle(StepShape_Face)::DownCast(model->Value(i));
    if (!face.IsNull()) {
      numbers.add(TransferBRep::ShapeResult(process, face), meaningful(text_of(face->Name())));
    }
  }
  return numbers;
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

std::string missing_files(const STEPCAFControl_Reader& reader) {
  std::string names;
  using Files = NCollection_DataMap<TCollection_AsciiString, Handle(STEPCAFControl_ExternFile)>;
  for (Files::Iterator file(reader.ExternFiles()); file.More(); file.Next()) {
    if (file.Value()->GetLoadStatus() != IFSelect_RetDone) {
      names += (names.empty() ? "" : ", ") + std::string(file.Key().ToCString());
    }
  }
  return names;
}

/// How much OpenCASCADE mends of what it reads, beyond what it needs to know an edge on its faces.
enum class Healing { light, full };

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

Body read_step_file(const CadRequest& request, Healing healing, std::vector<std::string>& unread) {
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
  if (reader.ReadFile(request.file.c_str()) != IFSelect_RetDone) {
    return tl::unexpected(std::string("it is not a readable STEP file"));
  }
  RawBody body;
  body.format = "STEP";
  const Handle(XSControl_WorkSession) session = reader.Reader().WS();
  const std::set<double> units = step_units(session->Model());
  if (units.size() > 1 && request.mm_per_unit) {
    return tl::unexpected(
        fmt::format("it mixes length units (of {} mm), so that mesh_units cannot replace them",
                    fmt::join(units, " and ")));
  }
  if (!units.empty()) {
    body.stated_mm_per_unit = *units.rbegin();
    body.coordinates_per_unit = *units.rbegin();
  }
  unread = unread_tessellations(session->Model());
  Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
  if (!reader.Transfer(document) && unread.empty()) {
    return tl::unexpected(std::string("it holds no shape that can be read"));
  }
  if (const std::string missing = missing_files(reader); !missing.empty()) {
    return tl::unexpected("it refers to other files that are missing: " + missing);
  }
  FaceNumbers numbers = step_faces(session);
  add_triangles(parts_of(document), deflection_for(request, body), numbers, body);
  return body;
}

/// Lightly healed first; where that loses faces, once more in full.
Body read_step_file(const CadRequest& request) {
  std::vector<std::string> unread;
  Body body = read_step_file(request, Healing::light, unread);
  if (body && !body->lost_faces.empty()) {
    Body full = read_step_file(request, Healing::full, unread);
    if (full && full->lost_faces.size() < body->lost_faces.size()) {
      body = std::move(full);
    }
  }
  if (body && body->mesh.triangles.empty() && !unread.empty()) {
    return tl::unexpected(std::string(
        "it has its surfaces as triangles only (tessellated AP242), which are not read: "
        "export it with exact surfaces, or to a mesh format"));
  }
  if (body) {
    body->lost_faces.insert(body->lost_faces.end(), unread.begin(), unread.end());
  }
  return body;
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

Body read_iges_file(const CadRequest& request) {
  IGESCAFControl_Reader reader;
  reader.SetColorMode(Standard_False);
  reader.SetLayerMode(Standard_False);
  Interface_Static::SetCVal("xstep.cascade.unit", "MM");
  if (reader.ReadFile(request.file.c_str()) != IFSelect_RetDone) {
    return tl::unexpected(std::string("it is not a readable IGES file"));
  }
  RawBody body;
  body.format = "IGES";
  const double unit = reader.IGESModel()->GlobalSection().UnitValue();
  if (unit > 0) {
    body.stated_mm_per_unit = unit;
    body.coordinates_per_unit = unit;
  }
  Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
  if (!reader.Transfer(document)) {
    return tl::unexpected(std::string("it holds no shape that can be read"));
  }
  FaceNumbers numbers = iges_faces(reader.WS());
  add_triangles(parts_of(document), deflection_for(request, body), numbers, body);
  return body;
}

Body guarded(Body (*read)(const CadRequest&), const CadRequest& request) {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_Printer));
  try {
    return read(request);
  } catch (const Standard_OutOfMemory&) {
    throw std::bad_alloc();
  } catch (const Standard_Failure& failure) {
    return tl::unexpected(
        fmt::format("it cannot be read ({}): it is likely damaged", failure.DynamicType()->Name()));
  }
}

}  // namespace

tl::expected<RawBody, std::string> read_step(const CadRequest& request) {
  return guarded(read_step_file, request);
}

tl::expected<RawBody, std::string> read_iges(const CadRequest& request) {
  return guarded(read_iges_file, request);
}

}  // namespace standpoint
