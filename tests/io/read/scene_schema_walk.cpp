#include "tests/io/read/scene_schema_walk.h"

#include <gtest/gtest.h>

namespace standpoint::scene_schema_walk {

using scene_samples::full_scene;

const schema_check::Schemas& schemas() {
  static const schema_check::Schemas schemas("docs");
  return schemas;
}

const Json& schema() {
  return schemas().files().at("scene.schema.json");
}

Json resolved(const Json& node) {
  return schemas().resolved(node);
}

std::string type_of(const Json& node) {
  if (node.contains("type")) return node["type"];
  if (node.contains("oneOf")) return "object";
  const Json& sample = node.contains("const") ? node["const"] : node["enum"][0];
  return sample.is_string() ? "string" : "integer";
}

bool chooses_keys(const Json& node) {
  return node.contains("oneOf") && node.contains("properties");
}

namespace {

/// The branch of a `oneOf` whose constants agree with `value`.
Json branch_for(const Json& node, const Json& value) {
  for (const Json& branch : node["oneOf"]) {
    Json candidate = resolved(branch);
    bool agrees = true;
    for (const auto& [key, property] : candidate["properties"].items()) {
      if (property.contains("const")) agrees = agrees && value.at(key) == property["const"];
    }
    if (agrees) return candidate;
  }
  ADD_FAILURE() << "no branch for " << value;
  return {};
}

/// Calls `visit` for each value of the scene with its schema node, from the outside in.
void walk(const Json& unresolved, const Json& value, const std::string& pointer,
          const Visit& visit) {
  Json node = resolved(unresolved);
  if (node.contains("oneOf") && !chooses_keys(node)) node = branch_for(node, value);
  visit(node, value, pointer);
  if (value.is_object()) {
    for (const auto& [key, member] : value.items()) {
      ASSERT_TRUE(node["properties"].contains(key)) << pointer << "/" << key;
      walk(node["properties"][key], member, pointer + "/" + key, visit);
    }
  } else if (value.is_array()) {
    for (std::size_t i = 0; i < value.size(); ++i)
      walk(node["items"], value[i], pointer + "/" + std::to_string(i), visit);
  }
}

}  // namespace

void for_each_value(const Visit& visit) {
  walk(schema(), full_scene(), "", visit);
}

}  // namespace standpoint::scene_schema_walk
