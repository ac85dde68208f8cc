#include "tests/io/read/bad_scenes.h"

#include <gtest/gtest.h>

namespace standpoint::scene_samples {

std::function<std::string()> with(const std::string& pointer, const Json& value) {
  return [=] {
    Json scene = full_scene();
    scene[Json::json_pointer(pointer)] = value;
    return scene.dump();
  };
}

std::string repeated(const std::string& piece, std::size_t times) {
  std::string text;
  text.reserve(piece.size() * times);
  for (std::size_t i = 0; i < times; ++i) text += piece;
  return text;
}

std::function<std::string()> without(const std::string& pointer) {
  return [=] {
    Json scene = full_scene();
    const Json::json_pointer at(pointer);
    scene[at.parent_pointer()].erase(at.back());
    return scene.dump();
  };
}

namespace {

/// The full scene's text with one piece replaced: for what no JSON container can hold.
std::function<std::string()> with_text(const std::string& piece, const std::string& other) {
  return [=] {
    std::string text = full_scene().dump();
    const auto at = text.find(piece);
    EXPECT_NE(at, std::string::npos) << piece;
    return text.replace(at, piece.size(), other);
  };
}

std::vector<BadScene> text_cases() {
  using K = FaultKind;
  return {
      {"TextNotClosed", [] { return std::string("{\n  \"format\": \"standpoint-scene\",\n"); },
       K::syntax, "/format", "the end of the text", "line 3, column 1: "},
      {"TextEmpty", [] { return std::string(); }, K::syntax, "", "the end of the text",
       "line 1, column 1: "},
      {"TextCommaTooMany", [] { return std::string("{\"bodies\": [1,\n\n  ]}"); }, K::syntax,
       "/bodies/0", "\"]}\"", "line 3, column 3: "},
      {"TextAfterTheEnd", [] { return least_scene().dump() + " 7"; }, K::syntax, "", "\"7\"",
       "expected end of input"},
      {"FileTooLarge", [] { return std::string((std::size_t{64} << 20U) + 1, ' '); },
       K::file_too_large, "", "", "at most 64 MiB"},
      {"NestedTooDeep", with_text("\"keep\":true", "\"keep\":" + repeated("[", 100000)),
       K::too_deep, "/stations/fixed/0/keep" + repeated("/0", 59), "", "at most 64 levels"},
      {"ListTooLong", with_text("\"heights\":[", "\"heights\":[" + repeated("1,", 1000001)),
       K::list_too_long, "/stations/zones/0/heights",
       "[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1,...",
       "at most 1000000 entries"},
      // 1 + 3 * 1 000 001 + 1 values stand before the fourth list's entries: 999 995 fit.
      {"TooManyValues",
       [] { return "[" + repeated("[" + repeated("1,", 999999) + "1],", 5) + "0]"; },
       K::too_many_values, "/3/999994", "", "at most 4000000 values"},
      {"DuplicateKey", with_text("\"units\":\"mm\"", "\"units\":\"mm\",\"units\":\"m\""),
       K::duplicate_key, "/units", "\"m\"", "each key once"},
      {"NumberTooLarge", with_text("\"diameter\":38", "\"diameter\":1e999"), K::not_finite,
       "/full_targets/0/diameter", "1e999", "finite"},
      {"NotANumberByName", with_text("\"depth\":12", "\"depth\":NaN"), K::not_finite,
       "/features/2/depth", "NaN", "finite"},
      {"MinusInfinityByName", with_text("\"floor\":-10", "\"floor\":-Infinity"), K::not_finite,
       "/stations/zones/0/floor", "-Infinity", "finite"},
  };
}

std::vector<BadScene> value_cases() {
  using K = FaultKind;
  return {
      {"SceneIsAList", [] { return std::string("[1]"); }, K::wrong_type, "", "[1]", "an object"},
      {"OtherFormat", with("/format", "other"), K::unknown_choice, "/format", "\"other\"",
       "\"standpoint-scene\""},
      {"LaterVersion", with("/version", 2), K::out_of_range, "/version", "2",
       "the version that this program reads, 1"},
      {"UnknownKeyWithoutHint", with("/rules/colour", 1), K::unknown_key, "/rules/colour", "1",
       "one of these keys: min_margin, "},
      {"UnknownKeyWithHint", with("/features/2/center", 1), K::unknown_key, "/features/2/center",
       "1", "one of these keys: name, ", "centre"},
      {"UnknownKeyToEscape", with("/a~1b~0c", 1), K::unknown_key, "/a~1b~0c", "1",
       "one of these keys"},
      {"KeyOfAnotherType", with("/features/0/depth", 5), K::unknown_key, "/features/0/depth", "5",
       "one of these keys: name, type, frame, tolerance, required, targets, touches, split, datum, "
       "at, normal"},
      {"MissingKey", without("/nests/1/seat"), K::missing, "/nests/1/seat", "",
       "an angle in degrees, 0 to 90"},
      {"MissingObject",
       [] {
         Json scene = least_scene();
         scene.erase("instrument");
         return scene.dump();
       },
       K::missing, "/instrument", "", "an object"},
      {"TextForANumber", with("/instrument/beam/diameter", "6"), K::wrong_type,
       "/instrument/beam/diameter", "\"6\"", "a length in scene units, 0 to 1e9"},
      {"NullForAnObject", with("/rules", nullptr), K::wrong_type, "/rules", "null", "an object"},
      {"NumberBelow", with("/full_targets/0/diameter", 0), K::out_of_range,
       "/full_targets/0/diameter", "0", "a length in scene units, 1e-9 to 1e9"},
      {"NumberAbove", with("/instrument/elevation/1", 90.5), K::out_of_range,
       "/instrument/elevation/1", "90.5", "an angle in degrees, -90 to 90"},
      {"PartOfAStation", with("/rules/stations_per_feature", 1.5), K::not_whole,
       "/rules/stations_per_feature", "1.5", "a whole number of stations, 1 to 100"},
      {"UnknownUnit", with("/units", "inch"), K::unknown_choice, "/units", "\"inch\"",
       "one of \"mm\", \"cm\", \"m\", \"in\", \"ft\""},
      {"UnknownRoleWithHint", with("/bodies/0/role", "Part"), K::unknown_choice, "/bodies/0/role",
       "\"Part\"", "one of \"part\", ", "part"},
      {"EmptyName", with("/walkways/0/name", ""), K::bad_text, "/walkways/0/name", "\"\"",
       "1 to 200 characters"},
      {"LineBreakInName", with("/walkways/0/name", "a\nb"), K::bad_text, "/walkways/0/name",
       "\"a\\nb\"", "without control characters"},
      {"TwoCoordinates", with("/stations/fixed/0/at", {1, 2}), K::too_few_entries,
       "/stations/fixed/0/at", "[1, 2]", "a list of 3 numbers, each a coordinate"},
      {"FourCoordinates", with("/stations/fixed/0/at", {1, 2, 3, 4}), K::too_many_entries,
       "/stations/fixed/0/at", "[1, 2, 3, 4]", "a list of 3 numbers"},
      {"NoTargetAllowed", with("/features/3/targets", Json::array()), K::too_few_entries,
       "/features/3/targets", "[]", "at least one"},
      {"RangeUpsideDown", with("/instrument/range", {500, 400}), K::low_not_below_high,
       "/instrument/range", "[500, 400]", "less than the second"},
      {"RangeWithoutWidth", with("/rules/rim_contact", {30, 30}), K::low_not_below_high,
       "/rules/rim_contact", "[30, 30]", "less than the second"},
      {"NormalWithoutLength", with("/features/1/normal", {0, -0.0, 0}), K::zero_direction,
       "/features/1/normal", "[0, -0, 0]", "length other than zero"},
      {"UpWithoutLength", with("/stations/fixed/0/instrument_up", {0, 0, 0}), K::zero_direction,
       "/stations/fixed/0/instrument_up", "[0, 0, 0]", "length other than zero"},
      {"OneOfSeveralUpsWithoutLength", with("/stations/zones/1/instrument_ups/1", {0, -0.0, 0}),
       K::zero_direction, "/stations/zones/1/instrument_ups/1", "[0, -0, 0]",
       "length other than zero"},
      {"OneUpAndSeveral", with("/stations/zones/0/instrument_ups", {{0, 0, 1}}), K::other,
       "/stations/zones/0/instrument_ups", "[[0, 0, 1]]",
       "one of instrument_up and instrument_ups, not both"},
      {"AKeptPlaceOfSeveralUps", with("/stations/fixed/1/keep", true), K::other,
       "/stations/fixed/1/instrument_ups", "[[0, 0, -2], [0, 0, 1]]", "one direction, as a place"},
      {"NoUpAtAll", with("/stations/fixed/1/instrument_ups", Json::array()), K::too_few_entries,
       "/stations/fixed/1/instrument_ups", "[]", "1 to 100 directions"},
      {"ACostOfNothing", with("/stations/zones/0/cost", 0), K::out_of_range,
       "/stations/zones/0/cost", "0", "a cost above zero, 1e-6 to 1e6"},
      {"AHoleThatCrossesItself",
       with("/stations/zones/0/holes/0", {{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}),
       K::polygon_crosses, "/stations/zones/0/holes/0", "[[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]]",
       "touches itself"},
      {"AnAdapterForNoHole", with("/hole_adapters/0/hole_diameter", {10, 9}), K::low_not_below_high,
       "/hole_adapters/0/hole_diameter", "[10, 9]", "less than the second"},
  };
}

std::vector<BadScene> name_cases() {
  using K = FaultKind;
  return {
      {"TwoBodiesOfAName", with("/bodies/1/name", "bedplate"), K::duplicate_name, "/bodies/1/name",
       "\"bedplate\"", "/bodies/0/name has this one"},
      {"TargetNamedTwiceOverBothLists",
       with("/offset_styli/2", {{"name", "ball-12"},
                                {"kind", "mirror"},
                                {"tip_diameter", 6},
                                {"length", 85},
                                {"shank_diameter", 4},
                                {"head_diameter", 46},
                                {"swing", 11}}),
       K::duplicate_name, "/offset_styli/2/name", "\"ball-12\"",
       "/full_targets/1/name has this one"},
      {"TwoFeaturesOfAName", with("/features/5/name", "bore"), K::duplicate_name,
       "/features/5/name", "\"bore\"", "/features/3/name"},
      {"NestAndSiteOfAName",
       with("/nest_sites/1",
            {{"name", "N2"}, {"at", {1, 2, 3}}, {"normal", {0, 0, 1}}, {"seat", 45}}),
       K::duplicate_name, "/nest_sites/1/name", "\"N2\"", "/nests/1/name"},
      {"PlaceAndZoneOfAName", with("/stations/zones/0/name", "door"), K::duplicate_name,
       "/stations/zones/0/name", "\"door\"", "/stations/fixed/0/name"},
      {"TargetListedTwice", with("/features/0/targets/1", "ball-38"), K::duplicate_entry,
       "/features/0/targets/1", "\"ball-38\"", "entry 0 is the same"},
      {"DatumListedTwice", with("/datum/2", "N1"), K::duplicate_entry, "/datum/2", "\"N1\"",
       "entry 0 is the same"},
      {"AlignmentListedTwice", with("/alignment/from/4", "top"), K::duplicate_entry,
       "/alignment/from/4", "\"top\"", "entry 0 is the same"},
      {"AlignmentUnknown", with("/alignment/from/0", "topp"), K::unknown_name, "/alignment/from/0",
       "\"topp\"", "the name of a feature", "top"},
      {"AlignmentNamedAndChosen", with("/alignment/features", {"top", "bore", "pin"}),
       K::one_of_keys, "/alignment/choose", "6", "exactly one of these keys: features, choose"},
      {"AlignmentFromNothing",
       with("/alignment", {{"features", {"top", "bore", "pin"}}, {"from", {"top"}}}),
       K::alignment_not_chosen, "/alignment/from", "[\"top\"]", "only where `choose`"},
      {"AlignmentLeavesFree", with("/alignment", {{"features", {"top", "bore"}}}),
       K::alignment_free, "/alignment/features", "[\"top\", \"bore\"]",
       "these leave it free to turn about z through (250, 200, "},
      {"AlignmentToChooseFromLeavesFree", with("/alignment/from", Json::array({"top"})),
       K::alignment_free, "/alignment/from", "[\"top\"]",
       "free to shift along x, shift along y and turn about z"},
      {"UnknownTarget", with("/features/1/targets/0", "ball-1"), K::unknown_name,
       "/features/1/targets/0", "\"ball-1\"",
       "the name of a full target, a hole adapter or an offset stylus", "ball-12"},
      {"AdapterCarriesAStylus", with("/hole_adapters/0/target", "rod-2"), K::unknown_name,
       "/hole_adapters/0/target", "\"rod-2\"", "the name of a full target"},
      {"AdapterCarriesItself", with("/hole_adapters/0/target", "pin-10"), K::unknown_name,
       "/hole_adapters/0/target", "\"pin-10\"", "the name of a full target"},
      {"AdapterAndBallOfAName",
       with("/hole_adapters/1", {{"name", "ball-12"},
                                 {"hole_diameter", {5, 6}},
                                 {"target", "ball-38"},
                                 {"height", 30},
                                 {"base_diameter", 20},
                                 {"seat", 45}}),
       K::duplicate_name, "/hole_adapters/1/name", "\"ball-12\"",
       "/full_targets/1/name has this one"},
      {"TwoKeepOutsOfAName",
       with("/stations/keep_out/1", {{"name", "pit"}, {"polygon", {{0, 0}, {1, 0}, {0, 1}}}}),
       K::duplicate_name, "/stations/keep_out/1/name", "\"pit\"", "/stations/keep_out/0/name"},
      {"UnknownBody", with("/nest_surfaces/0/body", "roof"), K::unknown_name,
       "/nest_surfaces/0/body", "\"roof\"", "the name of a body"},
      {"UnknownDatum", with("/datum/0", "N9"), K::unknown_name, "/datum/0", "\"N9\"",
       "the name of a nest, a nest site or a feature"},
      {"DatumOfTwoMeanings", with("/features/0/name", "N1"), K::ambiguous_name, "/datum/0",
       "\"N1\"", "a nest and a feature share it"},
  };
}

std::vector<BadScene> composed_cases() {
  using K = FaultKind;
  return {
      {"BodyWithoutAShape", without("/bodies/0/mesh"), K::one_of_keys, "/bodies/0/mesh", "",
       "exactly one of these keys: mesh, box, cylinder, floor"},
      {"BodyOfTwoShapes", with("/bodies/3/mesh", "column.stl"), K::one_of_keys, "/bodies/3/box",
       "{\"size\": [400, 600, 1800]}", "exactly one of these keys: mesh, box, cylinder, floor"},
      {"BoxWithAUnitOfItsOwn", with("/bodies/3/mesh_units", "m"), K::unknown_key,
       "/bodies/3/mesh_units", "\"m\"", "one of these keys: name, role, frame, pose, box"},
      {"BoxWithoutHeight", with("/bodies/3/box/size", {400, 600}), K::too_few_entries,
       "/bodies/3/box/size", "[400, 600]", "a list of 3 numbers, each a length"},
      {"FlatCylinder", with("/bodies/4/cylinder/height", 0), K::out_of_range,
       "/bodies/4/cylinder/height", "0", "a length in scene units, 1e-9 to 1e9"},
      {"FloorWithAThickness", with("/bodies/5/floor/thickness", 5), K::unknown_key,
       "/bodies/5/floor/thickness", "5", "one of these keys: size"},
      {"UnknownFrame", with("/nests/2/frame", "drawin"), K::unknown_name, "/nests/2/frame",
       "\"drawin\"", "the name of a frame of this file", "drawing"},
      {"TwoFramesOfAName", with("/frames/1", {{"name", "drawing"}}), K::duplicate_name,
       "/frames/1/name", "\"drawing\"", "/frames/0/name has this one already"},
      {"FrameInAFrame", with("/frames/0/frame", "drawing"), K::unknown_key, "/frames/0/frame",
       "\"drawing\"", "one of these keys: name, translate, rotate_xyz_deg"},
      {"IncludedFileMissing", with("/include/1", "kit.json"), K::file_unreadable, "/include/1",
       "\"kit.json\"", "a scene file that can be read"},
      {"IncludedTwice", with("/include/1", "../cell/hall.json"), K::duplicate_entry, "/include/1",
       "\"../cell/hall.json\"", "entry 0 is the same"},
      {"IncludesItself", with("/include/1", "cell-file.json"), K::include_cycle, "/include/1",
       "\"cell-file.json\"", "does not include the one it is named in"},
      {"FeatureOfTheListHasANameTwice", with("/features/0/name", "p1"), K::duplicate_name,
       "cell/points.csv:2", "\"p1\"", "cell/cell-file.json#/features/0/name has this one already"},
      {"NestOfTheListHasANameTwice",
       with("/nest_sites/1",
            {{"name", "P1"}, {"at", {1, 2, 3}}, {"normal", {0, 0, 1}}, {"seat", 45}}),
       K::duplicate_name, "/nest_sites/1/name", "\"P1\"", "cell/pins.csv:2 has this one already"},
      {"ListMissing", with("/feature_lists/0/file", "pionts.csv"), K::file_unreadable,
       "cell/pionts.csv", "", "a list that can be read"},
  };
}

std::vector<BadScene> polygon_cases() {
  using K = FaultKind;
  return {
      {"PolygonClosedByHand", with("/walkways/0/polygon/3", {0, 5000}), K::polygon_repeats_corner,
       "/walkways/0/polygon/3", "[0, 5000]", "corner 0 is the same"},
      {"PolygonOfTwoCorners", with("/walkways/0/polygon", {{0, 0}, {1, 1}}), K::too_few_entries,
       "/walkways/0/polygon", "[[0, 0], [1, 1]]", "3 to 10000 corners"},
      {"PolygonInALine", with("/walkways/0/polygon", {{0, 0}, {1, 1}, {3, 3}}), K::polygon_flat,
       "/walkways/0/polygon", "[[0, 0], [1, 1], [3, 3]]", "in one line"},
      {"PolygonCrossesItself", with("/nest_surfaces/0/polygon", {{0, 0}, {2, 2}, {2, 0}, {0, 2}}),
       K::polygon_crosses, "/nest_surfaces/0/polygon", "[[0, 0], [2, 2], [2, 0], [0, 2]]",
       "crosses or touches itself"},
      {"PolygonTouchesItself",
       with("/walkways/0/polygon", {{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}), K::polygon_crosses,
       "/walkways/0/polygon", "[[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]]", "touches itself"},
      // 6000 x 2000 mm at 2 heights: 3.5 mm apart it makes 6000 * 2000 / 3.5^2 * 2 = 1.96e6.
      {"TooManyCandidates", with("/stations/zones/0/spacing", 3.5), K::too_many_candidates,
       "/stations/zones/0/spacing", "3.5", "up to here they make 1959184"},
      {"TooManySites", with("/nest_surfaces/0/spacing", 0.5), K::too_many_candidates,
       "/nest_surfaces/0/spacing", "0.5", "below 1000000 places; up to here they make 3200000"},
      // A sliver 1 mm wide across 9 m x 9 m: few candidates, but 4501^2 grid points.
      {"GridOverAThinDiagonal",
       with("/stations/zones/0", {{"name", "z"},
                                  {"polygon", {{0, 0}, {9000, 9000}, {9000, 9001}}},
                                  {"heights", {1}},
                                  {"spacing", 2}}),
       K::grid_too_fine, "/stations/zones/0/spacing", "2", "gives 20259001"},
  };
}

}  // namespace

const std::vector<BadScene>& bad_scenes() {
  static const std::vector<BadScene> scenes = [] {
    std::vector<BadScene> all;
    for (const auto& part : {text_cases(), value_cases(), name_cases(), composed_cases(),
                             polygon_cases(), shape_cases(), element_cases()})
      all.insert(all.end(), part.begin(), part.end());
    return all;
  }();
  return scenes;
}

}  // namespace standpoint::scene_samples
