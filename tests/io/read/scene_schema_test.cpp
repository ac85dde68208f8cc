// docs/scene.schema.json and the reader say the same. The schema is walked together with a scene
// that uses every key; each constraint met on the way is broken once, and the reader must tell it
// at that very place; and kept to its limit, where the reader must be content.

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <sstream>

#include "tests/io/read/scene_samples.h"
#include "tests/io/read/scene_schema_walk.h"
#include "tests/io/schema_check.h"

namespace standpoint {
namespace {

using scene_samples::full_scene;
using scene_samples::Json;
using scene_samples::listed;
using scene_samples::parse;
using scene_schema_walk::chooses_keys;
using scene_schema_walk::for_each_value;
using scene_schema_walk::resolved;
using scene_schema_walk::schema;
using scene_schema_walk::schemas;
using scene_schema_walk::type_of;
using schema_check::text_of;

/// The faults of the full scene with `value` put at `pointer`.
Faults faults_with(const std::string& pointer, const Json& value) {
  Json scene = full_scene();
  scene[Json::json_pointer(pointer)] = value;
  const auto result = parse(scene);
  return result ? Faults{} : result.error();
}

bool tells(const Faults& faults, const std::string& where, const std::set<FaultKind>& kinds) {
  return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
    return fault.where == where && kinds.count(fault.kind) > 0;
  });
}

void expect_told(const std::string& pointer, const Json& value, const std::set<FaultKind>& kinds,
                 const std::string& told_at) {
  const Faults faults = faults_with(pointer, value);
  EXPECT_TRUE(tells(faults, told_at, kinds))
      << "the reader does not tell " << value.dump().substr(0, 80) << " at " << pointer << ":\n"
      << listed(faults);
}
void expect_told(const std::string& pointer, const Json& value, FaultKind kind) {
  expect_told(pointer, value, {kind}, pointer);
}

void expect_not_told(const std::string& pointer, const Json& value, FaultKind kind) {
  const Faults faults = faults_with(pointer, value);
  EXPECT_FALSE(tells(faults, pointer, {kind}))
      << "the reader refuses " << value.dump().substr(0, 80) << " at " << pointer << ":\n"
      << listed(faults);
}

/// The keys that an unknown-key fault says are known.
std::set<std::string> known_keys(const std::string& allowed) {
  static const std::string kIntro = "one of these keys: ";
  std::set<std::string> keys;
  std::istringstream list(allowed.substr(allowed.find(kIntro) + kIntro.size()));
  for (std::string key; std::getline(list >> std::ws, key, ',');) keys.insert(key);
  return keys;
}

/// Whether the key is one of those of which an object has exactly one.
bool is_choice(const Json& node, const std::string& key) {
  return std::any_of(node["oneOf"].begin(), node["oneOf"].end(),
                     [&](const Json& branch) { return branch.at("required").at(0) == key; });
}

TEST(SceneSchema, TheSceneOfTheseTestsUsesEveryPropertyOfTheSchema) {
  std::set<std::string> used;
  for_each_value([&](const Json& node, const Json& value, const std::string&) {
    if (!value.is_object()) return;
    // An object's properties are told apart by its list of them.
    for (const auto& [key, member] : value.items()) used.insert(node["properties"].dump() + key);
  });
  std::size_t count = 0;
  const std::function<void(const Json&)> look = [&](const Json& node) {
    if (node.is_object() && node.contains("properties") && node["properties"].is_object()) {
      for (const auto& [key, property] : node["properties"].items()) {
        if (chooses_keys(node) && is_choice(node, key)) continue;  // tried below, each of them
        ++count;
        EXPECT_TRUE(used.count(node["properties"].dump() + key)) << key;
      }
    }
    if (node.is_structured())
      for (const Json& child : node) look(child);
  };
  look(schema());
  EXPECT_GT(count, 100u) << "the walk saw the schema";
}

TEST(SceneSchema, EveryObjectHasExactlyTheKeysOfTheSchema) {
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!value.is_object()) return;
    SCOPED_TRACE(pointer);
    EXPECT_EQ(node.value("additionalProperties", true), false);
    const std::string odd = pointer + "/no such key";
    const Faults faults = faults_with(odd, 1);
    ASSERT_EQ(faults.size(), 1u) << listed(faults);
    EXPECT_EQ(faults[0].where, odd);
    std::set<std::string> in_schema;
    for (const auto& [key, property] : node["properties"].items()) in_schema.insert(key);
    EXPECT_EQ(known_keys(faults[0].allowed), in_schema);
  });
}

TEST(SceneSchema, RequiredKeysAreRequiredAndOthersAreNot) {
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!value.is_object()) return;
    std::set<std::string> required;
    if (node.contains("required")) required = node["required"].get<std::set<std::string>>();
    for (const auto& [key, member] : value.items()) {
      Json changed = value;
      changed.erase(key);
      const std::string where = pointer + "/" + key;
      if (required.count(key) > 0) {
        expect_told(pointer, changed, {FaultKind::missing}, where);
      } else {
        const Faults faults = faults_with(pointer, changed);
        EXPECT_FALSE(tells(faults, where, {FaultKind::missing})) << listed(faults);
      }
    }
  });
}

