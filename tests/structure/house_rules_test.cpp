// No include points up, heavy headers stay in .cpp files, and the top of the tree holds what it
// should. The rules are shown to fail on small trees that break them.

#include <fstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "house_rules.h"
#include "source_dir.h"

namespace standpoint::house {
namespace {

using std::filesystem::path;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(House, IncludesPointDownInThisTree) {
  EXPECT_THAT(broken_rules(source_dir()), IsEmpty());
}

TEST(House, NothingIsMisplacedAtTheTopOfThisTree) {
  EXPECT_THAT(misplaced_at_top(source_dir()), IsEmpty());
}

/// A tree of three floors that keeps the rules until a test adds a line to it.
class SmallTree : public testing::Test {
 protected:
  SmallTree() {
    std::filesystem::remove_all(root_);
    for (const char* folder : {"geometry/standpoint", "geometry/tree/tree", "planner/standpoint",
                               "planner/reach", "planner/cover", "io/cli", "io/words"}) {
      std::filesystem::create_directories(root_ / folder);
    }
    for (const char* header : {"planner/standpoint/cell.h", "planner/standpoint/plan.h",
                               "planner/standpoint/why.h", "geometry/standpoint/shapes.h"}) {
      add(header, "#pragma once");
    }
    add("geometry/tree/tree.h",
        "#include <vector>\n#include <Eigen/Core>\n#include \"standpoint/shapes.h\"");
    add("planner/reach/sight.cpp",
        "#include \"planner/reach/sight.h\"\n#include \"standpoint/cell.h\"");
    add("planner/cover/cover.cpp",
        "#include <coin/Cbc_C_Interface.h>\n#include \"planner/cover/bits.h\"");
    add("planner/standpoint/why.cpp", "#include \"planner/why/cure.h\"");
    add("io/cli/main.cpp",
        "#include \"standpoint/plan.h\"\n#include <nlohmann/json.hpp>\n#include <csignal>");
  }
  ~SmallTree() override { std::filesystem::remove_all(root_); }

  void add(const char* file, const std::string& text) const {
    std::ofstream(root_ / file, std::ios::app) << text << '\n';
  }

  path root_ = path(testing::TempDir()) /
               ("standpoint-house-" +
                std::string(testing::UnitTest::GetInstance()->current_test_info()->name()));
};

TEST_F(SmallTree, KeepsTheRules) {
  EXPECT_THAT(broken_rules(root_), IsEmpty());
}

TEST_F(SmallTree, SharedRoomsTakeNoFigureFromTheCLibrary) {
  add("planner/reach/sight.cpp", "double y = std::sin(x);  // not std::cos(x)");
  add("io/cli/main.cpp", "double z = std::log10(x);");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("io/cli/main.cpp:4 calls std::log10"),
                                               HasSubstr("sight.cpp:3 calls std::sin")));
}

TEST_F(SmallTree, GeometryKnowsNothingOfThePlanner) {
  add("geometry/tree/tree.h", "#include \"standpoint/plan.h\"");
  EXPECT_THAT(broken_rules(root_),
              ElementsAre(HasSubstr("geometry/tree/tree.h includes standpoint/plan.h")));
}

TEST_F(SmallTree, PlannerKnowsNothingOfFiles) {
  add("planner/cover/cover.cpp", "#  include \"io/read/text/fault.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("includes io/read/text/fault.h")));
}

TEST_F(SmallTree, ReachKnowsNothingOfStations) {
  add("planner/reach/sight.cpp", "#include \"planner/stations/ties.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("includes planner/stations/ties.h")));
}

TEST_F(SmallTree, CoversKnowNothingOfScenes) {
  add("planner/cover/cover.cpp", "#include \"standpoint/plan.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("includes standpoint/plan.h")));
}

TEST_F(SmallTree, AFaceIncludesNoneOfTheRoomsThatStandOnIt) {
  add("planner/standpoint/why.h", "#include \"planner/why/cure.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("why.h includes planner/why/cure.h")));
}

TEST_F(SmallTree, AFaceIncludesNothingThatIsNotInstalled) {
  add("planner/standpoint/why.h", "#include \"geometry/tree/tree.h\"");
  add("planner/standpoint/plan.h", "#include \"standpoint/shapes.h\"");
  std::filesystem::create_directories(root_ / "io/standpoint");
  add("io/standpoint/read_scene.h",
      "#include <tl/expected.hpp>\n#include \"standpoint/plan.h\"\n"
      "#include \"planner/reach/sight.h\"");
  EXPECT_THAT(broken_rules(root_),
              ElementsAre(HasSubstr("read_scene.h includes planner/reach/sight.h"),
                          HasSubstr("why.h includes geometry/tree/tree.h")));
}

TEST_F(SmallTree, TheTreeShowsOneHeader) {
  add("planner/reach/sight.cpp",
      "#include \"geometry/tree/tree.h\"\n#include \"geometry/tree/layout.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("layout.h, which is inside of the tree")));
}

TEST_F(SmallTree, EveryFileStandsInARoom) {
  add("io/loose.cpp", "#include <vector>");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("io/loose.cpp stands in no room")));
}

TEST_F(SmallTree, TheEngineOfThePageUsesNoThreadsAndNoExactNumbers) {
  add("planner/reach/sight.cpp", "#include <tbb/parallel_for.h>");
  add("geometry/tree/tree.cpp", "#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("geometry/tree/tree.cpp includes CGAL/"),
                                               HasSubstr("includes tbb/")));
}

TEST_F(SmallTree, HeavyHeadersStayInSources) {
  add("io/words/cad.h", "#include <TopoDS_Shape.hxx>");
  add("io/words/read.h", "#include <nlohmann/json.hpp>");
  EXPECT_THAT(broken_rules(root_),
              ElementsAre(HasSubstr("io/words/cad.h"), HasSubstr("io/words/read.h")));
}

TEST_F(SmallTree, TheProgramUsesNoGplPartOfCgal) {
  if (!std::filesystem::exists("/usr/include/CGAL/AABB_tree.h"))
    GTEST_SKIP() << "CGAL is elsewhere";
  add("io/cli/main.cpp", "#include <CGAL/AABB_tree.h>\n#include <CGAL/Polygon_2.h>");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("CGAL/AABB_tree.h, a GPL part")));
}

TEST_F(SmallTree, StrayAndMissingNamesAtTheTopAreTold) {
  std::filesystem::create_directories(root_ / "tools");
  std::filesystem::create_directories(root_ / "build");
  add("notes.txt", "");
  EXPECT_THAT(
      misplaced_at_top(root_),
      testing::IsSupersetOf({HasSubstr("tools does not"), HasSubstr("notes.txt does not"),
                             HasSubstr("scenes is missing"), HasSubstr("LICENSE is missing")}));
}

}  // namespace
}  // namespace standpoint::house
