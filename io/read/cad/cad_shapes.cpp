#include "io/read/cad/cad_shapes-inl.h"

#include <algorithm>
#include <cmath>
#include <unordered_set>
#include <utility>

#include <fmt/format.h>

#include <BRepAdaptor_Curve.hxx>
#include <BRepTools.hxx>
#include <BRepTools_WireExplorer.hxx>
#include <BRep_Tool.hxx>
#include <GCPnts_TangentialDeflection.hxx>
#include <TDF_Label.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Wire.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include "geometry/same_place.h"
#include "io/read/cad/cad_mesh-inl.h"

namespace standpoint {
namespace {

/// OpenCASCADE names a shape after its kind where the file has no name.
bool is_made_up(const std::string& name) {
  constexpr const char* kShapeKinds[] = {"SOLID", "SHELL", "COMPOUND", "COMPSOLID", "FACE", "WIRE"};
  return std::find(std::begin(kShapeKinds), std::end(kShapeKinds), name) != std::end(kShapeKinds);
}

std::string name_of(const TDF_Label& label) {
  Handle(TDataStd_Name) attribute;
  if (!label.FindAttribute(TDataStd_Name::GetID(), attribute)) {
    return {};
  }
  const TCollection_ExtendedString& wide = attribute->Get();
  std::string name(static_cast<std::size_t>(wide.LengthOfCString()) + 1, '\0');
  Standard_PCharacter to = name.data();
  wide.ToUTF8CString(to);
  name.resize(name.find('\0'));
  return is_made_up(name) ? std::string() : name;
}

void collect_parts(const TDF_Label& label, const TopLoc_Location& above, const std::string& name,
                   std::vector<PlacedPart>& parts) {
  TDF_Label shape = label;
  TopLoc_Location place = above;
  if (XCAFDoc_ShapeTool::IsReference(label)) {
    place = above * XCAFDoc_ShapeTool::GetLocation(label);
    XCAFDoc_ShapeTool::GetReferredShape(label, shape);
  }
  const std::string own = name_of(shape);
  const std::string& best = own.empty() ? name : own;
  TDF_LabelSequence components;
  if (XCAFDoc_ShapeTool::IsAssembly(shape) &&
      XCAFDoc_ShapeTool::GetComponents(shape, components, Standard_False)) {
    for (const TDF_Label& component : components) {
      collect_parts(component, place, best, parts);
    }
    return;
  }
  TopoDS_Shape found = XCAFDoc_ShapeTool::GetShape(shape);
  if (!found.IsNull()) {
    found.Location(place * found.Location());
    parts.push_back({found, best});
  }
}

/// All faces that have a surface, each once however often it is placed: placements share triangles.
std::vector<TopoDS_Face> faces_to_mesh(const std::vector<PlacedPart>& parts) {
  std::vector<TopoDS_Face> faces;
  std::unordered_set<const TopoDS_TShape*> seen;
  for (const PlacedPart& part : parts) {
    for (TopExp_Explorer face(part.shape, TopAbs_FACE); face.More(); face.Next()) {
      if (has_surface(TopoDS::Face(face.Current())) &&
          seen.insert(face.Current().TShape().get()).second) {
        faces.push_back(TopoDS::Face(face.Current()));
      }
    }
  }
  return faces;
}

std::string label_of(const FaceInFile& face, const std::string& part) {
  std::string label = face.name.empty() ? fmt::format("face {}", face.number)
                                        : fmt::format("{} (face {})", face.name, face.number);
  return part.empty() ? label : label + " of " + part;
}

/// Adds a face's triangles; false where it has none.
bool add_face(const TopoDS_Face& face, double deflection, Mesh& mesh) {
  const FaceTriangles found = triangles_of(face, deflection);
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.insert(mesh.vertices.end(), found.points.begin(), found.points.end());
  for (const auto& t : found.triangles) {
    mesh.triangles.push_back({first + t[0], first + t[1], first + t[2]});
  }
  return !found.triangles.empty();
}

/// The points of a face's outer wire, in order, with its curves cut within `deflection`.
std::vector<Vec3> rim_of(const TopoDS_Face& face, double deflection) {
  std::vector<Vec3> rim;
  for (BRepTools_WireExplorer edge(BRepTools::OuterWire(face), face); edge.More(); edge.Next()) {
    if (BRep_Tool::Degenerated(edge.Current())) {
      continue;
    }
    const BRepAdaptor_Curve curve(edge.Current());
    const GCPnts_TangentialDeflection points(curve, kLargestTurn, deflection);
    for (Standard_Integer i = 1; i < points.NbPoints(); ++i) {  // the last begins the next edge
      const bool forward = edge.Orientation() != TopAbs_REVERSED;
      const gp_Pnt p = points.Value(forward ? i : points.NbPoints() + 1 - i);
      rim.emplace_back(p.X(), p.Y(), p.Z());
    }
  }
  return rim;
}

enum class Cover { none, close, rough };

/// Covers a face that the mesher left empty. Most such faces are slivers: two edges that run along
/// one another within the file's own accuracy, to which nothing is as true as any cover.
Cover cover_rim(const TopoDS_Face& face, double deflection, Mesh& mesh) {
  const std::vector<Vec3> rim = rim_of(face, deflection);
  if (rim.size() < 2) {
    return Cover::none;
  }
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.insert(mesh.vertices.end(), rim.begin(), rim.end());
  if (rim.size() == 2) {  // there and back along one line
    mesh.triangles.push_back({first, first + 1, first});
    return Cover::close;
  }
  double widest = 0;
  for (std::uint32_t i = 1; i + 1 < rim.size(); ++i) {
    mesh.triangles.push_back({first, first + i, first + i + 1});
    const Vec3 a = rim[i] - rim[0];
    const Vec3 b = rim[i + 1] - rim[0];
    const double longest = std::max({a.norm(), b.norm(), (a - b).norm()});
    widest = std::max(widest, longest > 0 ? a.cross(b).norm() / longest : 0.0);
  }
  return widest <= deflection ? Cover::close : Cover::rough;
}

}  // namespace

void FaceNumbers::add(const TopoDS_Shape& shape, const std::string& name) {
  ++last_;
  for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next()) {
    faces_.try_emplace(face.Current().TShape().get(), FaceInFile{last_, name});
  }
}

