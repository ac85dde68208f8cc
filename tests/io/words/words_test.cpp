#include "io/words/words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

Scene scene_in_mm() {
  Scene scene = hand_made::scene();
  scene.units = "mm";
  scene.mm_per_unit = 1;
  return scene;
}

std::string said(const Cause& cause) {
  return cause_sentence(scene_in_mm(), cause);
}

Cause cause(TargetId target, Rule rule) {
  Cause result;
  result.target = target;
  result.rule = rule;
  return result;
}

TEST(CauseSentence, TellsWhereAndHowDeepABeamIsBroken) {
  EXPECT_EQ(said(hand_made::broken_beam()),
            "ball-38: beam broken 1834 mm from the instrument by column-a, face 3, which stands "
            "12.4 mm deep in it");
}

TEST(CauseSentence, SpeaksInTheScenesUnits) {
  EXPECT_EQ(cause_sentence(hand_made::scene(), hand_made::broken_beam()),
            "ball-38: beam broken 1.834 m from the instrument by column-a, face 3, which stands "
            "0.0124 m deep in it");
}

TEST(CauseSentence, ABodyThatOnlyComesNearDoesNotStandInTheBeam) {
  Cause near = hand_made::broken_beam();
  near.face.reset();
  near.margin = 3.1;
  EXPECT_EQ(said(near),
            "ball-38: beam broken 1834 mm from the instrument by column-a, which comes within 3.1 "
            "mm of it");
}

TEST(CauseSentence, HasWordsForEveryRule) {
  Cause far = cause(hand_made::kBall, Rule::out_of_range);
  far.distance = 45000;
  EXPECT_EQ(said(far),
            "ball-38: out of range, 45000 mm from the instrument; its range is 400 to 40000 mm");
  EXPECT_EQ(said(cause(hand_made::kBall, Rule::elevation)),
            "ball-38: too steep for the instrument, whose elevation is -60 to 75 degrees");
  Cause fit = hand_made::broken_beam();
  fit.rule = Rule::no_fit;
  EXPECT_EQ(said(fit),
            "ball-38: does not fit at the contact: in the way is column-a, face 3, which stands "
            "12.4 mm deep in its ball");
  EXPECT_EQ(said(cause(hand_made::kBall, Rule::no_fit)),
            "ball-38: its ball is too large or too small for this feature");
  EXPECT_THAT(said(cause(hand_made::kBall, Rule::acceptance)), HasSubstr("30 degrees"));
  EXPECT_THAT(said(cause(hand_made::kRod, Rule::acceptance)), HasSubstr("square to its rod"));
  Cause shank = hand_made::broken_beam();
  shank.target = hand_made::kMirror;
  shank.rule = Rule::shank;
  EXPECT_EQ(said(shank),
            "mirror-6: shank cannot be held clear of column-a, face 3, which stands 12.4 mm deep "
            "in it");
  shank.rule = Rule::head;
  EXPECT_THAT(said(shank), HasSubstr("head cannot be held clear of column-a"));
}

TEST(CauseSentence, SaysSomethingWhereOnlyTheRuleIsKnown) {
  for (const Rule rule : {Rule::out_of_range, Rule::elevation, Rule::no_fit, Rule::acceptance,
                          Rule::beam, Rule::shank, Rule::head}) {
    for (const TargetId target : {hand_made::kBall, hand_made::kMirror, hand_made::kRod})
      EXPECT_GT(said(cause(target, rule)).size(), 20u);
  }
}

TEST(BlockedSentences, KeepTheNearestCauseOfEachTarget) {
  FeatureMark mark = hand_made::sight().features[2];
  mark.touches.push_back(mark.touches[0]);
  mark.touches[1].causes[0].margin = -1;  // nearer to reaching than the first touch's
  const auto sentences = blocked_sentences(scene_in_mm(), mark);
  ASSERT_EQ(sentences.size(), 2u);
  EXPECT_THAT(sentences[0], HasSubstr("1.0 mm deep"));
  EXPECT_THAT(sentences[1], HasSubstr("mirror-6: out of range"));
}

TEST(BlockedText, TellsWhyAndSeenFromWhere) {
  const Plan plan = hand_made::plan();
  const BlockedText boss = blocked_text(scene_in_mm(), plan, hand_made::kBoss);
  EXPECT_EQ(boss.reason, "reached from no candidate");
  EXPECT_EQ(boss.from, "S1");
  ASSERT_EQ(boss.causes.size(), 2u);
  EXPECT_THAT(boss.causes[0], testing::StartsWith("ball-38: beam broken"));
  EXPECT_EQ(blocked_text(scene_in_mm(), plan, hand_made::kSpare).reason,
            "reached from no station of the plan");
}

