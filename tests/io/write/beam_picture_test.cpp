// What is drawn of a beam, on scenes whose picture follows from similar triangles.

#include "io/write/drawings/beam_picture.h"

#include <regex>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/write/drawings/perspective.h"
#include "io/write/drawings/svg_to_png.h"
#include "tests/planner/scene_builder.h"

namespace standpoint {
namespace {

using namespace test;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const Vec3 kStation(3000, 0, 1019.05);  // level with the ball on the pad

/// A pad on a block at the origin, seen from +X; right in the picture is +Y.
MadeScene pad_scene() {
  MadeScene scene = bare_scene();
  scene.full_targets = {ball_target()};
  add_body(scene, "block", box({-200, -200, 600}, {200, 200, 1000}), BodyRole::part);
  add_feature(scene, "pad", PointFeature{{0, 0, 1000}, Vec3::UnitZ()});
  scene.zones = {
      {"aisle", 0, {{2000, -1500}, {4000, -1500}, {4000, 1500}, {2000, 1500}}, {1000, 3000}, 250}};
  return scene;
}

std::string draw(const MadeScene& scene, Subject subject = FeatureId(0), Vec3 station = kStation) {
  const Cell cell = cell_of(scene);
  const Diagnosis diagnosis = diagnose(cell, subject, station, {}, CureSearch{}, Watch{});
  return draw_beam_picture(cell, diagnosis).value_or("");
}

/// All numbers in the first match of `pattern`'s only group.
std::vector<double> numbers(const std::string& svg, const std::string& pattern) {
  std::smatch found;
  if (!std::regex_search(svg, found, std::regex(pattern))) return {};
  const std::string text = found[1];
  const std::regex number("-?[0-9]+(\\.[0-9]+)?");
  std::vector<double> all;
  for (std::sregex_iterator n(text.begin(), text.end(), number), end; n != end; ++n)
    all.push_back(std::stod(n->str()));
  return all;
}

/// The least and greatest x of the corners of the first path of a class.
Interval span_x(const std::string& svg, const std::string& kind) {
  const auto all = numbers(svg, "class=\"" + kind + "\" d=\"(M[^\"]*)\"");
  Interval span{1e9, -1e9};
  for (std::size_t i = 0; i + 1 < all.size(); i += 2) {
    span.low = std::min(span.low, all[i]);
    span.high = std::max(span.high, all[i]);
  }
  return span;
}

const std::string kHidden = "class=\"hidden\" d=\"M";

TEST(BeamPicture, BlockedBeamIsHatchedAndNamesWhatBlocks) {
  MadeScene scene = pad_scene();
  add_body(scene, "clamp", post(1500, 10, 0, 3000, 30));
  const std::string svg = draw(scene);
  EXPECT_THAT(svg, HasSubstr(kHidden));
  EXPECT_THAT(svg, HasSubstr("url(#hidden-hatch)"));
  EXPECT_THAT(svg, HasSubstr("class=\"in-the-way-name\""));
  EXPECT_THAT(svg, HasSubstr(">clamp</text>"));
  EXPECT_THAT(svg, HasSubstr("pad: blocked"));
  EXPECT_TRUE(svg_to_png(svg, 1));  // well-formed: it is read by an XML reader
}

TEST(BeamPicture, ClearBeamHasNoHatchAndNoArrow) {
  const std::string svg = draw(pad_scene());
  EXPECT_THAT(svg, HasSubstr("pad: full target"));
  EXPECT_THAT(svg, Not(HasSubstr(kHidden)));
  EXPECT_THAT(svg, Not(HasSubstr("class=\"arrow\"")));
  EXPECT_THAT(svg, HasSubstr("class=\"disc clear\""));
  EXPECT_TRUE(svg_to_png(svg, 1));
}

TEST(BeamPicture, DiscIsToScale) {
  const std::string svg = draw(pad_scene());
  const double length = 3000 - 19.05;
  const double radius = (6 + 0.2e-3 * length) / 2;  // contract section 3
  const auto disc = numbers(svg, "class=\"disc clear\" (cx[^/]*)/");
  ASSERT_EQ(disc.size(), 3u);
  const Interval ball = span_x(svg, "target");
  // Similar triangles: the ball's middle is a radius behind where the beam ends.
  EXPECT_NEAR(disc[2] / ((ball.high - ball.low) / 2), radius / (19.05 * length / 3000), 0.005);
  const auto bar = numbers(svg, "class=\"bar\" d=\"(M[^\"]*)\"");
  const auto bar_length = numbers(svg, "class=\"small\"[^>]*>([0-9]+) mm<");
  ASSERT_FALSE(bar_length.empty());
  EXPECT_NEAR(disc[2] / (bar[2] - bar[0]), radius / bar_length[0], 0.003);
}

TEST(BeamPicture, WhatIsNearerIsDrawnLargerAndOnItsOwnSide) {
  MadeScene scene = pad_scene();
  // Half way along, 1.9 to 4.9 mm to the right of the axis (+Y): it clips the rim of a beam
  // of 3.15.
  add_body(scene, "blade", box({1490, 1.9, 0}, {1500, 4.9, 3000}));
  const std::string svg = draw(scene);
  EXPECT_THAT(svg, HasSubstr(">blade</text>"));  // beside it: it is too thin to hold its name
  const Interval hidden = span_x(svg, "hidden");
  const auto bar = numbers(svg, "class=\"bar\" d=\"(M[^\"]*)\"");
  const auto bar_length = numbers(svg, "class=\"small\"[^>]*>([0-9]+) mm<");
  const double units_per_mm = (bar[2] - bar[0]) / bar_length[0];
  // Seen from 1500 to 1510 mm and drawn at 2980.95: nearly twice as large.
  EXPECT_NEAR((hidden.low - 360) / units_per_mm, 1.9 * 2980.95 / 1510, 0.3);
  EXPECT_NEAR((hidden.high - 360) / units_per_mm, 4.9 * 2980.95 / 1500, 0.3);
  // So is the beam that the hatch is clipped to; its first corner is on the right.
  const auto room = numbers(svg, "<clipPath id=\"beam-room-0\"><path d=\"(M[^\"]*)\"");
  ASSERT_FALSE(room.empty());
  const double radius = (6 + 0.2e-3 * 1505) / 2;
  EXPECT_NEAR((room[0] - 360) / units_per_mm, radius * 2980.95 / 1505, 0.05);
}

TEST(BeamPicture, ArrowOfARaisePointsUp) {
  MadeScene scene = pad_scene();
  add_body(scene, "wall", wall({1500, -3000}, {1500, 3000}, 0, 1060, 20), BodyRole::surroundings);
  const std::string svg = draw(scene);
  const auto arrow = numbers(svg, "class=\"arrow\" d=\"(M[^M]*)M");
  ASSERT_EQ(arrow.size(), 4u);
  EXPECT_NEAR(arrow[2], arrow[0], 0.2);
  EXPECT_LT(arrow[3], arrow[1] - 20);  // on a sheet, down is positive
  EXPECT_THAT(svg, HasSubstr("raise the instrument "));
}

TEST(BeamPicture, ArrowOfAShiftPointsToItsSide) {
  for (const double side : {1.0, -1.0}) {
    MadeScene scene = pad_scene();
    add_body(scene, "post", post(1500, -20 * side, 0, 9000, 100), BodyRole::surroundings);
    const std::string svg = draw(scene);
    const auto arrow = numbers(svg, "class=\"arrow\" d=\"(M[^M]*)M");
    ASSERT_EQ(arrow.size(), 4u);
    EXPECT_GT(side * (arrow[2] - arrow[0]), 20);  // away from the post: right is +Y
    EXPECT_THAT(svg, HasSubstr("shift the station "));
  }
}

TEST(BeamPicture, NestIsDrawn) {
  MadeScene scene = pad_scene();
  add_nest(scene, "N1", {0, 100, 1100});
  const std::string svg = draw(scene, NestId(0));
  EXPECT_THAT(svg, HasSubstr("nest N1: full target"));
  EXPECT_TRUE(svg_to_png(svg, 1));
}

TEST(BeamPicture, StylusIsDrawnAsItIsHeld) {
  MadeScene scene = pad_scene();
  scene.full_targets.clear();
  scene.offset_styli = {mirror_stylus()};
  const std::string whole = draw(scene, FeatureId(0), {3000, 0, 2200});
  EXPECT_THAT(whole, HasSubstr("pad: offset stylus"));
  const std::string svg = whole.substr(0, whole.find("id=\"inset\""));
  std::size_t outlines = 0;
  for (std::size_t i = svg.find("class=\"target\" d="); i != std::string::npos;
       i = svg.find("class=\"target\" d=", i + 1))
    ++outlines;
  EXPECT_EQ(outlines, 3u);  // tip, shank, head
}

TEST(BeamPicture, TargetThatDoesNotFitIsHatchedInItsBall) {
  MadeScene scene = pad_scene();
  add_body(scene, "lip", box({-30, -12, 1000}, {-5, 12, 1030}));
  const std::string svg = draw(scene);
  EXPECT_THAT(svg, HasSubstr("class=\"cut\""));
  EXPECT_THAT(svg, HasSubstr(kHidden));
  EXPECT_THAT(svg, HasSubstr("lip"));
  EXPECT_THAT(svg, HasSubstr("ball that does not fit"));
}

TEST(BeamPicture, OutOfRangeStillShowsWhereItWouldGo) {
  MadeScene scene = pad_scene();
  scene.instrument.range = {400, 2000};
  const std::string svg = draw(scene);
  EXPECT_THAT(svg, HasSubstr("pad: blocked"));
  EXPECT_THAT(svg, Not(HasSubstr(kHidden)));
  EXPECT_TRUE(svg_to_png(svg, 1));
}

TEST(BeamPicture, EscapesEveryName) {
  MadeScene scene = pad_scene();
  const std::string evil = "</text><script>\"'&\xff";
  add_body(scene, "clamp" + evil, post(1500, 10, 0, 3000, 30));
  for (Body& body : scene.bodies) body.name += evil;
  scene.features[0].name += evil;
  scene.full_targets[0].name += evil;
  const std::string svg = draw(scene);
  EXPECT_THAT(svg, Not(HasSubstr("<script")));
  EXPECT_THAT(svg, HasSubstr("&lt;script&gt;"));
  EXPECT_TRUE(svg_to_png(svg, 1));
}

TEST(BeamPicture, IsTheSameTextEveryTime) {
  MadeScene scene = pad_scene();
  add_body(scene, "clamp", post(1500, 10, 0, 3000, 30));
  EXPECT_EQ(draw(scene), draw(scene));
}

TEST(Perspective, ProjectsAndCutsWhatLiesBesideAndBehindTheEye) {
  const Perspective eye(Vec3::Zero(), {1000, 0, 0});
  EXPECT_LT((eye.project(Vec3(500, 10, 20)) - Vec2(-20, 40)).norm(), 1e-9);
  // From behind the eye through it to beyond the plane: kept from 100 to 1000 mm.
  Mesh mesh;
  mesh.vertices = {{-2000, 50, 0}, {2000, 50, 0}, {2000, 50, 10}};
  mesh.triangles = {{0, 1, 2}};
  const Mesh flat = eye.project(mesh, 100, 1000);
  ASSERT_EQ(flat.triangles.size(), 2u);
  double left = 0, right = -1e9;
  for (const Vec3& p : flat.vertices) {
    left = std::min(left, p.x());
    right = std::max(right, p.x());
  }
  EXPECT_NEAR(left, -500, 1e-9);  // 50 mm at a tenth of the distance
  EXPECT_NEAR(right, -50, 1e-9);
}

TEST(Perspective, LookingStraightDownHasAnUpright) {
  const Perspective eye({0, 0, 1000}, Vec3::Zero());
  EXPECT_LT((eye.project(Vec3(10, 20, 0)) - Vec2(10, 20)).norm(), 1e-9);
}

TEST(SvgToPng, HasTheSizeAskedFor) {
  const auto png = svg_to_png(
      R"(<svg xmlns="http://www.w3.org/2000/svg" width="30" height="20"><rect width="9" height="9"/></svg>)",
      2);
  ASSERT_TRUE(png) << png.error();
  // W3C PNG specification, 5.2 and 11.2.2: signature, then IHDR with width and height.
  EXPECT_THAT(*png, StartsWith("\x89PNG\r\n\x1a\n"));
  EXPECT_EQ(png->substr(16, 8), std::string("\0\0\0\x3c\0\0\0\x28", 8));
}

TEST(SvgToPng, TellsWhatItCannotDraw) {
  EXPECT_FALSE(svg_to_png("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\"><g></svg>", 1));
  EXPECT_FALSE(svg_to_png("", 1));
  const auto huge =
      svg_to_png(R"(<svg xmlns="http://www.w3.org/2000/svg" width="9e5" height="9"/>)", 1);
  ASSERT_FALSE(huge);
  EXPECT_THAT(huge.error(), HasSubstr("pixels"));
}

}  // namespace
}  // namespace standpoint
