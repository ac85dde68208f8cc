#include "io/write/page/page_html.h"

#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/write/drawings/plan_drawing.h"
#include "io/write/drawings/sheet.h"
#include "io/write/page/page_bundle.h"
#include "tests/io/write/hand_made.h"

namespace standpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

std::string page(const Scene& scene, const Plan& plan) {
  return page_html(Cell(scene, hand_made::meshes()), plan, find_cautions(scene, plan));
}
std::string page() {
  return page(hand_made::scene(), hand_made::plan());
}

const std::string evil = "</script></style><img src=x onerror=alert(1)>\"'&\xF0\x9F\x94\xA9";

/// Every name that a user can give, spoilt in a way of its own.
Scene spoilt_scene() {
  Scene scene = hand_made::scene();
  scene.name += evil;
  for (auto& body : scene.bodies) body.name += evil;
  for (auto& target : scene.full_targets) target.name += evil;
  for (auto& stylus : scene.offset_styli) std::visit([&](auto& s) { s.name += evil; }, stylus);
  for (auto& feature : scene.features) feature.name += evil;
  for (auto& nest : scene.nests) nest.name += evil;
  for (auto& zone : scene.zones) zone.name += evil;
  for (auto& walkway : scene.walkways) walkway.name += evil;
  return scene;
}

TEST(Page, EscapesEveryName) {
  Plan plan = hand_made::plan();
  plan.stations[1].name = "door<img src=x>";
  const std::string html = page(spoilt_scene(), plan);
  EXPECT_THAT(html, Not(HasSubstr("<img")));
  EXPECT_THAT(html, Not(HasSubstr("</script")));
  EXPECT_THAT(html, HasSubstr("pad-1&lt;/script&gt;"));
  // One style element, closed once.
  EXPECT_EQ(html.find("</style>"), html.rfind("</style>"));
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
    ++count;
  return count;
}

