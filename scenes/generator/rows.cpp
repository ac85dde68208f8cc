#include "rows.h"

#include <cmath>

#include <fmt/format.h>

namespace standpoint::scenes {
namespace {

std::string one_line(const Json& value) {
  std::string text;
  if (value.is_object()) {
    for (const auto& [key, item] : value.items()) {
      text += fmt::format("{}\"{}\": {}", text.empty() ? "" : ", ", key, one_line(item));
    }
    return "{" + text + "}";
  }
  if (value.is_array()) {
    for (const auto& item : value) text += (text.empty() ? "" : ", ") + one_line(item);
    return "[" + text + "]";
  }
  // The shortest text that reads back as the same number; the JSON library writes 1100.0.
  if (value.is_number_float()) return fmt::format("{}", value.get<double>());
  return value.dump();
}

}  // namespace

double tidy(double value) {
  const double rounded = std::round(value * 1e6) / 1e6;
  return rounded == 0 ? 0 : rounded;  // no -0
}

Json row_of(const gp_XYZ& v) {
  return Json::array({tidy(v.X()), tidy(v.Y()), tidy(v.Z())});
}

std::string scene_text(const Json& scene) {
  std::string text = "{";
  bool first = true;
  for (const auto& [key, value] : scene.items()) {
    text += fmt::format("{}\n  \"{}\": ", first ? "" : ",", key);
    first = false;
    if (!value.is_array() || value.empty() || !value[0].is_object()) {
      text += one_line(value);
      continue;
    }
    text += "[";
    for (std::size_t i = 0; i < value.size(); ++i) {
      text += fmt::format("{}\n    {}", i == 0 ? "" : ",", one_line(value[i]));
    }
    text += "\n  ]";
  }
  return text + "\n}\n";
}

Json& FeatureRows::add(const std::string& name, const char* type) {
  rows_.push_back(Json{{"name", name}, {"type", type}});
  return rows_.back();
}

Json& FeatureRows::point(const std::string& name, const gp_Pnt& at, const gp_Dir& normal,
                         double tolerance) {
  Json& row = add(name, "point");
  row["at"] = place(at);
  row["normal"] = row_of(normal.XYZ());
  row["tolerance"] = tolerance;
  return row;
}

Json& FeatureRows::plane(const std::string& name, const std::vector<gp_Pnt>& points,
                         const gp_Dir& normal, double tolerance) {
  Json& row = add(name, "plane");
  row["points"] = Json::array();
  for (const gp_Pnt& p : points) row["points"].push_back(place(p));
  row["normal"] = row_of(normal.XYZ());
  row["tolerance"] = tolerance;
  return row;
}

Json& FeatureRows::hole(const std::string& name, const gp_Pnt& centre, const gp_Dir& axis,
                        double diameter, double depth, double tolerance) {
  Json& row = add(name, "hole");
  row["centre"] = place(centre);
  row["axis"] = row_of(axis.XYZ());
  row["diameter"] = tidy(diameter);
  row["depth"] = tidy(depth);
  row["tolerance"] = tolerance;
  return row;
}

Json& FeatureRows::cylinder(const std::string& name, const gp_Pnt& centre, const gp_Dir& axis,
                            double diameter, double length, const char* side, double tolerance) {
  Json& row = add(name, "cylinder");
  row["centre"] = place(centre);
  row["axis"] = row_of(axis.XYZ());
  row["diameter"] = tidy(diameter);
  row["length"] = tidy(length);
  row["side"] = side;
  row["tolerance"] = tolerance;
  return row;
}

Json& FeatureRows::sphere(const std::string& name, const gp_Pnt& centre, double diameter,
                          const gp_Dir& toward, double tolerance) {
  Json& row = add(name, "sphere");
  row["centre"] = place(centre);
  row["diameter"] = tidy(diameter);
  row["toward"] = row_of(toward.XYZ());
  row["tolerance"] = tolerance;
  return row;
}

}  // namespace standpoint::scenes
