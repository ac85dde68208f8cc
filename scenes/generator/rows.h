#pragma once

#include <string>
#include <vector>

#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>
#include <gp_Vec.hxx>
#include <nlohmann/json.hpp>

namespace standpoint::scenes {

using Json = nlohmann::ordered_json;

/// Rounds to 1e-6, so that a file shows what was meant (1100, not 1100.0000000000002) and so that
/// the last bits of a machine's sine do not reach it.
[[nodiscard]] double tidy(double value);
[[nodiscard]] Json row_of(const gp_XYZ& v);

/// Text of a scene: one line for each body, feature, nest..., so that it reads and diffs well.
[[nodiscard]] std::string scene_text(const Json& scene);

/// The features of a part, gathered while the part is shaped, so that both come from the same
/// numbers. Given in the part's frame, mm; written in the scene's, which differs by a shift.
class FeatureRows {
 public:
  explicit FeatureRows(const gp_Vec& scene_from_part) : shift_(scene_from_part) {}

  /// Each returns the new row, for options ("required", "targets") to be added.
  Json& point(const std::string& name, const gp_Pnt& at, const gp_Dir& normal, double tolerance);
  Json& plane(const std::string& name, const std::vector<gp_Pnt>& points, const gp_Dir& normal,
              double tolerance);
  /// `centre` in the rim's plane, `axis` out of the hole.
  Json& hole(const std::string& name, const gp_Pnt& centre, const gp_Dir& axis, double diameter,
             double depth, double tolerance);
  /// `centre` half-way along; `side` is "inside" or "outside".
  Json& cylinder(const std::string& name, const gp_Pnt& centre, const gp_Dir& axis, double diameter,
                 double length, const char* side, double tolerance);
  Json& sphere(const std::string& name, const gp_Pnt& centre, double diameter, const gp_Dir& toward,
               double tolerance);

  [[nodiscard]] const Json& rows() const { return rows_; }

 private:
  Json& add(const std::string& name, const char* type);
  [[nodiscard]] Json place(const gp_Pnt& p) const { return row_of(p.XYZ() + shift_.XYZ()); }

  gp_Vec shift_;
  Json rows_ = Json::array();
};

}  // namespace standpoint::scenes
