// The check of calls is shown to find them; the objects of the program are listed by
// calls_point_down.

#include "upward_calls.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace standpoint::house {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(UpwardCalls, ARoomThatCallsOneFurtherOnIsFound) {
  const Calls calls = calls_between_rooms(
      "b/io/CMakeFiles/a.dir/use/look.cpp.o: _ZN10standpoint4readEv U\n"
      "b/io/CMakeFiles/a.dir/./standpoint/read_scene.cpp.o: _ZN10standpoint4readEv T 0 10\n");
  EXPECT_THAT(calls.upward, ElementsAre("io/use/look.cpp calls up: standpoint::read() of "
                                        "io/standpoint/read_scene.cpp"));
  EXPECT_EQ(calls.between_rooms, 1U);
}

TEST(UpwardCalls, CallsDownAndWithinARoomAreLeftAlone) {
  const Calls calls = calls_between_rooms(
      "b/io/CMakeFiles/a.dir/use/look.cpp.o: down U\n"
      "b/io/CMakeFiles/a.dir/use/look.cpp.o: beside U\n"
      "b/io/CMakeFiles/a.dir/use/look.cpp.o: inline U\n"
      "b/io/CMakeFiles/a.dir/use/place.cpp.o: beside T 0 10\n"
      "b/io/CMakeFiles/a.dir/cli/run.cpp.o: inline W 0 10\n"
      "b/planner/CMakeFiles/a.dir/standpoint/why.cpp.o: down T 0 10\n"
      "b/third/CMakeFiles/a.dir/what.cpp.o: down T 0 10\n");
  EXPECT_THAT(calls.upward, IsEmpty());
  EXPECT_EQ(calls.between_rooms, 1U);
}

}  // namespace
}  // namespace standpoint::house
