#include "io/write/page/page_scene.h"

#include <stdexcept>

#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/text.h"
#include "io/write/page/page_shapes-inl.h"

namespace standpoint {
namespace {

// Writing and reading share one description of every struct, so that they cannot disagree:
// describe(archive, struct) names each member once, and the archive puts or takes it.

struct Writer {
  Json object = Json::object();

  template <class T>
  void operator()(const char* key, const T& value) {
    object[key] = write(value);
  }

  static Json write(bool value) { return value; }
  static Json write(int value) { return value; }
  static Json write(double value) { return value; }
  static Json write(const std::string& value) { return well_formed(value); }
  static Json write(const Vec2& v) { return Json::array({v.x(), v.y()}); }
  static Json write(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }
  template <class Tag>
  static Json write(const Id<Tag>& id) {
    return id.index;
  }
  template <class T>
  static Json write(const std::optional<T>& value) {
    return value ? write(*value) : Json(nullptr);
  }
  template <class T>
  static Json write(const std::vector<T>& list) {
    Json array = Json::array();
    for (const T& entry : list) array.push_back(write(entry));
    return array;
  }
  template <class T, std::size_t N>
  static Json write(const std::array<T, N>& list) {
    return write(std::vector<T>(list.begin(), list.end()));
  }
  template <class T>
  static Json write(const T& part) {
    Writer writer;
    describe(writer, const_cast<T&>(part));  // an archive that writes changes nothing
    return std::move(writer.object);
  }
};

struct Reader {
  const Json* object = nullptr;

  template <class T>
  void operator()(const char* key, T& value) {
    read(object->at(key), value);
  }

