#include "io/write/sheet/setup_sheet.h"

#include <cmath>
#include <map>
#include <regex>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/write/sheet/page_parts.h"
#include "io/write/sheet/setup_parts.h"
#include "io/write/sheet/setup_words.h"
#include "tests/draw.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

std::string sheet(const Scene& scene, const Plan& plan) {
  Meshes meshes = hand_made::meshes();
  meshes.resize(scene.bodies.size());  // a test may take bodies away
  return setup_sheet(Cell(scene, std::move(meshes)), plan, find_cautions(scene, plan));
}
std::string sheet() {
  return sheet(hand_made::scene(), hand_made::plan());
}

/// The part of station `number`, from 1.
std::string station(const std::string& html, int number) {
  const std::size_t from = html.find("id=\"station-" + std::to_string(number) + "\"");
  if (from == std::string::npos) return "";
  return html.substr(from, html.find("</section>", from) - from);
}

/// Every first group of `pattern` in `html`, in order.
std::vector<std::string> all(const std::string& html, const std::string& pattern) {
  const std::regex regex(pattern);
  std::vector<std::string> found;
  for (std::sregex_iterator it(html.begin(), html.end(), regex), end; it != end; ++it)
    found.push_back((*it)[1]);
  return found;
}

TEST(SetupSheet, EachStationHasItsPart) {
  const std::string html = sheet();
  EXPECT_THAT(station(html, 1), HasSubstr("<h2>S1 <span>south aisle</span></h2>"));
  EXPECT_THAT(station(html, 2), HasSubstr("<h2>door <span>a fixed place</span></h2>"));
  EXPECT_EQ(station(html, 3), "");
  for (const int number : {1, 2}) {
    for (const char* text :
         {"Where to put the stand", "Take care here", "warmed up", "Two-face check",
          "Nests, before anything else", "first reading", "expected difference (95 %)",
          "at the end", "actual values", "Set up by"})
      EXPECT_THAT(station(html, number), HasSubstr(text));
  }
}

TEST(SetupSheet, TheWorkGoesByTarget) {
  const std::string door = station(sheet(), 2);
  EXPECT_THAT(all(door, "class=\"with\"><th[^>]*>(?:<svg.*?\\n?</svg>)?([^<]*)<"),
              testing::SizeIs(3));
  EXPECT_THAT(all(door, "<h4>([^<]*)</h4>"),
              ElementsAre("Same target kept: ball-38", "Same target kept: ball-38",
                          "Change of target 1: put down ball-38, take mirror-6",
                          "Change of target 2: put down mirror-6, take ball-38"));
  // Full target first: pad-1 (no. 1) stands before the dowel (no. 2).
  EXPECT_LT(door.find("<td>pad-1<br>"), door.find("put down ball-38"));
  EXPECT_GT(door.find("<td>dowel-3<br>"), door.find("put down ball-38"));
  EXPECT_THAT(
      all(station(sheet(), 1), "<h4>([^<]*)</h4>"),
      ElementsAre("Take ball-38", "Same target kept: ball-38", "Same target kept: ball-38"));
}

TEST(SetupSheet, AChangeSaysWhatToTellAndWhatForgettingItCosts) {
  const std::string door = station(sheet(), 2);
  EXPECT_THAT(door, HasSubstr("Left at 0.01905 m (ball-38), every point would lie 0.01605 m off "
                              "along its normal, into the material."));
  EXPECT_THAT(door, HasSubstr("Left at 0.003 m (mirror-6), every touch after the nests would lie "
                              "0.01605 m off along its normal, out of the material."));
  EXPECT_THAT(door, HasSubstr("<dt>ball radius, of the tip</dt><dd>0.003 m</dd>"));
  EXPECT_THAT(door, HasSubstr("mirror</dt><dd>0.085 m</dd>"));
}

/// What the software makes of a touch: it takes the radius it was told off the centre it sees.
TEST(SetupSheet, TheShiftIsThatOfAPointWorkedOutWithTheOldRadius) {
  const Scene scene = hand_made::scene();
  const std::map<std::size_t, double> radii{{0, 19.05}, {1, 3}, {2, 3}};
  test::Draw draw(11);
  for (const auto& [before, told] : radii) {
    for (const auto& [now, real] : radii) {
      const Vec3 normal = draw.in_box({-1, -1, 0.5}, {1, 1, 2.5}).normalized();
      const Vec3 point = draw.in_box(1000);
      const Vec3 seen = point + real * normal;
      const Vec3 made = seen - told * normal;
      EXPECT_NEAR(shift_if_left(scene, TargetId(before), TargetId(now)), (made - point).dot(normal),
                  1e-9);
    }
  }
  EXPECT_THAT(shift_sentence(scene, hand_made::kMirror, hand_made::kRod, "every point"),
              StartsWith("The radius stays at 0.003 m, as of mirror-6"));
}

