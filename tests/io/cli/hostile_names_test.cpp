// Names and values come from outside and may hold anything. Whatever the program writes of them, no
// control character, no mark that turns the direction of the text and no odd line end reaches a
// terminal, a file or the page as it is. Judged by bytes, without the functions that make them
// safe.

#include <algorithm>
#include <functional>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "source_dir.h"
#include "tests/io/cli/whole_program.h"
#include "tests/io/read/cad_files.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

struct Mark {
  const char* name;
  std::string bytes;
  bool is_allowed_in_names = true;  ///< the scene's reader refuses C0 and DEL
};

void PrintTo(const Mark& mark, std::ostream* out) {
  *out << mark.name;
}

std::vector<Mark> marks() {
  return {{"Escape", "\x1b[2J", false},
          {"Bell", "\x07", false},
          {"Newline", "\n", false},
          {"Tab", "\t", false},
          {"CarriageReturn", "\r", false},
          {"Delete", "\x7f", false},
          {"ControlSequenceOfC1",
           "\xC2\x9B"
           "2J"},
          {"NextLine", "\xC2\x85"},
          {"RightToLeftOverride", "\xE2\x80\xAE"},
          {"Embedding", "\xE2\x80\xAA"},
          {"Isolate", "\xE2\x81\xA6"},
          {"PopIsolate", "\xE2\x81\xA9"},
          {"LeftToRightMark", "\xE2\x80\x8E"},
          {"RightToLeftMark", "\xE2\x80\x8F"},
          {"ArabicLetterMark", "\xD8\x9C"},
          {"LineSeparator", "\xE2\x80\xA8"},
          {"ParagraphSeparator", "\xE2\x80\xA9"}};
}

/// Where the first byte of an unsafe character stands, with what is around it; empty for none.
/// Line feeds end our own lines; `others` are further bytes that the medium needs.
std::string raw_bytes_in(const std::string& text, std::string_view others = "") {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u;
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const unsigned a = byte(i), b = byte(i + 1), c = byte(i + 2);
    const bool is_ours = a == '\n' || others.find(text[i]) != std::string_view::npos;
    const bool is_control =
        ((a < 0x20 || a == 0x7F) && !is_ours) || (a == 0xC2 && b >= 0x80 && b < 0xA0);
    const bool is_turn =
        (a == 0xD8 && b == 0x9C) ||
        (a == 0xE2 && b == 0x80 && (c == 0x8E || c == 0x8F || (c >= 0xA8 && c <= 0xAE))) ||
        (a == 0xE2 && b == 0x81 && c >= 0xA6 && c <= 0xA9);
    if (is_control || is_turn)
      return "byte " + std::to_string(i) + " of: " + text.substr(i < 60 ? 0 : i - 60, 120);
  }
  return "";
}

TEST(RawBytes, AreFound) {
  for (const Mark& mark : marks()) {
    if (mark.bytes == "\n") continue;
    EXPECT_NE(raw_bytes_in("a" + mark.bytes + "b"), "") << mark.name;
  }
  EXPECT_EQ(raw_bytes_in("plain \xC3\xA9 \xE2\x82\xAC\nnext"), "");
}

class Hostile : public WholeProgram, public testing::WithParamInterface<Mark> {
 protected:
  void SetUp() override {
    fs::copy_file(source_dir() / "scenes" / "nests" / "frame.stl", folder_ / "frame.stl");
    put("plain.json", plain().dump());
    put("nested.json", nested(plain()).dump());
  }

  static json plain() {
    return json::parse(std::ifstream(source_dir() / "scenes" / "nests" / "scene.json"));
  }

