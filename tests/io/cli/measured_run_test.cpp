// sight and why from where the instrument really stands, the whole program on a small scene.

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>
#include <nlohmann/json.hpp>

#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

struct Reading {
  std::string name;
  double x, y, z;
};

/// Paragraphs on one line again.
std::string unbroken(std::string text) {
  for (std::size_t at = 0; (at = text.find("\n  ", at)) != std::string::npos;)
    text.replace(at, 3, " ");
  return text;
}

class Measured : public WholeProgram {
 protected:
  void SetUp() override {
    // One triangle each is enough to stand in a beam: a table's top, and a blade beside the beam
    // from the door to the pad.
    put("table.stl", triangle(-500, 0, 800, 1500, 0, 800, 500, 1500, 800));
    put("blade.stl", triangle(590, -1375, 0, 610, -1375, 0, 600, -1375, 9000));
    put("scene.json", scene().dump());
  }

  static std::string triangle(double ax, double ay, double az, double bx, double by, double bz,
                              double cx, double cy, double cz) {
    std::ostringstream stl;
    stl << "solid t\nfacet normal 0 0 0\nouter loop\n"
        << "vertex " << ax << ' ' << ay << ' ' << az << "\nvertex " << bx << ' ' << by << ' ' << bz
        << "\nvertex " << cx << ' ' << cy << ' ' << cz << "\nendloop\nendfacet\nendsolid t\n";
    return stl.str();
  }

  static json scene() {
    return json::parse(R"({
      "format": "standpoint-scene", "version": 1, "name": "one table", "units": "mm",
      "bodies": [{"name": "table", "role": "part", "mesh": "table.stl", "mesh_units": "mm"},
                 {"name": "blade", "role": "fixture", "mesh": "blade.stl", "mesh_units": "mm"}],
      "instrument": {
        "name": "invented", "beam": {"diameter": 6, "growth_mrad": 0.2}, "range": [400, 40000],
        "elevation": [-60, 75], "body": {"radius": 160, "above": 180, "below": 320},
        "error": {"coverage_factor": 2, "transverse": {"fixed": 0.014, "per_metre": 0.0075},
                  "radial": {"fixed": 0.012, "per_metre": 0.0009}}},
      "full_targets": [{"name": "ball-38", "diameter": 38.1, "acceptance": 30, "aperture": 30}],
      "features": [{"name": "pad", "type": "point", "at": [500, 250, 800], "normal": [0, 0, 1]}],
      "nests": [
        {"name": "N1", "at": [-2000, -1000, 1300], "normal": [0, 0, 1], "seat": 30},
        {"name": "N2", "at": [3000, -1500, 1200], "normal": [0, 0, 1], "seat": 30},
        {"name": "N3", "at": [2500, 2500, 1500], "normal": [0, 0, 1], "seat": 30},
        {"name": "N4", "at": [-1500, 2500, 1600], "normal": [0, 0, 1], "seat": 30},
        {"name": "N5", "at": [500, 1500, 2600], "normal": [0, 0, 1], "seat": 30}],
      "stations": {"fixed": [{"name": "door", "at": [500, -3000, 2500]}]}
    })");
  }

  /// The nests as read from (700, -3000, 2500), the instrument's x axis 30 degrees off the scene's.
  static std::vector<Reading> readings() {
    const double c = std::cos(std::numbers::pi / 6), s = std::sin(std::numbers::pi / 6);
    std::vector<Reading> all;
    const json whole = scene();
    for (const json& nest : whole["nests"]) {
      const double x = nest["at"][0].get<double>() - 700, y = nest["at"][1].get<double>() + 3000;
      all.push_back(
          {nest["name"], c * x + s * y, c * y - s * x, nest["at"][2].get<double>() - 2500});
    }
    return all;
  }

  std::string put_readings(const std::vector<Reading>& all, double scale = 1) const {
    std::ostringstream csv;
    csv.precision(12);
    csv << "name,x,y,z\n";
    for (const Reading& one : all)
      csv << one.name << ',' << one.x * scale << ',' << one.y * scale << ',' << one.z * scale
          << '\n';
    put("nests.csv", csv.str());
    return path("nests.csv");
  }
};

TEST_F(Measured, SightLooksFromWhereTheInstrumentStands) {
  const std::string csv = put_readings(readings());
  // From the door the pad is seen; from the real place the blade stands in the beam.
  EXPECT_EQ(run({"sight", path("scene.json"), "--station", "door"}).exit, Exit::done);
  const Outcome object =
      run({"sight", path("scene.json"), "--measured", csv, "--station", "door", "--json"});
  EXPECT_EQ(object.exit, Exit::blocked) << object.err;
  const json sight = json::parse(object.out);
  EXPECT_NEAR(sight["at"][0].get<double>(), 700, 1e-6);
  EXPECT_NEAR(sight["at"][1].get<double>(), -3000, 1e-6);
  EXPECT_NEAR(sight["at"][2].get<double>(), 2500, 1e-6);
  EXPECT_EQ(sight["features"][0]["verdict"], "blocked");
  const json measured = sight["measured"];
  EXPECT_NEAR(measured["pose"]["rotation"][0][0].get<double>(), std::cos(std::numbers::pi / 6),
              1e-9);
  EXPECT_NEAR(measured["pose"]["rotation"][1][0].get<double>(), 0.5, 1e-9);
  EXPECT_NEAR(measured["tilt"].get<double>(), 0, 1e-6);
  EXPECT_EQ(measured["residuals"].size(), 5u);
  EXPECT_EQ(measured["test"]["freedoms"], 9);
  EXPECT_EQ(measured["test"]["fits"], true);
  EXPECT_TRUE(measured["suspect"].is_null());
  EXPECT_EQ(measured["pose_uncertainty"].size(), 6u);
  EXPECT_NEAR(measured["planned"]["distance"].get<double>(), 200, 1e-6);
  EXPECT_EQ(measured["planned"]["lost"], json::parse(R"([{"feature": "pad"}])"));
  EXPECT_EQ(measured["planned"]["gained"], json::array());

  const Outcome text =
      run({"sight", path("scene.json"), "--measured", csv, "--at", "500,-3000,2500"});
  EXPECT_THAT(
      unbroken(text.out),
      testing::AllOf(HasSubstr("the instrument stands at (700.000, -3000.000, 2500.000)"),
                     HasSubstr("200.0 mm from the planned place"), HasSubstr("pad is lost")));
}