TEST(BlockedText, AFeatureLostToTiesSaysSo) {
  Plan plan = hand_made::plan();
  plan.warnings = {{WarningKind::lost_to_ties, {hand_made::kBoss}}};
  plan.unreached[0].at = Vec3(1, 2, 3);
  const BlockedText boss = blocked_text(scene_in_mm(), plan, hand_made::kBoss);
  EXPECT_THAT(boss.reason, HasSubstr("cannot be tied"));
  EXPECT_EQ(boss.from, "(1, 2, 3) mm");
}

TEST(BlockedText, AFeatureThatNoTargetMayTakeSaysSo) {
  Plan plan = hand_made::plan();
  plan.unreached[0].mark.touches.clear();
  EXPECT_THAT(blocked_text(scene_in_mm(), plan, hand_made::kBoss).causes,
              ElementsAre("none of the targets that may be used can take it"));
}

TEST(WarningSentences, JoinThoseThatDifferInFeatureAndNumberOnly) {
  Plan plan = hand_made::plan();
  plan.warnings = {{WarningKind::ratio, {hand_made::kPad}, {}, {}, 2.5},
                   {WarningKind::time_limit},
                   {WarningKind::ratio, {hand_made::kDowel}, {}, {}, 3.04}};
  const auto sentences = warning_sentences(scene_in_mm(), plan);
  ASSERT_EQ(sentences.size(), 2u);
  EXPECT_THAT(sentences[1], HasSubstr("pad-1 (2.5), dowel-3 (3.0)."));
}

TEST(WarningSentence, EveryKindHasItsOwnSentence) {
  const Scene scene = scene_in_mm();
  const Plan plan = hand_made::plan();
  std::set<std::string> sentences;
  const WarningKind kinds[] = {WarningKind::no_nests,       WarningKind::fewer_than_asked,
                               WarningKind::unreached,      WarningKind::lost_to_ties,
                               WarningKind::kept_collides,  WarningKind::kept_not_tied,
                               WarningKind::tight,          WarningKind::ratio,
                               WarningKind::no_uncertainty, WarningKind::time_limit,
                               WarningKind::in_one_line};
  for (const WarningKind kind : kinds) {
    const Warning warning{kind, {hand_made::kDowel}, {hand_made::kDoor}, {}, 2.5};
    const std::string sentence = warning_sentence(scene, plan, warning);
    EXPECT_GT(sentence.size(), 30u);
    EXPECT_EQ(sentence.back(), '.') << sentence;
    EXPECT_THAT(sentence, Not(HasSubstr("{}")));
    sentences.insert(sentence);
  }
  EXPECT_EQ(sentences.size(), std::size(kinds));
}

TEST(WarningSentence, NamesWhatItIsAbout) {
  const Scene scene = scene_in_mm();
  const Plan plan = hand_made::plan();
  const auto say = [&](Warning warning) { return warning_sentence(scene, plan, warning); };
  EXPECT_EQ(say({WarningKind::tight, {hand_made::kDowel}, {}, {}, 5}),
            "Tight: dowel-3 (3.2 mm). Its beam passes a body with a margin (beam clearance) below "
            "5.0 mm. A small error in setting up can break it.");
  EXPECT_THAT(say({WarningKind::ratio, {hand_made::kPad}, {}, {}, 2.5}), HasSubstr("pad-1 (2.5)"));
  EXPECT_THAT(say({WarningKind::unreached, {hand_made::kPad, hand_made::kBoss}}),
              HasSubstr("pad-1 and boss are required"));
  EXPECT_THAT(say({WarningKind::kept_collides, {}, {hand_made::kDoor}}), HasSubstr("door is kept"));
}

TEST(CandidatesSentence, TellsEachReasonForWhichPlacesWereDropped) {
  EXPECT_EQ(candidates_sentence({240, 12, 5, 3}),
            "240 places considered for the instrument; 12 dropped where it would cut into a body; "
            "5 dropped as inside a closed body; 3 dropped as given twice.");
  EXPECT_EQ(candidates_sentence({1, 0, 0, 0}), "1 place considered for the instrument.");
}

TEST(OptimalitySentence, SaysWhatIsProvenAndWhatIsNot) {
  Plan plan = hand_made::plan();
  EXPECT_EQ(optimality_sentence(plan),
            "2 stations; at least 1 is needed, so fewer may do: the proof was not finished.");
  plan.optimality.status = ProofStatus::optimal;
  EXPECT_EQ(optimality_sentence(plan), "2 stations, proven the fewest over all candidates.");
  EXPECT_THAT(optimality_sentence(Plan{}), HasSubstr("No station"));
}