  /// Four of the sites as nests, an adapter, a stylus, a walkway, a keep-out: every list has a
  /// name.
  static json nested(json scene) {
    const json sites = scene["nest_sites"];
    scene["nests"] = {sites[0], sites[2], sites[3], sites[4]};
    scene["nest_sites"] = {sites[1], sites[5]};
    scene["offset_styli"] = json::parse(R"([{"name": "mirror-6", "kind": "mirror",
      "tip_diameter": 6, "length": 85, "shank_diameter": 5, "head_diameter": 47, "swing": 11}])");
    scene["hole_adapters"] = json::parse(R"([{"name": "pin-10", "hole_diameter": [9, 11],
      "target": "ball-38", "height": 30, "base_diameter": 20, "seat": 45}])");
    scene["features"].push_back(json::parse(R"({"name": "dowel", "type": "hole", "diameter": 20,
      "centre": [0, 0, 650], "axis": [0, 0, 1], "depth": 5, "required": false})"));
    scene["stations"]["keep_out"] =
        json::parse(R"([{"name": "pit", "polygon": [[90, 90], [95, 90], [95, 95]]}])");
    scene["walkways"] = json::parse(
        R"([{"name": "gangway", "polygon": [[-6000, 5500], [6000, 5500], [6000, 6000]]}])");
    // It looks down, away from both places: something is blocked, and there is something to tell.
    scene["features"].push_back(json::parse(
        R"({"name": "under", "type": "point", "at": [0, 0, 650], "normal": [0, 0, -1]})"));
    scene["rules"].erase("max_expanded");
    return scene;
  }

  /// The scene with the mark in every name.
  static json marked(json scene) {
    const std::string& bytes = GetParam().bytes;
    const std::function<void(json&)> visit = [&](json& node) {
      if (node.is_object() && node.contains("name"))
        node["name"] = node["name"].get<std::string>() + bytes + "z";
      for (const char* key : {"body", "target"}) {
        if (node.is_object() && node.contains(key) && node[key].is_string())
          node[key] = node[key].get<std::string>() + bytes + "z";
      }
      if (node.is_structured())
        for (json& child : node) visit(child);
    };
    visit(scene);
    return scene;
  }

  [[nodiscard]] std::string with_mark(const std::string& text) const {
    return text + GetParam().bytes + "z";
  }

  /// Runs the command as it is and with --json; nothing raw comes out, and the JSON is JSON.
  Outcome expect_safe(std::vector<std::string> arguments, bool tries_json = true) const {
    std::string what;
    for (const std::string& argument : arguments) what += argument + " ";
    SCOPED_TRACE(what);
    const Outcome text = run(arguments);
    EXPECT_EQ(raw_bytes_in(text.out), "");
    EXPECT_EQ(raw_bytes_in(text.err), "");
    if (!tries_json) return text;
    arguments.emplace_back("--json");
    const Outcome object = run(arguments);
    EXPECT_EQ(raw_bytes_in(object.out), "");
    EXPECT_EQ(raw_bytes_in(object.err), "");
    if (object.exit != Exit::failed) EXPECT_TRUE(json::accept(object.out)) << object.out;
    return object;
  }

  /// Wrong input: each fault is one line of its own and one entry of the JSON.
  void expect_faults(const std::vector<std::string>& arguments) const {
    const Outcome object = expect_safe(arguments);
    SCOPED_TRACE(object.err);
    ASSERT_EQ(object.exit, Exit::wrong_input);
    const auto lines = std::count(object.err.begin(), object.err.end(), '\n');
    EXPECT_EQ(json::parse(object.out)["faults"].size(), static_cast<std::size_t>(lines));
  }
};

TEST_P(Hostile, NamesComeOutOfEveryAnswerSafe) {
  put("scene.json", marked(nested(plain())).dump());
  if (!GetParam().is_allowed_in_names) {
    for (const char* command : {"check", "sight", "plan"})
      expect_faults({command, path("scene.json"), command[0] == 'c' ? "--quiet" : "--threads=1",
                     command[0] == 's'   ? "--at=1,2,3"
                     : command[0] == 'p' ? "-o" + path("out")
                                         : "--quiet"});
    return;
  }
  const std::string scene = path("scene.json"), station = with_mark("south aisle");
  EXPECT_EQ(expect_safe({"check", scene}).exit, Exit::done);
  const Outcome sight = expect_safe({"sight", scene, "--station", station});
  EXPECT_EQ(json::parse(sight.out)["features"][0]["name"], with_mark("south-west"));
  for (const char* feature : {"under", "north", "south"})
    expect_safe({"why", scene, "--station", station, "--feature", with_mark(feature), "--picture",
                 path("beam.svg")});
  EXPECT_EQ(raw_bytes_in(got("beam.svg")), "");
  expect_safe({"why", scene, "--station", station, "--nest", with_mark("post-1")});
  const std::string out = path(with_mark("out"));
  const Outcome plan = expect_safe({"plan", scene, "-o", out});
  ASSERT_LE(plan.exit, Exit::blocked) << plan.err;
  EXPECT_EQ(json::parse(plan.out)["features"][0]["name"], with_mark("south-west"));
  EXPECT_EQ(raw_bytes_in(got(with_mark("out") + "/plan.json")), "");
  // The page's own code has tabs; no name of a scene has one.
  EXPECT_EQ(raw_bytes_in(got(with_mark("out") + "/page.html"), "\t"), "");
  for (const char* file : {"stations.csv", "touches.csv"})
    EXPECT_EQ(raw_bytes_in(got(with_mark("out") + "/" + file), "\r"), "") << file;
  expect_safe({"why", scene, "--station", station, "--feature", with_mark("under"), "--plan",
               out + "/plan.json"});
  expect_safe({"rehearse", scene, "--plan", out + "/plan.json", "--trials", "20"});
  // Something of every kind has changed.
  json other = json::parse(got(with_mark("out") + "/plan.json"));
  other["scene"] = with_mark("yard");
  other["stations"][0]["name"] = station + "a";
  other["stations"][0]["at"] = {90000, 0, 0};
  for (json& feature : other["features"]) {
    if (feature["station"] == station) feature["station"] = station + "a";
    if (!feature["target"].is_null()) feature["target"] = with_mark("other");
  }
  other["links"] = json::array();
  put(with_mark("other"), other.dump());
  EXPECT_EQ(
      expect_safe({"compare", out + "/plan.json", path(with_mark("other")), "--details"}).exit,
      Exit::done);
}

