// The manual page and the completions tell every command and option that --help tells, and are what
// their readers take.

#include "io/cli/command_papers.h"

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "io/cli/command_options.h"

namespace standpoint {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::IsSupersetOf;
using testing::Not;
using testing::UnorderedElementsAreArray;

std::string answer(const std::vector<std::string>& arguments) {
  const auto read = read_command_line(arguments);
  const auto* text = std::get_if<Answer>(&read);
  EXPECT_NE(text, nullptr);
  return text != nullptr ? text->text : "";
}

/// What --help lists at the beginning of its lines: the options, each name by itself.
std::set<std::string> options_in(const std::string& help) {
  std::set<std::string> options;
  const std::regex line(R"((^|\n)  (-[-\w,]+))"), name(R"(--?[a-z][-a-z]*)");
  for (std::sregex_iterator at(help.begin(), help.end(), line), end; at != end; ++at) {
    const std::string names = (*at)[2];
    for (std::sregex_iterator one(names.begin(), names.end(), name); one != end; ++one)
      options.insert(one->str());
  }
  return options;
}

/// The commands that the top --help lists.
std::vector<std::string> commands() {
  const std::string help = answer({"--help"});
  std::vector<std::string> names;
  const std::regex line(R"(\n  ([a-z]+)  )");
  const std::string list = help.substr(help.find("Subcommands:"));
  for (std::sregex_iterator at(list.begin(), list.end(), line), end; at != end; ++at)
    names.push_back((*at)[1]);
  return names;
}

/// What a shell command prints, its errors too.
std::string said(const std::string& command) {
  std::string text;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return "cannot run " + command;
  char part[4096];
  for (std::size_t n = 0; (n = fread(part, 1, sizeof part, pipe)) > 0;) text.append(part, n);
  const int status = pclose(pipe);
  return status == 0 ? text : text + "(fails)";
}

class CommandPapers : public testing::Test {
 protected:
  CommandPapers() { std::filesystem::create_directories(folder_ / "a folder"); }
  ~CommandPapers() override { std::filesystem::remove_all(folder_); }

  [[nodiscard]] std::string put(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
    return (folder_ / name).string();
  }

  /// What bash offers when the last of `words` is completed, one a line.
  [[nodiscard]] std::vector<std::string> offered(const std::vector<std::string>& words) const {
    std::string typed;
    for (const std::string& word : words) typed += "'" + word + "' ";
    const std::string script = bash_completion() + "\ncd '" + folder_.string() + "'\nCOMP_WORDS=(" +
                               typed + ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_standpoint\n" +
                               "for one in \"${COMPREPLY[@]}\"; do echo \"$one\"; done\n";
    const std::string text = said("bash '" + put("run.sh", script) + "'");
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
  }

  std::filesystem::path folder_ =
      std::filesystem::path(testing::TempDir()) /
      ("standpoint-papers-" +
       std::string(testing::UnitTest::GetInstance()->current_test_info()->name()) + "-" +
       std::to_string(getpid()));
};

TEST_F(CommandPapers, BashOffersEveryCommandAndOption) {
  std::set<std::string> first = options_in(answer({"--help"}));
  ASSERT_THAT(first, IsSupersetOf({"-h", "--help", "--version"}));
  ASSERT_EQ(commands().size(), command_entries().size());
  for (const std::string& command : commands()) {
    first.insert(command);
    const auto options = options_in(answer({command, "--help"}));
    ASSERT_THAT(options, IsSupersetOf({"--help", "--json", "--threads"})) << command;
    EXPECT_THAT(offered({"standpoint", command, "-"}), UnorderedElementsAreArray(options));
  }
  EXPECT_THAT(offered({"standpoint", ""}), UnorderedElementsAreArray(first));
  EXPECT_THAT(offered({"standpoint", "pl"}), testing::ElementsAre("plan"));
}

TEST_F(CommandPapers, BashOffersFilesWhereAFileBelongs) {
  (void)put("hall one.json", "");
  EXPECT_THAT(offered({"standpoint", "plan", "ha"}), testing::ElementsAre("hall one.json"));
  EXPECT_THAT(offered({"standpoint", "rehearse", "x", "--plan", "ha"}),
              testing::ElementsAre("hall one.json"));
  EXPECT_THAT(offered({"standpoint", "plan", "x", "-o", ""}), testing::ElementsAre("a folder"));
  EXPECT_THAT(offered({"standpoint", "plan", "x", "--threads", ""}), IsEmpty());
  EXPECT_THAT(offered({"standpoint", "plan", "x", "--quiet", "ha"}),
              testing::ElementsAre("hall one.json"));
  EXPECT_THAT(offered({"standpoint", "walk", "-"}), IsEmpty());
}

TEST_F(CommandPapers, TheManualPageTellsEveryCommandAndOption) {
  const std::string file = put("standpoint.1", man_page());
  // Neither of its readers finds anything to warn of.
  EXPECT_THAT(said("mandoc -T lint -W warning '" + file + "'"), IsEmpty());
  EXPECT_THAT(said("groff -man -Tutf8 -ww -z '" + file + "'"), IsEmpty());
  const std::string page = said("mandoc -T ascii '" + file + "' | sed 's/.\\x08//g'");
  for (const std::string& command : commands()) {
    const std::size_t begin = page.find("\n   standpoint " + command + "\n");
    ASSERT_NE(begin, std::string::npos) << command << page;
    const std::string section =
        page.substr(begin, page.find("\n   standpoint ", begin + 1) - begin);
    for (const std::string& option : options_in(answer({command, "--help"})))
      EXPECT_TRUE(std::regex_search(section, std::regex("[ ,]" + option + "[ ,\n]")))
          << command << " " << option << "\n"
          << section;
  }
  EXPECT_THAT(page, HasSubstr("--version"));
}

TEST_F(CommandPapers, ZshIsToldEveryCommandAndOption) {
  const std::string script = zsh_completion();
  for (const std::string& command : commands()) {
    const std::size_t begin = script.find("\n    " + command + ")\n");
    ASSERT_NE(begin, std::string::npos) << command;
    const std::string section = script.substr(begin, script.find(";;", begin) - begin);
    EXPECT_THAT(script, HasSubstr("\n    '" + command + ":"));
    for (const std::string& option : options_in(answer({command, "--help"})))
      EXPECT_THAT(section, HasSubstr("'" + option + "["));
  }
  EXPECT_THAT(script, HasSubstr("'--output[Folder to write plan.json"));
  EXPECT_THAT(script, HasSubstr(":DIR:_files -/'"));
  EXPECT_THAT(script, HasSubstr("'--quiet[Print no tables and no progress]'"));
}

TEST_F(CommandPapers, AreAskedForByOptionsThatNoHelpLists) {
  EXPECT_EQ(answer({"--print-man"}), man_page());
  EXPECT_EQ(answer({"--print-completion", "bash"}), bash_completion());
  EXPECT_EQ(answer({"--print-completion", "zsh"}), zsh_completion());
  EXPECT_THAT(answer({"--help"}), Not(HasSubstr("print-")));
  for (const std::vector<std::string>& wrong : {std::vector<std::string>{"--print-completion"},
                                                {"--print-completion", "fish"},
                                                {"--print-completion", "bash", "zsh"},
                                                {"--print-man", "1"}}) {
    const auto read = read_command_line(wrong);
    ASSERT_TRUE(std::holds_alternative<UsageFaults>(read));
    EXPECT_EQ(std::get<UsageFaults>(read).faults.at(0).where, wrong[0]);
  }
}

}  // namespace
}  // namespace standpoint