TEST(SetupSheet, SettingsOfEachKindOfTarget) {
  const Scene scene = hand_made::scene();
  const auto text = [&](TargetId target) {
    std::string all;
    for (const Setting& s : target_settings(scene, target)) all += s.what + "=" + s.value + ";";
    return all;
  };
  EXPECT_THAT(text(hand_made::kBall), HasSubstr("ball radius=0.01905 m;"));
  EXPECT_THAT(text(hand_made::kBall), HasSubstr("contact=0.01905 m;"));
  EXPECT_THAT(text(hand_made::kMirror), HasSubstr("to mirror=0.085 m;"));
  EXPECT_THAT(text(hand_made::kRod), HasSubstr("reflectors=0.15 and 0.35 m;"));
}

/// Where a landmark's words say it is, worked out from the scene by name.
Vec3 place_named(const std::string& words) {
  static const std::map<std::string, Vec3> kPlaces{
      {"point pad-1", {500, 250, 800}},
      {"hole dowel-3", {80, 40, 800}},
      {"point boss", {1500, 500, 800}},
      {"point spare", {1900, 900, 2900}},
      {"nest N1", {2000, -500, 300}},
      {"nest N2", {-500, -500, 300}},
      {"nest N3", {-500, 1500, 300}},
      {"nest N4", {2500, 1500, 2600}},
      {"column-a, corner at its least x and least y", {1000, 0, 0}},
      {"column-a, corner at its greatest x and least y", {1200, 0, 0}},
      {"column-a, corner at its least x and greatest y", {1000, 0, 0}},
      {"column-a, corner at its greatest x and greatest y", {1200, 0, 0}},
      {"table, corner at its least x and least y", {0, 0, 800}},
      {"table, corner at its greatest x and least y", {2000, 0, 800}},
      {"table, corner at its greatest x and greatest y", {2000, 1000, 800}},
      {"table, corner at its least x and greatest y", {0, 1000, 800}}};
  return kPlaces.at(words);
}

TEST(SetupSheet, OffsetsLeadFromTheNamedPointsToTheStand) {
  const std::string html = sheet();
  const std::vector<Vec3> stands{{500, -2500, 1500}, {3000, -2500, 1400}};
  const std::regex row(
      "<th scope=\"row\">([ABC])</th><td>([^<]*)</td><td class=\"n\">([^<]*)</td><td "
      "class=\"n\">([^<]*)</td><td class=\"n\">([^<]*)</td><td class=\"n\">([^<]*)</td>");
  for (int s = 0; s < 2; ++s) {
    const std::string part = station(html, s + 1);
    int rows = 0;
    for (std::sregex_iterator it(part.begin(), part.end(), row), end; it != end; ++it, ++rows) {
      const Vec3 offset = stands[static_cast<std::size_t>(s)] - place_named((*it)[2]);
      const auto metres = [&](int group) {
        return std::stod(std::regex_replace((*it)[group].str(), std::regex("\u2212"), "-"));
      };
      EXPECT_NEAR(metres(3), offset.x() / 1000, 5.1e-4);
      EXPECT_NEAR(metres(4), offset.y() / 1000, 5.1e-4);
      EXPECT_NEAR(metres(5), std::hypot(offset.x(), offset.y()) / 1000, 5.1e-4);
      EXPECT_NEAR(metres(6), offset.z() / 1000, 5.1e-4);
    }
    EXPECT_GE(rows, 2);
  }
  EXPECT_THAT(station(html, 1),
              HasSubstr("Measuring centre 1.500 m over the floor of south aisle"));
  EXPECT_THAT(station(html, 2), HasSubstr("Measuring centre at z 1.400 m"));
}

TEST(SetupSheet, TheDrawingHasTheSameFigures) {
  const std::string part = station(sheet(), 1);
  const std::string drawing = part.substr(part.find("<svg class=\"drawing\""));
  const auto figures = all(drawing, "class=\"figure\"[^>]*>([^<]*)<");
  const auto level = all(part,
                         "<th scope=\"row\">[BC]</th><td>[^<]*</td><td class=\"n\">[^<]*</td>"
                         "<td class=\"n\">[^<]*</td><td class=\"n\">([^<]*)</td>");
  ASSERT_FALSE(level.empty());
  for (const std::string& figure : level) EXPECT_THAT(figures, testing::Contains(figure));
}

TEST(SetupSheet, TheRimsHeightIsThatOfTheBallOnIt) {
  // sqrt(3^2 - 2.5^2) = 1.6583 mm, and what the rim does not tell is said.
  EXPECT_THAT(station(sheet(), 2), HasSubstr("on the rim, ball\u2019s centre 0.001658 m over it"));
  EXPECT_THAT(station(sheet(), 2), HasSubstr("Not determined are its depth, its direction"));
  EXPECT_THAT(station(sheet(), 1), Not(HasSubstr("On the rim: determined")));
}

TEST(SetupSheet, HowAStylusIsHeldIsSaid) {
  EXPECT_THAT(station(sheet(), 2), HasSubstr("held up and toward +X (0.60, 0.00, 0.80)"));
}

