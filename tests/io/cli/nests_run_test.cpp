// The commands that choose nests and rehearse plans, run whole on scenes/nests.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <limits>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>
#include <nlohmann/json.hpp>

#include "source_dir.h"
#include "tests/io/cli/whole_program.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

class NestsRun : public WholeProgram {
 protected:
  void SetUp() override {
    fs::copy_file(source() / "frame.stl", folder_ / "frame.stl");
    put("scene.json", scene());
  }

  static fs::path source() { return source_dir() / "scenes" / "nests"; }
  static json scene() { return json::parse(std::ifstream(source() / "scene.json")); }
  void put(const std::string& name, const json& object) const {
    WholeProgram::put(name, object.dump());
  }
  [[nodiscard]] json nests() const {
    return json::parse(run({"nests", path("scene.json"), "-o", path("out"), "--json"}).out);
  }
};

/// The ten sites: seven that are listed, three that are generated. The surface's grid has lines at
/// x = -1900, 0, 1900 and y = -700; they meet the top of the frame at z = 800, the ball stands a
/// radius of 19.05 above.
json all_sites(const json& scene) {
  json sites = scene["nest_sites"];
  for (const double x : {-1900, 0, 1900})
    sites.push_back({{"name", "top" + std::to_string(sites.size())},
                     {"at", {x, -700, 800 + 19.05}},
                     {"normal", {0, 0, 1}},
                     {"seat", 45}});
  return sites;
}

TEST_F(NestsRun, WritesTheContractsObject) {
  const Outcome outcome = run({"nests", path("scene.json"), "-o", path("out"), "--json"});
  ASSERT_EQ(outcome.exit, Exit::done) << outcome.err;
  EXPECT_EQ(outcome.out, got("out/nests.json"));
  const json object = json::parse(outcome.out);
  EXPECT_EQ(object["format"], "standpoint-nests");
  EXPECT_EQ(object["version"], 1);
  EXPECT_EQ(object["optimality"]["status"], "optimal");
  EXPECT_EQ(object["optimality"]["nests"], object["nests"].size());
  EXPECT_EQ(object["optimality"]["lower_bound"], 3) << "two stations need three nests";
  EXPECT_EQ(object["sites_offered"], 10);
  EXPECT_TRUE(object["max_expanded"]["is_met"]);
  const json& plan = object["plan"];
  EXPECT_EQ(plan["format"], "standpoint-plan");
  EXPECT_EQ(plan["stations"].size(), 2u);
  ASSERT_EQ(plan["links"].size(), 1u);
  EXPECT_EQ(plan["links"][0]["nests"], object["nests"]);
  double worst = 0;
  for (const json& feature : plan["features"])
    worst = std::max(worst, feature["uncertainty"]["expanded"].get<double>());
  EXPECT_DOUBLE_EQ(object["worst_expanded"], worst);
}

TEST_F(NestsRun, NoThreeOfTheTenSitesMakeABetterPlan) {
  const json found = nests();
  json nested = scene();
  const json sites = all_sites(nested);
  ASSERT_EQ(sites.size(), 10u);
  nested.erase("nest_sites");
  nested.erase("nest_surfaces");
  nested["rules"].erase("max_expanded");
  double best = std::numeric_limits<double>::infinity();
  int tied = 0;
  for (std::size_t a = 0; a < 10; ++a) {
    for (std::size_t b = a + 1; b < 10; ++b) {
      for (std::size_t c = b + 1; c < 10; ++c) {
        nested["nests"] = {sites[a], sites[b], sites[c]};
        put("nested.json", nested);
        const json plan =
            json::parse(run({"plan", path("nested.json"), "-o", path("plan"), "--json"}).out);
        if (plan["links"].empty()) continue;
        ++tied;
        double worst = 0;
        for (const json& feature : plan["features"])
          worst = std::max(worst, feature["uncertainty"]["expanded"].get<double>());
        best = std::min(best, worst);
      }
    }
  }
  EXPECT_GT(tied, 20) << "the comparison is worth something";
  EXPECT_NEAR(found["worst_expanded"].get<double>(), best, 1e-12);
}

TEST_F(NestsRun, NestsThatAreThereStayAndCount) {
  json with = scene();
  with["nests"] = {with["nest_sites"][0]};
  with["nest_sites"].erase(0);
  put("scene.json", with);
  const json object = nests();
  EXPECT_EQ(object["nests"][0], "post-1");
  EXPECT_EQ(object["nests"].size(), 3u);
  EXPECT_EQ(object["sites"].size(), 2u);
  EXPECT_EQ(object["optimality"]["nests"], 3);
}

TEST_F(NestsRun, ABoundThatNothingMeetsIsToldAndEndsWithOne) {
  json hard = scene();
  hard["rules"]["max_expanded"] = 0.01;
  put("scene.json", hard);
  const Outcome outcome = run({"nests", path("scene.json"), "-o", path("out"), "--json"});
  EXPECT_EQ(outcome.exit, Exit::blocked);
  const json object = json::parse(outcome.out);
  EXPECT_FALSE(object["max_expanded"]["is_met"]);
  EXPECT_GT(object["max_expanded"]["least_possible"], 0.01);
  EXPECT_EQ(object["optimality"]["status"], "feasible");
  EXPECT_THAT(object["optimality"]["bounded"].dump(), HasSubstr("proven"));
}

