// docs/plan-json.md and the schemas of the written files say the same, field for field; and the
// page names the columns that the CSV files have.

#include <gtest/gtest.h>

#include <set>
#include <sstream>

#include "io/write/csv/plan_csv.h"
#include "tests/io/schema_check.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using schema_check::Json;
using schema_check::schemas;

const std::vector<std::string>& lines_of_page() {
  static const std::vector<std::string> lines = [] {
    std::istringstream page(schema_check::text_of("docs/plan-json.md"));
    std::vector<std::string> all;
    for (std::string line; std::getline(page, line);) all.push_back(line);
    return all;
  }();
  return lines;
}

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

/// "caution" is headed "Caution"; what is typed or the name of a file stays as it is.
std::string heading_of(std::string title) {
  if (!has(title, ".") && !has(title, "--"))
    title[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(title[0])));
  return title;
}

/// Where a heading's link leads to.
std::string anchor_of(const std::string& title) {
  std::string anchor;
  for (const char c : title) {
    const auto letter = static_cast<unsigned char>(c);
    if (std::isalnum(letter) != 0) anchor += static_cast<char>(std::tolower(letter));
    if (c == ' ' || c == '-') anchor += '-';
  }
  return anchor;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string all;
  for (const std::string& part : parts) all += (all.empty() ? "" : " or ") + part;
  return all;
}

/// What a value is, in words; `is_many` inside a list.
std::string form_of(const Json& node, bool is_many = false) {
  static const std::map<std::string, std::pair<std::string, std::string>> kWords{
      {"string", {"text", "texts"}},
      {"number", {"number", "numbers"}},
      {"integer", {"whole number", "whole numbers"}},
      {"boolean", {"`true` or `false`", "`true` or `false`"}},
      {"null", {"`null`", "`null`"}}};
  if (node.contains("$ref")) {
    Json bare;
    bare["$ref"] = node["$ref"];
    const std::string title = schemas().resolved(bare)["title"];
    return "[" + title + "](#" + anchor_of(title) + ")";
  }
  if (node.contains("const"))
    return "`" +
           (node["const"].is_string() ? node["const"].get<std::string>() : node["const"].dump()) +
           "`";
  std::vector<std::string> forms;
  if (node.contains("anyOf")) {
    for (const Json& branch : node["anyOf"]) forms.push_back(form_of(branch, is_many));
    return joined(forms);
  }
  const Json types = node["type"].is_array() ? node["type"] : Json::array({node["type"]});
  for (const std::string type : types) {
    if (type != "array") {
      forms.push_back(is_many ? kWords.at(type).second : kWords.at(type).first);
      continue;
    }
    const bool is_fixed = node.contains("minItems") && node.contains("maxItems") &&
                          node["minItems"] == node["maxItems"];
    forms.push_back("list of " + (is_fixed ? node["minItems"].dump() + " " : "") +
                    form_of(node["items"], true));
  }
  return joined(forms);
}

/// A description without its unit, and the unit: "The width. Unit: degrees." A node that does not
/// tell its unit has that of what it refers to.
std::string meaning_of(const Json& node) {
  const std::string text = schemas().resolved(node).value("description", "");
  return text.substr(0, text.find(" Unit: "));
}
std::string unit_of(const Json& node) {
  const std::string text = node.value("description", "");
  const std::size_t at = text.find(" Unit: ");
  if (at != std::string::npos) return text.substr(at + 7, text.size() - at - 8);
  if (node.contains("$ref")) {
    Json bare;
    bare["$ref"] = node["$ref"];
    return unit_of(schemas().resolved(bare));
  }
  if (node.contains("anyOf"))
    for (const Json& branch : node["anyOf"])
      if (const std::string unit = unit_of(branch); !unit.empty()) return unit;
  return node.contains("items") ? unit_of(node["items"]) : "";
}

/// The table that the page must have for a schema with properties, or with choices.
std::vector<std::string> table_of(const Json& node) {
  std::vector<std::string> table;
  if (node.contains("oneOf")) {
    table = {"| value | meaning |", "|---|---|"};
    for (const Json& choice : node["oneOf"])
      table.push_back("| `" + choice["const"].get<std::string>() + "` | " +
                      choice["description"].get<std::string>() + " |");
    return table;
  }
  table = {"| key | form | unit | meaning |", "|---|---|---|---|"};
  std::set<std::string> required;
  if (node.contains("required")) required = node["required"].get<std::set<std::string>>();
  for (const auto& [key, property] : node["properties"].items()) {
    const std::string unit = unit_of(property);
    table.push_back("| `" + key + "` | " + form_of(property) +
                    (required.count(key) > 0 ? " |" : "; may be missing |") +
                    (unit.empty() ? "" : " " + unit) + " | " + meaning_of(property) + " |");
  }
  return table;
}