TEST_P(Hostile, NestsAreProposedUnderSafeNames) {
  const Mark& mark = GetParam();
  put("scene.json", (mark.is_allowed_in_names ? marked(plain()) : plain()).dump());
  const std::string out = path(with_mark("out"));
  const Outcome nests = expect_safe({"nests", path("scene.json"), "-o", out});
  ASSERT_NE(nests.exit, Exit::wrong_input) << nests.err;
  EXPECT_EQ(raw_bytes_in(got(with_mark("out") + "/nests.json")), "");
}

TEST_P(Hostile, ArgumentsAndFileNamesComeOutOfEveryFaultSafe) {
  const std::string scene = path("nested.json"), x = with_mark("x");
  const std::string at = "--at=1,2,3";
  expect_faults({x, scene});
  expect_faults({"check", scene, "--" + x});
  expect_faults({"check", path(x)});
  expect_faults({"check", scene, "--threads", x});
  expect_faults({"plan", scene, "-o", path("out"), "--time-limit", x});
  expect_faults({"rehearse", scene, "--plan", path(x), "--trials", x, "--seed", x});
  expect_faults({"rehearse", scene, "--plan", path(x)});
  expect_faults({"sight", scene, "--at", x});
  expect_faults({"sight", scene, "--at", x, "--station", x});
  expect_faults({"sight", scene, "--station", x});
  expect_faults({"sight", scene, "--measured", path(x), "--station", x});
  expect_faults({"why", scene, at, "--feature", x});
  expect_faults({"why", scene, at, "--nest", x});
  expect_faults({"why", scene, at, "--nest", x, "--feature", x});
  expect_faults({"why", scene, at, "--nest", "post-1", "--plan", path(x)});
  expect_faults({"why", scene, at, "--nest", "post-1", "--picture", path(x)});
  put(x, "in the way");
  EXPECT_EQ(expect_safe({"plan", scene, "-o", path(x) + "/out"}).exit, Exit::failed);
  EXPECT_EQ(
      expect_safe({"why", scene, at, "--nest", "post-1", "--picture", path(x) + "/b.svg"}).exit,
      Exit::failed);
  // What is beside a missing file is told as what may be meant.
  put(with_mark("bridge") + ".json", "{}");
  expect_faults({"check", path(with_mark("brigde") + ".json")});
}

