#include "io/read/cad/cad_faces.h"

#include <algorithm>
#include <fstream>
#include <sstream>
#include <utility>

#include <BRepBuilderAPI_Sewing.hxx>
#include <BRepLib.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>

#include "io/read/cad/annotation.h"
#include "io/read/cad/cad_document-inl.h"
#include "io/read/cad/cad_face-inl.h"
#include "io/read/cad/cad_mesh-inl.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

using Part = tl::expected<ReadPart, std::string>;

std::size_t count_of(const TopoDS_Shape& shape, TopAbs_ShapeEnum what, TopAbs_ShapeEnum outside) {
  std::size_t count = 0;
  for (TopExp_Explorer it(shape, what, outside); it.More(); it.Next()) {
    ++count;
  }
  return count;
}

void add_solid(const TopoDS_Shape& solid, const std::string& component, FaceNumbers& numbers,
               ReadPart& read) {
  SolidFaces found;
  found.first = read.part.faces.size();
  TopExp::MapShapes(solid, TopAbs_FACE, found.faces);
  TopExp::MapShapesAndAncestors(solid, TopAbs_EDGE, TopAbs_FACE, found.faces_at_edge);
  for (Standard_Integer i = 1; i <= found.faces.Extent(); ++i) {
    const TopoDS_Face& face = TopoDS::Face(found.faces(i));
    Face plain = has_surface(face) ? plain_face(face, found, read.part.chord) : Face{};
    plain.number = numbers.of(face).number;
    plain.component = component;
    plain.solid = read.solids;
    read.part.faces.push_back(std::move(plain));
  }
  ++read.solids;
}

/// Faces that stand each on its own, sewn where they meet, as solids where that closes; a null
/// shape where it closes nowhere. The sewn faces keep the numbers of those they came of.
TopoDS_Shape sewn_solids(const TopoDS_Shape& loose, FaceNumbers& numbers) {
  BRepBuilderAPI_Sewing sewing(tolerance::kSewnEdges);
  for (TopExp_Explorer face(loose, TopAbs_FACE, TopAbs_SOLID); face.More(); face.Next()) {
    sewing.Add(face.Current());
  }
  sewing.Perform();
  for (TopExp_Explorer face(loose, TopAbs_FACE, TopAbs_SOLID); face.More(); face.Next()) {
    numbers.pass_on(TopoDS::Face(face.Current()), sewing.Modified(face.Current()));
  }
  TopoDS_Compound solids;
  const BRep_Builder builder;
  builder.MakeCompound(solids);
  bool any = false;
  for (TopExp_Explorer shell(sewing.SewedShape(), TopAbs_SHELL); shell.More(); shell.Next()) {
    if (!BRep_Tool::IsClosed(shell.Current())) {
      continue;
    }
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell.Current());
    BRepLib::OrientClosedSolid(solid);
    builder.Add(solids, solid);
    any = true;
  }
  return any ? TopoDS_Shape(solids) : TopoDS_Shape();
}

void add_solids(const TopoDS_Shape& shape, const std::string& component, FaceNumbers& numbers,
                ReadPart& read) {
  for (TopExp_Explorer solid(shape, TopAbs_SOLID); solid.More(); solid.Next()) {
    add_solid(solid.Current(), component, numbers, read);
  }
}

/// One shape of all faces that are in no solid; null where there are none.
TopoDS_Shape loose_faces(const std::vector<PlacedPart>& parts) {
  TopoDS_Compound loose;
  const BRep_Builder builder;
  builder.MakeCompound(loose);
  bool any = false;
  for (const PlacedPart& part : parts) {
    for (TopExp_Explorer face(part.shape, TopAbs_FACE, TopAbs_SOLID); face.More(); face.Next()) {
      if (has_surface(TopoDS::Face(face.Current()))) {
        builder.Add(loose, face.Current());
        any = true;
      }
    }
  }
  return any ? TopoDS_Shape(loose) : TopoDS_Shape();
}

Part faces_of(CadDocument& found, double chord) {
  if (!found.unread.empty() && parts_of(found.document).empty()) {
    return tl::unexpected(std::string(
        "it has its surfaces as triangles only (tessellated AP242), which are not read: "
        "export it with exact surfaces, or to a mesh format"));
  }
  ReadPart read;
  read.format = found.format;
  read.stated_mm_per_unit = found.stated_mm_per_unit;
  read.part.chord = chord;
  const std::vector<PlacedPart> parts = parts_of(found.document);
  const bool one_product = std::all_of(parts.begin(), parts.end(), [&](const PlacedPart& part) {
    return part.name == parts.front().name;
  });
  for (const PlacedPart& part : parts) {
    add_solids(part.shape, one_product ? "" : part.name, found.numbers, read);
    read.loose_faces += count_of(part.shape, TopAbs_FACE, TopAbs_SOLID);
  }
  if (read.solids > 0 || read.loose_faces == 0) {
    return read;
  }
  if (const TopoDS_Shape sewn = sewn_solids(loose_faces(parts), found.numbers); !sewn.IsNull()) {
    add_solids(sewn, "", found.numbers, read);
    read.loose_faces -= std::min(read.loose_faces, read.part.faces.size());
  }
  return read;
}

std::string text_of(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return std::move(text).str();
}

/// Of the file itself, and of those that it refers to.
Annotation annotation_of(const std::filesystem::path& file, const CadDocument& found) {
  Annotation all = read_annotation(text_of(file), found.face_ids);
  for (const PartFile& part : found.part_files) {
    add_annotation_of(part.name, read_annotation(text_of(part.path), part.face_ids), all);
  }
  return all;
}

}  // namespace

Part read_step_faces(const std::filesystem::path& file, double chord) {
  return guarded([&]() -> Part {
    Document found = open_step(file, Healing::light, false);
    if (!found) {
      return tl::unexpected(std::move(found.error()));
    }
    Part read = faces_of(*found, chord);
    if (read) {
      read->annotation = annotation_of(file, *found);
    }
    return read;
  });
}

Part read_iges_faces(const std::filesystem::path& file, double chord) {
  return guarded([&]() -> Part {
    Document found = open_iges(file);
    if (!found) {
      return tl::unexpected(std::move(found.error()));
    }
    return faces_of(*found, chord);
  });
}

}  // namespace standpoint
