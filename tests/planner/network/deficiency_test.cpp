#include "planner/network/deficiency.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "networks.h"
#include "planner/stations/some_off_line.h"
#include "planner/stations/tie_rule.h"
#include "tests/draw.h"

namespace standpoint {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

/// Unit covariances: what can move does not depend on the weights.
NetworkInput network_of(const std::vector<Vec3>& stations, const std::vector<Vec3>& nests,
                        const std::vector<std::vector<std::uint32_t>>& sees) {
  NetworkInput input;
  input.stations = stations;
  input.nests = nests;
  for (std::uint32_t s = 0; s < sees.size(); ++s)
    for (const std::uint32_t n : sees[s]) input.observations.push_back({s, n, Mat3::Identity()});
  return input;
}

const std::vector<Vec3> kStations = {{-4000, -3000, 1500}, {5000, -2500, 1400}, {500, 6000, 1600}};
const std::vector<Vec3> kNests = {{-2000, -1000, 100}, {2200, -900, 900}, {1800, 1500, 200},
                                  {-1900, 1400, 1500}, {100, 200, 2300},  {700, -1300, 400},
                                  {-300, 900, 1200},   {2500, 300, 1700}};

void expect_no_network(const NetworkInput& input, const std::vector<Deficiency>& expected) {
  const NetworkResult result = solve_network(input);
  EXPECT_FALSE(result.network);
  ASSERT_EQ(result.deficient.size(), expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i) {
    EXPECT_EQ(result.deficient[i].station, expected[i].station);
    EXPECT_EQ(result.deficient[i].degrees_of_freedom, expected[i].degrees_of_freedom);
    EXPECT_EQ(result.deficient[i].tie, expected[i].tie);
    EXPECT_EQ(result.deficient[i].nests, expected[i].nests);
    EXPECT_EQ(result.deficient[i].moves_with, expected[i].moves_with);
    EXPECT_EQ(result.deficient[i].against_datum, expected[i].against_datum);
  }
}

TEST(Deficiency, TwoSharedNestsLeaveATurnAboutTheirLine) {
  const NetworkInput input =
      network_of({kStations[0], kStations[1]}, kNests, {{0, 1, 2, 3}, {2, 3, 4, 5, 6}});
  expect_no_network(input, {{1, 1, Tie::two_nests, {2, 3}, {}}});
  const Deficiency tie = solve_network(input).deficient[0];
  const Vec3 along = (kNests[3] - kNests[2]).normalized();
  EXPECT_NEAR(std::abs(tie.axis->dot(along)), 1, 1e-12);
  EXPECT_LT((*tie.pivot - kNests[2]).cross(along).norm(), 1e-9);
}

TEST(Deficiency, OneSharedNestLeavesThreeTurnsAboutIt) {
  const NetworkInput input =
      network_of({kStations[0], kStations[1]}, kNests, {{0, 1, 2, 3}, {3, 4, 5, 6}});
  expect_no_network(input, {{1, 3, Tie::one_nest, {3}, {}}});
  EXPECT_EQ(*solve_network(input).deficient[0].pivot, kNests[3]);
}

TEST(Deficiency, NoSharedNestAndNoNestAtAllLeaveSix) {
  expect_no_network(network_of(kStations, kNests, {{0, 1, 2, 3}, {4, 5, 6, 7}, {}}),
                    {{1, 6, Tie::none_shared, {}, {}}, {2, 6, Tie::no_nest, {}, {}}});
}

TEST(Deficiency, NestsInOneLineLeaveATurnAboutIt) {
  std::vector<Vec3> nests = kNests;
  for (int i = 4; i < 8; ++i) nests[i] = Vec3(100, 50, 70) + (i - 3) * Vec3(311, -173, 97);
  expect_no_network(
      network_of({kStations[0], kStations[1]}, nests, {{0, 1, 2, 4, 5, 6, 7}, {4, 5, 6, 7}}),
      {{1, 1, Tie::one_line, {4, 5, 6, 7}, {}}});
  // A tenth of a millimetre off the line over a metre or so holds, weakly.
  nests[6] += Vec3(0, 0, .1);
  EXPECT_TRUE(solve_network(network_of({kStations[0], kStations[1]}, nests,
                                       {{0, 1, 2, 4, 5, 6, 7}, {4, 5, 6, 7}}))
                  .network);
}

TEST(Deficiency, SeveralNestsInOnePlaceAreOnePlace) {
  std::vector<Vec3> nests = kNests;
  nests[4] = nests[3];
  expect_no_network(network_of({kStations[0], kStations[1]}, nests, {{0, 1, 2, 3, 4}, {3, 4, 5}}),
                    {{1, 3, Tie::one_place, {3, 4}, {}}});
}

// Two stations well tied to each other hang together from the rest by two nests.
TEST(Deficiency, StationsThatHoldEachOtherMoveAsOne) {
  NetworkInput input =
      network_of({kStations[0], kStations[1], {900, -5000, 1000}, kStations[2], {-6000, 0, 900}},
                 kNests, {{0, 1, 2, 3}, {3, 4, 5, 6, 7}, {0, 1, 2, 3}, {2, 4, 5, 6, 7}, {0, 1, 2}});
  expect_no_network(input,
                    {{1, 1, Tie::two_nests, {2, 3}, {3}}, {3, 1, Tie::two_nests, {2, 3}, {1}}});
}

// A chain of hinges: each link is named by its tie towards the rest, degrees of freedom add up.
TEST(Deficiency, ChainOfHinges) {
  const NetworkInput input =
      network_of(kStations, kNests, {{0, 1, 2, 3}, {2, 3, 4, 5}, {4, 5, 6, 7}});
  // The middle station shares the most nests: the others move against it.
  expect_no_network(input,
                    {{0, 1, Tie::two_nests, {2, 3}, {}}, {2, 1, Tie::two_nests, {4, 5}, {}}});
}

// Three stations, each pair sharing two nests: together they hold (a triangle of hinges), which no
// count of pairs can tell.
TEST(Deficiency, ThreeHingesInARingHold) {
  const NetworkInput ring =
      network_of(kStations, kNests, {{0, 1, 2, 3}, {2, 3, 4, 5}, {4, 5, 0, 1}});
  EXPECT_TRUE(solve_network(ring).network);
}

// Contract section 4 links two stations by some of their nests: here three within 60 mm that are
// off one line by a twentieth. A fourth, a thousand times as far away, must not make a hinge of it.
TEST(Deficiency, ATieOfSomeNestsHoldsThoughAnotherIsFarAway) {
  const std::vector<Vec3> nests = {{0, 0, 500}, {60, 0, 500}, {30, 5, 500}, {60000, 0, 500}};
  ASSERT_EQ(some_off_line(nests, 3), SomeOffLine::yes);
  ASSERT_FALSE(are_off_one_line(nests));
  const NetworkInput input =
      network_of({{30000, 4000, 1500}, {30000, -4000, 1500}}, nests, {{0, 1, 2, 3}, {0, 1, 2, 3}});
  EXPECT_TRUE(find_deficiencies(input).empty());
}

// Six stations in such a ring hold; seven make a linkage with one freedom (a closed chain of n
// hinges in space moves in n - 6 ways), named although each station shares four nests off one line.
TEST(Deficiency, ARingOfSevenHingesIsALinkage) {
  for (const std::uint32_t count : {6u, 7u}) {
    test::Draw draw(5);
    std::vector<Vec3> stations, nests;
    std::vector<std::vector<std::uint32_t>> sees;
    for (std::uint32_t i = 0; i < count; ++i) {
      const double angle = 2 * M_PI * i / count;
      const Vec3 out(std::cos(angle), std::sin(angle), 0);
      stations.push_back(4000 * out + Vec3(0, 0, 1500));
      for (int k = 0; k < 2; ++k)
        nests.push_back(2500 * out + draw.in_box({-800, -800, 0}, {800, 800, 2000}));
      const std::uint32_t before = (i + count - 1) % count;
      sees.push_back({2 * before, 2 * before + 1, 2 * i, 2 * i + 1});
    }
    const NetworkResult result = solve_network(network_of(stations, nests, sees));
    if (count == 6) {
      EXPECT_TRUE(result.network);
      continue;
    }
    ASSERT_EQ(result.deficient.size(), 6u);
    EXPECT_EQ(std::count_if(result.deficient.begin(), result.deficient.end(),
                            [](const Deficiency& d) { return d.tie == Tie::linkage; }),
              1);
    for (const Deficiency& d : result.deficient) EXPECT_EQ(d.degrees_of_freedom, 1);
  }
}

TEST(Deficiency, ASingleStationMovesAgainstADatumOfTwoNests) {
  NetworkInput input = network_of({kStations[0]}, kNests, {{2, 5}});
  expect_no_network(input, {{0, 1, Tie::two_nests, {2, 5}, {}, true}});
  input = network_of({kStations[0]}, kNests, {{}});
  expect_no_network(input, {{0, 6, Tie::no_nest, {}, {}, true}});
}

TEST(Deficiency, ADatumThatDoesNotHoldNamesEveryStation) {
  NetworkInput input =
      network_of({kStations[0], kStations[1]}, kNests, {{0, 1, 2, 3}, {0, 1, 2, 3}});
  input.datum_nests = {1, 2, 7};  // nobody sees 7
  expect_no_network(
      input, {{0, 1, Tie::two_nests, {1, 2}, {}, true}, {1, 1, Tie::two_nests, {1, 2}, {}, true}});
  input.datum_nests = {1, 2, 3};
  EXPECT_TRUE(solve_network(input).network);
}

TEST(Deficiency, StationsAreToldBeforeTheDatum) {
  NetworkInput input =
      network_of({kStations[0], kStations[1]}, kNests, {{0, 1, 2, 3}, {2, 3, 4, 5}});
  input.datum_nests = {1};
  expect_no_network(input, {{1, 1, Tie::two_nests, {2, 3}, {}}});
}

TEST(Deficiency, WeightsFarFromTheStationAndSmallClustersDoNotMatter) {
  // A cluster of half a metre seen from forty metres away holds.
  std::vector<Vec3> nests;
  for (const auto& [x, y, z] :
       {std::array{0., 0., 0.}, {500., 0., 0.}, {0., 300., 0.}, {100., 100., 25.}})
    nests.push_back(Vec3(x, y, z));
  const NetworkInput input =
      network_of({{40000, 0, 1500}, {2000, -1500, 1500}}, nests, {{0, 1, 2, 3}, {0, 1, 2, 3}});
  EXPECT_TRUE(solve_network(input).network);
  EXPECT_THAT(find_deficiencies(input), IsEmpty());
}

TEST(Deficiency, LongChainsOfTheWeakestAllowedTiesHold) {
  // Each link: three nests, the middle one 1/20 of the spread off the line (contract section 4).
  std::vector<Vec3> stations, nests;
  std::vector<std::vector<std::uint32_t>> sees;
  for (std::uint32_t i = 0; i < 30; ++i) {
    const double x = 3000.0 * i;
    stations.push_back({x, -4000, 1500});
    for (const Vec3& p : {Vec3(x, 0, 0), Vec3(x, 1000, 75), Vec3(x, 2000, 0)}) nests.push_back(p);
    sees.push_back({3 * i, 3 * i + 1, 3 * i + 2});
    if (i > 0)
      for (std::uint32_t k = 0; k < 3; ++k) sees.back().push_back(3 * (i - 1) + k);
  }
  EXPECT_THAT(find_deficiencies(network_of(stations, nests, sees)), IsEmpty());
  EXPECT_TRUE(solve_network(network_of(stations, nests, sees)).network);
}

// The order in which stations are listed decides only which of two equal parts is called the rest.
TEST(Deficiency, OrderOfNestsChangesNoName) {
  NetworkInput input = network_of({kStations[0], kStations[1], {900, -5000, 1000}}, kNests,
                                  {{0, 1, 2, 3}, {0, 1, 2, 3}, {2, 3, 4}});
  const std::vector<Deficiency> first = find_deficiencies(input);
  std::reverse(input.observations.begin(), input.observations.end());
  const std::vector<Deficiency> second = find_deficiencies(input);
  ASSERT_EQ(first.size(), 1u);
  ASSERT_EQ(second.size(), 1u);
  EXPECT_EQ(first[0].station, 2u);
  EXPECT_EQ(second[0].nests, first[0].nests);
}

}  // namespace
}  // namespace standpoint
