#pragma once

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace standpoint::plan_file {

using Json = nlohmann::ordered_json;

// A plan.json as its readers see it, put together piece by piece.

inline Json station(const std::string& name, const std::vector<double>& at) {
  return {{"name", name}, {"at", at}, {"zone", "aisle"}, {"nests", Json::array()}};
}

inline Json feature(const std::string& name, const Json& station, double margin = 12,
                    double expanded = 0.04) {
  Json object{{"name", name}, {"required", true}};
  if (station.is_null()) {
    object.update(Json{{"verdict", "blocked"},
                       {"station", nullptr},
                       {"target", nullptr},
                       {"margin", nullptr},
                       {"uncertainty", nullptr}});
    return object;
  }
  object.update(Json{{"verdict", "full-target"},
                     {"station", station},
                     {"target", "ball-38"},
                     {"margin", margin},
                     {"uncertainty", {{"expanded", expanded}}}});
  return object;
}

inline Json link(const std::string& a, const std::string& b,
                 const std::vector<std::string>& nests) {
  return {{"stations", {a, b}}, {"nests", nests}};
}

/// Three stations on a side each of a part, five features of which one is blocked.
inline Json plan() {
  return {{"format", "standpoint-plan"},
          {"version", 1},
          {"scene", "hall"},
          {"units", "mm"},
          {"stations",
           {station("S1", {0, -4000, 1500}), station("S2", {6000, 0, 1500}),
            station("S3", {0, 5000, 1100})}},
          {"features",
           {feature("pad-1", "S1"), feature("pad-2", "S1"), feature("pad-3", "S2"),
            feature("pad-4", "S3"), feature("keel", nullptr)}},
          {"links", {link("S1", "S2", {"N1", "N2", "N3"}), link("S2", "S3", {"N2", "N3", "N4"})}},
          {"warnings", Json::array()}};
}

}  // namespace standpoint::plan_file
