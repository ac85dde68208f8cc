#include "scene_shapes.h"

#include <cmath>
#include <numbers>

#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRep_Builder.hxx>
#include <STEPControl_Reader.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Vertex.hxx>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>

namespace standpoint::scenes {
namespace {

gp_Vec vector_of(const nlohmann::json& row) {
  return {row[0].get<double>(), row[1].get<double>(), row[2].get<double>()};
}
gp_Pnt point_of(const nlohmann::json& row) {
  return {vector_of(row).XYZ()};
}

/// Unit vectors all round `axis`.
std::vector<gp_Vec> around(const gp_Vec& axis, int count) {
  const gp_Ax2 frame(gp_Pnt(0, 0, 0), gp_Dir(axis));
  std::vector<gp_Vec> directions;
  for (int i = 0; i < count; ++i) {
    const double a = 2 * std::numbers::pi * i / count;
    directions.push_back(gp_Vec(frame.XDirection()) * std::cos(a) +
                         gp_Vec(frame.YDirection()) * std::sin(a));
  }
  return directions;
}

std::vector<Contact> on_wall(const gp_Pnt& ring_centre, const gp_Vec& axis, double radius,
                             double outward) {
  std::vector<Contact> places;
  for (const gp_Vec& d : around(axis, 8)) {
    places.push_back({ring_centre.Translated(d * radius), d * outward});
  }
  return places;
}

}  // namespace

TopoDS_Shape read_step(const std::filesystem::path& file) {
  STEPControl_Reader reader;
  if (reader.ReadFile(file.string().c_str()) != IFSelect_RetDone) return {};
  reader.TransferRoots();
  return reader.OneShape();
}

TopoDS_Shape placed_step_bodies(const std::filesystem::path& scene_file) {
  TopoDS_Compound all;
  BRep_Builder builder;
  builder.MakeCompound(all);
  const nlohmann::json scene = read_json(scene_file);
  for (const auto& row : scene["bodies"]) {
    const std::filesystem::path mesh = row["mesh"].get<std::string>();
    if (mesh.extension() != ".step") continue;
    gp_Trsf shift;
    if (row.contains("pose")) shift.SetTranslation(vector_of(row["pose"]["translate"]));
    const TopoDS_Shape shape = read_step(scene_file.parent_path() / mesh);
    builder.Add(all, BRepBuilderAPI_Transform(shape, shift).Shape());
  }
  return all;
}

double distance(const TopoDS_Shape& shape, const gp_Pnt& p) {
  return BRepExtrema_DistShapeShape(BRepBuilderAPI_MakeVertex(p).Vertex(), shape).Value();
}

std::vector<Contact> contacts(const nlohmann::json& feature) {
  const std::string type = feature["type"];
  if (type == "point") return {{point_of(feature["at"]), vector_of(feature["normal"])}};
  std::vector<Contact> places;
  if (type == "plane") {
    for (const auto& p : feature["points"]) {
      places.push_back({point_of(p), vector_of(feature["normal"])});
    }
    return places;
  }
  const gp_Pnt centre = point_of(feature["centre"]);
  const double radius = feature["diameter"].get<double>() / 2;
  if (type == "sphere") {
    const gp_Vec toward = vector_of(feature["toward"]);
    places.push_back({centre.Translated(toward * radius), toward});
    for (const gp_Vec& d : around(toward, 8)) {
      const gp_Vec out = (d + toward) / std::numbers::sqrt2;
      places.push_back({centre.Translated(out * radius), out});
    }
    return places;
  }
  const gp_Vec axis = vector_of(feature["axis"]);
  if (type == "hole") {
    const double depth = feature["depth"];
    for (const double fraction : {0.2, 0.9}) {
      for (const Contact& c :
           on_wall(centre.Translated(axis * (-fraction * depth)), axis, radius, -1)) {
        places.push_back(c);
      }
    }
    return places;
  }
  const double length = feature["length"];
  const double outward = feature["side"] == "outside" ? 1 : -1;
  for (const double fraction : {-0.45, 0.0, 0.45}) {
    for (const Contact& c :
         on_wall(centre.Translated(axis * (fraction * length)), axis, radius, outward)) {
      places.push_back(c);
    }
  }
  return places;
}

}  // namespace standpoint::scenes
