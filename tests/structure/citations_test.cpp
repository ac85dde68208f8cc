// Whoever follows a citation arrives: every cited section exists, says what is quoted from it, and
// the contract is cited with its section. Shown to fail on small trees.

#include "citations.h"

#include <gmock/gmock.h>

#include "made_tree.h"
#include "source_dir.h"

namespace standpoint::house {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StrEq;

TEST(Citations, LeadSomewhereInThisTree) {
  EXPECT_THAT(wrong_citations(source_dir()), IsEmpty());
}

class CitationsOfATree : public MadeTree {
 protected:
  CitationsOfATree() {
    add("docs/contract.md",
        "# The contract\n\n## 1. Words\n\nSection 2 has more.\n\n## 2. Reach\n\n"
        "**A touch is judged** by its\nbest target, `mirror` or not.\n");
    add("docs/beam.md", "# Beams\n\n## 1. Margin\n\n## 2. Tree\n");
  }
};

TEST_F(CitationsOfATree, AreReadInAllTheirForms) {
  add("planner/model/touch.h",
      "/// Judges (contract section 2, \"A touch is judged\"; docs/beam.md, section\n"
      "/// 2). See contract sections 1 and 2, and contract,\n"
      "///< section 1.\nint x;  // contract section 2, \"by its best target\", \"mirror\"\n");
  add("docs/nests.md",
      "# Nests\n\nWhat is decided is in section 2 of the [contract](contract.md), how in\n"
      "[beam.md](beam.md), section 1, and `beam.md`, section 2; see [contract.md](contract.md).\n");
  EXPECT_THAT(wrong_citations(root_), IsEmpty());
}

TEST_F(CitationsOfATree, OfASectionThatDoesNotExistAreTold) {
  add("planner/touch.h", "int x;\n/// Judges (contract\n/// section 3).");
  add("io/read.ts", "// As docs/beam.md, section 7, says.");
  add("docs/nests.md", "Contract sections 1, 2 and 4.");
  add("README.md", "See section 9 of the contract.");
  EXPECT_THAT(wrong_citations(root_),
              ElementsAre(StrEq("README.md:1: docs/contract.md has no section 9"),
                          StrEq("docs/nests.md:1: docs/contract.md has no section 4"),
                          StrEq("io/read.ts:1: docs/beam.md has no section 7"),
                          StrEq("planner/touch.h:2: docs/contract.md has no section 3")));
}

TEST_F(CitationsOfATree, OfADocumentThatDoesNotExistAreTold) {
  add("planner/touch.h", "// docs/gone.md, section 1");
  EXPECT_THAT(wrong_citations(root_), ElementsAre(HasSubstr("cites docs/gone.md")));
}

TEST_F(CitationsOfATree, ThatQuoteWhatIsNotThereAreTold) {
  add("planner/touch.h", "// contract section 2, \"A touch is marked\"\n");
  add("planner/words.h", "// contract section 1, \"A touch is judged\"\n");
  EXPECT_THAT(wrong_citations(root_),
              ElementsAre(HasSubstr("does not say \"A touch is marked\""),
                          HasSubstr("section 1, does not say \"A touch is judged\"")));
}

TEST_F(CitationsOfATree, OfTheContractNeedASection) {
  add("planner/a.h", "// As the contract asks.");
  add("planner/b.cpp", "// The contract's rule.\n// (contract: T / 2U)");
  add("planner/c.cpp", "// set in the project's\n// requirements");
  add("docs/nests.md", "The contract puts coverage first.");
  EXPECT_THAT(wrong_citations(root_),
              ElementsAre(StrEq("docs/nests.md:1: \"contract\" without a section"),
                          StrEq("planner/a.h:1: \"contract\" without a section"),
                          StrEq("planner/b.cpp:1: \"contract's\" without a section"),
                          StrEq("planner/b.cpp:2: \"contract\" without a section"),
                          StrEq("planner/c.cpp:1: \"project's requirements\" without a section")));
}

TEST_F(CitationsOfATree, AreNotSeenInOtherWords) {
  add("CMakeLists.txt", "add_compile_options(-ffp-contract=off)");
  add("planner/a.cpp", "// Contraction is off.\nTEST(Zone, TheContractsAisle) {}");
  add("docs/glossary.md", "JSON names are fixed by the contract.");
  EXPECT_THAT(wrong_citations(root_), IsEmpty());
}

TEST_F(CitationsOfATree, SayWhoseSectionTheyMean) {
  add("planner/a.cpp", "// RFC 4180, section 2, and RFC 3629 section 10 (as above, section 5)");
  add("docs/beam.md", "As section 1 says.");
  EXPECT_THAT(wrong_citations(root_), IsEmpty());
  add("planner/b.cpp", "// As section 1 has it.");
  add("docs/beam.md", "As section 6 says.");
  EXPECT_THAT(wrong_citations(root_),
              ElementsAre(HasSubstr("docs/beam.md:8: of what"), HasSubstr("planner/b.cpp:1: of")));
}

TEST_F(CitationsOfATree, AreNotSoughtInWhatBuildingLeaves) {
  add("build/a.h", "// As the contract asks.");
  add("planner/node_modules/a.ts", "// contract section 77");
  EXPECT_THAT(wrong_citations(root_), IsEmpty());
}

}  // namespace
}  // namespace standpoint::house
