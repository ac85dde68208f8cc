#include "house_rules.h"

#include <algorithm>
#include <fstream>
#include <regex>
#include <set>

namespace standpoint::house {
namespace {

using std::filesystem::path;

/// A room of the house: the files that its pattern fits. A file may include what stands in its own
/// room and in rooms before it in the list, so that no include points up or runs in a circle.
struct Room {
  const char* files;      ///< a regular expression for the whole path
  const char* libraries;  ///< besides the standard library; a regular expression
  const char* only = "";  ///< where not empty: the only project files that it may include
};

const char* const kEigen = "Eigen/.*";
/// What is installed: a program outside has nothing else.
const char* const kFaces = R"((geometry|planner|io)/standpoint/.*\.h)";
const char* const kPlanning = "Eigen/.*|CGAL/.*|boost/.*|(oneapi/)?tbb/.*";

/// From the ground up. The headers of a face (standpoint/) are what all rooms after them stand on;
/// its .cpp files are the doors from outside, and come after the rooms that they open.
const std::vector<Room>& rooms() {
  static const std::vector<Room> all = {
      {R"(geometry/standpoint/.*)", kEigen, kFaces},
      {R"(geometry/[^/]*)", kEigen},
      {R"(geometry/tree/.*)", R"(Eigen/.*|hwy/.*|sys/mman\.h)"},
      {R"(planner/standpoint/.*\.h)", kEigen, kFaces},
      {R"(planner/standpoint/cell\.cpp)", kEigen},
      {R"(planner/model/.*)", kEigen},
      // The page's engine is what stands up to here: no CGAL, no TBB.
      {R"(planner/reach/.*)", kEigen},
      // What can be measured on a part knows its faces, and neither CAD nor scenes.
      {R"(planner/part/.*)", kEigen, R"((geometry|planner/part)/.*|planner/model/tolerances\.h)"},
      // Faces fitted to a mesh, as CAD would give them.
      {R"(planner/segmentation/.*)", kEigen,
       R"((geometry|planner/part|planner/segmentation)/.*|planner/model/tolerances\.h)"},
      {R"(planner/standpoint/sight\.cpp)", kEigen},
      // Integer covers and graphs of links know nothing of scenes or of geometry.
      {R"(planner/cover/.*)", "coin/.*", R"(planner/(cover/.*|model/tolerances\.h))"},
      {R"(planner/stations/.*)", kPlanning},
      // Touches laid over a body's surface, when a scene is read.
      {R"(planner/surface/.*)", kPlanning},
      {R"(planner/network/.*)", kPlanning},
      {R"(planner/setup/.*)", kPlanning},
      {R"(planner/planning/.*)", kPlanning},
      {R"(planner/crew/.*)", kPlanning},
      {R"(planner/nests/.*)", kPlanning},
      {R"(planner/why/.*)", kPlanning},
      {R"(planner/traps/.*)", kPlanning},
      {R"(planner/rehearsal/.*)", kPlanning},
      {R"(planner/standpoint/.*\.cpp)", kEigen},
      {R"(io/standpoint/.*\.h)", R"(tl/expected\.hpp)", kFaces},
      {R"(io/words/.*)", ".*"},
      {R"(io/read/text/.*)", ".*"},
      {R"(io/read/meshes/.*)", ".*"},
      {R"(io/read/cad/.*)", ".*"},
      {R"(io/read/bodies/.*)", ".*"},
      // What the values of a scene may be holds for lists too, which scenes read.
      {R"(io/read/scene/(scene_limits|points_in_line)\..*)", ".*",
       "geometry/.*|io/(read/text|read/scene/points_in_line|words)/?.*"},
      {R"(io/read/lists/.*)", ".*"},
      {R"(io/read/scene/.*)", ".*"},
      {R"(io/read/measured/.*)", ".*"},
      {R"(io/read/plan/.*)", ".*"},
      // Scenes with all that they name, from disk.
      {R"(io/read/files/.*)", ".*"},
      {R"(io/use/.*)", ".*"},
      {R"(io/write/words/.*)", ".*"},
      {R"(io/write/json/.*)", ".*"},
      {R"(io/write/csv/.*)", ".*"},
      {R"(io/write/qif/.*)", ".*"},
      {R"(io/write/text/.*)", ".*"},
      {R"(io/write/drawings/.*)", ".*"},
      {R"(io/write/sheet/.*)", ".*"},
      {R"(io/write/page/.*)", ".*"},
      {R"(io/write/files/.*)", ".*"},
      {R"(io/standpoint/.*\.cpp)", ".*"},
      {R"(io/page/(engine|webassembly)/.*)", ".*"},
      {R"(io/cli/.*)", ".*"},
  };
  return all;
}

}  // namespace

std::size_t room_of(const std::string& file) {
  const auto room = std::find_if(rooms().begin(), rooms().end(), [&](const Room& candidate) {
    return std::regex_match(file, std::regex(candidate.files));
  });
  return static_cast<std::size_t>(room - rooms().begin());
}

namespace {

/// The file that a project include means: those of a face are named from its own folder on.
std::string file_of_include(const path& root, const std::string& name) {
  if (name.rfind("standpoint/", 0) != 0) return name;
  for (const char* floor : {"geometry/", "planner/", "io/"}) {
    if (std::filesystem::exists(root / (floor + name))) return floor + name;
  }
  return name;
}

/// Inside of the tree only tree.h is there for others.
bool is_inside_of_tree(const std::string& name) {
  return name.rfind("geometry/tree/", 0) == 0 && name != "geometry/tree/tree.h";
}

struct Include {
  std::string name;
  bool of_project = false;  ///< in quotes
};

std::vector<Include> includes_of(const path& file) {
  static const std::regex line_pattern(R"re(^\s*#\s*include\s*([<"])([^>"]+)[>"])re");
  std::vector<Include> found;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    std::smatch match;
    if (std::regex_search(line, match, line_pattern)) found.push_back({match[2], match[1] == "\""});
  }
  return found;
}

