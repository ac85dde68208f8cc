// The documents name what is there: files, folders, functions and members of types. Shown to fail
// on small trees.

#include "doc_links.h"

#include <gmock/gmock.h>

#include "made_tree.h"
#include "source_dir.h"

namespace standpoint::house {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StrEq;

TEST(Docs, NameFilesThatExistInThisTree) {
  EXPECT_THAT(missing_files(source_dir()), IsEmpty());
}

TEST(Docs, NameFunctionsAndMembersThatExistInThisTree) {
  EXPECT_THAT(missing_names(source_dir()), IsEmpty());
}

class DocsOfATree : public MadeTree {
 protected:
  DocsOfATree() {
    add("planner/model/touch.h",
        "#pragma once\n/// Formerly Touch::takes.\nstruct Touch {\n  int count = 0;  // not: "
        "takes\n"
        "  void reaches() { if (count) { count = 1; } }\n  Touch();\n};\n"
        "enum class Way { rim };\nnamespace standpoint::tolerance {\nconstexpr double kFit = "
        "1;\n}\n"
        "void takes(Touch touch) { takes(touch); }\n");
    add("planner/model/touch.cpp", "");
    add("planner/reach/element.cpp", "");
    add("io/page/app/model/store.ts", "");
    add("scenes/wire/scene.json", "{}");
    add("docs/touches.md", "# Touches");
  }
};

TEST_F(DocsOfATree, MayNameFilesInManyWays) {
  add("README.md",
      "[touches](docs/touches.md), [there](docs/touches.md#where), "
      "[far](https://example.org/x.md),\n"
      "[here](#here), `planner/{model/touch,reach/element}.cpp`, `planner/*/touch.h`, "
      "`planner/reach/`,\n"
      "`planner/model/touch`, `touch.cpp`, `model/store.ts`, `model/`, `planner/reach`,\n"
      "`sh scenes/wire/scene.json -o out/x.md`, `.cpp` files, `DIR/plan.json`, `a/b`, `build/x.h`\n"
      "\n    planner/no/example.cpp\n\n```\n`planner/none.cpp`\n```\n");
  add("docs/more.md", "[up](../README.md), [beside](touches.md), `touches.md`");
  EXPECT_THAT(missing_files(root_), IsEmpty());
}

TEST_F(DocsOfATree, ThatNameFilesWhichAreGoneAreTold) {
  add("README.md",
      "Text.\n`planner/reach/gone.cpp` and `gone.h`, `planner/{model/touch,gone}.cpp`,\n"
      "`planner/*/gone*.h`, `scenes/fire/scene.json`, `stations/`, `reach/touch.ts`, and `x\n"
      "planner/stations`; [a](docs/gone.md)\n");
  EXPECT_THAT(missing_files(root_),
              ElementsAre(StrEq("README.md:2: planner/reach/gone.cpp does not exist"),
                          StrEq("README.md:2: gone.h does not exist"),
                          StrEq("README.md:2: planner/gone.cpp does not exist"),
                          StrEq("README.md:3: planner/*/gone*.h does not exist"),
                          StrEq("README.md:3: scenes/fire/scene.json does not exist"),
                          StrEq("README.md:3: stations/ does not exist"),
                          StrEq("README.md:3: reach/touch.ts does not exist"),
                          StrEq("README.md:3: planner/stations does not exist"),
                          StrEq("README.md:4: the link to docs/gone.md leads nowhere")));
}

TEST_F(DocsOfATree, AreCheckedBelowDocsAndAtTheTopOnly) {
  add("planner/notes.md", "`gone.h`");
  add("docs/deep/down.md", "`gone.h`, [a](gone.md)");
  EXPECT_THAT(missing_files(root_), ElementsAre(HasSubstr("docs/deep/down.md:1: gone.h"),
                                                HasSubstr("docs/deep/down.md:1: the link")));
}

TEST_F(DocsOfATree, MayNameMembers) {
  add("docs/more.md",
      "`Touch::count`, `Touch::reaches(at)`, `Touch::Touch`, `Way::rim`, `std::sin`,\n"
      "`tolerance::kFit`, `standpoint::Touch::count`. Touch::takes without backticks.");
  EXPECT_THAT(missing_names(root_), IsEmpty());
}

TEST_F(DocsOfATree, ThatNameMembersWhichAreGoneAreTold) {
  add("docs/more.md", "`Touch::takes`\n`Gone::count` `Way::wall`\n`tolerance::kGone`");
  EXPECT_THAT(missing_names(root_),
              ElementsAre(StrEq("docs/more.md:1: no header declares Touch::takes"),
                          StrEq("docs/more.md:2: no header declares Gone::count"),
                          StrEq("docs/more.md:2: no header declares Way::wall"),
                          StrEq("docs/more.md:3: no header declares tolerance::kGone")));
}

TEST_F(DocsOfATree, TellFunctionsWithTheirFiles) {
  add("docs/more.md",
      "`touch.h`: `takes` makes it,\nand (`planner/model/touch.h`: `reaches`); `touch.h`, `gone`;\n"
      "`touch.h`: all; `gone`. `DIR/plan.json`: `gone`. `touch.h`: `gone(a, b)`.");
  EXPECT_THAT(missing_names(root_), IsEmpty());
  add("docs/other.md", "`touch.h`: `gone`\n(`touch.h`:\n`take`).");
  EXPECT_THAT(missing_names(root_), ElementsAre(StrEq("docs/other.md:1: no touch.h has gone"),
                                                StrEq("docs/other.md:3: no touch.h has take")));
}

}  // namespace
}  // namespace standpoint::house
