#include "io/read/cad/cad_face-inl.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp.hxx>
#include <BRepTools_WireExplorer.hxx>
#include <BRep_Tool.hxx>
#include <GCPnts_TangentialDeflection.hxx>
#include <GProp_GProps.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>

#include "io/read/cad/known_surface.h"
#include "io/words/tolerances.h"

namespace standpoint {
namespace {

/// Of a curve under one piece of a rim, rad: a circle has some thirty.
constexpr double kTurn = 0.2;

Vec3 to_vec(const gp_Pnt& p) {
  return {p.X(), p.Y(), p.Z()};
}
Vec3 to_vec(const gp_Dir& d) {
  return {d.X(), d.Y(), d.Z()};
}
Vec3 to_vec(const gp_Vec& v) {
  return {v.X(), v.Y(), v.Z()};
}

/// Whether the outward normal is against the surface's own: the face is turned over, or mirrored.
bool is_turned(const TopoDS_Face& face) {
  return (face.Orientation() == TopAbs_REVERSED) != face.Location().Transformation().IsNegative();
}

/// A point of the face's surface with the normal out of the material; nothing at a pole or tip.
std::optional<SurfaceSample> sample_at(const BRepAdaptor_Surface& surface, double u, double v,
                                       bool turned) {
  gp_Pnt point;
  gp_Vec du, dv;
  surface.D1(u, v, point, du, dv);
  const Vec3 normal = to_vec(du).cross(to_vec(dv));
  const double size = normal.norm();
  if (!(size > 1e-12 * (1 + du.Magnitude() * dv.Magnitude()))) {
    return std::nullopt;
  }
  return SurfaceSample{to_vec(point), (turned ? -1 : 1) / size * normal};
}

/// Samples over the range of the face's parameters, not at its ends, where surfaces may shrink.
std::vector<SurfaceSample> samples_of(const BRepAdaptor_Surface& surface, bool turned) {
  constexpr int kEachWay = 6;
  std::vector<SurfaceSample> samples;
  for (int i = 0; i < kEachWay; ++i) {
    for (int k = 0; k < kEachWay; ++k) {
      const double s = (i + 0.5) / kEachWay;
      const double t = (k + 0.5) / kEachWay;
      const auto sample =
          sample_at(surface, (1 - s) * surface.FirstUParameter() + s * surface.LastUParameter(),
                    (1 - t) * surface.FirstVParameter() + t * surface.LastVParameter(), turned);
      if (sample) {
        samples.push_back(*sample);
      }
    }
  }
  return samples;
}

Surface plain_cone(const gp_Cone& from) {
  Surface cone;
  cone.kind = SurfaceKind::cone;
  const double angle = from.SemiAngle();  // negative where it narrows along its axis
  cone.axis = (angle < 0 ? -1 : 1) * to_vec(from.Axis().Direction());
  cone.at = to_vec(from.Location());
  cone.radius = from.RefRadius();
  cone.half_angle_rad = std::abs(angle);
  return cone;
}

/// The surface as the file gives it; `other` for what is not elementary. A plane's axis is left
/// as the file has it.
Surface stated_surface(const BRepAdaptor_Surface& from) {
  Surface surface;
  switch (from.GetType()) {
    case GeomAbs_Plane:
      surface.kind = SurfaceKind::plane;
      surface.at = to_vec(from.Plane().Location());
      surface.axis = to_vec(from.Plane().Axis().Direction());
      break;
    case GeomAbs_Cylinder:
      surface.kind = SurfaceKind::cylinder;
      surface.at = to_vec(from.Cylinder().Location());
      surface.axis = to_vec(from.Cylinder().Axis().Direction());
      surface.radius = from.Cylinder().Radius();
      break;
    case GeomAbs_Cone:
      surface = plain_cone(from.Cone());
      break;
    case GeomAbs_Sphere:
      surface.kind = SurfaceKind::sphere;
      surface.at = to_vec(from.Sphere().Location());
      surface.radius = from.Sphere().Radius();
      break;
    case GeomAbs_Torus:
      surface.kind = SurfaceKind::torus;
      surface.at = to_vec(from.Torus().Location());
      surface.axis = to_vec(from.Torus().Axis().Direction());
      surface.radius = from.Torus().MajorRadius();
      surface.tube_radius = from.Torus().MinorRadius();
      break;
    default:
      break;
  }
  return surface;
}

/// Whether the material lies outside of a round surface, by one sample of it.
bool is_hollow(const Surface& surface, const SurfaceSample& sample) {
  Vec3 outward = sample.point - surface.at;
  if (surface.kind != SurfaceKind::sphere) {
    outward -= surface.axis * surface.axis.dot(outward);
  }
  if (surface.kind == SurfaceKind::torus) {
    outward = sample.point - surface.at - surface.radius * outward.normalized();
  }
  return outward.dot(sample.normal) < 0;
}

void set_surface(const BRepAdaptor_Surface& from, bool turned, Face& face) {
  face.surface = stated_surface(from);
  const auto samples = samples_of(from, turned);
  if (samples.empty()) {
    face.surface = {};
    return;
  }
  if (face.surface.kind == SurfaceKind::other) {
    if (const auto known = known_surface(samples, tolerance::kKnownSurface)) {
      face.surface = *known;
    }
  }
  if (face.surface.kind == SurfaceKind::plane) {
    face.surface.axis = samples.front().normal;
  } else if (face.surface.kind != SurfaceKind::other) {
    face.hollow = is_hollow(face.surface, samples[samples.size() / 2]);
  }
}

double area_of(const TopoDS_Face& face) {
  GProp_GProps properties;
  BRepGProp::SurfaceProperties(face, properties);
  return std::abs(properties.Mass());
}

/// The outward normal of a face at a parameter of one of its edges.
std::optional<Vec3> normal_at(const TopoDS_Edge& edge, const TopoDS_Face& face, double at) {
  Standard_Real first = 0, last = 0;
  const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
  if (curve.IsNull()) {
    return std::nullopt;
  }
  const gp_Pnt2d uv = curve->Value(std::clamp(at, first, last));
  const auto sample =
      sample_at(BRepAdaptor_Surface(face, Standard_False), uv.X(), uv.Y(), is_turned(face));
  return sample ? std::optional(sample->normal) : std::nullopt;
}

/// `forward`: the loop of `here` runs along the edge's curve.
EdgeBend bend_between(const TopoDS_Edge& edge, const TopoDS_Face& here, const TopoDS_Face& beyond,
                      bool forward) {
  const BRepAdaptor_Curve curve(edge);
  const double at = 0.5 * (curve.FirstParameter() + curve.LastParameter());
  gp_Pnt point;
  gp_Vec along;
  curve.D1(at, point, along);
  const auto normal = normal_at(edge, here, at);
  const auto other = normal_at(edge, beyond, at);
  const Vec3 tangent = (forward ? 1 : -1) * to_vec(along).normalized();
  if (!normal || !other || !tangent.allFinite()) {
    return EdgeBend::smooth;  // at a tip or pole, where nothing is told of the bend
  }
  if (normal->cross(*other).norm() <= tolerance::kTangentFaces && normal->dot(*other) > 0) {
    return EdgeBend::smooth;
  }
  const Vec3 into_face = normal->cross(tangent);
  return into_face.dot(*other) < 0 ? EdgeBend::convex : EdgeBend::concave;
}

std::vector<Vec3> points_along(const TopoDS_Edge& edge, bool forward, double chord) {
  const BRepAdaptor_Curve curve(edge);
  const GCPnts_TangentialDeflection cut(curve, kTurn, chord);
  std::vector<Vec3> points;
  points.reserve(static_cast<std::size_t>(cut.NbPoints()));
  for (Standard_Integer i = 1; i <= cut.NbPoints(); ++i) {
    points.push_back(to_vec(cut.Value(i)));
  }
  if (!forward) {
    std::reverse(points.begin(), points.end());
  }
  return points;
}

void set_beyond(const TopoDS_Edge& edge, const TopoDS_Face& here, const SolidFaces& solid,
                bool forward, Edge& plain) {
  const Standard_Integer found = solid.faces_at_edge.FindIndex(edge);
  if (found == 0) {
    return;
  }
  for (const TopoDS_Shape& shape : solid.faces_at_edge(found)) {
    if (shape.IsSame(here)) {
      continue;
    }
    const Standard_Integer beyond = solid.faces.FindIndex(shape);
    plain.beyond = solid.first + static_cast<std::size_t>(beyond - 1);
    plain.bend = bend_between(edge, here, TopoDS::Face(solid.faces(beyond)), forward);
    return;
  }
  if (BRep_Tool::IsClosed(edge, here)) {
    plain.beyond = solid.first + static_cast<std::size_t>(solid.faces.FindIndex(here) - 1);
    plain.bend = EdgeBend::smooth;
  }
}

/// The edges of a wire, in order where OpenCASCADE finds one, else as they stand: none is lost.
std::vector<TopoDS_Edge> edges_of(const TopoDS_Wire& wire, const TopoDS_Face& face) {
  std::vector<TopoDS_Edge> in_order, all;
  for (BRepTools_WireExplorer edge(wire, face); edge.More(); edge.Next()) {
    in_order.push_back(edge.Current());
  }
  for (TopExp_Explorer edge(wire, TopAbs_EDGE); edge.More(); edge.Next()) {
    all.push_back(TopoDS::Edge(edge.Current()));
  }
  return in_order.size() == all.size() ? in_order : all;
}

Loop plain_loop(const TopoDS_Wire& wire, const TopoDS_Face& face, const SolidFaces& solid,
                double chord) {
  // Explored on the face as its surface has it: then the material lies to the left of its edges.
  const TopoDS_Face unturned = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
  Loop loop;
  for (const TopoDS_Edge& edge : edges_of(wire, unturned)) {
    if (BRep_Tool::Degenerated(edge)) {
      continue;
    }
    const bool forward = (edge.Orientation() != TopAbs_REVERSED) != is_turned(face);
    Edge plain;
    plain.points = points_along(edge, forward, chord);
    set_beyond(edge, face, solid, forward, plain);
    loop.push_back(std::move(plain));
  }
  if (is_turned(face)) {
    std::reverse(loop.begin(), loop.end());
  }
  return loop;
}

}  // namespace

Face plain_face(const TopoDS_Face& face, const SolidFaces& solid, double chord) {
  Face plain;
  const BRepAdaptor_Surface surface(face, Standard_True);
  set_surface(surface, is_turned(face), plain);
  // The area of free-form skins costs more time than all else, and nobody asks for it.
  if (plain.surface.kind != SurfaceKind::other) {
    plain.area = area_of(face);
  }
  const TopoDS_Shape unturned = face.Oriented(TopAbs_FORWARD);
  for (TopExp_Explorer wire(unturned, TopAbs_WIRE); wire.More(); wire.Next()) {
    Loop loop = plain_loop(TopoDS::Wire(wire.Current()), face, solid, chord);
    if (!loop.empty()) {
      plain.loops.push_back(std::move(loop));
    }
  }
  return plain;
}

}  // namespace standpoint