/// Headers that cost every file that includes them: they stay in .cpp files.
bool is_heavy(const std::string& name) {
  static const std::regex heavy(
      R"(CGAL/.*|assimp/.*|.*\.hxx|nlohmann/json\.hpp|CLI/.*|(oneapi/)?tbb/.*|coin/.*|hwy/.*|pugixml\.hpp)");
  return std::regex_match(name, heavy);
}

/// The program is Apache-2.0: of CGAL it may include only what is LGPL, as the header itself says.
bool is_gpl_part_of_cgal(const std::string& name) {
  if (name.rfind("CGAL/", 0) != 0) return false;
  std::ifstream in("/usr/include/" + name);
  for (std::string line; std::getline(in, line);) {
    const std::size_t at = line.find("SPDX-License-Identifier:");
    if (at != std::string::npos) return line.find(" GPL-", at) != std::string::npos;
  }
  return false;
}

/// A header that is shared by a few .cpp files and not installed may be heavy: its name says so.
bool is_piece_of_cpp(const std::string& name) {
  const std::string ending = "-inl.h";
  return name.size() > ending.size() &&
         name.compare(name.size() - ending.size(), ending.size(), ending) == 0;
}

/// Functions of the C library whose last bit differs from one library to the next. What the page
/// runs too takes geometry/trigonometry.h and logarithm.h, so that it gives the program's very
/// figures.
void check_figures(const std::string& name, const path& file, std::vector<std::string>& broken) {
  static const std::regex call(
      R"(std::(sin|cos|tan|asin|acos|atan2?|sinh|cosh|tanh|log(2|10|1p)?|exp(2|m1)?|pow|hypot|cbrt|[lt]gamma|erfc?)\s*\()");
  // CAD and mesh files are the program's alone.
  static const std::regex alone("io/read/(meshes|cad|bodies)/.*");
  if (std::regex_match(name, alone)) return;
  std::ifstream in(file);
  std::size_t number = 0;
  for (std::string line; std::getline(in, line);) {
    ++number;
    const std::string code = line.substr(0, line.find("//"));
    std::smatch match;
    if (std::regex_search(code, match, call))
      broken.push_back(name + ":" + std::to_string(number) + " calls std::" + match[1].str() +
                       ", whose last bit is the C library's");
  }
}