/// Each value that a key has somewhere in the list of the full scene that the pointer's entry is
/// of; of the alignment, of which there is one, others as good.
std::map<std::string, Json> samples_of(const std::string& pointer) {
  if (pointer == "/alignment")
    return {{"features", {"top", "bore", "pin"}}, {"choose", 3}, {"from", {"top", "bore", "pin"}}};
  const std::string list = pointer.substr(0, pointer.rfind('/'));
  std::map<std::string, Json> samples;
  for (const Json& entry : full_scene().at(Json::json_pointer(list)))
    for (const auto& [key, value] : entry.items()) samples[key] = value;
  return samples;
}

/// Those about the value itself: another surface of a body may have no room for what lies on it.
Faults faults_at(const std::string& pointer, const Json& value) {
  Faults faults = faults_with(pointer, value);
  std::erase_if(faults, [&](const Fault& fault) { return !fault.where.starts_with(pointer); });
  return faults;
}

TEST(SceneSchema, OfKeysThatStandForEachOtherThereIsExactlyOne) {
  int seen = 0;
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!chooses_keys(node)) return;
    SCOPED_TRACE(pointer);
    const auto samples = samples_of(pointer);
    std::vector<std::string> keys;
    for (const Json& branch : node["oneOf"]) keys.push_back(branch.at("required").at(0));
    Json bare = value;
    for (const std::string& key : keys) bare.erase(key);
    for (const std::string key : {"mesh_units", "from"}) bare.erase(key);
    expect_told(pointer, bare, {FaultKind::one_of_keys}, pointer + "/" + keys[0]);
    for (const std::string& key : keys) {
      Json one = bare;
      one[key] = samples.at(key);
      EXPECT_TRUE(faults_at(pointer, one).empty()) << key;
      for (const std::string& other : keys) {
        Json two = one;
        two[other] = samples.at(other);
        const Faults faults = faults_at(pointer, two);
        EXPECT_EQ(faults.empty(), other == key) << key << " and " << other << listed(faults);
        ++seen;
      }
    }
  });
  EXPECT_EQ(seen, 6 * 4 * 4 + 2 * 2) << "every body and the alignment, with every two keys";
}

TEST(SceneSchema, AKeyThatGoesWithAnotherIsRefusedWithoutIt) {
  int seen = 0;
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!node.contains("dependentRequired")) return;
    const auto samples = samples_of(pointer);
    for (const auto& [key, others] : node["dependentRequired"].items()) {
      Json changed = value;
      changed[key] = samples.at(key);
      const Faults faults = faults_with(pointer, changed);
      const std::set<FaultKind> kinds{FaultKind::unknown_key, FaultKind::alignment_not_chosen};
      EXPECT_EQ(tells(faults, pointer + "/" + key, kinds), !value.contains(others.at(0)))
          << pointer << listed(faults);
      ++seen;
    }
  });
  EXPECT_EQ(seen, 7);
}

TEST(SceneSchema, OtherTypesAreRefused) {
  const std::vector<std::pair<std::string, Json>> samples{
      {"null", nullptr},  {"boolean", true},        {"number", 7.0},
      {"string", "text"}, {"array", Json::array()}, {"object", Json::object()}};
  for_each_value([&](const Json& node, const Json&, const std::string& pointer) {
    const std::string type = type_of(node) == "integer" ? "number" : type_of(node);
    for (const auto& [name, sample] : samples)
      if (name != type) expect_told(pointer, sample, FaultKind::wrong_type);
  });
}

TEST(SceneSchema, NumbersKeepToTheSameBounds) {
  int seen = 0;
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!value.is_number() || node.contains("const")) return;
    ++seen;
    ASSERT_TRUE(node.contains("minimum") && node.contains("maximum")) << pointer;
    const double low = node["minimum"], high = node["maximum"];
    double below = std::nextafter(low, -1e300), above = std::nextafter(high, 1e300);
    if (type_of(node) == "integer") {
      below = low - 1;
      above = high + 1;
      expect_told(pointer, low + 0.5, {FaultKind::not_whole, FaultKind::out_of_range}, pointer);
    }
    // A plane takes as many touches as it has points: its own bound is narrower than the schema's.
    const bool is_narrower = pointer == "/features/1/touches/count";
    for (const double inside : {low, high}) {
      if (!is_narrower) expect_not_told(pointer, inside, FaultKind::out_of_range);
      expect_not_told(pointer, inside, FaultKind::wrong_type);
    }
    expect_told(pointer, below, FaultKind::out_of_range);
    expect_told(pointer, above, FaultKind::out_of_range);
  });
  EXPECT_GT(seen, 150);
}