TEST(ReachedSentence, CountsRequiredFeatures) {
  EXPECT_EQ(reached_sentence(hand_made::scene(), hand_made::plan()),
            "2 of 3 required features reached; 1 by full target (SMR, ball reflector), 1 by offset "
            "stylus (hidden-point device: mirror probe or hidden-point rod).");
  Scene without = hand_made::scene();
  without.offset_styli.pop_back();
  EXPECT_THAT(reached_sentence(without, hand_made::plan()),
              testing::EndsWith("1 by offset stylus (hidden-point device: mirror probe)."));
}

TEST(ReachedSentence, SaysHowManySeveralStationsTakeTogether) {
  Plan plan = hand_made::plan();
  const std::string before = reached_sentence(hand_made::scene(), plan);
  plan.features[0].station.reset();
  plan.features[0].stations = {StationId(0), StationId(1)};
  EXPECT_EQ(reached_sentence(hand_made::scene(), plan),
            before + " 1 of them is taken by several stations together.");
  plan.features[1].stations = plan.features[0].stations;
  EXPECT_EQ(reached_sentence(hand_made::scene(), plan),
            before + " 2 of them are taken by several stations together.");
}

TEST(ListOf, JoinsAndShortens) {
  EXPECT_EQ(list_of({}), "");
  EXPECT_EQ(list_of({"a"}), "a");
  EXPECT_EQ(list_of({"a", "b"}), "a and b");
  EXPECT_EQ(list_of({"a", "b", "c"}), "a, b and c");
  EXPECT_EQ(list_of({"a", "b", "c", "d", "e", "f", "g", "h"}), "a, b, c, d, e, f and 2 more");
}

std::vector<std::string> titles(const std::vector<CautionText>& cautions) {
  std::vector<std::string> result;
  for (const CautionText& caution : cautions) result.push_back(caution.title);
  return result;
}

TEST(CautionTexts, SayOnlyWhatAppliesToThePlan) {
  const Scene scene = scene_in_mm();
  Plan plan = hand_made::plan();
  // From y = -2500 at 1500 to features at 800: the beams cross the gangway at eye height. N4 lies
  // at 2600, dowel-3 is taken by stylus.
  EXPECT_THAT(titles(caution_texts(scene, plan, find_cautions(scene, plan))),
              ElementsAre("Laser radiation", "Beams at eye height over walkways", "Work at height",
                          "Stands", "Hand-held devices", "Machinery and lifting gear"));
  Scene bare = scene;
  bare.walkways.clear();
  bare.nests[3].at.z() = 300;
  plan.features[1].verdict = Verdict::full_target;
  plan.stations[1].sight.features[1].verdict = Verdict::full_target;
  EXPECT_THAT(titles(caution_texts(bare, plan, find_cautions(bare, plan))),
              ElementsAre("Laser radiation", "Stands", "Machinery and lifting gear"));
}

TEST(CautionTexts, ListStationFeatureAndPlace) {
  const Scene scene = scene_in_mm();
  const Plan plan = hand_made::plan();
  const auto cautions = caution_texts(scene, plan, find_cautions(scene, plan));
  ASSERT_FALSE(cautions[1].items.empty());
  EXPECT_THAT(cautions[1].items[0], testing::StartsWith("S1 to pad-1 over gangway, from (500, "));
  EXPECT_THAT(cautions[2].items, ElementsAre("nest N4: 2600 mm above the floor"));
}

TEST(Deference, NamesWhoComesFirst) {
  EXPECT_THAT(std::string(deference()),
              testing::AllOf(HasSubstr("Local codes"), HasSubstr("manual"),
                             HasSubstr("licensed practice")));
}

TEST(WarningSentence, NestsInOneLineAreNamedWithWhatWouldEndIt) {
  Scene scene = scene_in_mm();
  Plan plan = hand_made::plan();
  ASSERT_GE(scene.nests.size(), 2u);
  plan.stations = {plan.stations.front(), plan.stations.front()};
  plan.stations[1].name = "S2";
  Warning warning{WarningKind::in_one_line, {}, {StationId(0), StationId(1)}};
  warning.nests = {NestId(0), NestId(1)};
  warning.ends = {NestId(0), NestId(1)};
  warning.value = 404.1;
  const std::string &a = scene.nests[0].name, &b = scene.nests[1].name;
  EXPECT_EQ(warning_sentence(scene, plan, warning),
            plan.stations[0].name + " and S2 share " + a + " and " + b +
                ". These would be enough to tie them, but they are all in one line. One more nest "
                "that both see would tie them if it stands at least 405 mm off the line from " +
                a + " to " + b + ", between these two.");
  warning.features = {FeatureId(0)};
  warning.stations = {StationId(1)};
  EXPECT_THAT(warning_sentence(scene, plan, warning),
              HasSubstr("A place that reaches " + scene.features[0].name + " shares " + a +
                        " and " + b + " with S2."));
  warning.value = 0;
  EXPECT_THAT(warning_sentence(scene, plan, warning), HasSubstr("they are all in one place."));
}

}  // namespace
}  // namespace standpoint