TEST(Page, DataBlocksEndWhereTheyShouldWhateverTheNames) {
  const Scene scene = spoilt_scene();
  const Plan plan = hand_made::plan();
  const Cautions cautions = find_cautions(scene, plan);
  Meshes meshes = hand_made::meshes();
  Mesh column = *meshes[0];
  for (std::string& name : column.face_names) name += evil;
  meshes[0] = std::make_shared<const Mesh>(std::move(column));
  const std::string html =
      page_html(Cell(scene, meshes), plan, cautions, R"({"name": "</script><img src=x><!--"})");
  EXPECT_THAT(html, Not(HasSubstr("<img")));
  EXPECT_THAT(html, Not(HasSubstr("<!--")));
  if (page_bundle().empty()) {
    EXPECT_EQ(count_of(html, "<script"), 0u);
    EXPECT_THAT(html, HasSubstr("built without the part"));
    return;
  }
  // Plan, scene, meshes and the app.
  EXPECT_EQ(count_of(html, "</script>"), 4u);
  EXPECT_THAT(html, HasSubstr(R"({"name": "\u003c/script>\u003cimg src=x>)"));
  EXPECT_THAT(html, HasSubstr(std::string("'sha256-") + std::string(page_bundle_sha256()) + "'"));
}

/// Checks that elements nest and close, and that attributes are quoted: enough XML to notice a
/// forgotten end tag. HTML's void elements are known.
std::string first_misnesting(const std::string& html) {
  const std::set<std::string> voids{"meta", "br", "!DOCTYPE"};
  std::vector<std::string> open;
  for (std::size_t i = html.find('<'); i != std::string::npos; i = html.find('<', i)) {
    const std::size_t end = html.find('>', i);
    const std::string tag = html.substr(i + 1, end - i - 1);
    const std::string name = tag.substr(0, tag.find_first_of(" /", 1));
    i = end;
    if (tag[0] == '/') {
      if (open.empty() || open.back() != tag.substr(1)) return tag;
      open.pop_back();
    } else if (tag.back() != '/' && voids.count(name) == 0) {
      open.push_back(name);
    }
    if (name == "style") i = html.find("</style>", i);
  }
  return open.empty() ? "" : open.back();
}

TEST(Page, ElementsNestAndClose) {
  EXPECT_EQ(first_misnesting(page()), "");
  EXPECT_EQ(first_misnesting(page(spoilt_scene(), hand_made::plan())), "");
  EXPECT_EQ(first_misnesting("<p><b></p></b>"), "/p");  // the check can fail
}

TEST(Page, NeedsNothingFromOutside) {
  const std::string html = page();
  for (const char* way : {"http:", "https:", "src=", "@import", "<script", "<link"})
    EXPECT_THAT(html, Not(HasSubstr(way)));
  // Drawings show parts of one another, by their place on the page.
  for (std::size_t at = html.find("href="); at != std::string::npos;
       at = html.find("href=", at + 1))
    EXPECT_EQ(html.substr(at, 7), "href=\"#");
}

TEST(Page, SaysVerdictsByShapeAndWordAsWellAsColour) {
  std::set<std::string> shapes;
  for (const Verdict v : {Verdict::full_target, Verdict::offset_stylus, Verdict::blocked})
    shapes.insert(verdict_symbol(v));
  EXPECT_EQ(shapes.size(), 3u);
  const std::string html = page();
  for (const char* word : {"full target", "offset stylus", "Blocked, and why"})
    EXPECT_THAT(html, HasSubstr(word));
}

TEST(Page, HasTablesCausesCautionsAndTheFieldCheck) {
  const std::string html = page();
  for (const char* text :
       {"<h1>bay 7</h1>", "beam broken 1.834 m from the instrument by column-a, face 3",
        "on the rim, ball\u2019s centre 0.001658 m over it", "place in the plane of its rim",
        "also from door", "Laser radiation", "S1 to pad-1 over gangway", "A plan is a prediction",
        "S1 \u2013 door", "N1, N2, N4"})
    EXPECT_THAT(html, HasSubstr(text));
}

TEST(Page, AnEmptyPlanStillHasAPage) {
  const Scene scene = hand_made::scene();
  Plan plan;
  for (std::size_t f = 0; f < scene.features.size(); ++f) {
    plan.features.emplace_back();
    plan.features.back().feature = FeatureId(f);
  }
  const std::string html = page(scene, plan);
  EXPECT_EQ(first_misnesting(html), "");
  EXPECT_THAT(html, HasSubstr("0 of 3"));
  EXPECT_THAT(html, Not(HasSubstr("nan")));
  EXPECT_THAT(html, Not(HasSubstr("inf ")));
}

TEST(Page, SameInputSameBytes) {
  EXPECT_EQ(page(), page());
}

TEST(PlanDrawing, StaysSmallForALargeMesh) {
  Mesh mesh;
  constexpr std::uint32_t kSide = 300;  // 180 000 triangles of a bumpy sheet
  for (std::uint32_t i = 0; i <= kSide; ++i)
    for (std::uint32_t j = 0; j <= kSide; ++j)
      mesh.vertices.emplace_back(i * 2000.0 / kSide, j * 1000.0 / kSide, 800 + (i * j) % 7);
  for (std::uint32_t i = 0; i < kSide; ++i) {
    for (std::uint32_t j = 0; j < kSide; ++j) {
      const std::uint32_t a = i * (kSide + 1) + j, b = a + kSide + 1;
      mesh.triangles.push_back({a, b, a + 1});
      mesh.triangles.push_back({b, b + 1, a + 1});
    }
  }
  Meshes meshes = hand_made::meshes();
  meshes[1] = std::make_shared<const Mesh>(std::move(mesh));
  const PlanDrawings drawings =
      draw_plan(Cell(hand_made::scene(), std::move(meshes)), hand_made::plan());
  EXPECT_LT(drawings.plan.size(), 20000u);
  EXPECT_LT(drawings.elevation.size(), 20000u);
}

TEST(Shortened, CutsWholeLettersOnly) {
  EXPECT_EQ(shortened("abc", 3), "abc");
  EXPECT_EQ(shortened("abcd", 3), "ab\u2026");
  EXPECT_EQ(shortened("\xC3\xA9\xC3\xA9\xC3\xA9", 2), "\xC3\xA9\u2026");
}

TEST(LabelPlaces, NeverOverlapUnlessTheyMust) {
  LabelPlaces labels({{0, 0}, {200, 100}});
  int placed = 0;
  for (int i = 0; i < 20; ++i) placed += labels.place({100, 50}, 4, "label", 10, false).has_value();
  EXPECT_GT(placed, 1);
  EXPECT_LE(placed, 8);
  EXPECT_TRUE(labels.place({100, 50}, 4, "label", 10, true));
}

}  // namespace
}  // namespace standpoint