TEST(SetupSheet, CautionsStandWhereTheyApply) {
  const std::string first = station(sheet(), 1), door = station(sheet(), 2);
  EXPECT_THAT(first, HasSubstr("gangway: the beams to pad-1"));
  EXPECT_THAT(first, Not(HasSubstr("Hand-held devices.")));
  EXPECT_THAT(door, HasSubstr("Hand-held devices."));
  for (const std::string& part : {first, door}) {
    EXPECT_THAT(part, HasSubstr("Laser radiation."));
    EXPECT_THAT(part, HasSubstr("Stands."));
    EXPECT_THAT(part, HasSubstr("nest N4: 2.60 m"));
    EXPECT_THAT(part, HasSubstr("Machinery and lifting gear."));
    EXPECT_THAT(part, HasSubstr("licensed practice come first"));
  }
}

TEST(SetupSheet, TwoReadingsOfANestMayDifferByTheErrorOfBoth) {
  Scene scene = hand_made::scene();
  scene.instrument.error = {2, {0.014, 7.5e-6}, {0.012, 9e-7}};
  scene.environment.nest_repeatability = 0.004;
  const Plan plan = hand_made::plan();
  const PlanDrawings drawings = draw_plan(Cell(scene, hand_made::meshes()), plan);
  const StationWork work;
  const page::StationSheet at{scene, plan, hand_made::kS1, work, {}, drawings};
  const double distance = (Vec3(2000, -500, 300) - Vec3(500, -2500, 1500)).norm();
  // Across the beam it is worse; twice the standard uncertainty of a difference of two.
  const double once = std::hypot((0.014 + 7.5e-6 * distance) / 2, 0.004);
  const auto spread = page::reading_spread(at, NestId(std::size_t{0}));
  ASSERT_TRUE(spread);
  EXPECT_NEAR(*spread, 2 * std::sqrt(2.0) * once, 1e-9);
  scene.instrument.error = {};
  EXPECT_FALSE(page::reading_spread(at, NestId(std::size_t{0})));
}

TEST(SetupSheet, TheNoticeOfMovedStationsIsHiddenAtTheTop) {
  EXPECT_THAT(sheet(),
              StartsWith("<div class=\"sheet\">\n<p class=\"moved-notice\" hidden>Stations "
                         "were moved on this page; this sheet is of the plan as written."));
}

/// The selectors of a style sheet without its comments: what stands before each {.
std::vector<std::string> selectors(const std::string& css) {
  std::vector<std::string> found;
  for (const std::string& list : all(css, "([^{};]+)\\{")) {
    for (const std::string& one : all(list, "\\s*((?:[^,(]|\\([^)]*\\))+)")) found.push_back(one);
  }
  return found;
}

TEST(SetupSheet, ItsStyleTouchesNothingElseOnThePage) {
  const auto found = selectors(page::style());
  EXPECT_GT(found.size(), 80u);
  for (const std::string& selector : found) {
    const bool is_own =
        selector.rfind(".sheet", 0) == 0 || selector.rfind(":is(.sheet, .sheet-ground) ", 0) == 0;
    EXPECT_TRUE(is_own || selector[0] == '@') << selector;
  }
}

TEST(SetupSheet, NamesAreMadeSafeInTheStationsToo) {
  Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  const std::string evil = "<b onclick=x>&\"'";
  for (auto& feature : scene.features) feature.name += evil;
  for (auto& nest : scene.nests) nest.name += evil;
  for (auto& target : scene.full_targets) target.name += evil;
  for (auto& stylus : scene.offset_styli) std::visit([&](auto& s) { s.name += evil; }, stylus);
  for (auto& zone : scene.zones) zone.name += evil;
  for (auto& body : scene.bodies) body.name += evil;
  for (auto& station : plan.stations) station.name += evil;
  EXPECT_THAT(sheet(scene, plan), Not(HasSubstr("<b onclick")));
}

TEST(SetupSheet, WithoutNestsOrPointsItStillTellsWhatItKnows) {
  Scene scene = hand_made::scene();
  Plan plan = hand_made::plan();
  scene.bodies.clear();
  scene.nests.clear();
  for (auto& feature : scene.features) feature.shape = SphereFeature{{0, 0, 0}, Vec3::UnitZ(), 10};
  for (auto& station : plan.stations) {
    station.nests.clear();
    station.sight.nests.clear();
    for (auto& mark : station.sight.features) mark.way = Way::surface;
  }
  plan.links.clear();
  plan.unreached.clear();
  const std::string part = station(sheet(scene, plan), 1);
  EXPECT_THAT(part, HasSubstr("no point to measure from"));
  EXPECT_THAT(part, Not(HasSubstr("nan")));
  EXPECT_THAT(part, Not(HasSubstr("first reading")));
  EXPECT_THAT(part, HasSubstr("Take ball-38"));
}

}  // namespace
}  // namespace standpoint
