#include "tests/io/schema_check.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include <gtest/gtest.h>

#include "source_dir.h"

namespace standpoint::schema_check {
namespace {

using Sentences = std::vector<std::string>;

constexpr const char* kNotOfType = " is not of type ";

void name_files_in_refs(Json& node, const std::string& file) {
  if (node.is_object() && node.contains("$ref") && node["$ref"].is_string()) {
    std::string ref = node["$ref"];
    if (ref.rfind('#', 0) == 0) ref = file + ref;
    if (ref.find('#') == std::string::npos) ref += '#';
    node["$ref"] = ref;
  }
  if (!node.is_structured()) return;
  for (Json& child : node) name_files_in_refs(child, file);
}

bool is_of_type(const Json& value, const std::string& type) {
  if (type == "null") return value.is_null();
  if (type == "boolean") return value.is_boolean();
  if (type == "integer") return value.is_number_integer();
  if (type == "number") return value.is_number();
  if (type == "string") return value.is_string();
  if (type == "array") return value.is_array();
  return type == "object" && value.is_object();
}

/// One value against one node; goes down into lists and objects.
class Check {
 public:
  Check(const Schemas& schemas, Sentences& faults, Uses& uses)
      : schemas_(schemas), faults_(faults), uses_(uses) {}

  void check(const Json& unresolved, const Json& value, const std::string& pointer) {
    const Json node = schemas_.resolved(unresolved);
    tell_unknown_keywords(node, pointer);
    if (node.contains("const") && value != node["const"])
      tell(pointer, value.dump() + " is not " + node["const"].dump());
    for (const char* choice : {"anyOf", "oneOf"})
      if (node.contains(choice)) check_branches(node[choice], choice, value, pointer);
    if (node.contains("type") && !has_type(node["type"], value)) {
      tell(pointer, value.dump() + kNotOfType + node["type"].dump());
      return;
    }
    if (value.is_number() && node.contains("minimum") && value < node["minimum"])
      tell(pointer, value.dump() + " is below " + node["minimum"].dump());
    if (value.is_array()) check_list(node, value, pointer);
    if (value.is_object()) check_object(node, value, pointer);
  }

 private:
  void tell(const std::string& pointer, const std::string& what) {
    faults_.push_back(pointer + ": " + what);
  }

  void tell_unknown_keywords(const Json& node, const std::string& pointer) {
    static const std::set<std::string> kKnown{
        "$schema",       "$defs",         "title",
        "description",   "type",          "const",
        "anyOf",         "oneOf",         "items",
        "minItems",      "maxItems",      "minimum",
        "required",      "properties",    "additionalProperties",
        "minProperties", "maxProperties", "dependentRequired"};
    for (const auto& [key, unused] : node.items())
      if (kKnown.count(key) == 0) tell(pointer, "the keyword " + key + " is not checked");
  }

  static bool has_type(const Json& types, const Json& value) {
    if (types.is_string()) return is_of_type(value, types);
    return std::any_of(types.begin(), types.end(),
                       [&](const Json& type) { return is_of_type(value, type); });
  }

  void check_branches(const Json& branches, const std::string& choice, const Json& value,
                      const std::string& pointer) {
    int fitting = 0;
    Sentences nearest;  // what keeps it from the branch that is of its type
    for (const Json& branch : branches) {
      Sentences faults;
      Uses uses;
      Check(schemas_, faults, uses).check(branch, value, pointer);
      if (faults.empty()) {
        ++fitting;
        add(uses);
      } else if (nearest.empty() || faults.front().find(kNotOfType) == std::string::npos) {
        nearest = faults;
      }
    }
    if (fitting == 0) {
      tell(pointer, "fits no branch of " + choice);
      faults_.insert(faults_.end(), nearest.begin(), nearest.end());
    } else if (fitting > 1 && choice == "oneOf") {
      tell(pointer, "fits more than one branch");
    }
  }

