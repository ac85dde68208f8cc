#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include <TopoDS_Shape.hxx>
#include <gp_Pnt.hxx>

namespace standpoint::scenes {

/// A name for the face that a point lies on.
struct FaceName {
  std::string name;
  gp_Pnt on_face;  ///< within 1e-6 mm of it, and of no other
};

/// Writes one named solid as STEP (AP214, mm), with named faces. The header carries no clock time:
/// the same shape gives the same bytes. False when the file cannot be written or a face is not
/// found.
[[nodiscard]] bool write_step(const TopoDS_Shape& shape, const std::string& name,
                              const std::vector<FaceName>& faces,
                              const std::filesystem::path& file);

/// Writes a shape as binary STL, meshed to a chord of 0.1 mm. `units_per_mm` is 0.001 for a file in
/// metres (STL itself states no unit). False when the file cannot be written.
[[nodiscard]] bool write_stl(const TopoDS_Shape& shape, double units_per_mm,
                             const std::filesystem::path& file);

/// Writes `text` as it is. False when the file cannot be written.
[[nodiscard]] bool write_text(const std::string& text, const std::filesystem::path& file);

}  // namespace standpoint::scenes