TEST_P(Hostile, WhatAMeasuredListHoldsComesOutSafe) {
  const std::string x = GetParam().bytes;
  const auto expect_list = [&](const std::string& csv) {
    put("nests.csv", csv);
    expect_faults({"sight", path("nested.json"), "--measured", path("nests.csv")});
  };
  expect_list("name" + x + ",x,y,z\npost-1,1,2,3\n");
  expect_list("name;x;y;z" + x + "\n");
  expect_list("name,x,y,z\n\"post-" + x + "\",1,2,3\n");
  expect_list("name,x,y,z\npost-1,\"1" + x + "\",2,nan" + x + "\n");
  expect_list("name,x,y,z\npost-1,\"1" + x + "\"" + x + "2,2\n");
  expect_list("name,x,y,z\n\"post-1" + x + ",2\n");
  expect_list("name,x,y,z\npost-1,1,2,3\npost-1,1,2,3,\"" + x + "\"\n");
  // Names of the scene itself, in a list that gives no set-up.
  if (!GetParam().is_allowed_in_names) return;
  put("scene.json", marked(nested(plain())).dump());
  put("nests.csv", "name,x,y,z\n\"" + with_mark("post-1") + "\",0,0,0\n\"" + with_mark("post-3") +
                       "\",1000,0,0\n\"" + with_mark("post-4") + "\",2000,0,0\n");
  expect_faults({"sight", path("scene.json"), "--measured", path("nests.csv")});
}

TEST_P(Hostile, WhatASceneHoldsComesOutOfItsFaultsSafe) {
  const std::string x = with_mark("x");
  const auto expect_scene = [&](const json& scene) {
    put("bad.json", scene.dump());
    expect_faults({"check", path("bad.json")});
  };
  json scene = nested(plain());
  scene[x] = x;
  scene["rules"][x] = {x, {{x, 1}}};
  scene["units"] = x;
  scene["bodies"][0]["role"] = x;
  scene["bodies"][0]["mesh"] = x;
  scene["nest_surfaces"][0]["body"] = x;
  scene["features"][0]["type"] = x;
  scene["features"][1]["targets"] = {x, x};
  scene["features"][2]["at"] = {x, 1, 2};
  scene["features"][3]["name"] = x;
  scene["features"][4]["name"] = x;
  scene["datum"] = json::array({x});
  expect_scene(scene);
  put("bad.json", "{\"" + x + "\": [1, " + x);
  expect_faults({"check", path("bad.json")});
  put(with_mark("bad") + ".json", "[7]");
  expect_faults({"check", path(with_mark("bad") + ".json")});
}

TEST_P(Hostile, WhatAPlanHoldsComesOutOfItsFaultsSafe) {
  const std::string x = with_mark("x");
  const json plan = {
      {"format", "standpoint-plan"},
      {"version", 1},
      {"scene", x},
      {"units", x},
      {"stations", {{{"name", x}, {"at", {1, 2, x}}}, {{"name", x}, {"at", {1, 2, 3}}}}},
      {"features",
       {{{"name", x}, {"station", x}, {"target", x}}, {{"name", "south"}, {"station", x + "y"}}}}};
  put(with_mark("plan"), plan.dump());
  expect_faults({"rehearse", path("nested.json"), "--plan", path(with_mark("plan"))});
  expect_faults({"why", path("nested.json"), "--at=1,2,3", "--nest", "post-1", "--plan",
                 path(with_mark("plan"))});
  expect_faults({"compare", path(with_mark("plan")), path(with_mark("plan"))});
}

TEST_P(Hostile, AStartFromAFileOfSuchANameComesOutSafe) {
  const std::string part = with_mark("box") + ".step", list = with_mark("list") + ".csv";
  write_bored_box(folder_ / part, "MM");
  put(list, "name,x [mm],y,z\n\"" + with_mark("pad") + "\",10,10,50\n");
  const std::string job = path(with_mark("job"));
  expect_faults({"start", path(with_mark("none")), "-o", job, "--hall", path(with_mark("hall"))});
  if (!GetParam().is_allowed_in_names) {
    // No scene can name such a file.
    expect_faults({"start", path(part), "-o", job, "--features", path(list)});
    return;
  }
  EXPECT_EQ(expect_safe({"start", path(part), "-o", job}).exit, Exit::done);
  for (const char* file : {"/scene.json", "/features.csv"})
    EXPECT_EQ(raw_bytes_in(got(with_mark("job") + file), "\r"), "") << file;
  EXPECT_EQ(expect_safe({"check", job + "/scene.json"}).exit, Exit::done);
  EXPECT_EQ(expect_safe({"start", path(part), "-o", job + "2", "--features", path(list)}).exit,
            Exit::done);
  // Somebody has changed it.
  put(with_mark("job") + "/features.csv", with_mark("name"));
  expect_faults({"start", path(part), "-o", job});
}

INSTANTIATE_TEST_SUITE_P(Every, Hostile, testing::ValuesIn(marks()),
                         [](const auto& case_info) { return std::string(case_info.param.name); });

}  // namespace
}  // namespace standpoint
