#include "furniture.h"

#include <cmath>

#include <BRep_Builder.hxx>
#include <TopoDS_Compound.hxx>

#include "casting.h"

namespace standpoint::scenes {
namespace {

const gp_Dir kUp(0, 0, 1);

TopoDS_Compound together(const std::vector<TopoDS_Shape>& shapes) {
  TopoDS_Compound all;
  BRep_Builder builder;
  builder.MakeCompound(all);
  for (const TopoDS_Shape& shape : shapes) builder.Add(all, shape);
  return all;
}

}  // namespace

TopoDS_Shape stand(double height) {
  Casting welded;
  welded.add(box(gp_Pnt(-200, -200, 0), gp_Pnt(200, 200, 30)));
  welded.add(cylinder(gp_Pnt(0, 0, 20), kUp, 220, height - 40));
  welded.add(box(gp_Pnt(-130, -130, height - 30), gp_Pnt(130, 130, height)));
  return welded.finish();
}

TopoDS_Shape nest_post(double height) {
  Casting welded;
  welded.add(box(gp_Pnt(-150, -150, 0), gp_Pnt(150, 150, 15)));
  welded.add(cylinder(gp_Pnt(0, 0, 10), kUp, 120, height - 60));
  welded.add(cylinder(gp_Pnt(0, 0, height - 60), kUp, 32, 60 - kSeatDepth));
  return welded.finish();
}

TopoDS_Shape fence(double length) {
  const double height = 2000, foot = 150, pitch = 100;
  std::vector<TopoDS_Shape> parts;
  for (double x = 0; x <= length; x += length / 4) {
    parts.push_back(box(gp_Pnt(x - 30, -30, 0), gp_Pnt(x + 30, 30, height + 50)));
  }
  for (const double z : {foot, height}) {
    parts.push_back(cylinder(gp_Pnt(30, 0, z), gp_Dir(1, 0, 0), 20, length - 60));
  }
  for (double x = pitch; x < length - 1; x += pitch) {
    const double to_post = std::abs(std::remainder(x, length / 4));
    if (to_post > 40) parts.push_back(cylinder(gp_Pnt(x, 0, foot), kUp, 6, height - foot));
  }
  return together(parts);
}

Json pose(double x, double y, double z) {
  return {{"translate", {x, y, z}}};
}

Json stl_body(const std::string& name, const std::string& role, const std::string& mesh, Json at) {
  Json row = body(name, role, mesh);
  row["mesh_units"] = "m";
  row["pose"] = std::move(at);
  return row;
}

Json nest(const std::string& name, const gp_Pnt& at, const gp_Dir& normal) {
  return {
      {"name", name}, {"at", row_of(at.XYZ())}, {"normal", row_of(normal.XYZ())}, {"seat", kSeat}};
}

Json body(const std::string& name, const std::string& role, const std::string& mesh) {
  return {{"name", name}, {"role", role}, {"mesh", mesh}};
}

Json rectangle(double low_x, double low_y, double high_x, double high_y) {
  return {{low_x, low_y}, {high_x, low_y}, {high_x, high_y}, {low_x, high_y}};
}

}  // namespace standpoint::scenes
