// sight and why from where nests and features put the instrument, the whole program on a small
// scene.

#include <cmath>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

/// Paragraphs on one line again.
std::string on_one_line(std::string text) {
  for (std::size_t at = 0; (at = text.find("\n  ", at)) != std::string::npos;)
    text.replace(at, 3, " ");
  return text;
}

/// A block, 1000 x 800 x 400 with its corner at the origin: three faces, a bore; four nests. All is
/// read from (500, -3000, 1500), the instrument's axes those of the scene.
class MeasuredPart : public WholeProgram {
 protected:
  void SetUp() override { put("scene.json", scene().dump()); }

  static json scene() {
    return json::parse(R"({
      "format": "standpoint-scene", "version": 1, "name": "block", "units": "mm", "bodies": [],
      "instrument": {
        "name": "invented", "beam": {"diameter": 6, "growth_mrad": 0.2}, "range": [400, 40000],
        "elevation": [-60, 75], "body": {"radius": 160, "above": 180, "below": 320},
        "error": {"coverage_factor": 2, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
                  "radial": {"fixed": 0.012, "per_metre": 0.0009}}},
      "full_targets": [{"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 30},
                       {"name": "ball-13", "diameter": 12.7, "acceptance": 30, "aperture": 30}],
      "features": [
        {"name": "top", "type": "plane", "normal": [0, 0, 1],
         "points": [[50, 50, 400], [950, 50, 400], [950, 750, 400], [50, 750, 400], [500, 400, 400]]},
        {"name": "front", "type": "plane", "normal": [0, -1, 0],
         "points": [[100, 0, 100], [900, 0, 100], [500, 0, 300]]},
        {"name": "left", "type": "plane", "normal": [-1, 0, 0],
         "points": [[0, 100, 100], [0, 700, 100], [0, 400, 300]]},
        {"name": "bore", "type": "cylinder", "centre": [300, 400, 350], "axis": [0, 0, 1],
         "diameter": 160, "length": 100, "side": "inside", "touches": {"count": 6}}],
      "nests": [
        {"name": "N1", "at": [-2000, -1000, 1300], "normal": [0, 0, 1], "seat": 30},
        {"name": "N2", "at": [3000, -1500, 1200], "normal": [0, 0, 1], "seat": 30},
        {"name": "N3", "at": [2500, 2500, 1500], "normal": [0, 0, 1], "seat": 30},
        {"name": "N4", "at": [-1500, 2500, 1600], "normal": [0, 0, 1], "seat": 30}],
      "stations": {"fixed": [{"name": "door", "at": [500, -3000, 1500]}]}
    })");
  }

  /// One line: a name, what stands in touch and target, where the ball's centre is in the scene.
  static std::string line(const std::string& name, const std::string& touch,
                          const std::string& target, double x, double y, double z,
                          const std::string& when = "") {
    std::ostringstream csv;
    csv.precision(12);
    csv << name << ',' << touch << ',' << target << ',' << x - 500 << ',' << y + 3000 << ','
        << z - 1500 << ',' << when << '\n';
    return csv.str();
  }
  static std::string nests(const std::string& when = "", double lift = 0) {
    return line("N1", "", "", -2000, -1000, 1300 + lift, when) +
           line("N2", "", "", 3000, -1500, 1200, when) +
           line("N3", "", "", 2500, 2500, 1500, when) + line("N4", "", "", -1500, 2500, 1600, when);
  }
  /// Eleven touches of the three faces, told ball-38; those from `first` to `last`, from 1, taken
  /// with ball-13.
  static std::string faces(int first = 0, int last = 0) {
    std::string text;
    int number = 0;
    const auto off = [&] {
      ++number;
      return number >= first && number <= last ? 6.35 : 19.05;
    };
    const double top[5][2] = {{50, 50}, {950, 50}, {950, 750}, {50, 750}, {500, 400}};
    for (int i = 0; i < 5; ++i) {
      const double radius = off();
      text += line("top", std::to_string(i + 1), "ball-38", top[i][0], top[i][1], 400 + radius);
    }
    const double front[3][2] = {{100, 100}, {900, 100}, {500, 300}};
    for (const auto& at : front) text += line("front", "", "ball-38", at[0], -off(), at[1]);
    const double left[3][2] = {{100, 100}, {700, 100}, {400, 300}};
    for (const auto& at : left) text += line("left", "", "ball-38", -off(), at[0], at[1]);
    return text;
  }
  std::string put_list(const std::string& lines) const {
    put("list.csv", "name,touch,target,x,y,z,when\n" + lines);
    return path("list.csv");
  }
  Outcome sight(const std::string& lines, bool as_json = false) const {
    std::vector<std::string> arguments{"sight", path("scene.json"), "--measured", put_list(lines)};
    if (as_json) arguments.emplace_back("--json");
    return run(arguments);
  }
  json measured(const std::string& lines) const {
    const Outcome outcome = sight(lines, true);
    EXPECT_EQ(outcome.err, "");
    return json::parse(outcome.out)["measured"];
  }
};

TEST_F(MeasuredPart, FacesAloneTellWhereTheInstrumentStands) {
  const json object = measured(faces());
  EXPECT_NEAR(object["pose"]["translate"][0].get<double>(), 500, 1e-6);
  EXPECT_NEAR(object["pose"]["translate"][1].get<double>(), -3000, 1e-6);
  EXPECT_NEAR(object["pose"]["translate"][2].get<double>(), 1500, 1e-6);
  EXPECT_EQ(object["test"]["freedoms"], 5);
  EXPECT_EQ(object["test"]["fits"], true);
  EXPECT_EQ(object["residuals"], json::array());
  EXPECT_EQ(object["part"]["readings"].size(), 11u);
  EXPECT_EQ(object["part"]["readings"][0]["feature"], "top");
  EXPECT_EQ(object["part"]["readings"][0]["touch"], 1);
  EXPECT_TRUE(object["part"]["readings"][5]["touch"].is_null());
  EXPECT_EQ(object["part"]["findings"], json::array());
  EXPECT_FALSE(object.contains("movement"));
}

