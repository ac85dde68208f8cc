#include "io/cli/command_line.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace standpoint {
namespace {

using testing::HasSubstr;

Request request(const std::vector<std::string>& arguments) {
  const auto read = read_command_line(arguments);
  const auto* result = std::get_if<Request>(&read);
  EXPECT_NE(result, nullptr);
  return result != nullptr ? *result : Request{};
}

Faults faults(const std::vector<std::string>& arguments) {
  const auto read = read_command_line(arguments);
  const auto* usage = std::get_if<UsageFaults>(&read);
  EXPECT_NE(usage, nullptr);
  return usage != nullptr ? usage->faults : Faults{};
}

std::string quoted(const std::string& text) {
  return '"' + text + '"';
}

std::string answer(const std::vector<std::string>& arguments) {
  const auto read = read_command_line(arguments);
  const auto* text = std::get_if<Answer>(&read);
  EXPECT_NE(text, nullptr);
  return text != nullptr ? text->text : "";
}

TEST(CommandLine, ReadsEveryCommand) {
  EXPECT_EQ(request({"check", "hall.json"}).command, Command::check);
  const Request plan = request({"plan", "hall.json", "-o", "out", "--threads", "3", "--time-limit",
                                "2.5", "--quiet", "--json"});
  EXPECT_EQ(plan.command, Command::plan);
  EXPECT_EQ(plan.scene, "hall.json");
  EXPECT_EQ(plan.folder, "out");
  EXPECT_EQ(plan.threads, 3);
  EXPECT_EQ(plan.time_limit_s, 2.5);
  EXPECT_TRUE(plan.quiet && plan.json);
  EXPECT_FALSE(plan.details);
  EXPECT_TRUE(request({"plan", "hall.json", "-o", "out", "--details"}).details);
  EXPECT_TRUE(request({"nests", "hall.json", "-o", "out", "--details"}).details);
  EXPECT_EQ(request({"sight", "hall.json", "--station", "door"}).station, "door");
  const Request compare = request({"compare", "a.json", "--details", "b.json"});
  EXPECT_EQ(compare.command, Command::compare);
  EXPECT_EQ(compare.files, (std::vector<std::filesystem::path>{"a.json", "b.json"}));
  EXPECT_TRUE(compare.details);
}

TEST(CommandLine, ReadsPlacesWithMinusSignsAndExponents) {
  const auto at = [](const std::string& text) {
    return request({"sight", "s.json", "--at", text}).at.value_or(Vec3(7, 7, 7));
  };
  EXPECT_EQ(at("1200,-3000,1400"), Vec3(1200, -3000, 1400));
  EXPECT_EQ(at("-1,+2.5,-3e2"), Vec3(-1, 2.5, -300));
  EXPECT_EQ(at("-.5,0,0"), Vec3(-0.5, 0, 0));
  EXPECT_EQ(at("1, 2, 3"), Vec3(1, 2, 3));
  EXPECT_EQ(request({"sight", "s.json", "--at=-1,2,3"}).at, Vec3(-1, 2, 3));
}

TEST(CommandLine, NamesTheValueAndWhatIsAllowed) {
  for (const char* place : {"1,2", "1,2,3,4", "1,2,x", "1,2,nan", "1,2,inf", "", "1,,3", "1 2 3"}) {
    const Faults found = faults({"sight", "s.json", "--at", place});
    ASSERT_EQ(found.size(), 1u) << place;
    EXPECT_EQ(found[0].where, "--at");
    EXPECT_EQ(found[0].value, quoted(place));
    EXPECT_THAT(found[0].allowed, HasSubstr("X,Y,Z"));
  }
  for (const char* threads : {"0", "-1", "1.5", "many", "99999999999", "1025"}) {
    const Faults found = faults({"check", "s.json", "--threads", threads});
    ASSERT_EQ(found.size(), 1u) << threads;
    EXPECT_EQ(found[0].where, "--threads");
    EXPECT_EQ(found[0].value, quoted(threads));
    EXPECT_THAT(found[0].allowed, HasSubstr("1 to 1024"));
  }
  for (const char* limit : {"0", "-3", "soon", "inf"}) {
    const Faults found = faults({"plan", "s.json", "-o", "out", "--time-limit", limit});
    ASSERT_EQ(found.size(), 1u) << limit;
    EXPECT_EQ(found[0].value, quoted(limit));
  }
}

TEST(CommandLine, ReportsAllFaultsAtOnce) {
  const Faults found = faults({"plan", "--threads", "0", "--time-limit", "no"});
  ASSERT_EQ(found.size(), 4u);  // no scene, no folder, two values
}

TEST(CommandLine, KnowsItsCommands) {
  const Faults unknown = faults({"plam", "s.json"});
  ASSERT_EQ(unknown.size(), 1u);
  EXPECT_EQ(unknown[0].value, "\"plam\"");
  EXPECT_EQ(unknown[0].nearest, "plan");
  EXPECT_THAT(unknown[0].allowed,
              HasSubstr("check, plan, nests, rehearse, sight, why, compare, features, start"));
  EXPECT_EQ(faults({}).size(), 1u);
}

TEST(CommandLine, NamesAnUnknownOptionAndTheKnownOnes) {
  const Faults found = faults({"plan", "s.json", "-o", "out", "--thread", "3"});
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].value, "\"--thread\"");
  EXPECT_EQ(found[0].nearest, "--threads");
  EXPECT_THAT(found[0].allowed, testing::AllOf(HasSubstr("--threads"), HasSubstr("--time-limit")));
  // --at belongs to sight alone.
  EXPECT_EQ(faults({"check", "s.json", "--at", "1,2,3"}).size(), 1u);
  // A value is missing.
  EXPECT_THAT(faults({"plan", "s.json", "-o"})[0].allowed, HasSubstr("output"));
}