void check_include(const path& root, const std::string& name, std::size_t number,
                   const std::string& included, std::vector<std::string>& broken) {
  const std::string target = file_of_include(root, included);
  const std::size_t below = room_of(target);
  const Room& room = rooms()[number];
  const bool is_allowed = below < rooms().size() && below <= number &&
                          (*room.only == 0 || std::regex_match(target, std::regex(room.only)));
  if (!is_allowed) broken.push_back(name + " includes " + included + ", which is not below it");
  if (is_inside_of_tree(target) && name.rfind("geometry/tree/", 0) != 0)
    broken.push_back(name + " includes " + included + ", which is inside of the tree");
}

void check_file(const path& root, const path& file, std::vector<std::string>& broken) {
  const std::string name = file.lexically_relative(root).generic_string();
  const std::size_t number = room_of(name);
  if (number == rooms().size()) {
    broken.push_back(name + " stands in no room");
    return;
  }
  check_figures(name, file, broken);
  const bool is_header = file.extension() == ".h" && !is_piece_of_cpp(name);
  static const std::regex standard("[a-z_0-9]+(\\.h)?");
  const std::regex libraries(rooms()[number].libraries);
  for (const Include& include : includes_of(file)) {
    if (include.of_project) {
      if (is_header && is_piece_of_cpp(include.name)) {
        broken.push_back(name + " is a header and includes " + include.name +
                         ", a piece of .cpp files");
      }
      check_include(root, name, number, include.name, broken);
      continue;
    }
    if (!std::regex_match(include.name, standard) && !std::regex_match(include.name, libraries)) {
      broken.push_back(name + " includes " + include.name +
                       ", a library that is not for this room");
    }
    if (is_header && is_heavy(include.name))
      broken.push_back(name + " is a header and includes " + include.name + ", which is heavy");
    if (is_gpl_part_of_cgal(include.name))
      broken.push_back(name + " includes " + include.name + ", a GPL part of CGAL");
  }
}

}  // namespace

std::vector<std::string> broken_rules(const path& root) {
  std::vector<std::string> broken;
  for (const char* floor : {"geometry", "planner", "io"}) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root / floor)) {
      const path extension = entry.path().extension();
      if (extension == ".h" || extension == ".cpp") check_file(root, entry.path(), broken);
    }
  }
  std::sort(broken.begin(), broken.end());
  return broken;
}

std::vector<std::string> misplaced_at_top(const path& root) {
  static const std::set<std::string> folders = {"planner", "geometry", "io",
                                                "tests",   "scenes",   "docs"};
  static const std::set<std::string> files = {"README.md",      "DEVELOPERS.md",
                                              "CMakeLists.txt", "CMakePresets.json",
                                              "LICENSE",        "standpoint-config.cmake.in"};
  // What building and running leave behind; git ignores them.
  static const std::set<std::string> ignored = {"build", "out", "node_modules"};
  std::vector<std::string> wrong;
  std::set<std::string> seen;
  for (const auto& entry : std::filesystem::directory_iterator(root)) {
    const std::string name = entry.path().filename().string();
    if (name[0] == '.' || ignored.contains(name)) continue;
    seen.insert(name);
    if (!(entry.is_directory() ? folders : files).contains(name))
      wrong.push_back(name + " does not belong at the top");
  }
  for (const auto& wanted : {folders, files}) {
    for (const std::string& name : wanted) {
      if (!seen.contains(name)) wrong.push_back(name + " is missing at the top");
    }
  }
  return wrong;
}

}  // namespace standpoint::house
