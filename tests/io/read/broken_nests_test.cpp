// Lists of nests that are wrong in one way each: what is told, to the letter.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "io/read/lists/nest_list.h"
#include "tests/io/read/broken_list.h"

namespace standpoint {
namespace {

using test::Broken;
using test::in_mm;
using test::lines_of;
using testing::ElementsAreArray;

std::vector<Broken> broken_lists() {
  const std::string head = "name,x,y,z,i,j,k,seat\n";
  return {
      {"an empty file",
       "",
       {"p.csv: missing, expected the header row name, x, y, z and below it a row for each entry"}},
      {"a header and no row",
       head,
       {"p.csv:2:1: missing, expected a row for each entry below the header"}},
      {"no header",
       "N1,1,2,3\n",
       {"p.csv:1:1: got \"N1,1,2,3\", expected the header row name, x, y, z and below it a row for "
        "each entry"}},
      {"no y", "name,x,z\nN1,1,2\n", {"p.csv:1:1: got \"name,x,z\", expected a header with y too"}},
      {"a name twice",
       head + "N1,1,2,3\nN1,1,2,3\n",
       {"p.csv:3:1: got \"N1\", expected for name a name of its own; line 2 has this one already"}},
      {"no name",
       head + ",1,2,3\n",
       {"p.csv:2:1: missing, expected for name a text of 1 to 200 characters without control "
        "characters"}},
      {"part of a normal",
       head + "N1,1,2,3,0,0\n",
       {"p.csv:2:13: missing, expected for k a part of a direction, -1e9 to 1e9"}},
      {"a normal without length",
       head + "N1,1,2,3,0,0,0\n",
       {"p.csv:2:10: got \"0\", expected for i, j, k a direction with a length other than zero (it "
        "need not be 1)"}},
      {"a seat beyond a right angle",
       head + "N1,1,2,3,0,0,1,95\n",
       {"p.csv:2:16: got \"95\", expected for seat an angle in degrees, 0 to 90"}},
      {"a seat that is a word",
       head + "N1,1,2,3,0,0,1,wide\n",
       {"p.csv:2:16: got \"wide\", expected for seat an angle in degrees, 0 to 90"}},
      {"a seat in radians",
       "name,x,y,z,seat [rad]\nN1,1,2,3,1\n",
       {"p.csv:1:12: got \"seat [rad]\", expected the unit deg, or none"}},
      {"a coordinate with a unit",
       head + "N1,1m,2,3\n",
       {"p.csv:2:4: got \"1m\", expected for x a coordinate in mm, -1e9 to 1e9"}},
      {"a feature among nests",
       "name,x,y,z,type\nN1,1,2,3,hole\n",
       {"p.csv:2:10: got \"hole\", expected for type one of nest"}},
      {"a nest with a diameter",
       "name,x,y,z,diameter\nN1,1,2,3,4\n",
       {"p.csv:2:10: got \"4\", expected for diameter nothing: a nest has none"}},
      {"a nest with a tolerance",
       "name,x,y,z,tolerance\nN1,1,2,3,0.1\n",
       {"p.csv:2:10: got \"0.1\", expected for tolerance nothing: a nest has none"}},
      {"two units for places",
       "name,x [mm],y [m],z\nN1,1,2,3\n",
       {"p.csv:1:13: got \"y [m]\", expected mm, one unit for x, y and z"}},
  };
}

TEST(BrokenNestList, IsToldWithFileLineAndColumn) {
  for (const Broken& broken : broken_lists()) {
    SCOPED_TRACE(broken.what);
    const auto list = parse_nest_list(broken.text, in_mm());
    ASSERT_FALSE(list);
    EXPECT_THAT(lines_of(list.error()), ElementsAreArray(broken.told));
  }
}

}  // namespace
}  // namespace standpoint
