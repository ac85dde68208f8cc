#include <gtest/gtest.h>
#include <hwy/highway.h>
#include <hwy/targets.h>

#include <thread>

#include "geometry/tree/tree.h"
#include "tests/geometry/random_scene.h"

namespace standpoint::test {
namespace {

/// Every answer that a scene gives, as numbers to compare bit by bit.
std::vector<double> all_answers(const std::vector<Mesh>& scene, const Tree& tree,
                                std::uint64_t seed) {
  std::vector<double> answers;
  std::vector<RoundCone> beams;
  Draw draw(seed);
  BlockerHint hint;
  for (int b = 0; b < 12 * static_cast<int>(BeamKind::kCount); ++b) {
    const auto kind = static_cast<BeamKind>(b % static_cast<int>(BeamKind::kCount));
    const RoundCone beam = make_beam(kind, scene, draw);
    beams.push_back(beam);
    const auto contact = tree.nearest(beam);
    answers.push_back(contact->nearest.margin);
    answers.push_back(contact->nearest.along);
    answers.push_back(contact->body.index);
    answers.push_back(contact->triangle.index);
    // At the margin itself both verdicts are one rounding apart: the hardest place to agree.
    for (const double margin : {0.0, contact->nearest.margin, contact->nearest.margin - 1e-10,
                                contact->nearest.margin - 1e-12, draw.between(-3, 3)}) {
      answers.push_back(tree.is_clear(beam, margin));
      answers.push_back(tree.is_clear(beam, margin, &hint));
    }
    double sum = 0;
    int count = 0;
    tree.for_each_within(beam, 100, [&](const Contact& c) {
      ++count;
      sum += c.triangle.index;
    });
    answers.push_back(count);
    answers.push_back(sum);
  }
  for (const bool is_clear : tree.are_clear(beams, 0)) answers.push_back(is_clear);
  for (const auto& contact : tree.nearest_to_each(beams)) {
    answers.push_back(contact->nearest.margin);
    answers.push_back(contact->triangle.index);
  }
  return answers;
}

class EverySort : public testing::TestWithParam<int> {
 protected:
  void SetUp() override {
    Draw draw(900 + static_cast<std::uint64_t>(GetParam()));
    scene_ = make_scene(static_cast<SceneKind>(GetParam()), 500, draw);
    tree_ = std::make_unique<Tree>(pointers(scene_));
  }
  std::vector<Mesh> scene_;
  std::unique_ptr<Tree> tree_;
};

TEST_P(EverySort, EverySimdTargetOfThisMachineGivesTheSameBits) {
  const std::int64_t supported = hwy::SupportedTargets();
  const std::vector<double> expected = all_answers(scene_, *tree_, 5);
  int targets = 0;
  for (std::int64_t left = supported; left != 0; left &= left - 1) {
    const std::int64_t target = left & -left;
    hwy::SetSupportedTargetsForTest(target);
    hwy::GetChosenTarget().Update(target);
    EXPECT_EQ(all_answers(scene_, *tree_, 5), expected) << hwy::TargetName(target);
    ++targets;
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().Update(hwy::SupportedTargets());
  std::cout << targets << " SIMD targets\n";
  EXPECT_GE(targets, 2) << "a machine with only one target shows nothing";
}

TEST_P(EverySort, ManyThreadsGiveWhatOneGives) {
  const std::vector<double> expected = all_answers(scene_, *tree_, 6);
  std::vector<std::vector<double>> answers(8);
  {
    std::vector<std::thread> threads;
    for (auto& mine : answers) {
      threads.emplace_back([&] { mine = all_answers(scene_, *tree_, 6); });
    }
    for (std::thread& thread : threads) thread.join();
  }
  for (const auto& mine : answers) EXPECT_EQ(mine, expected);
}

TEST_P(EverySort, BuiltTwiceAnswersTheSame) {
  const Tree again(pointers(scene_));
  EXPECT_EQ(all_answers(scene_, again, 7), all_answers(scene_, *tree_, 7));
  EXPECT_EQ(again.bytes(), tree_->bytes());
}

INSTANTIATE_TEST_SUITE_P(Tree, EverySort, testing::Range(0, static_cast<int>(SceneKind::kCount)),
                         [](const auto& p) {
                           std::string name = name_of(static_cast<SceneKind>(p.param));
                           std::replace(name.begin(), name.end(), ' ', '_');
                           return name;
                         });

}  // namespace
}  // namespace standpoint::test