TEST(CommandLine, SightNeedsExactlyOnePlace) {
  EXPECT_EQ(faults({"sight", "s.json"}).size(), 1u);
  EXPECT_THAT(faults({"sight", "s.json", "--at", "1,2,3", "--station", "door"})[0].allowed,
              HasSubstr("not both"));
}

TEST(CommandLine, MeasuredNestsArePlaceEnoughAndMayBeComparedWithAPlannedOne) {
  EXPECT_EQ(request({"sight", "s.json", "--measured", "n.csv"}).measured, "n.csv");
  const Request compared =
      request({"why", "s.json", "--feature", "pad", "--measured", "n.csv", "--station", "door"});
  EXPECT_EQ(compared.measured, "n.csv");
  EXPECT_EQ(compared.station, "door");
  EXPECT_EQ(faults({"sight", "s.json", "--measured", ""}).size(), 1u);
  EXPECT_EQ(
      faults({"sight", "s.json", "--measured", "n.csv", "--at", "1,2,3", "--station", "d"}).size(),
      1u);
  EXPECT_EQ(faults({"plan", "s.json", "-o", "out", "--measured", "n.csv"}).size(), 1u);
  EXPECT_EQ(faults({"sight", "s.json", "--at", "1,2,3", "--details"}).size(), 1u);
}

TEST(CommandLine, RemembersThatFaultsAreWantedAsJson) {
  const auto read = read_command_line({"check", "--json", "--nonsense"});
  EXPECT_TRUE(std::get<UsageFaults>(read).wants_json);
}

TEST(CommandLine, HelpTeachesTheCommands) {
  const std::string help = answer({"--help"});
  for (const char* word : {"check", "plan", "sight", "Exit status", "standpoint plan"})
    EXPECT_THAT(help, HasSubstr(word));
  const std::string plan = answer({"plan", "--help"});
  for (const char* word : {"SCENE", "-o", "DIR", "--time-limit", "--threads", "--json", "Example"})
    EXPECT_THAT(plan, HasSubstr(word));
  EXPECT_THAT(answer({"--version"}), testing::MatchesRegex("standpoint [0-9.]+\n"));
}

}  // namespace
}  // namespace standpoint