TEST_F(Measured, SightWithoutItSaysNothingOfIt) {
  const Outcome plain = run({"sight", path("scene.json"), "--station", "door", "--json"});
  EXPECT_FALSE(json::parse(plain.out).contains("measured"));
}

TEST_F(Measured, WhyTellsTheSameSetUp) {
  const std::string csv = put_readings(readings());
  const Outcome object = run({"why", path("scene.json"), "--measured", csv, "--feature", "pad",
                              "--station", "door", "--json"});
  EXPECT_EQ(object.exit, Exit::blocked) << object.err;
  const json why = json::parse(object.out);
  EXPECT_NEAR(why["at"][0].get<double>(), 700, 1e-6);
  EXPECT_EQ(why["measured"]["planned"]["lost"], json::parse(R"([{"feature": "pad"}])"));
}

TEST_F(Measured, ANestThatMovedByTwoTenthsIsNamed) {
  auto moved = readings();
  moved[2].y += 0.2;
  const Outcome text = run({"sight", path("scene.json"), "--measured", put_readings(moved)});
  EXPECT_THAT(unbroken(text.out),
              testing::AllOf(HasSubstr("do not fit"), HasSubstr("Suspect is N3")));
  const json object = json::parse(
      run({"sight", path("scene.json"), "--measured", path("nests.csv"), "--json"}).out);
  EXPECT_EQ(object["measured"]["suspect"]["nest"], "N3");
}

TEST_F(Measured, WrongListsAreTold) {
  const auto told = [&](const std::vector<Reading>& all, double scale = 1) {
    const Outcome outcome =
        run({"sight", path("scene.json"), "--measured", put_readings(all, scale)});
    EXPECT_EQ(outcome.exit, Exit::wrong_input);
    EXPECT_EQ(outcome.out, "");
    return outcome.err;
  };
  auto all = readings();
  EXPECT_THAT(told({all[0], all[1]}),
              testing::AllOf(HasSubstr("nests.csv"), HasSubstr("three nests")));
  EXPECT_THAT(told(all, 1 / 25.4), HasSubstr("in in"));
  EXPECT_THAT(told(all, 1e-3), HasSubstr("in m"));
  auto swapped = all;
  std::swap(swapped[1].name, swapped[3].name);
  EXPECT_THAT(told(swapped),
              testing::AllOf(HasSubstr("nests.csv:3,5"), HasSubstr("\"N4\" and \"N2\""),
                             HasSubstr("exchange their names")));
  auto mirrored = all;
  for (Reading& one : mirrored) one.x = -one.x;
  EXPECT_THAT(told(mirrored), HasSubstr("right-handed"));
  // Everything at once: an unknown fixed place too.
  put("bad.csv", "name,x,y,z\nN7,1,2,3\n");
  const Outcome both =
      run({"sight", path("scene.json"), "--measured", path("bad.csv"), "--station", "gate"});
  EXPECT_THAT(both.err, testing::AllOf(HasSubstr("gate"), HasSubstr("bad.csv:2")));
}

TEST_F(Measured, ALeaningInstrumentIsTold) {
  auto leaning = readings();
  const double c = std::cos(0.04), s = std::sin(0.04);  // 2.3 degrees
  for (Reading& one : leaning) {
    const double x = one.x, z = one.z;
    one.x = c * x + s * z;
    one.z = c * z - s * x;
  }
  const Outcome text = run({"sight", path("scene.json"), "--measured", put_readings(leaning)});
  EXPECT_THAT(unbroken(text.out), HasSubstr("leans by 2.3 degrees"));
}

TEST_F(Measured, WithoutAStatedErrorNothingIsTested) {
  json plain = scene();
  plain["instrument"].erase("error");
  put("plain.json", plain.dump());
  const Outcome text = run({"sight", path("plain.json"), "--measured", put_readings(readings())});
  EXPECT_THAT(unbroken(text.out), HasSubstr("nothing is tested"));
  const json object = json::parse(
      run({"sight", path("plain.json"), "--measured", path("nests.csv"), "--json"}).out);
  EXPECT_TRUE(object["measured"]["pose_uncertainty"].is_null());
  EXPECT_TRUE(object["measured"]["test"].is_null());
}

}  // namespace
}  // namespace standpoint