TEST_F(NestsRun, WithoutSitesTheInputIsWrong) {
  json bare = scene();
  bare.erase("nest_sites");
  bare.erase("nest_surfaces");
  put("scene.json", bare);
  const Outcome outcome = run({"nests", path("scene.json"), "-o", path("out")});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  EXPECT_THAT(outcome.err, HasSubstr("nest_sites"));
  EXPECT_FALSE(fs::exists(folder_ / "out"));
}

TEST_F(NestsRun, SameBytesWithAnyNumberOfThreads) {
  (void)run({"nests", path("scene.json"), "-o", path("a"), "--threads", "1", "--quiet"});
  (void)run({"nests", path("scene.json"), "-o", path("b"), "--threads", "4", "--quiet"});
  EXPECT_FALSE(got("a/nests.json").empty());
  EXPECT_EQ(got("a/nests.json"), got("b/nests.json"));
}

TEST_F(NestsRun, TellsPeopleWhatThePlanHangsOn) {
  const Outcome outcome = run({"nests", path("scene.json"), "-o", path("out"), "--details"});
  for (const char* part :
       {"3 sites of 10 chosen", "Worst contributors", "knocked off", "two nests only", "would help",
        "rules of practice", "acceptance limits"})
    EXPECT_THAT(outcome.out, HasSubstr(part));
}

TEST_F(NestsRun, WithoutDetailsItPrintsTheSitesAndTheStationsInFewLines) {
  const Outcome outcome = run({"nests", path("scene.json"), "-o", path("out")});
  for (const char* part :
       {"3 sites of 10 chosen", "Nest sites", "Stations: ", "--details", "Written to"})
    EXPECT_THAT(outcome.out, HasSubstr(part));
  EXPECT_THAT(outcome.out, testing::Not(HasSubstr("knocked off")));
  EXPECT_LE(std::count(outcome.out.begin(), outcome.out.end(), '\n'), 42);
}

TEST_F(NestsRun, RehearsesThePlanOfNests) {
  (void)nests();
  const std::vector<std::string> order{"rehearse", path("scene.json"),
                                       "--plan",   path("out/nests.json"),
                                       "--trials", "500",
                                       "--seed",   "3",
                                       "--json",   "--threads"};
  const auto with = [&](const char* threads) {
    std::vector<std::string> all = order;
    all.emplace_back(threads);
    return run(all);
  };
  const Outcome one = with("1");
  ASSERT_EQ(one.exit, Exit::done) << one.err;
  EXPECT_EQ(one.out, with("4").out);
  const json object = json::parse(one.out);
  EXPECT_EQ(object["format"], "standpoint-rehearsal");
  EXPECT_EQ(object["trials"], 500);
  EXPECT_EQ(object["features"].size(), 6u);
  EXPECT_EQ(object["freedoms"], 3) << "18 seen, 12 of poses, 9 of nests, 6 of the datum";
  EXPECT_EQ(object["blunders"].size(), 2 + 3u) << "a swap a station, a move a nest";
  const json planned = json::parse(got("out/nests.json"))["plan"]["features"];
  for (std::size_t f = 0; f < planned.size(); ++f)
    EXPECT_NEAR(object["features"][f]["predicted"].get<double>(),
                planned[f]["uncertainty"]["expanded"].get<double>() / 2, 1e-12)
        << "read back from the file it is the same plan";
}

TEST_F(NestsRun, APlanFileWithFaultsTellsThemAllAtOnce) {
  (void)nests();
  json broken = json::parse(got("out/nests.json"))["plan"];
  broken["units"] = "m";
  broken["stations"][0].erase("at");
  broken["features"][1]["station"] = "nowhere";
  broken["features"][2]["name"] = "no such feature";
  broken["features"][3]["name"] = broken["features"][4]["name"];
  put("broken.json", broken);
  const Outcome outcome =
      run({"rehearse", path("scene.json"), "--plan", path("broken.json"), "--json"});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  for (const char* where :
       {"/units", "/stations/0/at", "/features/1/station", "/features/2/name", "/features/4/name"})
    EXPECT_THAT(outcome.out, HasSubstr(where));
  put("broken.json", "not a plan");
  EXPECT_EQ(run({"rehearse", path("scene.json"), "--plan", path("broken.json")}).exit,
            Exit::wrong_input);
  EXPECT_EQ(run({"rehearse", path("scene.json"), "--plan", path("none.json")}).exit,
            Exit::wrong_input);
}

TEST_F(NestsRun, APlanOfAnotherSceneIsNotRehearsed) {
  (void)nests();
  json other = json::parse(got("out/nests.json"));
  std::swap(other["plan"]["features"][0]["station"], other["plan"]["features"][3]["station"]);
  put("other.json", other);
  const Outcome outcome = run({"rehearse", path("scene.json"), "--plan", path("other.json")});
  EXPECT_EQ(outcome.exit, Exit::wrong_input);
  EXPECT_THAT(outcome.err, testing::AllOf(HasSubstr("south-west"), HasSubstr("north-west"),
                                          HasSubstr("does not reach")));
}

}  // namespace
}  // namespace standpoint
