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
    for (const char* folder : {"geometry", "planner/reach", "planner/stations", "io"}) {
      std::filesystem::create_directories(root_ / folder);
    }
    add("geometry/tree.h", "#include <vector>\n#include <Eigen/Core>\n#include \"geometry/vec.h\"");
    add("planner/reach/sight.cpp",
        "#include \"planner/reach/sight.h\"\n#include \"planner/cell.h\"");
    add("planner/stations/cover.cpp",
        "#include <coin/Cbc_C_Interface.h>\n#include <tbb/parallel_for.h>");
    add("io/main.cpp",
        "#include \"planner/plan.h\"\n#include <nlohmann/json.hpp>\n#include <csignal>");
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
  add("io/main.cpp", "double z = std::log10(x);");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("io/main.cpp:4 calls std::log10"),
                                               HasSubstr("sight.cpp:3 calls std::sin")));
}

TEST_F(SmallTree, GeometryKnowsNothingOfThePlanner) {
  add("geometry/tree.h", "#include \"planner/scene.h\"");
  EXPECT_THAT(broken_rules(root_),
              ElementsAre(HasSubstr("geometry/tree.h includes planner/scene.h")));
}

TEST_F(SmallTree, PlannerKnowsNothingOfFiles) {
  add("planner/stations/cover.cpp", "#  include \"io/scene/fault.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("includes io/scene/fault.h")));
}

TEST_F(SmallTree, ReachKnowsNothingOfStations) {
  add("planner/reach/sight.cpp", "#include \"planner/plan.h\"");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("includes planner/plan.h")));
}

TEST_F(SmallTree, TheEngineOfThePageUsesNoThreadsAndNoExactNumbers) {
  add("planner/reach/sight.cpp", "#include <tbb/parallel_for.h>");
  add("geometry/tree.cpp", "#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("geometry/tree.cpp includes CGAL/"),
                                               HasSubstr("includes tbb/")));
}

TEST_F(SmallTree, HeavyHeadersStayInSources) {
  add("io/read.h", "#include <nlohmann/json.hpp>");
  add("io/cad.h", "#include <TopoDS_Shape.hxx>");
  EXPECT_THAT(broken_rules(root_), ElementsAre(HasSubstr("io/cad.h"), HasSubstr("io/read.h")));
}

TEST_F(SmallTree, TheProgramUsesNoGplPartOfCgal) {
  if (!std::filesystem::exists("/usr/include/CGAL/AABB_tree.h"))
    GTEST_SKIP() << "CGAL is elsewhere";
  add("io/main.cpp", "#include <CGAL/AABB_tree.h>\n#include <CGAL/Polygon_2.h>");
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