/// The page's first table below a heading; empty where there is no such heading or no table.
std::vector<std::string> table_under(const std::string& heading) {
  std::vector<std::string> table;
  bool is_below = false;
  for (const std::string& line : lines_of_page()) {
    if (line.rfind("##", 0) == 0) {
      if (is_below) break;
      is_below = line.substr(line.find(' ') + 1) == heading;
    } else if (is_below && line.rfind('|', 0) == 0) {
      table.push_back(line);
    } else if (is_below && !table.empty()) {
      break;
    }
  }
  return table;
}

/// Every schema with a title: the files' own, and those that they define.
std::vector<Json> titled() {
  std::vector<Json> all;
  for (const auto& [name, file] : schemas().files()) {
    if (file.contains("properties")) all.push_back(file);
    for (const auto& [key, node] : file["$defs"].items()) {
      EXPECT_TRUE(node.contains("title")) << name << ": " << key;
      all.push_back(node);
    }
  }
  return all;
}

std::string listed(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

TEST(WrittenPage, HasTheTableOfEverySchema) {
  int tables = 0;
  for (const Json& node : titled()) {
    const std::string heading = heading_of(node["title"]);
    if (!node.contains("properties") && !node.contains("oneOf")) continue;
    ++tables;
    const std::vector<std::string> table = table_of(node);
    EXPECT_EQ(table_under(heading), table)
        << "docs/plan-json.md must have below \"" << heading << "\":\n"
        << listed(table);
  }
  EXPECT_GT(tables, 60) << "all schemas were seen";
}

TEST(WrittenPage, HasAHeadingForEveryPlainPart) {
  for (const Json& node : titled()) {
    const std::string heading = heading_of(node["title"]);
    int found = 0;
    for (const std::string& line : lines_of_page())
      found += line == "## " + heading || line == "### " + heading ? 1 : 0;
    EXPECT_EQ(found, 1) << heading;
  }
}

TEST(WrittenPage, HasNoTableThatNoSchemaHas) {
  std::set<std::string> known;
  for (const Json& node : titled()) known.insert(heading_of(node["title"]));
  std::string heading;
  for (const std::string& line : lines_of_page()) {
    if (line.rfind("##", 0) == 0) heading = line.substr(line.find(' ') + 1);
    if (line.rfind("| key |", 0) == 0 || line.rfind("| value |", 0) == 0)
      EXPECT_TRUE(known.count(heading)) << heading;
  }
}

TEST(WrittenSchemas, EveryObjectIsStrictAndEveryFieldIsDescribed) {
  std::set<std::string> titles;
  for (const Json& node : titled()) {
    const std::string title = node["title"];
    SCOPED_TRACE(title);
    EXPECT_TRUE(titles.insert(title).second) << "two schemas have this title";
    EXPECT_FALSE(node.value("description", "").empty());
    if (!node.contains("properties")) continue;
    EXPECT_EQ(node["type"], "object");
    ASSERT_TRUE(node.contains("additionalProperties"));
    EXPECT_EQ(node["additionalProperties"], false);
    EXPECT_TRUE(node.contains("required"));
    for (const auto& [key, property] : node["properties"].items()) {
      EXPECT_FALSE(meaning_of(property).empty()) << key;
      EXPECT_FALSE(has(property.dump(), "\"properties\"")) << key << ": a part has its own title";
      if (has(form_of(property), "number"))
        EXPECT_FALSE(unit_of(property).empty()) << key << " has no unit";
    }
  }
}

/// The names of a CSV file's columns as the page tells them, in order.
std::vector<std::string> columns_under(const std::string& heading) {
  std::vector<std::string> columns;
  for (const std::string& line : table_under(heading))
    if (const std::size_t end = line.find("` |"); line.rfind("| `", 0) == 0)
      columns.push_back(line.substr(3, end - 3));
  return columns;
}

/// The header of a CSV file without quotes in it, UNIT for the scene's units.
std::vector<std::string> header_of(const std::string& csv) {
  std::istringstream header(csv.substr(0, csv.find("\r\n")));
  std::vector<std::string> columns;
  for (std::string column; std::getline(header, column, ',');) {
    if (const std::size_t at = column.find("(m)"); at != std::string::npos)
      column.replace(at, 3, "(UNIT)");
    columns.push_back(column);
  }
  return columns;
}

TEST(WrittenPage, NamesTheColumnsOfBothCsvFilesInTheirOrder) {
  const Scene scene = hand_made::scene();
  const Plan plan = hand_made::plan();
  EXPECT_EQ(columns_under("stations.csv"), header_of(stations_csv(scene, plan)));
  EXPECT_EQ(columns_under("touches.csv"), header_of(touches_csv(scene, plan)));
  for (const char* file : {"stations.csv", "touches.csv"})
    for (const std::string& line : table_under(file)) {
      const bool needs_unit = has(line, "(UNIT)");
      EXPECT_EQ(needs_unit, has(line, "| scene units |")) << line;
    }
}

}  // namespace
}  // namespace standpoint
