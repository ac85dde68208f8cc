#include "io/write/text/check_text.h"

#include <array>
#include <ostream>
#include <variant>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "io/words/json_parts.h"
#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/paragraph.h"
#include "io/words/table.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/words/trap_words.h"

namespace standpoint {
namespace {

std::string unit_words(double mm_per_unit) {
  constexpr std::pair<double, const char*> kKnown[] = {{0.001, "um"},  {1, "mm"},     {10, "cm"},
                                                       {25.4, "inch"}, {304.8, "ft"}, {1000, "m"}};
  for (const auto& [size, name] : kKnown) {
    if (size == mm_per_unit) return name;
  }
  return fmt::format("{} mm", mm_per_unit);
}

std::string defect_words(const MeshDefects& defects) {
  std::vector<std::string> words;
  const auto add = [&](std::size_t count, std::string_view one, std::string_view many) {
    if (count > 0) words.push_back(counted(count, one, many));
  };
  add(defects.open_edges, "open edge", "open edges");
  add(defects.crowded_edges, "edge of more than two triangles", "edges of more than two triangles");
  add(defects.duplicate_triangles, "duplicate triangle", "duplicate triangles");
  add(defects.degenerate_triangles, "triangle without area", "triangles without area");
  add(defects.non_finite_vertices, "vertex that is not finite", "vertices that are not finite");
  return list_of(words);
}

std::string mesh_words(const BodyReport& report) {
  const bool is_whole = report.lost_faces.empty() && report.fanned_polygons == 0;
  return report.defects.any() || !is_whole ? "see remarks" : "closed, sound";
}

std::string extent_text(const Scene& scene, const BodyReport& report) {
  const Vec3 size = report.high - report.low;
  return fmt::format("{} x {} x {}", length_text(scene, size.x(), step::kPlace),
                     length_text(scene, size.y(), step::kPlace),
                     length_text(scene, size.z(), step::kPlace));
}

void add_unit_remark(const SceneFile& read, const Body& body, const BodyReport& report,
                     std::vector<std::string>& remarks) {
  const std::string size = extent_text(read.scene, report) + " " + read.scene.units;
  if (report.unit_source == "scene's units") {
    remarks.push_back(fmt::format(
        "{}: its file states no unit, so it is read in the scene's ({}). Check its size, {}, or "
        "state mesh_units.",
        body.name, read.scene.units, size));
  } else if (report.stated_mm_per_unit && *report.stated_mm_per_unit != report.mm_per_unit) {
    remarks.push_back(fmt::format(
        "{}: its file says that its unit is {}, but it is read in {} as mesh_units asks. Check "
        "its size, {}.",
        body.name, unit_words(*report.stated_mm_per_unit), unit_words(report.mm_per_unit), size));
  }
}

void add_body_remarks(const SceneFile& read, std::vector<std::string>& remarks) {
  for (std::size_t b = 0; b < read.bodies.size(); ++b) {
    const Body& body = read.scene.bodies[b];
    const BodyReport& report = read.bodies[b];
    if (report.defects.any()) {
      remarks.push_back(
          fmt::format("{}: its mesh has {}. Beams are judged by its triangles as they are; nothing "
                      "is repaired.",
                      body.name, defect_words(report.defects)));
    }
    if (!report.lost_faces.empty()) {
      remarks.push_back(fmt::format(
          "{}: of {} no surface, or not all of it, could be made. What is missing blocks no beam.",
          body.name, list_of(report.lost_faces)));
    }
    if (report.fanned_polygons > 0) {
      remarks.push_back(fmt::format(
          "{}: its mesh has {} whose sides cross. Each is covered, and a little more than it.",
          body.name, counted(report.fanned_polygons, "polygon", "polygons")));
    }
    // Already turned up by the scene's pose: nothing to say.
    const Vec3 up = body.placement.turn * (report.up_axis == 'X' ? Vec3::UnitX() : Vec3::UnitY());
    if ((report.up_axis == 'X' || report.up_axis == 'Y') && up.z() < 0.99) {
      remarks.push_back(
          fmt::format("{}: its file says that {} points up. Its numbers are used as they are, with "
                      "Z up. If that is wrong, turn it with pose.",
                      body.name, report.up_axis));
    }
    add_unit_remark(read, body, report, remarks);
  }
}

void add_scene_remarks(const Scene& scene, std::vector<std::string>& remarks) {
  if (scene.zones.empty() && scene.fixed_stations.empty())
    remarks.emplace_back(
        "The scene has neither zones nor fixed places for the instrument: plan has no candidates.");
  const auto shared = static_cast<std::size_t>(scene.rules.shared_nests);
  if (!scene.nests.empty() && scene.nests.size() < shared) {
    remarks.push_back(
        fmt::format("The scene has {}, fewer than the {} that two stations must share to be tied.",
                    counted(scene.nests.size(), "nest", "nests"), shared));
  }
  if (scene.nests.empty())
    remarks.emplace_back("The scene has no nests: several stations could not be tied together.");
}

Json defects_object(const MeshDefects& defects) {
  return {{"open_edges", defects.open_edges},
          {"crowded_edges", defects.crowded_edges},
          {"duplicate_triangles", defects.duplicate_triangles},
          {"degenerate_triangles", defects.degenerate_triangles},
          {"non_finite_vertices", defects.non_finite_vertices}};
}

Json body_object(const Scene& scene, const Body& body, const Mesh& mesh, const BodyReport& report) {
  Json object;
  object["name"] = json::text(body.name);
  object["role"] = role_name(body.role);
  object["format"] = json::text(report.format);
  object["units"] = unit_words(report.mm_per_unit);
  object["mm_per_unit"] = json::number(report.mm_per_unit);
  object["unit_source"] = json::text(report.unit_source);
  object["triangles"] = mesh.triangles.size();
  object["faces"] = mesh.face_names.size();
  object["low"] = json::place(scene, report.low);
  object["high"] = json::place(scene, report.high);
  object["size"] = json::place(scene, report.high - report.low);
  object["defects"] = defects_object(report.defects);
  object["lost_faces"] = Json::array();
  for (const std::string& face : report.lost_faces)
    object["lost_faces"].push_back(json::text(face));
  object["fanned_polygons"] = report.fanned_polygons;
  return object;
}

/// How many features there are of each type: "6 points", "2 holes".
std::vector<std::string> feature_kinds(const Scene& scene) {
  constexpr std::array<std::array<std::string_view, 2>, std::variant_size_v<Shape>> kWords{
      {{"point", "points"},
       {"plane", "planes"},
       {"hole", "holes"},
       {"cylinder", "cylinders"},
       {"sphere", "spheres"},
       {"line", "lines"},
       {"cone", "cones"},
       {"slot", "slots"},
       {"surface", "surfaces"}}};
  std::array<std::size_t, kWords.size()> counts{};
  for (const Feature& feature : scene.features) ++counts[feature.shape.index()];
  std::vector<std::string> words;
  for (std::size_t i = 0; i < counts.size(); ++i)
    if (counts[i] > 0) words.push_back(counted(counts[i], kWords[i][0], kWords[i][1]));
  return words;
}

Json counts_object(const Scene& scene) {
  return {{"features", scene.features.size()},
          {"full_targets", scene.full_targets.size()},
          {"hole_adapters", scene.hole_adapters.size()},
          {"offset_styli", scene.offset_styli.size()},
          {"nests", scene.nests.size()},
          {"nest_sites", scene.nest_sites.size()},
          {"zones", scene.zones.size()},
          {"fixed_places", scene.fixed_stations.size()},
          {"keep_outs", scene.keep_outs.size()},
          {"walkways", scene.walkways.size()}};
}

Json warning_object(const SceneFile& read, const Trap& trap) {
  const auto name = [](const auto& things, const auto& id) {
    return id ? json::text(things[id->index].name) : Json(nullptr);
  };
  Json object;
  object["kind"] = trap_name(trap.kind);
  object["where"] = json::text(trap_place(read, trap));
  object["body"] = name(read.scene.bodies, trap.body);
  object["feature"] = name(read.scene.features, trap.feature);
  object["amount"] = trap.amount > 0 ? json::length(read.scene, trap.amount) : Json(nullptr);
  object["text"] = json::text(trap_sentences(read, trap));
  return object;
}

}  // namespace

std::vector<std::string> check_remarks(const SceneFile& read) {
  std::vector<std::string> remarks;
  add_body_remarks(read, remarks);
  add_scene_remarks(read.scene, remarks);
  return remarks;
}

std::string check_counts(const Scene& scene) {
  std::string features = counted(scene.features.size(), "feature", "features");
  const std::vector<std::string> kinds = feature_kinds(scene);
  constexpr std::size_t kMostInWords = 6;  // of more, list_of leaves some out
  if (kinds.size() > kMostInWords) {
    features += fmt::format(" ({})", fmt::join(kinds, ", "));
  } else if (!kinds.empty()) {
    features += " (" + list_of(kinds) + ")";
  }
  return fmt::format(
      "{}, {}, {}, {}, {}.", features, counted(target_count(scene), "target", "targets"),
      counted(scene.nests.size(), "nest", "nests"), counted(scene.zones.size(), "zone", "zones"),
      counted(scene.fixed_stations.size(), "fixed place", "fixed places"));
}

std::string check_json(const SceneFile& read, const std::vector<Trap>& traps) {
  Json object;
  object["format"] = "standpoint-check";
  object["version"] = 1;
  object["scene"] = json::text(read.scene.name);
  object["units"] = json::text(read.scene.units);
  object["bodies"] = Json::array();
  for (std::size_t b = 0; b < read.bodies.size(); ++b)
    object["bodies"].push_back(
        body_object(read.scene, read.scene.bodies[b], *read.meshes[b], read.bodies[b]));
  object["counts"] = counts_object(read.scene);
  object["warnings"] = Json::array();
  for (const Trap& trap : traps) object["warnings"].push_back(warning_object(read, trap));
  object["remarks"] = Json::array();
  for (const std::string& remark : check_remarks(read))
    object["remarks"].push_back(json::text(remark));
  object["faults"] = Json::array();
  return json::write(object);
}

void print_check(const SceneFile& read, std::ostream& out, const std::vector<Trap>& traps) {
  const Scene& scene = read.scene;
  out << for_terminal(scene.name) << ": the scene is valid.\n\n";
  Table bodies{{{"body"},
                {"role"},
                {"format"},
                {"unit"},
                {"triangles", Align::right},
                {"faces", Align::right},
                {fmt::format("size ({})", scene.units), Align::right},
                {"mesh"}},
               {}};
  for (std::size_t b = 0; b < read.bodies.size(); ++b) {
    const Body& body = scene.bodies[b];
    const BodyReport& report = read.bodies[b];
    const Mesh& mesh = *read.meshes[b];
    bodies.rows.push_back({body.name, std::string(role_name(body.role)), report.format,
                           unit_words(report.mm_per_unit), std::to_string(mesh.triangles.size()),
                           std::to_string(mesh.face_names.size()), extent_text(scene, report),
                           mesh_words(report)});
  }
  print(bodies, out);
  out << '\n';
  print_paragraph("", check_counts(scene), out);
  if (!traps.empty()) out << "\nLook at these\n";
  for (const std::string& line : trap_list(read, traps, kMostTrapsTold))
    print_paragraph("  - ", line, out);
  const std::vector<std::string> remarks = check_remarks(read);
  if (remarks.empty()) return;
  out << "\nRemarks\n";
  for (const std::string& remark : remarks) print_paragraph("  - ", remark, out);
}

}  // namespace standpoint