TEST(SceneSchema, ListsKeepToTheSameLengths) {
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!value.is_array()) return;
    const auto of_length = [&](std::size_t length) {
      Json list = value;
      while (list.size() > length) list.erase(list.size() - 1);
      while (list.size() < length) list.push_back(list.back());
      return list;
    };
    if (node.contains("minItems")) {
      const std::size_t least = node["minItems"];
      expect_told(pointer, of_length(least - 1), FaultKind::too_few_entries);
      expect_not_told(pointer, of_length(least), FaultKind::too_few_entries);
    } else {
      expect_not_told(pointer, Json::array(), FaultKind::too_few_entries);
    }
    if (node.contains("maxItems")) {
      const std::size_t most = node["maxItems"];
      expect_told(pointer, of_length(most + 1), FaultKind::too_many_entries);
      expect_not_told(pointer, of_length(most), FaultKind::too_many_entries);
    } else {
      expect_not_told(pointer, of_length(20000), FaultKind::too_many_entries);
    }
    if (!node.contains("uniqueItems")) return;
    Json twice = value;
    twice.push_back(value.front());
    const std::string last = pointer + "/" + std::to_string(value.size());
    expect_told(pointer, twice, {FaultKind::duplicate_entry}, last);
  });
}

TEST(SceneSchema, TextsKeepToTheSameChoicesLengthsAndCharacters) {
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!value.is_string()) return;
    if (node.contains("const") || node.contains("enum")) {
      expect_told(pointer, "other", FaultKind::unknown_choice);
      for (const Json& choice : node.contains("enum") ? node["enum"] : Json::array({node["const"]}))
        expect_not_told(pointer, choice, FaultKind::unknown_choice);
      return;
    }
    ASSERT_TRUE(node.contains("minLength") && node.contains("maxLength")) << pointer;
    ASSERT_EQ(node["minLength"], 1);
    const auto of_length = [](std::size_t length) {
      std::string text;  // of characters of two bytes: characters count, not bytes
      for (std::size_t i = 0; i < length; ++i) text += "\xC3\xA9";
      return text;
    };
    const std::size_t most = node["maxLength"];
    expect_told(pointer, "", FaultKind::bad_text);
    expect_told(pointer, of_length(most + 1), FaultKind::bad_text);
    expect_not_told(pointer, of_length(most), FaultKind::bad_text);
    ASSERT_EQ(node["pattern"], "^[^\\u0000-\\u001f\\u007f]*$") << pointer;
    for (const char* control : {"a\x01", "\x1F",
                                "a\x7F"
                                "b"})
      expect_told(pointer, control, FaultKind::bad_text);
    expect_told(pointer, std::string("a\0b", 3), FaultKind::bad_text);
    expect_not_told(pointer, " \x7E", FaultKind::bad_text);
  });
}

TEST(SceneSchema, EachConstraintIsOneThatTheseTestsCompare) {
  static const std::set<std::string> kCompared{
      "type", "properties", "additionalProperties", "required", "items", "minItems", "maxItems",
      "uniqueItems", "minimum", "maximum", "const", "enum", "minLength", "maxLength", "pattern",
      "oneOf", "dependentRequired", "$ref", "$defs", "$schema", "title", "description",
      // what features tells beside: held by FeaturesRun
      "patternProperties"};
  const std::function<void(const Json&)> look = [&](const Json& node) {
    for (const auto& [key, value] : node.items()) {
      EXPECT_TRUE(kCompared.count(key)) << key;
      if (key == "properties" || key == "$defs") {
        for (const Json& child : value) look(child);
      } else if (key == "items") {
        look(value);
      } else if (key == "oneOf") {
        for (const Json& child : value) look(child);
      }
    }
  };
  look(schema());
}

/// What a list holds in the end, or the node itself.
Json innermost_of(Json node) {
  while (!node.contains("oneOf") && type_of(node) == "array") node = resolved(node["items"]);
  return node;
}

TEST(SceneSchema, EveryPropertyIsDescribedAndEveryNumberHasItsUnit) {
  static const std::vector<std::string> kUnits{
      "scene units", "degrees", "mrad",        "any length but zero", "standard uncertainties",
      "kelvin",      "pascal",  "micrometres", "a fraction of 1",     "a ratio of costs"};
  for_each_value([&](const Json& node, const Json& value, const std::string& pointer) {
    if (!value.is_object()) return;
    for (const auto& [key, unresolved] : node["properties"].items()) {
      const Json property = resolved(unresolved);
      const std::string text = property.value("description", "");
      EXPECT_FALSE(text.empty()) << pointer << "/" << key;
      const Json innermost = innermost_of(property);
      if (innermost.contains("oneOf") || type_of(innermost) != "number") continue;
      const bool has_unit = std::any_of(kUnits.begin(), kUnits.end(), [&](const auto& unit) {
        return text.find(unit) != std::string::npos;
      });
      EXPECT_TRUE(has_unit) << pointer << "/" << key << ": " << text;
    }
  });
}

TEST(SceneGuide, NamesEveryKeyAndChoice) {
  const std::string guide = text_of("docs/scene.md");
  std::set<std::string> words;
  for_each_value([&](const Json& node, const Json& value, const std::string&) {
    if (value.is_object())
      for (const auto& [key, property] : node["properties"].items()) words.insert(key);
    if (node.contains("enum"))
      for (const Json& choice : node["enum"]) words.insert(choice.get<std::string>());
  });
  for (const std::string& word : words)
    EXPECT_NE(guide.find("`" + word + "`"), std::string::npos) << word;
}

}  // namespace
}  // namespace standpoint