void FaceNumbers::pass_on(const TopoDS_Face& from, const TopoDS_Shape& to) {
  const FaceInFile known = of(from);
  for (TopExp_Explorer face(to, TopAbs_FACE); face.More(); face.Next()) {
    faces_[face.Current().TShape().get()] = known;
  }
}

const FaceInFile& FaceNumbers::of(const TopoDS_Face& face) {
  const auto [at, is_new] = faces_.try_emplace(face.TShape().get());
  if (is_new) {
    at->second.number = ++last_;
  }
  return at->second;
}

std::vector<PlacedPart> parts_of(const Handle(TDocStd_Document) & document) {
  std::vector<PlacedPart> parts;
  TDF_LabelSequence roots;
  XCAFDoc_DocumentTool::ShapeTool(document->Main())->GetFreeShapes(roots);
  for (const TDF_Label& root : roots) {
    collect_parts(root, TopLoc_Location(), {}, parts);
  }
  return parts;
}

void add_triangles(const std::vector<PlacedPart>& parts, double deflection, FaceNumbers& numbers,
                   RawBody& body) {
  mesh_faces(faces_to_mesh(parts), deflection);
  // The solids, shells and wires of one product are parts too, and bear its name.
  const bool one_product = std::all_of(parts.begin(), parts.end(), [&](const PlacedPart& part) {
    return part.name == parts.front().name;
  });
  Mesh& mesh = body.mesh;
  for (const PlacedPart& part : parts) {
    TopTools_IndexedMapOfShape faces;  // two solids may share one
    TopExp::MapShapes(part.shape, TopAbs_FACE, faces);
    for (Standard_Integer i = 1; i <= faces.Extent(); ++i) {
      const TopoDS_Face& face = TopoDS::Face(faces(i));
      mesh.face_names.push_back(label_of(numbers.of(face), one_product ? "" : part.name));
      if (!add_face(face, deflection, mesh) &&
          (!has_surface(face) || cover_rim(face, deflection, mesh) != Cover::close)) {
        body.lost_faces.push_back(mesh.face_names.back());
      }
      mesh.face_of_triangle.resize(mesh.triangles.size(),
                                   static_cast<std::uint32_t>(mesh.face_names.size() - 1));
    }
  }
  join_equal_vertices(mesh);
}

}  // namespace standpoint
