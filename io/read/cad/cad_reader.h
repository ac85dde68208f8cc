#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include <tl/expected.hpp>

#include "io/read/meshes/raw_body.h"

namespace standpoint {

struct CadRequest {
  std::filesystem::path file;
  std::optional<double> mm_per_unit;  ///< what one unit of the file's numbers is to mean, > 0
  double default_mm_per_unit = 1;     ///< where neither says
  double chord_tolerance = 0.1;       ///< mm, > 0
};

/// Reads STEP (ISO 10303-21: AP203, AP214, AP242) through OpenCASCADE and makes triangles of its
/// faces, those of every placed instance. Loose edges and points are left out. Where a file has its
/// surfaces only as triangles (AP242 tessellated), these are taken as they are.
///
/// Triangles keep within `chord_tolerance` of the surface, judged at their middles
/// (cad_mesh-inl.h); rims are cut with at most 0.35 rad of a curve under an edge. Edges shared by
/// two faces are cut once, so that closed solids give closed meshes. One thread; the same file and
/// request give the same mesh. A face that OpenCASCADE finds no triangles for is covered by a fan
/// over its rim, and named in `lost_faces` where that is wider than the tolerance.
///
/// Faces are numbered from 1 in the file's order of its face entities: "face 17", "bore (face 17)",
/// and in a file of several placed parts "face 17 of rotor". The error is one plain sentence: not
/// readable, no faces, other files missing, several units where `mm_per_unit` is to replace them.
/// Throws std::bad_alloc. Prints nothing. Not safe from several threads (OpenCASCADE keeps global
/// settings).
[[nodiscard]] tl::expected<RawBody, std::string> read_step(const CadRequest& request);

/// The same for IGES 5.3.
[[nodiscard]] tl::expected<RawBody, std::string> read_iges(const CadRequest& request);

}  // namespace standpoint
