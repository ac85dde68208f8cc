// Where a search may move a station: over the zone it stands in, never over what is left out of it.

#include <gtest/gtest.h>

#include "planner/why/whereabouts.h"

namespace standpoint {
namespace {

Scene two_zones() {
  Scene scene;
  Zone low;
  low.name = "low";
  low.polygon = {{0, 0}, {1000, 0}, {1000, 1000}, {0, 1000}};
  low.heights = {1100, 1500};
  low.holes = {{{400, 400}, {600, 400}, {600, 600}, {400, 600}}};
  Zone pit = low;
  pit.name = "pit";
  pit.floor = -2000;
  pit.holes.clear();
  scene.zones = {low, pit};
  scene.keep_outs = {{"door", {{0, 0}, {100, 0}, {100, 100}, {0, 100}}}};
  return scene;
}

TEST(Whereabouts, AStationIsMovedOverNoHoleOfItsZoneAndOverNoKeepOut) {
  const Scene scene = two_zones();
  const Whereabouts where = whereabouts(scene, {200, 200, 1300}, 500);
  EXPECT_EQ(where.zone, 0U);
  EXPECT_TRUE(where.may_stand_at(scene, {700, 500}));
  EXPECT_FALSE(where.may_stand_at(scene, {500, 500}));
  EXPECT_FALSE(where.may_stand_at(scene, {600, 500})) << "on the hole's border";
  EXPECT_FALSE(where.may_stand_at(scene, {50, 50}));
  EXPECT_FALSE(where.may_stand_at(scene, {100, 50})) << "on the keep-out's border";
  EXPECT_FALSE(where.may_stand_at(scene, {1001, 500}));
}

TEST(Whereabouts, InAHoleOfOneZoneAStationIsInTheZoneBelow) {
  const Whereabouts where = whereabouts(two_zones(), {500, 500, 300}, 500);
  EXPECT_EQ(where.zone, 1U);
}

}  // namespace
}  // namespace standpoint
