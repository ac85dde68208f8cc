#include <gtest/gtest.h>
#include <hwy/highway.h>
#include <hwy/targets.h>

#include "geometry/tolerances.h"
#include "geometry/tree/tree.h"
#include "margin_oracle.h"
#include "random_scene.h"
#include "tests/bench/fuselage.h"

// The scenes of the benchmark, held to the oracle: what is fast there is right there, too. Wires of
// 0.2 mm stand in the beams' rims, where a bundle of rays slips past.

namespace standpoint::test {
namespace {

struct Judged {
  RoundCone beam;
  double margin = 0;         ///< by the oracle
  double without_wires = 0;  ///< likewise
};

class Fuselage : public testing::Test {
 protected:
  Fuselage() : bodies_(bench::make_fuselage(20'000)) {
    std::vector<RoundCone> beams = bench::planning_beams(250);
    const std::vector<RoundCone> skimming = bench::skimming_beams(250);
    beams.insert(beams.end(), skimming.begin(), skimming.end());
    std::vector<RoundCone> wired;
    for (std::size_t i = 0; i < beams.size(); i += 2) wired.push_back(beams[i]);
    const std::vector<Mesh> wires = {bench::make_rim_wires(wired, 5)};
    for (const RoundCone& beam : beams) {
      const double bare = least_margin(beam, bodies_);
      judged_.push_back({beam, std::min(bare, least_margin(beam, wires)), bare});
    }
    bodies_.push_back(wires.front());
  }

  void expect_right(const Tree& tree) const {
    std::vector<RoundCone> beams;
    for (const Judged& judged : judged_) beams.push_back(judged.beam);
    const std::vector<bool> clear = tree.are_clear(beams, 0);
    const auto nearest = tree.nearest_to_each(beams);
    for (std::size_t i = 0; i < beams.size(); ++i) {
      const double margin = judged_[i].margin;
      const double bound = tolerance::margin_error(4 * reach_of(beams[i], bodies_));
      ASSERT_NEAR(nearest[i]->nearest.margin, margin, bound) << "beam " << i;
      ASSERT_EQ(tree.nearest(beams[i])->nearest.margin, nearest[i]->nearest.margin) << i;
      ASSERT_EQ(tree.is_clear(beams[i], 0), clear[i]) << "beam " << i;
      if (std::abs(margin) > bound) ASSERT_EQ(clear[i], margin > 0) << "beam " << i;
    }
  }

  std::vector<Mesh> bodies_;
  std::vector<Judged> judged_;
};

TEST_F(Fuselage, BeamsAndWiresInTheirRimsAgreeWithTheOracleInEverySimdTarget) {
  const Tree tree(pointers(bodies_));
  int targets = 0;
  for (std::int64_t left = hwy::SupportedTargets(); left != 0; left &= left - 1) {
    const std::int64_t target = left & -left;
    SCOPED_TRACE(hwy::TargetName(target));
    hwy::SetSupportedTargetsForTest(target);
    hwy::GetChosenTarget().Update(target);
    expect_right(tree);
    ++targets;
  }
  hwy::SetSupportedTargetsForTest(0);
  hwy::GetChosenTarget().Update(hwy::SupportedTargets());
  EXPECT_GE(targets, 2) << "a machine with only one target shows nothing";
  int blocked = 0, clear = 0, by_wire = 0;
  for (const Judged& judged : judged_) {
    blocked += judged.margin < 0;
    clear += judged.margin > 0;
    by_wire += judged.margin < 0 && judged.without_wires > 0;
  }
  // The test is about something only if all of these happen.
  EXPECT_GE(blocked, 150);
  EXPECT_GE(clear, 100);
  EXPECT_GE(by_wire, 30);
}

}  // namespace
}  // namespace standpoint::test
