#include "house_rules.h"

#include <algorithm>
#include <fstream>
#include <regex>
#include <set>

namespace standpoint::house {
namespace {

using std::filesystem::path;

/// What a room may include: project folders by prefix, libraries by pattern. The first room whose
/// prefix fits a file is its room.
struct Room {
  const char* prefix;
  std::vector<std::string> may_include;  ///< prefixes of project includes
  const char* libraries;                 ///< besides the standard library; a regular expression
};

const std::vector<Room>& rooms() {
  static const std::vector<Room> all = {
      // The page's engine is geometry and reach: no CGAL, no Assimp, no TBB.
      {"geometry/", {"geometry/"}, "Eigen/.*|hwy/.*|sys/mman\\.h"},
      {"planner/reach/",
       {"geometry/", "planner/reach/", "planner/scene.h", "planner/ids.h", "planner/cell.h"},
       "Eigen/.*"},
      {"planner/cell.",
       {"geometry/", "planner/scene.h", "planner/ids.h", "planner/cell.h"},
       "Eigen/.*"},
      {"planner/scene.", {"geometry/", "planner/ids.h"}, "Eigen/.*"},
      {"planner/", {"geometry/", "planner/"}, "Eigen/.*|CGAL/.*|(oneapi/)?tbb/.*|coin/.*"},
      // Within io, too, includes point down this list.
      {"io/words/", {"geometry/", "planner/", "io/words/"}, ".*"},
      {"io/bodies/", {"geometry/", "planner/", "io/words/", "io/bodies/"}, ".*"},
      {"io/scene/", {"geometry/", "planner/", "io/words/", "io/bodies/", "io/scene/"}, ".*"},
      {"io/answers/",
       {"geometry/", "planner/", "io/words/", "io/bodies/", "io/scene/", "io/answers/"},
       ".*"},
      {"io/drawings/",
       {"geometry/", "planner/", "io/words/", "io/bodies/", "io/scene/", "io/answers/",
        "io/drawings/"},
       ".*"},
      {"io/sheet/",
       {"geometry/", "planner/", "io/words/", "io/bodies/", "io/scene/", "io/answers/",
        "io/drawings/", "io/sheet/"},
       ".*"},
      {"io/live/",
       {"geometry/", "planner/", "io/words/", "io/bodies/", "io/scene/", "io/answers/",
        "io/drawings/", "io/sheet/", "io/live/"},
       ".*"},
      {"io/", {"geometry/", "planner/", "io/"}, ".*"},
  };
  return all;
}

bool starts_with_any(const std::string& text, const std::vector<std::string>& prefixes) {
  return std::any_of(prefixes.begin(), prefixes.end(),
                     [&](const std::string& prefix) { return text.rfind(prefix, 0) == 0; });
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
      R"(CGAL/.*|assimp/.*|.*\.hxx|nlohmann/json\.hpp|CLI/.*|(oneapi/)?tbb/.*|coin/.*|hwy/.*)");
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
  if (name.rfind("io/bodies/", 0) == 0) return;  // CAD and mesh files: the program's alone
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

void check_file(const path& root, const path& file, std::vector<std::string>& broken) {
  const std::string name = file.lexically_relative(root).generic_string();
  const auto room = std::find_if(rooms().begin(), rooms().end(), [&](const Room& candidate) {
    return name.rfind(candidate.prefix, 0) == 0;
  });
  if (room == rooms().end()) return;
  check_figures(name, file, broken);
  static const std::regex standard("[a-z_0-9]+(\\.h)?");
  const std::regex libraries(room->libraries);
  for (const Include& include : includes_of(file)) {
    if (include.of_project) {
      if (is_piece_of_cpp(include.name) && file.extension() == ".h" && !is_piece_of_cpp(name)) {
        broken.push_back(name + " is a header and includes " + include.name +
                         ", a piece of .cpp files");
      }
      if (!starts_with_any(include.name, room->may_include)) {
        broken.push_back(name + " includes " + include.name + ", which is not below it");
      }
      continue;
    }
    if (!std::regex_match(include.name, standard) && !std::regex_match(include.name, libraries)) {
      broken.push_back(name + " includes " + include.name +
                       ", a library that is not for this room");
    }
    if (file.extension() == ".h" && !is_piece_of_cpp(name) && is_heavy(include.name)) {
      broken.push_back(name + " is a header and includes " + include.name + ", which is heavy");
    }
    if (is_gpl_part_of_cgal(include.name)) {
      broken.push_back(name + " includes " + include.name + ", a GPL part of CGAL");
    }
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
