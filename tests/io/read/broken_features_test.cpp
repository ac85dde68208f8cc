// Lists of features that are wrong in one way each: what is told, to the letter.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/lists/feature_list.h"
#include "tests/io/read/broken_list.h"

namespace standpoint {
namespace {

using test::Broken;
using test::in_mm;
using test::lines_of;
using testing::ElementsAre;
using testing::ElementsAreArray;

std::vector<Broken> broken_lists() {
  const std::string head = "name,x,y,z,i,j,k,type,diameter,depth,tolerance,required\n";
  return {
      {"an empty file",
       "",
       {"p.csv: missing, expected the header row name, x, y, z and below it a row for each entry"}},
      {"nothing but blanks",
       "\xEF\xBB\xBF\r\n ; ;\r\n",
       {"p.csv:2:1: got \" ; ;\", expected the header row name, x, y, z and below it a row for "
        "each entry"}},
      {"a header and no row",
       head,
       {"p.csv:2:1: missing, expected a row for each entry below the header"}},
      {"a header and blank rows",
       head + ",,,,\n\n",
       {"p.csv:2:1: missing, expected a row for each entry below the header"}},
      {"UTF-16 with its mark",
       std::string("\xFF\xFEn\0a\0", 6),
       {"p.csv: got text in UTF-16, expected text in UTF-8: save the list as CSV in UTF-8"}},
      {"UTF-16 the other way round",
       std::string("\xFE\xFF\0n\0a", 6),
       {"p.csv: got text in UTF-16, expected text in UTF-8: save the list as CSV in UTF-8"}},
      {"UTF-16 without a mark",
       std::string("n\0a\0m\0", 6),
       {"p.csv: got text in UTF-16, expected text in UTF-8: save the list as CSV in UTF-8"}},
      {"Latin-1 in a name",
       head + "B\xF6\x63k,1,2,3\n",
       {"p.csv:2:1: got \"B\xEF\xBF\xBD"
        "ck\", expected text in UTF-8: save the list as CSV in UTF-8"}},
      {"Latin-1 in the header",
       "name,x,y,z,gr\xF6\xDF\x65\np,1,2,3,4\n",
       {"p.csv:1:12: got \"gr\xEF\xBF\xBD\xEF\xBF\xBD"
        "e\", expected text in UTF-8: save the list as CSV in UTF-8"}},
      {"no header",
       "p1,1,2,3\np2,4,5,6\n",
       {"p.csv:1:1: got \"p1,1,2,3\", expected the header row name, x, y, z and below it a row for "
        "each entry"}},
      {"another table",
       "station;target\nS1;ball\n",
       {"p.csv:1:1: got \"station;target\", expected the header row name, x, y, z and below it a "
        "row for each entry"}},
      {"no z", "name,x,y\np,1,2\n", {"p.csv:1:1: got \"name,x,y\", expected a header with z too"}},
      {"no name and no x",
       "y,z\n1,2\n",
       {"p.csv:1:1: got \"y,z\", expected a header with name, x too"}},
      {"i and j without k",
       "name,x,y,z,i,j\np,1,2,3,0,0\n",
       {"p.csv:1:1: got \"name,x,y,z,i,j\", expected a header with k too"}},
      {"an unknown column",
       "name,x,y,z,dept\np,1,2,3,4\n",
       {"p.csv:1:12: got \"dept\", expected one of the columns name, x, y, z, i, j, k, type, "
        "diameter, depth, length, width, angle, side, through, along_i, along_j, along_k, seat, "
        "tolerance, required, datum, note; nearest: \"depth\""}},
      {"a column twice",
       "name,x,y,z,X\np,1,2,3,4\n",
       {"p.csv:1:12: got \"X\", expected each column once; field 2 is the same"}},
      {"an unknown unit",
       "name,x [parsec],y,z\np,1,2,3\n",
       {"p.csv:1:6: got \"x [parsec]\", expected one of the units mm, cm, m, in, ft"}},
      {"a unit of degrees for a length",
       "name,x,y,z,diameter [deg],depth\nh,1,2,3,4,5\n",
       {"p.csv:1:12: got \"diameter [deg]\", expected one of the units mm, cm, m, in, ft"}},
      {"a unit for a direction",
       "name,x,y,z,i [mm],j,k\np,1,2,3,0,0,1\n",
       {"p.csv:1:12: got \"i [mm]\", expected a heading without a unit"}},
      {"a unit for a name",
       "name (mm),x,y,z\np,1,2,3\n",
       {"p.csv:1:1: got \"name (mm)\", expected a heading without a unit"}},
      {"two units for places",
       "name,x [mm],y [in],z\np,1,2,3\n",
       {"p.csv:1:13: got \"y [in]\", expected mm, one unit for x, y and z"}},
      {"an angle in radians",
       "name,x,y,z,angle [rad]\np,1,2,3,\n",
       {"p.csv:1:12: got \"angle [rad]\", expected the unit deg, or none"}},
      {"a quote in the header",
       "na\"me,x,y,z\np,1,2,3\n",
       {"p.csv:1:1: got \"na\\\"me,x,y,z\", expected fields quoted as RFC 4180 has it; this row "
        "has a quote inside a field that does not begin with one"}},
      {"a quote within a field",
       head + "pa\"d,1,2,3\n",
       {"p.csv:2:1: got \"pa\\\"d,1,2,3\", expected fields quoted as RFC 4180 has it; this row has "
        "a quote inside a field that does not begin with one"}},
      {"text after a quote",
       head + "\"pad\"1,1,2,3\n",
       {"p.csv:2:1: got \"pad1,1,2,3\", expected fields quoted as RFC 4180 has it; this row has "
        "text after a closing quote"}},
      {"a quote that is never closed",
       head + "\"pad,1,2,3\nq,4,5,6\n",
       {"p.csv:2:1: got \"pad,1,2,3\\nq,4,5,6\\n\", expected fields quoted as RFC 4180 has it; "
        "this row has a quote that is never closed"}},
      {"no name",
       head + " ,1,2,3\n",
       {"p.csv:2:1: missing, expected for name a text of 1 to 200 characters without control "
        "characters"}},
      {"a name too long",
       head + std::string(201, 'n') + ",1,2,3\n",
       {"p.csv:2:1: got \"nnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnnn...\", expected for "
        "name a text of 1 to 200 characters without control characters"}},
      {"a line end in a name",
       head + "\"a\nb\",1,2,3\n",
       {"p.csv:2:1: got \"a\\nb\", expected for name a text of 1 to 200 characters without control "
        "characters"}},
      {"an escape in a name",
       head + "\x1b[2J,1,2,3\n",
       {"p.csv:2:1: got \"\\u001b[2J\", expected for name a text of 1 to 200 characters without "
        "control characters"}},
      {"a name twice",
       head + "p,1,2,3\nq,1,2,3\np,4,5,6\n",
       {"p.csv:4:1: got \"p\", expected for name a name of its own; line 2 has this one already"}},
      {"no coordinate",
       head + "p,1,,3\n",
       {"p.csv:2:5: missing, expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"a row that ends early",
       head + "p,1\n",
       {"p.csv:2:4: missing, expected for y a coordinate in mm, -1e9 to 1e9",
        "p.csv:2:4: missing, expected for z a coordinate in mm, -1e9 to 1e9"}},
      {"a word for a number",
       head + "p,1,two,3\n",
       {"p.csv:2:5: got \"two\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"not a number",
       head + "p,1,NaN,3\n",
       {"p.csv:2:5: got \"NaN\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"infinite",
       head + "p,1,inf,3\n",
       {"p.csv:2:5: got \"inf\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"too large for a double",
       head + "p,1,1e999,3\n",
       {"p.csv:2:5: got \"1e999\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"hexadecimal",
       head + "p,1,0x10,3\n",
       {"p.csv:2:5: got \"0x10\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"two numbers in a cell",
       head + "p,1,2 3,3\n",
       {"p.csv:2:5: got \"2 3\", expected for y a coordinate in mm, -1e9 to 1e9, with a decimal "
        "point, since commas part the columns"}},
      {"a unit in a cell",
       head + "p,1,2 mm,3\n",
       {"p.csv:2:5: got \"2 mm\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"a formula",
       head + "p,1,=A1+1,3\n",
       {"p.csv:2:5: got \"=A1+1\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"too far away",
       head + "p,1,2e9,3\n",
       {"p.csv:2:5: got \"2e9\", expected for y a coordinate in mm, -1e9 to 1e9"}},
      {"decimal commas between commas",
       "name,x,y,z\np,1,5,2,5,3,5\n",
       {"p.csv:2:9: got \"5\", expected nothing without a heading; with commas between the columns "
        "numbers have a decimal point"}},
      {"a quoted decimal comma between commas",
       head + "p,\"1,5\",2,3\n",
       {"p.csv:2:3: got \"1,5\", expected for x a coordinate in mm, -1e9 to 1e9, with a decimal "
        "point, since commas part the columns"}},
      {"a point in a list with decimal commas",
       "name;x;y;z\na;1,5;2;3\nb;1.5;2;3\n",
       {"p.csv:3:3: got \"1.5\", expected for x a coordinate in mm, -1e9 to 1e9, with a decimal "
        "comma, as in line 2, and nothing between thousands"}},
      {"a comma in a list with decimal points",
       "name;x;y;z\na;1.5;2;3\nb;1,5;2;3\n",
       {"p.csv:3:3: got \"1,5\", expected for x a coordinate in mm, -1e9 to 1e9, with a decimal "
        "point, as in line 2, and nothing between thousands"}},
      {"thousands apart by a point",
       "name;x;y;z\na;1.234,5;2;3\n",
       {"p.csv:2:3: got \"1.234,5\", expected for x a coordinate in mm, -1e9 to 1e9, with one "
        "decimal sign and nothing between thousands"}},
      {"thousands apart by an apostrophe",
       "name;x;y;z\na;1'234;2;3\n",
       {"p.csv:2:3: got \"1'234\", expected for x a coordinate in mm, -1e9 to 1e9, with one "
        "decimal sign and nothing between thousands"}},
      {"thousands apart by a no-break space",
       "name;x;y;z\na;1\xC2\xA0"
       "234;2;3\n",
       {"p.csv:2:3: got \"1\xC2\xA0"
        "234\", expected for x a coordinate in mm, -1e9 to 1e9, with one decimal sign and nothing "
        "between thousands"}},
      {"part of a normal",
       head + "p,1,2,3,0,,1\n",
       {"p.csv:2:11: missing, expected for j a part of a direction, -1e9 to 1e9"}},
      {"two parts of a normal missing",
       head + "p,1,2,3,,1\n",
       {"p.csv:2:9: missing, expected for i a part of a direction, -1e9 to 1e9",
        "p.csv:2:11: missing, expected for k a part of a direction, -1e9 to 1e9"}},
      {"a normal without length",
       head + "p,1,2,3,0,0,0\n",
       {"p.csv:2:9: got \"0\", expected for i, j, k a direction with a length other than zero (it "
        "need not be 1)"}},
      {"a word in a normal",
       head + "p,1,2,3,0,up,1\n",
       {"p.csv:2:11: got \"up\", expected for j a part of a direction, -1e9 to 1e9"}},
      {"an unknown type",
       head + "p,1,2,3,0,0,1,hoole,5,6\n",
       {"p.csv:2:15: got \"hoole\", expected for type one of point, plane, hole, cylinder, sphere, "
        "cone, slot, line; nearest: \"hole\""}},
      {"a type that only nests have",
       head + "p,1,2,3,0,0,1,nest\n",
       {"p.csv:2:15: got \"nest\", expected for type one of point, plane, hole, cylinder, sphere, "
        "cone, slot, line"}},
      {"a hole without depth",
       head + "p,1,2,3,0,0,1,hole,5\n",
       {"p.csv:2:21: missing, expected for depth a length in mm, 1e-9 to 1e9"}},
      {"a hole without diameter",
       head + "p,1,2,3,0,0,1,hole,,5\n",
       {"p.csv:2:20: missing, expected for diameter a length in mm, 1e-9 to 1e9"}},
      {"a hole of no size",
       head + "p,1,2,3,0,0,1,hole,0,5\n",
       {"p.csv:2:20: got \"0\", expected for diameter a length in mm, 1e-9 to 1e9"}},
      {"a hole of negative depth",
       head + "p,1,2,3,0,0,1,hole,5,-5\n",
       {"p.csv:2:22: got \"-5\", expected for depth a length in mm, 1e-9 to 1e9"}},
      {"a point with a diameter",
       head + "p,1,2,3,0,0,1,point,5\n",
       {"p.csv:2:21: got \"5\", expected for diameter nothing: a point has none"}},
      {"a sphere with a depth",
       head + "p,1,2,3,0,0,1,sphere,5,6\n",
       {"p.csv:2:24: got \"6\", expected for depth nothing: a sphere has none"}},
      {"a cylinder in a list without length and side",
       head + "p,1,2,3,0,0,1,cylinder,5\n",
       {"p.csv:2:1: missing, expected for length a length in mm, 1e-9 to 1e9",
        "p.csv:2:1: missing, expected for side one of inside, outside"}},
      {"an unknown side",
       "name,x,y,z,type,diameter,length,side\np,1,2,3,cylinder,5,6,insid\n",
       {"p.csv:2:22: got \"insid\", expected for side one of inside, outside; nearest: "
        "\"inside\""}},
      {"a slot without its direction",
       "name,x,y,z,type,width,length,depth,along_i,along_j,along_k\np,1,2,3,slot,5,20,6,,,\n",
       {"p.csv:2:21: missing, expected for along_i a part of a direction, -1e9 to 1e9",
        "p.csv:2:22: missing, expected for along_j a part of a direction, -1e9 to 1e9",
        "p.csv:2:23: missing, expected for along_k a part of a direction, -1e9 to 1e9"}},
      {"a slot wider than long",
       "name,x,y,z,type,width,length,depth,along_i,along_j,along_k\np,1,2,3,slot,50,20,6,1,0,0\n",
       {"p.csv:2:17: got \"20\", expected for length more than the width"}},
      {"a slot as long as wide",
       "name,x,y,z,type,width,length,depth,along_i,along_j,along_k\np,1,2,3,slot,20,20,6,1,0,0\n",
       {"p.csv:2:17: got \"20\", expected for length more than the width"}},
      {"a slot along its axis",
       "name,x,y,z,type,width,length,depth,along_i,along_j,along_k\np,1,2,3,slot,5,20,6,0,0,2\n",
       {"p.csv:2:21: got \"0\", expected for along_i a direction across the slot's axis; this one "
        "runs along it"}},
      {"a cone that goes on past its tip",
       "name,x,y,z,type,diameter,length,angle,side\np,1,2,3,cone,50,51,90,inside\n",
       {"p.csv:2:17: got \"51\", expected for length at most 50 mm; there the cone has come to its "
        "tip"}},
      {"a line of one row",
       head + "p,1,2,3,0,0,1,line\n",
       {"p.csv:2:1: got 1 row of \"p\", expected 2 rows of a line's name, with its two ends"}},
      {"a line of three rows",
       head + "p,1,2,3,0,0,1,line\np,2,2,3,,,,line\np,3,2,3,,,,line\n",
       {"p.csv:2:1: got 3 rows of \"p\", expected 2 rows of a line's name, with its two ends"}},
      {"a line without length",
       head + "p,1,2,3,0,0,1,line\np,1,2,3,,,,line\n",
       {"p.csv:2:1: got \"p\", expected rows with two different places, the ends of a line"}},
      {"a line along its normal",
       head + "p,1,2,3,0,0,1,line\np,1,2,9,,,,line\n",
       {"p.csv:2:1: got \"p\", expected for i, j, k a direction across the line; this one runs "
        "along it"}},
      {"a line's name on a plane",
       head + "p,1,2,3,0,0,1,line\np,2,2,3,,,,line\np,1,3,3,,,,plane\n",
       {"p.csv:4:1: got \"p\", expected for name a name of its own; line 2 has this one already"}},
      {"a cone that is flat",
       "name,x,y,z,type,diameter,length,angle,side\np,1,2,3,cone,50,20,180,inside\n",
       {"p.csv:2:20: got \"180\", expected for angle an angle in degrees, 0.001 to 179.999"}},
      {"a feature with a seat",
       "name,x,y,z,seat\np,1,2,3,45\n",
       {"p.csv:2:9: got \"45\", expected for seat nothing: a point has none"}},
      {"a tolerance of zero",
       head + "p,1,2,3,0,0,1,point,,,0\n",
       {"p.csv:2:23: got \"0\", expected for tolerance a length in mm, 1e-9 to 1e9"}},
      {"required that is neither yes nor no",
       head + "p,1,2,3,0,0,1,point,,,,maybe\n",
       {"p.csv:2:24: got \"maybe\", expected for required yes or no (or true or false, or 1 or "
        "0)"}},
      {"a plane of one row",
       head + "p,1,2,3,0,0,1,plane\n",
       {"p.csv:2:1: got 1 row of \"p\", expected 3 to 1000 rows of a plane's name, each with one "
        "of its points"}},
      {"a plane of two rows",
       head + "p,1,2,3,0,0,1,plane\nq,1,2,3\np,2,2,3,,,,plane\n",
       {"p.csv:2:1: got 2 rows of \"p\", expected 3 to 1000 rows of a plane's name, each with one "
        "of its points"}},
      {"a plane in one line",
       head + "p,1,2,3,0,0,1,plane\np,2,2,3,,,,plane\np,3,2,3,,,,plane\n",
       {"p.csv:2:1: got \"p\", expected rows whose points fix a plane; these are in one line"}},
      {"a plane with two normals",
       head + "p,1,2,3,0,0,1,plane\np,2,2,3,0,1,0,plane\np,1,3,3,,,,plane\n",
       {"p.csv:3:9: got \"0\", expected for i what line 2 says of the same plane, or nothing"}},
      {"a plane with two tolerances",
       head + "p,1,2,3,0,0,1,plane,,,0.1\np,2,2,3,,,,plane,,,0.2\np,1,3,3,,,,plane\n",
       {"p.csv:3:20: got \"0.2\", expected for tolerance what line 2 says of the same plane, or "
        "nothing"}},
      {"a plane's name on a point",
       head + "p,1,2,3,0,0,1,plane\np,2,2,3,,,,plane\np,1,3,3,,,,plane\np,1,3,3,,,,point\n",
       {"p.csv:5:1: got \"p\", expected for name a name of its own; line 2 has this one already"}},
      {"a value without a heading",
       "name,x,y,z,\np,1,2,3,4\n",
       {"p.csv:2:9: got \"4\", expected nothing without a heading; with commas between the columns "
        "numbers have a decimal point"}},
      {"more fields than headings",
       "name,x,y,z\np,1,2,3,,,7\n",
       {"p.csv:2:11: got \"7\", expected nothing without a heading; with commas between the "
        "columns numbers have a decimal point"}},
      {"several faults in one row",
       head + ",1,x,3,0,,1,hole,-1,,,what\n",
       {"p.csv:2:1: missing, expected for name a text of 1 to 200 characters without control "
        "characters",
        "p.csv:2:4: got \"x\", expected for y a coordinate in mm, -1e9 to 1e9",
        "p.csv:2:10: missing, expected for j a part of a direction, -1e9 to 1e9",
        "p.csv:2:18: got \"-1\", expected for diameter a length in mm, 1e-9 to 1e9",
        "p.csv:2:21: missing, expected for depth a length in mm, 1e-9 to 1e9",
        "p.csv:2:23: got \"what\", expected for required yes or no (or true or false, or 1 or 0)"}},
  };
}

TEST(BrokenFeatureList, IsToldWithFileLineAndColumn) {
  for (const Broken& broken : broken_lists()) {
    SCOPED_TRACE(broken.what);
    const auto list = parse_feature_list(broken.text, in_mm());
    ASSERT_FALSE(list);
    EXPECT_THAT(lines_of(list.error()), ElementsAreArray(broken.told));
  }
}

// Outside a scene nothing says what a length is in.
TEST(BrokenFeatureList, AsksForTheUnitWhereNothingStatesIt) {
  ListOptions options;
  options.file = "p.csv";
  const auto list = parse_feature_list("name,x,y,z\np,1,2,q\n", options);
  ASSERT_FALSE(list);
  EXPECT_THAT(lines_of(list.error()),
              ElementsAre("p.csv:1:6: missing, expected the unit of the lengths: in the header, as "
                          "in \"x [mm]\", or by --units mm",
                          "p.csv:2:7: got \"q\", expected for z a coordinate, -1e9 to 1e9"));
}

TEST(BrokenFeatureList, TellsAUnitThatContradictsTheCaller) {
  ListOptions options = in_mm();
  options.units = "m";
  const auto list = parse_feature_list("name,x [in],y,z\np,1,2,3\n", options);
  ASSERT_FALSE(list);
  EXPECT_THAT(lines_of(list.error()),
              ElementsAre("p.csv:1:6: got \"x [in]\", expected m, which is stated as the list's "
                          "unit, or none"));
}

TEST(BrokenFeatureList, CountsTheFaultsThatAreNotListed) {
  std::string text = "name,x,y,z\n";
  for (int i = 0; i < 10'003; ++i) text += "p" + std::to_string(i) + ",1,2,x\n";
  const auto list = parse_feature_list(text, in_mm());
  ASSERT_FALSE(list);
  ASSERT_EQ(list.error().size(), ListFaults::kMostListed + 1);
  EXPECT_EQ(test::lines_of(list.error()).back(), "3 more faults are not listed");
}

}  // namespace
}  // namespace standpoint