  void add(const Uses& uses) {
    for (const auto& [title, properties] : uses) {
      for (const auto& [key, use] : properties) {
        Use& sum = uses_[title][key];
        sum.written += use.written;
        sum.null += use.null;
        sum.missing += use.missing;
      }
    }
  }

  void check_list(const Json& node, const Json& list, const std::string& pointer) {
    if (node.contains("minItems") && list.size() < node["minItems"])
      tell(pointer, "has fewer entries than " + node["minItems"].dump());
    if (node.contains("maxItems") && list.size() > node["maxItems"])
      tell(pointer, "has more entries than " + node["maxItems"].dump());
    if (!node.contains("items")) return;
    for (std::size_t i = 0; i < list.size(); ++i)
      check(node["items"], list[i], pointer + "/" + std::to_string(i));
  }

  void check_object(const Json& node, const Json& object, const std::string& pointer) {
    static const Json kNone = Json::object();
    const Json& properties = node.contains("properties") ? node["properties"] : kNone;
    check_presence(node, object, pointer);
    for (const auto& [key, member] : object.items()) {
      if (properties.contains(key)) {
        check(properties[key], member, pointer + "/" + key);
      } else if (node.contains("additionalProperties") && !node["additionalProperties"]) {
        tell(pointer, "has the key " + key + ", which the schema does not name");
      }
    }
    if (!node.contains("title")) return;
    for (const auto& [key, property] : properties.items()) {
      Use& use = uses_[node["title"]][key];
      if (!object.contains(key)) {
        ++use.missing;
      } else {
        ++(object[key].is_null() ? use.null : use.written);
      }
    }
  }

  /// Which keys must be there, and how many.
  void check_presence(const Json& node, const Json& object, const std::string& pointer) {
    if (node.contains("required")) {
      for (const Json& key : node["required"])
        if (!object.contains(key)) tell(pointer, "lacks " + key.get<std::string>());
    }
    if (node.contains("minProperties") && object.size() < node["minProperties"])
      tell(pointer, "has too few keys");
    if (node.contains("maxProperties") && object.size() > node["maxProperties"])
      tell(pointer, "has too many keys");
    if (!node.contains("dependentRequired")) return;
    for (const auto& [key, others] : node["dependentRequired"].items())
      for (const Json& other : others)
        if (object.contains(key) && !object.contains(other))
          tell(pointer, "has " + key + " without " + other.get<std::string>());
  }

  const Schemas& schemas_;
  Sentences& faults_;
  Uses& uses_;
};

}  // namespace

std::string text_of(const std::string& file) {
  std::ifstream stream(source_dir() / file);
  EXPECT_TRUE(stream) << file;
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

Schemas::Schemas(const std::string& folder) {
  const std::string ending = ".schema.json";
  for (const auto& entry : std::filesystem::directory_iterator(source_dir() / folder)) {
    const std::string name = entry.path().filename().string();
    if (name.size() <= ending.size() || name.substr(name.size() - ending.size()) != ending)
      continue;
    Json schema = Json::parse(text_of(folder + "/" + name));
    name_files_in_refs(schema, name);
    files_.emplace(name, std::move(schema));
  }
}

Json Schemas::resolved(Json node) const {
  while (node.contains("$ref")) {
    const std::string ref = node["$ref"];
    node.erase("$ref");
    const std::size_t hash = ref.find('#');
    const Json& target =
        files_.at(ref.substr(0, hash)).at(Json::json_pointer(ref.substr(hash + 1)));
    for (const auto& [key, value] : target.items())
      if (!node.contains(key)) node[key] = value;
  }
  return node;
}

std::vector<std::string> Schemas::faults(const std::string& file, const Json& value,
                                         Uses* uses) const {
  Sentences faults;
  Uses unused;
  Check(*this, faults, uses != nullptr ? *uses : unused).check(files_.at(file), value, "");
  return faults;
}

const Schemas& schemas() {
  static const Schemas schemas("docs/schemas");
  return schemas;
}

}  // namespace standpoint::schema_check
