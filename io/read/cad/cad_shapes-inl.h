#pragma once

// OpenCASCADE shapes to triangles: what STEP and IGES have in common. For the .cpp files of the CAD
// reader only, because it needs OpenCASCADE's headers.

#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include <TDocStd_Document.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>

#include "io/read/meshes/raw_body.h"

namespace standpoint {

/// The number and name of a face in its file.
struct FaceInFile {
  std::size_t number = 0;
  std::string name;  ///< empty where the file has none
};

/// Finds the number of a face, however the face is placed.
class FaceNumbers {
 public:
  /// Gives the next number, from 1 on, to all faces of `shape`, which came of one face entity of
  /// the file; a face that has one already keeps it. `shape` may be null: the number is used up.
  void add(const TopoDS_Shape& shape, const std::string& name);

  /// Gives the number and name of a face to the faces of a shape that was made of it.
  void pass_on(const TopoDS_Face& from, const TopoDS_Shape& to);

  /// The number that was given last; 0 before the first.
  [[nodiscard]] std::size_t last() const { return last_; }

  /// Faces that stand under no entity of their own are numbered on.
  [[nodiscard]] const FaceInFile& of(const TopoDS_Face& face);

 private:
  std::unordered_map<const TopoDS_TShape*, FaceInFile> faces_;
  std::size_t last_ = 0;
};

/// A part where it is placed.
struct PlacedPart {
  TopoDS_Shape shape;
  std::string name;  ///< empty where the file has none
};

/// All parts of a document, each as often as it is placed.
[[nodiscard]] std::vector<PlacedPart> parts_of(const Handle(TDocStd_Document) & document);

/// Makes triangles of all faces within `deflection` (in the shapes' unit, > 0) of their surfaces,
/// and adds them to `body`: mesh, face names, lost faces. Faces without an exact surface keep the
/// triangles they came with. A face that the mesher leaves empty is covered by a fan over its rim;
/// where that is wider than `deflection`, and so may stray from the surface, or where there is no
/// rim, the face is also named in `lost_faces`.
void add_triangles(const std::vector<PlacedPart>& parts, double deflection, FaceNumbers& numbers,
                   RawBody& body);

}  // namespace standpoint