  static double number(const Json& list, std::size_t i) { return list.at(i).get<double>(); }
  static void read(const Json& json, bool& value) { json.get_to(value); }
  static void read(const Json& json, int& value) { json.get_to(value); }
  static void read(const Json& json, double& value) { json.get_to(value); }
  static void read(const Json& json, std::string& value) { json.get_to(value); }
  static void read(const Json& json, Vec2& v) { v = Vec2(number(json, 0), number(json, 1)); }
  static void read(const Json& json, Vec3& v) {
    v = Vec3(number(json, 0), number(json, 1), number(json, 2));
  }
  template <class Tag>
  static void read(const Json& json, Id<Tag>& id) {
    id = Id<Tag>(json.get<std::size_t>());
  }
  template <class T>
  static void read(const Json& json, std::optional<T>& value) {
    value.reset();
    if (!json.is_null()) read(json, value.emplace());
  }
  template <class T>
  static void read(const Json& json, std::vector<T>& list) {
    list.clear();
    for (const Json& entry : json) read(entry, list.emplace_back());
  }
  template <class T, std::size_t N>
  static void read(const Json& json, std::array<T, N>& list) {
    for (std::size_t i = 0; i < N; ++i) read(json.at(i), list[i]);
  }
  template <class T>
  static void read(const Json& json, T& part) {
    Reader reader{&json};
    describe(reader, part);
  }
};

constexpr std::array<const char*, 3> kRoles{"part", "fixture", "surroundings"};
constexpr std::array<const char*, 2> kStyli{"mirror", "two-ball"};
constexpr std::array<const char*, 9> kShapes{"point", "plane", "hole", "cylinder", "sphere",
                                             "line",  "cone",  "slot", "surface"};

template <std::size_t N>
std::size_t index_of(const std::array<const char*, N>& names, const std::string& name) {
  for (std::size_t i = 0; i < N; ++i)
    if (name == names[i]) return i;
  throw std::runtime_error("the page's scene holds \"" + name + "\", which it never writes");
}

/// A choice is told by its name.
template <std::size_t N>
void choice(Writer& archive, const char* key, const std::array<const char*, N>& names,
            std::size_t& index) {
  archive.object[key] = names[index];
}
template <std::size_t N>
void choice(Reader& archive, const char* key, const std::array<const char*, N>& names,
            std::size_t& index) {
  index = index_of(names, archive.object->at(key).get<std::string>());
}

/// Makes `variant` hold the alternative with this number.
template <class Variant, std::size_t I = 0>
void hold(Variant& variant, std::size_t index) {
  if constexpr (I < std::variant_size_v<Variant>) {
    if (index == I) {
      if (variant.index() != I) variant.template emplace<I>();
    } else {
      hold<Variant, I + 1>(variant, index);
    }
  }
}

/// The turn row by row.
template <class Archive>
void describe(Archive& a, Placement& x) {
  std::array<Vec3, 3> rows{x.turn.row(0), x.turn.row(1), x.turn.row(2)};
  a("turn", rows);
  for (Eigen::Index i = 0; i < 3; ++i) x.turn.row(i) = rows[static_cast<std::size_t>(i)];
  a("shift", x.shift);
  a("mm_per_coordinate", x.mm_per_coordinate);
}
template <class Archive>
void describe(Archive& a, Interval& x) {
  a("low", x.low);
  a("high", x.high);
}
template <class Archive>
void describe(Archive& a, ErrorTerm& x) {
  a("fixed", x.fixed);
  a("per_mm", x.per_mm);
}
template <class Archive>
void describe(Archive& a, InstrumentError& x) {
  a("coverage_factor", x.coverage_factor);
  a("transverse", x.transverse);
  a("radial", x.radial);
}
template <class Archive>
void describe(Archive& a, Instrument& x) {
  a("name", x.name);
  a("beam_diameter", x.beam_diameter);
  a("beam_growth_rad", x.beam_growth_rad);
  a("range", x.range);
  a("elevation_rad", x.elevation_rad);
  a("body_radius", x.body_radius);
  a("body_above", x.body_above);
  a("body_below", x.body_below);
  a("error", x.error);
}
template <class Archive>
void describe(Archive& a, FullTarget& x) {
  a("name", x.name);
  a("radius", x.radius);
  a("acceptance_rad", x.acceptance_rad);
  a("aperture_rad", x.aperture_rad);
}
template <class Archive>
void describe(Archive& a, HoleAdapter& x) {
  a("name", x.name);
  a("hole_diameter", x.hole_diameter);
  a("ball", x.ball);
  a("height", x.height);
  a("base_radius", x.base_radius);
  a("seat_rad", x.seat_rad);
}
template <class Archive>
void describe(Archive& a, Shank& x) {
  a("tip_radius", x.tip_radius);
  a("radius", x.radius);
  a("taper", x.taper);
}
template <class Archive>
void describe(Archive& a, MirrorStylus& x) {
  a("name", x.name);
  a("shank", x.shank);
  a("length", x.length);
  a("head_radius", x.head_radius);
  a("swing_rad", x.swing_rad);
  a("error", x.error);
}
template <class Archive>
void describe(Archive& a, TwoBallStylus& x) {
  a("name", x.name);
  a("shank", x.shank);
  a("ball_distances", x.ball_distances);
  a("ball_radius", x.ball_radius);
  a("acceptance_rad", x.acceptance_rad);
  a("error", x.error);
}
template <class Archive>
void describe(Archive& a, OffsetStylus& x) {
  std::size_t kind = x.index();
  choice(a, "kind", kStyli, kind);
  hold(x, kind);
  std::visit([&](auto& stylus) { describe(a, stylus); }, x);
}
template <class Archive>
void describe(Archive& a, Feature& x) {
  a("name", x.name);
  std::size_t type = x.shape.index();
  choice(a, "type", kShapes, type);
  hold(x.shape, type);
  std::visit([&](auto& shape) { describe(a, shape); }, x.shape);
  a("tolerance", x.tolerance);
  a("required", x.required);
  a("targets", x.targets);
  a("touch_count", x.touch_count);
  a("enough_touches", x.enough_touches);
  a("split", x.split);
  a("is_datum", x.is_datum);
}
template <class Archive>
void describe(Archive& a, Nest& x) {
  a("name", x.name);
  a("at", x.at);
  a("normal", x.normal);
  a("seat_rad", x.seat_rad);
}
template <class Archive>
void describe(Archive& a, NestSurface& x) {
  a("body", x.body);
  a("polygon", x.polygon);
  a("spacing", x.spacing);
}
template <class Archive>
void describe(Archive& a, FixedStation& x) {
  a("name", x.name);
  a("at", x.at);
  a("keep", x.keep);
  a("cost", x.cost);
  a("instrument_ups", x.instrument_ups);
}
template <class Archive>
void describe(Archive& a, Zone& x) {
  a("name", x.name);
  a("floor", x.floor);
  a("polygon", x.polygon);
  a("heights", x.heights);
  a("spacing", x.spacing);
  a("cost", x.cost);
  a("holes", x.holes);
  a("instrument_ups", x.instrument_ups);
}
template <class Archive>
void describe(Archive& a, KeepOut& x) {
  a("name", x.name);
  a("polygon", x.polygon);
}
template <class Archive>
void describe(Archive& a, Walkway& x) {
  a("name", x.name);
  a("floor", x.floor);
  a("polygon", x.polygon);
}
template <class Archive>
void describe(Archive& a, Environment& x) {
  a("part_temperature", x.part_temperature);
  a("part_temperature_error", x.part_temperature_error);
  a("expansion", x.expansion);
  a("expansion_error", x.expansion_error);
  a("air_temperature", x.air_temperature);
  a("air_temperature_error", x.air_temperature_error);
  a("air_pressure", x.air_pressure);
  a("air_pressure_error", x.air_pressure_error);
  a("humidity", x.humidity);
  a("humidity_error", x.humidity_error);
  a("wavelength_um", x.wavelength_um);
  a("gradient_error", x.gradient_error);
  a("nest_repeatability", x.nest_repeatability);
}
template <class Archive>
void describe(Archive& a, Rules& x) {
  a("min_margin", x.min_margin);
  a("tight_margin", x.tight_margin);
  a("fit_tolerance", x.fit_tolerance);
  a("stations_per_feature", x.stations_per_feature);
  a("shared_nests", x.shared_nests);
  a("ties_by_stylus", x.ties_by_stylus);
  a("split_features", x.split_features);
  a("rim_contact_rad", x.rim_contact_rad);
  a("max_expanded", x.max_expanded);
}

/// Of a mesh only how large it is, and what its faces are called.
Json size_of(const Mesh& mesh) {
  Writer archive;
  archive.object["vertices"] = mesh.vertices.size();
  archive.object["triangles"] = mesh.triangles.size();
  archive.object["has_faces"] = !mesh.face_of_triangle.empty();
  archive("face_names", mesh.face_names);
  return std::move(archive.object);
}
/// A mesh with room for so much.
Mesh mesh_of_size(const Json& object) {
  Mesh mesh;
  mesh.vertices.resize(object.at("vertices").get<std::size_t>(), Vec3::Zero());
  mesh.triangles.resize(object.at("triangles").get<std::size_t>());
  if (object.at("has_faces").get<bool>()) mesh.face_of_triangle.resize(mesh.triangles.size());
  Reader::read(object.at("face_names"), mesh.face_names);
  return mesh;
}

template <class Archive>
void describe(Archive& a, Body& x) {
  a("name", x.name);
  auto role = static_cast<std::size_t>(x.role);
  choice(a, "role", kRoles, role);
  x.role = static_cast<BodyRole>(role);
  a("placement", x.placement);
}
template <class Archive>
void describe(Archive& a, Alignment& x) {
  a("features", x.features);
  a("form", x.form);
  a("choose", x.choose);
  a("from", x.from);
}
template <class Archive>
void describe(Archive& a, Scene& x) {
  a("name", x.name);
  a("units", x.units);
  a("mm_per_unit", x.mm_per_unit);
  a("chord_tolerance", x.chord_tolerance);
  a("bodies", x.bodies);
  a("instrument", x.instrument);
  a("full_targets", x.full_targets);
  a("hole_adapters", x.hole_adapters);
  a("offset_styli", x.offset_styli);
  a("features", x.features);
  a("nests", x.nests);
  a("nest_sites", x.nest_sites);
  a("nest_surfaces", x.nest_surfaces);
  a("fixed_stations", x.fixed_stations);
  a("zones", x.zones);
  a("keep_outs", x.keep_outs);
  a("walkways", x.walkways);
  a("rules", x.rules);
  a("room", x.environment);
  a("datum", x.datum);
  a("alignment", x.alignment);
}

}  // namespace

std::string page_scene(const Cell& cell) {
  Json object = Writer::write(cell.scene());
  for (std::size_t b = 0; b < cell.meshes().size(); ++b)
    object["bodies"][b].update(size_of(cell.mesh(BodyId(b))));
  return json::write(object);
}

PageScene read_page_scene(std::string_view json) {
  const Json object = Json::parse(json);
  PageScene read;
  Reader::read(object, read.scene);
  for (const Json& body : object.at("bodies")) read.meshes.push_back(mesh_of_size(body));
  return read;
}

}  // namespace standpoint
