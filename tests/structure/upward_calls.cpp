#include "upward_calls.h"

#include <cstdlib>
#include <map>
#include <memory>
#include <regex>
#include <set>
#include <sstream>

#include <cxxabi.h>

#include "house_rules.h"

namespace standpoint::house {
namespace {

/// The source of an object file; empty for what is not of the three floors.
std::string source_of(const std::string& object) {
  static const std::regex made(
      R"re((?:.*/)?(geometry|planner|io)/CMakeFiles/[^/]+\.dir/(?:\./)?(.*)\.o)re");
  std::smatch match;
  return std::regex_match(object, match, made) ? match[1].str() + "/" + match[2].str() : "";
}

std::string as_written(const std::string& name) {
  int status = 0;
  const std::unique_ptr<char, decltype(&std::free)> text(
      abi::__cxa_demangle(name.c_str(), nullptr, nullptr, &status), &std::free);
  return status == 0 ? text.get() : name;
}

}  // namespace

Calls calls_between_rooms(const std::string& listing) {
  std::map<std::string, std::string> definer;
  std::map<std::string, std::set<std::string>> takers;
  std::istringstream lines(listing);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t colon = line.find(": ");
    if (colon == std::string::npos) continue;
    const std::string source = source_of(line.substr(0, colon));
    std::istringstream fields(line.substr(colon + 2));
    std::string name, type;
    if (source.empty() || !(fields >> name >> type) || type.size() != 1) continue;
    if (std::string("TDBRSC").find(type) != std::string::npos) definer[name] = source;
    if (type == "U") takers[name].insert(source);
  }
  Calls calls;
  for (const auto& [name, sources] : takers) {
    const auto defined = definer.find(name);
    if (defined == definer.end()) continue;
    for (const std::string& source : sources) {
      const std::size_t from = room_of(source), to = room_of(defined->second);
      calls.between_rooms += from != to ? 1 : 0;
      if (to > from)
        calls.upward.push_back(source + " calls up: " + as_written(name) + " of " +
                               defined->second);
    }
  }
  return calls;
}

}  // namespace standpoint::house
