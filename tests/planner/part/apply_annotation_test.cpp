// Which feature gets which tolerance.

#include "planner/part/apply_annotation.h"

#include <algorithm>

#include <gtest/gtest.h>

namespace standpoint {
namespace {

FoundFeature feature(FoundKind kind, std::vector<std::size_t> faces) {
  FoundFeature found;
  found.kind = kind;
  found.faces = std::move(faces);
  return found;
}

GeometricTolerance tolerance(std::uint64_t id, ToleranceKind kind, double width,
                             std::vector<std::size_t> faces) {
  GeometricTolerance found;
  found.id = id;
  found.kind = kind;
  found.width = width;
  found.faces = std::move(faces);
  found.text = "number " + std::to_string(id);
  return found;
}

/// The text of the tolerance that one feature gets; empty where it gets none. The same whatever the
/// order of the tolerances.
std::string given(const FoundFeature& feature, std::vector<GeometricTolerance> tolerances) {
  std::string text;
  std::sort(tolerances.begin(), tolerances.end(),
            [](const auto& a, const auto& b) { return a.id < b.id; });
  bool is_first = true;
  do {
    std::vector<FoundFeature> features = {feature};
    Annotation annotation;
    annotation.tolerances = tolerances;
    apply_annotation(features, annotation);
    EXPECT_EQ(features[0].tolerance.has_value(), !features[0].tolerance_from.empty());
    EXPECT_TRUE(is_first || features[0].tolerance_from == text) << text;
    text = features[0].tolerance_from;
    is_first = false;
  } while (std::next_permutation(tolerances.begin(), tolerances.end(),
                                 [](const auto& a, const auto& b) { return a.id < b.id; }));
  return text;
}

TEST(ApplyAnnotation, ToleranceGoesToTheFeatureOfItsFace) {
  std::vector<FoundFeature> features = {feature(FoundKind::hole, {3, 4}),
                                        feature(FoundKind::hole, {5, 6}),
                                        feature(FoundKind::plane, {1})};
  Annotation annotation;
  annotation.tolerances = {tolerance(10, ToleranceKind::position, 0.4, {2, 4, 7})};
  apply_annotation(features, annotation);
  EXPECT_EQ(features[0].tolerance, 0.4);
  EXPECT_EQ(features[0].tolerance_from, "number 10");
  EXPECT_FALSE(features[1].tolerance);
  EXPECT_FALSE(features[2].tolerance);
  EXPECT_TRUE(features[1].tolerance_from.empty());
}

TEST(ApplyAnnotation, PlaceGoesBeforeRunOutBeforeDirectionBeforeForm) {
  const FoundFeature hole = feature(FoundKind::hole, {1});
  const GeometricTolerance place = tolerance(1, ToleranceKind::position, 0.8, {1});
  const GeometricTolerance runout = tolerance(2, ToleranceKind::total_runout, 0.4, {1});
  const GeometricTolerance direction = tolerance(3, ToleranceKind::perpendicularity, 0.2, {1});
  const GeometricTolerance form = tolerance(4, ToleranceKind::cylindricity, 0.1, {1});
  EXPECT_EQ(given(hole, {place, runout, direction, form}), "number 1");
  EXPECT_EQ(given(hole, {runout, direction, form}), "number 2");
  EXPECT_EQ(given(hole, {direction, form}), "number 3");
  EXPECT_EQ(given(hole, {form}), "number 4");
}

TEST(ApplyAnnotation, OfOneRankTheSmallestZoneDecidesThenTheLowerId) {
  const FoundFeature hole = feature(FoundKind::hole, {1});
  const GeometricTolerance wide = tolerance(1, ToleranceKind::position, 1.5, {1});
  const GeometricTolerance narrow = tolerance(2, ToleranceKind::surface_profile, 0.3, {1});
  const GeometricTolerance equal = tolerance(3, ToleranceKind::position, 0.3, {1});
  EXPECT_EQ(given(hole, {wide, narrow, equal}), "number 2");
  EXPECT_EQ(given(hole, {wide, equal}), "number 3");
}

TEST(ApplyAnnotation, AllOverGivesWayToTheFeaturesOwn) {
  const FoundFeature plane = feature(FoundKind::plane, {1});
  GeometricTolerance all_over = tolerance(1, ToleranceKind::surface_profile, 0.5, {1, 2});
  all_over.whole_part = true;
  const GeometricTolerance own = tolerance(2, ToleranceKind::surface_profile, 0.8, {1});
  EXPECT_EQ(given(plane, {all_over, own}), "number 2");
  EXPECT_EQ(given(plane, {all_over}), "number 1");
  // The form of a face says nothing of its place: there the rest of the drawing holds.
  EXPECT_EQ(given(plane, {all_over, tolerance(3, ToleranceKind::flatness, 0.1, {1})}), "number 1");
}

TEST(ApplyAnnotation, KindsThatAFeatureCannotHaveAreNotItsOwn) {
  const GeometricTolerance flat = tolerance(1, ToleranceKind::flatness, 0.1, {1});
  EXPECT_EQ(given(feature(FoundKind::plane, {1}), {flat}), "number 1");
  for (const FoundKind kind : {FoundKind::hole, FoundKind::slot, FoundKind::cylinder,
                               FoundKind::cone, FoundKind::sphere}) {
    EXPECT_EQ(given(feature(kind, {1}), {flat}), "");
  }
  const GeometricTolerance round = tolerance(1, ToleranceKind::roundness, 0.1, {1});
  EXPECT_EQ(given(feature(FoundKind::plane, {1}), {round}), "");
  EXPECT_EQ(given(feature(FoundKind::cone, {1}), {round}), "number 1");
  EXPECT_EQ(
      given(feature(FoundKind::cone, {1}), {tolerance(1, ToleranceKind::cylindricity, 0.1, {1})}),
      "");
}

TEST(ApplyAnnotation, ZoneWithoutWidthIsNoTolerance) {
  const FoundFeature hole = feature(FoundKind::hole, {1});
  EXPECT_EQ(given(hole, {tolerance(1, ToleranceKind::position, 0, {1})}), "");
  EXPECT_EQ(given(hole, {tolerance(1, ToleranceKind::position, 0, {1}),
                         tolerance(2, ToleranceKind::perpendicularity, 0.2, {1})}),
            "number 2");
}

TEST(ApplyAnnotation, DatumFeaturesAreMarked) {
  std::vector<FoundFeature> features = {feature(FoundKind::hole, {3, 4}),
                                        feature(FoundKind::plane, {1})};
  Annotation annotation;
  annotation.datums = {{"A", {1, 2}, false, {}}, {"B", {}, true, {}}};
  apply_annotation(features, annotation);
  EXPECT_FALSE(features[0].datum);
  EXPECT_TRUE(features[1].datum);
  EXPECT_FALSE(features[1].tolerance);
}

}  // namespace
}  // namespace standpoint
