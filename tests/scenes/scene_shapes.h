#pragma once

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <TopoDS_Shape.hxx>
#include <gp_Pnt.hxx>
#include <gp_Vec.hxx>
#include <nlohmann/json.hpp>

#include "source_dir.h"

namespace standpoint::scenes {

/// The committed scenes.
inline std::filesystem::path scenes_folder() {
  return source_dir() / "scenes";
}

inline nlohmann::json read_json(const std::filesystem::path& file) {
  std::ifstream in(file);
  return nlohmann::json::parse(in);
}

/// The STEP bodies of a scene in one shape, placed where the scene says (shifts only).
TopoDS_Shape placed_step_bodies(const std::filesystem::path& scene_file);

/// The shape in a STEP file, mm; null where there is none.
TopoDS_Shape read_step(const std::filesystem::path& file);

double distance(const TopoDS_Shape& shape, const gp_Pnt& p);

/// A place where something touches a feature, and the direction out of the material there.
struct Contact {
  gp_Pnt at;
  gp_Vec normal;
};

/// Places all over a feature's surface by the definitions of contract section 2, written for these
/// tests alone. Of a hole: its wall just below the rim.
std::vector<Contact> contacts(const nlohmann::json& feature);

}  // namespace standpoint::scenes
