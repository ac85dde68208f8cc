// `compare` as a user runs it: what it prints, what it refuses, and with which exit code.

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/io/cli/whole_program.h"
#include "tests/io/use/plan_file.h"

namespace standpoint {
namespace {

using plan_file::feature;
using plan_file::Json;
using testing::HasSubstr;
using testing::Not;

class CompareRun : public WholeProgram {
 protected:
  void SetUp() override { put("before.json", plan_file::plan().dump()); }

  [[nodiscard]] Outcome compared(const Json& after, std::vector<std::string> more = {}) const {
    put("after.json", after.dump());
    std::vector<std::string> arguments{"compare", path("before.json"), path("after.json")};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run(arguments);
  }

  /// A fixture has moved: everything that can change does.
  static Json changed_plan() {
    Json after = plan_file::plan();
    after["stations"][0]["at"] = {300, -3600, 1500};
    after["stations"][1]["name"] = "S4";
    after["stations"][2] = plan_file::station("S3", {-7000, 5000, 1100});
    after["features"] = {feature("pad-1", nullptr), feature("pad-2", "S4", 3.2),
                         feature("pad-3", "S4", 12, 0.055), feature("pad-4", "S3"),
                         feature("keel", "S1")};
    after["features"][1]["target"] = "mirror-6";
    after["features"][1]["verdict"] = "offset-stylus";
    after["features"][2]["also_from"] = {"S1"};
    after["links"] = {plan_file::link("S1", "S4", {"N1", "N2", "N5"})};
    return after;
  }
};

TEST_F(CompareRun, NothingChanged) {
  const Outcome same = compared(plan_file::plan());
  EXPECT_EQ(same.exit, Exit::done) << same.err;
  for (const char* words : {"the same features", "the same targets", "all where they stood",
                            "the same stations", "none changed by 0.1 mm or more",
                            "none changed by 0.001 mm or more", "required but blocked now: keel"})
    EXPECT_THAT(same.out, HasSubstr(words));
  EXPECT_THAT(same.out, Not(HasSubstr("not all stations")));
}

TEST_F(CompareRun, TwoPagesOfChangeAreTenLines) {
  const Outcome text = compared(changed_plan());
  EXPECT_EQ(text.exit, Exit::done) << text.err;
  EXPECT_EQ(std::count(text.out.begin(), text.out.end(), '\n'), 10) << text.out;
  for (const char* words :
       {"gained keel; lost pad-1", "required but blocked now: pad-1", "now by stylus: pad-2",
        "S1 moved 500 mm, S2 is now called S4, S3 removed and S3 added", "1 from S1 to S4",
        "most: pad-2, 12.0 to 3.2", "most: pad-3, 0.040 to 0.055", "lost S2 to S3",
        "other nests for S1 to S4", "not all stations are tied now"})
    EXPECT_THAT(text.out, HasSubstr(words));
  const Outcome details = compared(changed_plan(), {"--details"});
  EXPECT_EQ(details.out.substr(0, text.out.size()), text.out);
  for (const char* words :
       {"pad-2    S1 to S4  ball-38 to mirror-6  12.0 to 3.2", "S2 to S4", "0, -4000, 1500",
        "300, -3600, 1500", "N2, N3, N4", "Gained\n  - keel", "Lost\n  - pad-1"})
    EXPECT_THAT(details.out, HasSubstr(words));
  EXPECT_EQ(compared(changed_plan(), {"--quiet"}).out, "");
}

TEST_F(CompareRun, JsonHasTheFieldsOfTheContract) {
  const Outcome text = compared(changed_plan(), {"--json"});
  ASSERT_EQ(text.exit, Exit::done) << text.err;
  const Json object = Json::parse(text.out);
  EXPECT_EQ(object["format"], "standpoint-comparison");
  EXPECT_EQ(object["version"], 1);
  EXPECT_EQ(object["gained"], Json({"keel"}));
  EXPECT_EQ(object["lost"], Json({"pad-1"}));
  ASSERT_EQ(object["changed"].size(), 3u) << object["changed"];
  const Json& pad = object["changed"][0];
  EXPECT_EQ(pad["name"], "pad-2");
  EXPECT_EQ(pad["what"], Json({"verdict", "station", "target", "margin"}));
  EXPECT_EQ(pad["from"]["station"], "S1");
  EXPECT_EQ(pad["to"]["station"], "S4");
  EXPECT_EQ(pad["from"]["margin"], 12);
  EXPECT_EQ(pad["to"]["target"], "mirror-6");
  EXPECT_EQ(object["stations"]["kept"][0]["moved"], 500);
  EXPECT_EQ(object["stations"]["removed"][0]["at"], Json({0.0, 5000.0, 1100.0}));
  EXPECT_EQ(object["ties"]["tied"]["from"], true);
  EXPECT_EQ(object["ties"]["tied"]["to"], false);
}

TEST_F(CompareRun, PlansOfTwoScenesAreComparedByNameAndSaidToBe) {
  Json after = plan_file::plan();
  after["scene"] = "yard";
  after["units"] = "m";
  after["features"].push_back(feature("gate", "S1"));
  const Outcome text = compared(after);
  EXPECT_EQ(text.exit, Exit::done);
  EXPECT_THAT(text.out,
              HasSubstr("The plans are of two scenes, hall and yard. Features go by their names: 0 "
                        "only in the first, 1 only in the second."));
  EXPECT_THAT(text.out, HasSubstr("all lengths are told in m."));
  EXPECT_THAT(text.out, HasSubstr("gained gate (only in this plan)"));
}

TEST_F(CompareRun, PlansWithoutACommonFeatureAreNotCompared) {
  Json after = plan_file::plan();
  after["features"] = Json::array({feature("gate", "S1")});
  put("after.json", after.dump());
  EXPECT_EQ(said({"compare", path("before.json"), path("after.json")}),
            "after.json#/features: got no feature that before.json has, expected two plans with at "
            "least one feature of the same name\n");
}

TEST_F(CompareRun, EveryFaultOfBothPlansIsTold) {
  put("one.json", R"({"format": "standpoint-plan", "version": 1, "units": "yard",
    "stations": [{"name": "S1", "at": [1, 2]}, {"name": "S1", "at": [1, 2, 3]}],
    "features": [{"name": "pad-1", "verdict": "reached", "station": "S2", "margin": "wide"},
                 {"name": "pad-1", "verdict": "blocked", "uncertainty": {}}],
    "links": [{"stations": ["S1"], "nests": [4]}]})");
  put("two.json", R"({"format": "standpoint-sight", "version": 2})");
  const std::string faults = said({"compare", path("one.json"), path("two.json")});
  for (const char* words :
       {"one.json#/units: got \"yard\", expected one of \"mm\", ",
        "one.json#/stations/0/at: got [1, 2]",
        "one.json#/stations/1/name: got \"S1\", expected a name of its own; ",
        "one.json#/features/0/verdict: got \"reached\", expected one of \"full-target\", ",
        "one.json#/features/0/station: got \"S2\", expected the name of a station of the plan",
        "one.json#/features/0/margin: got \"wide\", expected a margin in scene units",
        "one.json#/features/1/name: got \"pad-1\", expected a name of its own; ",
        "one.json#/features/1/uncertainty/expanded: missing",
        "one.json#/links/0/stations: got [\"S1\"]", "one.json#/links/0/nests/0: got 4",
        "two.json#/format: got \"standpoint-sight\"", "two.json#/version: got 2"})
    EXPECT_THAT(faults, HasSubstr(words));
  EXPECT_EQ(std::count(faults.begin(), faults.end(), '\n'), 12) << faults;
  const Outcome object = run({"compare", path("one.json"), path("two.json"), "--json"});
  EXPECT_EQ(Json::parse(object.out)["faults"].size(), 12u);
}

TEST_F(CompareRun, TwoPlansAreAskedFor) {
  const std::string expected =
      "expected two plan files, as in: standpoint compare plan-before/plan.json "
      "plan-after/plan.json\n";
  EXPECT_EQ(said({"compare"}), "PLAN PLAN: missing, " + expected);
  EXPECT_EQ(said({"compare", "a.json"}), "PLAN PLAN: got 1 of them, " + expected);
  EXPECT_EQ(said({"compare", "a.json", "b.json", "c.json"}),
            "PLAN PLAN: got 3 of them, " + expected);
  EXPECT_EQ(said({"compare", path("befor.json"), path("before.json")}),
            "befor.json: missing, expected a plan.json or nests.json that can be read; nearest: "
            "\"before.json\"\n");
  EXPECT_THAT(said({"compare", "a.json", "b.json", "--detail"}),
              testing::AllOf(HasSubstr("compare: got \"--detail\", expected two plan files and "
                                       "these options: "),
                             HasSubstr("nearest: \"--details\"")));
}

}  // namespace
}  // namespace standpoint