TEST_F(MeasuredPart, TheWrongTargetIsNamed) {
  const Outcome text = sight(nests() + faces(3, 8));
  EXPECT_THAT(
      on_one_line(text.out),
      AllOf(HasSubstr("Readings 7 to 12 fit with 6.350 mm instead of 19.050 mm: ball-38 was "
                      "called out, ball-13 was used"),
            HasSubstr("do not fit"), HasSubstr("The rest then fits")));
  const json object = measured(nests() + faces(3, 8));
  ASSERT_EQ(object["part"]["findings"].size(), 1u);
  const json finding = object["part"]["findings"][0];
  EXPECT_EQ(finding["kind"], "wrong-target");
  EXPECT_EQ(finding["readings"], json::parse("[7, 8, 9, 10, 11, 12]"));
  EXPECT_EQ(finding["told"], "ball-38");
  EXPECT_EQ(finding["used"], "ball-13");
  EXPECT_NEAR(finding["off"].get<double>(), -12.7, 0.01);
  EXPECT_NEAR(object["part"]["corrected"]["pose"]["translate"][1].get<double>(), -3000, 1e-4);
}

TEST_F(MeasuredPart, ABlunderIsNamed) {
  std::string lines = nests() + faces();
  lines += line("bore", "", "ball-13", 300 + 80 - 6.35 - 0.5, 400, 350) +
           line("bore", "", "ball-13", 300, 400 + 80 - 6.35, 350);
  const Outcome text = sight(lines);
  EXPECT_THAT(on_one_line(text.out), AllOf(HasSubstr("Reading 16 (bore) is off by 0.5"),
                                           HasSubstr("It shifts the measuring centre by")));
}

TEST_F(MeasuredPart, NestsReadAgainTellWhatMoved) {
  EXPECT_THAT(on_one_line(sight(nests() + faces() + nests("end")).out), HasSubstr("nothing moved"));
  EXPECT_THAT(on_one_line(sight(nests() + faces() + nests("end", 0.8)).out),
              HasSubstr("N1 moved by 0.800 mm"));
  // The same of a list of nests alone.
  const json object = measured(nests() + nests("end", 0.8));
  EXPECT_EQ(object["movement"]["moved"], "nest");
  EXPECT_EQ(object["movement"]["nest"], "N1");
  EXPECT_NEAR(object["movement"]["nests"][0]["shift"][2].get<double>(), 0.8, 1e-6);
  EXPECT_FALSE(object.contains("part"));
  EXPECT_EQ(object["residuals"].size(), 4u);
}

TEST_F(MeasuredPart, WhyTellsTheSameSetUp) {
  const Outcome outcome = run(
      {"why", path("scene.json"), "--measured", put_list(faces()), "--feature", "top", "--json"});
  const json why = json::parse(outcome.out);
  EXPECT_NEAR(why["at"][1].get<double>(), -3000, 1e-6);
  EXPECT_EQ(why["measured"]["part"]["readings"].size(), 11u);
}

TEST_F(MeasuredPart, WrongListsAreTold) {
  const auto told = [&](const std::string& lines) {
    return said({"sight", path("scene.json"), "--measured", put_list(lines)});
  };
  // What is left free is named.
  EXPECT_THAT(told(faces().substr(0, faces().find("front"))),
              AllOf(HasSubstr("list.csv"), HasSubstr("5 readings"), HasSubstr("free to"),
                    HasSubstr("shift along x"), HasSubstr("turn about z")));
  EXPECT_THAT(told(line("top", "6", "ball-38", 0, 0, 400)),
              HasSubstr("list.csv:2: got 6, expected a touch of \"top\", 1 to 5 by \"ball-38\""));
  EXPECT_THAT(told(line("top", "0", "ball-38", 0, 0, 400)),
              HasSubstr("the number of a touch, a whole number from 1"));
  EXPECT_THAT(told(line("top", "", "", 0, 0, 400)),
              HasSubstr("list.csv:2: missing, expected the target that the software was told"));
  EXPECT_THAT(told(line("top", "", "ball-14", 0, 0, 400)),
              AllOf(HasSubstr("the name of a target"), HasSubstr("nearest: \"ball-13\"")));
  EXPECT_THAT(told(line("tap", "", "ball-38", 0, 0, 400)),
              AllOf(HasSubstr("the name of a nest or a feature"), HasSubstr("nearest: \"top\"")));
  EXPECT_THAT(told(line("top", "", "ball-38", 0, 0, 400, "end")),
              HasSubstr("only nests are read again at the end"));
  EXPECT_THAT(told(nests() + nests()), HasSubstr("line 2 has this one already"));
  EXPECT_THAT(told(faces() + line("N1", "", "", -2000, -1000, 1300, "end")),
              HasSubstr("at the end a nest that was read at the start too"));
}

TEST_F(MeasuredPart, ANameThatANestAndAFeatureHaveIsRefused) {
  json both = scene();
  both["nests"][0]["name"] = "top";
  put("scene.json", both.dump());
  EXPECT_THAT(said({"sight", path("scene.json"), "--measured",
                    put_list(line("top", "1", "ball-38", 50, 50, 419.05))}),
              HasSubstr("the scene has both"));
}

}  // namespace
}  // namespace standpoint
