// No two files of a folder define one name in their unnamed namespaces. The check is shown to fail
// on small trees.

#include "own_names.h"

#include <gmock/gmock.h>

#include "made_tree.h"
#include "source_dir.h"

namespace standpoint::house {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST(House, NoTwoFilesOfAFolderDefineOneNameInThisTree) {
  EXPECT_THAT(names_defined_twice(source_dir()), IsEmpty());
}

class OwnNames : public MadeTree {
 protected:
  /// A file whose unnamed namespace holds these lines.
  void add_file(const std::string& name, const std::string& lines,
                const std::string& outside = "standpoint") const {
    add(name, "namespace " + outside + " {\nnamespace {\n\n" + lines + "\n\n}  // namespace\n" +
                  "int same_for_all() {\n  return 0;\n}\n}  // namespace " + outside);
  }
};

TEST_F(OwnNames, AConstantInTwoFilesIsFound) {
  add_file("io/words/a.cpp", "constexpr double kWidth = 720, kHeight = 300;");
  add_file("io/words/b.cpp", "constexpr std::size_t kHeight = 4;  // rows");
  EXPECT_THAT(names_defined_twice(root_),
              ElementsAre("io/words: standpoint::kHeight is defined in a.cpp and in b.cpp"));
}

TEST_F(OwnNames, AFunctionOfTheSameParametersIsFound) {
  add_file("planner/why/a.cpp",
           "template <class T>\nstd::map<int, T> by_number(const T& a,\n"
           "                          int b = 3) {\n  return {};\n}");
  add_file("planner/why/b.cpp", "template <class T>\nvoid by_number(T one, int two) {\n}");
  EXPECT_THAT(names_defined_twice(root_),
              ElementsAre("planner/why: standpoint::by_number(T, int) is defined in a.cpp "
                          "and in b.cpp"));
}

TEST_F(OwnNames, AStructAndAnAliasOfItsNameAreFound) {
  add_file("geometry/tree/a.cpp", "struct Walk {\n  int top = 0;\n};");
  add_file("geometry/tree/b.cpp", "class Walk {\n};");
  EXPECT_THAT(names_defined_twice(root_),
              ElementsAre("geometry/tree: standpoint::Walk is defined in a.cpp and in b.cpp"));
}

TEST_F(OwnNames, AnAliasThatSaysTwoThingsIsFound) {
  add_file("io/use/a.cpp", "using Kind = BodyRemark::Kind;");
  add_file("io/use/b.cpp", "enum class Kind { step, mesh };");
  add_file("io/use/c.cpp", "using Kind = BodyRemark::Kind;");
  EXPECT_THAT(
      names_defined_twice(root_),
      ElementsAre("io/use: standpoint::Kind is defined in a.cpp and in b.cpp and in c.cpp"));
}

TEST_F(OwnNames, WhatDoesNotMeetIsNotTold) {
  add_file("io/use/a.cpp",
           "using Kind = BodyRemark::Kind;\ndouble far(double x) {\n  return x;\n}\n"
           "const char* const kStyle = R\"css(\ntext { a; }\n)css\";");
  add_file("io/use/b.cpp",
           "using Kind = BodyRemark::Kind;\ndouble far(int x) {\n  return x;\n}\n"
           "const char* const kOther = R\"css(\ntext { b; }\n)css\";");
  add_file("io/use/c.cpp", "double far(double x) {\n  return x;\n}", "standpoint::json");
  add_file("io/words/d.cpp", "double far(double x) {\n  return x;\n}");
  EXPECT_THAT(names_defined_twice(root_), IsEmpty());
}

}  // namespace
}  // namespace standpoint::house
