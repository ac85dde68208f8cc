// What `plan` prints without --details: few lines, and nothing left out that must be said.

#include "io/write/text/plan_summary.h"

#include <algorithm>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/words/summary_words.h"
#include "io/write/text/plan_text.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::string summary(const Scene& scene, const Plan& plan) {
  std::ostringstream out;
  print_plan_summary(scene, plan, find_cautions(scene, plan), kSummaryLines, out);
  return out.str();
}

std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

/// Its paragraphs without the ends of their lines.
std::string unbroken(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

/// A job that fills any terminal: 90 more pads of which every third is blocked, 25 more stations,
/// and warnings of every kind that can come together.
struct Crowd {
  Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  std::size_t blocked = 2;  // boss and spare

  Crowd() {
    const PlannedFeature pad = plan.features[0], boss = plan.features[2];
    const Unreached unreached = plan.unreached[0];
    for (int i = 0; i < 90; ++i) {
      const FeatureId id(scene.features.size()),
          like = i % 3 == 0 ? hand_made::kBoss : hand_made::kPad;
      scene.features.push_back(scene.features[like.index]);
      for (PlannedStation& station : plan.stations) {
        station.sight.features.push_back(station.sight.features[like.index]);
        station.sight.features.back().feature = id;
      }
      scene.features.back().name = "pad-" + std::to_string(100 + i);
      plan.features.push_back(i % 3 == 0 ? boss : pad);
      plan.features.back().feature = id;
      if (i % 3 == 0) {
        plan.unreached.push_back(unreached);
        plan.unreached.back().feature = id;
        plan.warnings.push_back({WarningKind::unreached, {id}, {}, {}, 1});
        ++blocked;
      } else {
        plan.warnings.push_back({WarningKind::ratio, {id}, {}, {}, 2 + 0.01 * i});
        plan.warnings.push_back({WarningKind::tight, {id}, {}, {}, 5});
      }
    }
    for (int s = 0; s < 25; ++s) {
      plan.stations.push_back(plan.stations[0]);
      plan.stations.back().name = "T" + std::to_string(s);
    }
    plan.warnings.push_back({WarningKind::fewer_than_asked, {hand_made::kPad}});
    plan.warnings.push_back({WarningKind::kept_collides, {}, {hand_made::kDoor}});
    plan.warnings.push_back({WarningKind::in_one_line,
                             {},
                             {hand_made::kS1, hand_made::kDoor},
                             {NestId(std::size_t{0}), NestId(std::size_t{1})},
                             404,
                             {NestId(std::size_t{0}), NestId(std::size_t{1})}});
    plan.warnings.push_back({WarningKind::kept_not_tied});
    plan.warnings.push_back({WarningKind::no_uncertainty, {}, {hand_made::kDoor}});
    plan.warnings.push_back({WarningKind::time_limit});
  }
};

TEST(PlanSummary, TellsCountsStationsWhatIsBlockedWarningsAndCautions) {
  const std::string text = summary(hand_made::scene(), hand_made::plan());
  EXPECT_LE(lines_of(text), 36u) << text;
  for (const char* part :
       {"bay 7: 2 of 3 required features reached", "at least 1 is needed", "240 places considered",
        "measuring centre (instrument centre)", "reference nests",
        "tied (connected through common nests)",
        "Least margin (beam clearance): 0.0032 m, at dowel-3",
        "Worst expanded uncertainty (U, k = 2): 0.000060 m, at dowel-3",
        "  - boss: reached from no candidate; ball-38: beam broken by column-a, face 3; mirror-6: "
        "out of range ",
        "  - spare: not required; reached from no station of the plan; ball-38: too steep",
        "  - 1 feature with a tight beam, margin below 0.0050 m: dowel-3 (0.0032) ",
        "Cautions: laser radiation", "local codes", "field check", "--details"})
    EXPECT_THAT(unbroken(text), HasSubstr(part));
  EXPECT_THAT(text, testing::ContainsRegex("S1 +0.500 +-2.500 +1.500 +south aisle +1 +3\n"));
}

TEST(PlanSummary, ManyFeaturesStationsAndWarningsStayWithinFortyLines) {
  const Crowd crowd;
  const std::string text = summary(crowd.scene, crowd.plan);
  EXPECT_LE(lines_of(text), kSummaryLines) << text;
  EXPECT_LE(kSummaryLines, 40u);
  for (const char* part :
       {"61 features with a tight beam",
        "60 features with a ratio (tolerance to uncertainty) below 4: "
        "pad-101 (2.0), pad-102 (2.0), pad-104 (2.0) and 57 more",
        "1 feature measured from fewer stations", "1 kept station where the instrument would cut",
        "1 case where the shared nests are in one line and so tie nothing: N1 and N2 at S1 and "
        "door",
        "to be kept cannot be tied", "No uncertainty is predicted", "time limit",
        "beam broken by column-a"})
    EXPECT_THAT(text, HasSubstr(part));
  // What is not shown is counted: stations and blocked features.
  const auto begun = [&](const std::string& start) {
    std::size_t count = 0;
    for (std::size_t at = text.find("\n" + start); at != std::string::npos;
         at = text.find("\n" + start, at + 1))
      ++count;
    return count;
  };
  const std::size_t stations = begun("  S1 ") + begun("  door ") + begun("  T");
  EXPECT_GE(stations, 2u);
  EXPECT_THAT(text, HasSubstr("... and " + std::to_string(27 - stations) + " more"));
  const std::size_t told = begun("  - boss: ") + begun("  - spare: ") + begun("  - pad-");
  EXPECT_GE(told, 2u);
  EXPECT_EQ(begun("  - spare: "), 0u) << "what is not required gives way to what is";
  EXPECT_THAT(text, HasSubstr("... and " + std::to_string(crowd.blocked - told) + " more"));
}

TEST(PlanSummary, DetailsHaveWhatTheSummaryLeavesOut) {
  const Crowd crowd;
  std::ostringstream out;
  print_plan(crowd.scene, crowd.plan, find_cautions(crowd.scene, crowd.plan), out);
  for (const Feature& feature : crowd.scene.features)
    EXPECT_THAT(out.str(), HasSubstr(feature.name));
  for (const PlannedStation& station : crowd.plan.stations)
    EXPECT_THAT(out.str(), HasSubstr("\n  " + station.name + " "));
  EXPECT_GT(lines_of(out.str()), 150u);
}

TEST(PlanSummary, NamesCannotSteerTheTerminalOrAddLines) {
  Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  const std::size_t lines = lines_of(summary(scene, plan));
  const std::string evil = "\n\x1b[2J";
  for (auto& feature : scene.features) feature.name += evil;
  for (auto& target : scene.full_targets) target.name += evil;
  for (auto& body : scene.bodies) body.name += evil;
  for (auto& station : plan.stations) station.name += evil;
  scene.zones[0].name += evil;
  const std::string text = summary(scene, plan);
  EXPECT_THAT(text, Not(HasSubstr("\x1b")));
  EXPECT_EQ(lines_of(text), lines) << text;
}

TEST(PlanSummary, ASoundSmallPlanSaysNothingOfWhatItHasNot) {
  Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  scene.features.resize(2);
  plan.features.resize(2);
  for (PlannedStation& station : plan.stations) station.sight.features.resize(2);
  plan.unreached.clear();
  plan.warnings.clear();
  const std::string text = summary(scene, plan);
  for (const char* part : {"Blocked", "Warnings", " more (--details)"})
    EXPECT_THAT(text, Not(HasSubstr(part)));
}

TEST(BlockedLine, TargetsWithOneCauseAreNamedTogether) {
  const Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  Cause other = hand_made::broken_beam();
  other.target = hand_made::kRod;
  plan.unreached[0].mark.touches[0].causes.push_back(other);
  EXPECT_EQ(blocked_line(scene, plan, hand_made::kBoss),
            "reached from no candidate; ball-38 and rod-2x: beam broken by column-a, face 3; "
            "mirror-6: out of range");
  plan.unreached[0].mark.touches.clear();
  EXPECT_EQ(blocked_line(scene, plan, hand_made::kBoss),
            "reached from no candidate; no target that may be used can take it");
}

TEST(WarningLines, ManyOfOneKindAreOneLineWithACount) {
  const Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  plan.warnings = {{WarningKind::ratio, {hand_made::kPad}, {}, {}, 2.5},
                   {WarningKind::time_limit},
                   {WarningKind::ratio, {hand_made::kDowel}, {}, {}, 3.04},
                   {WarningKind::ratio, {hand_made::kBoss}, {}, {}, 3.5}};
  EXPECT_THAT(
      warning_lines(scene, plan),
      ElementsAre("3 features with a ratio (tolerance to uncertainty) below 4: pad-1 (2.5), "
                  "dowel-3 (3.0) and boss (3.5)",
                  "the time limit ended the search before its proof; try a longer "
                  "--time-limit"));
}

TEST(FewOf, NamesThreeAndCountsTheRest) {
  EXPECT_EQ(few_of({"a", "b", "c"}), "a, b and c");
  EXPECT_EQ(few_of({"a", "b", "c", "d", "e"}), "a, b, c and 2 more");
}

}  // namespace
}  // namespace standpoint
