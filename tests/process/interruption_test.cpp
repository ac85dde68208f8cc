// A plan that is interrupted by a signal, as a user does it: the program ends soon, says so by its
// exit status, and leaves nothing behind.

#include <algorithm>
#include <csignal>

#include <gtest/gtest.h>

#include "process.h"
#include "source_dir.h"

namespace standpoint::process {
namespace {

/// How often the line that tells how far the job is was written anew.
std::size_t steps_shown(const std::string& text) {
  std::size_t count = 0;
  for (std::size_t at = text.find("%"); at != std::string::npos; at = text.find("%", at + 1))
    ++count;
  return count;
}

class Interruption : public testing::TestWithParam<int> {};

// The program is halted while it traces beams; the signal is there when it goes on. So neither the
// machine's speed nor what else runs on it decides what is seen.
TEST_P(Interruption, EndsAPlanSoonAndNothingIsWritten) {
  const auto scene = source_dir() / "scenes" / "demo" / "scene.json";
  const int kThreads = 2;
  for (int attempt = 0; attempt < 20; ++attempt) {
    const Folder folder;
    const auto out = folder.path() / "out";
    Process program(
        {"plan", scene.string(), "-o", out.string(), "--threads", std::to_string(kThreads)});
    ASSERT_TRUE(program.shows("tracing beams")) << program.shown();
    if (!program.halt()) continue;  // the machine let it end meanwhile: once more
    const std::string before = program.shown();
    program.send(GetParam());
    program.go_on();
    const auto status = program.wait();
    const std::string after = program.shown().substr(before.size());
    if (before.find("predicting uncertainty") != std::string::npos) continue;  // nearly done
    ASSERT_TRUE(status.has_value()) << "killed by the signal";
    EXPECT_EQ(*status, 3) << after;
    EXPECT_NE(after.find("interrupted; nothing was written"), std::string::npos) << after;
    // Each thread may finish what it has begun; the next step of the job is not begun.
    EXPECT_LE(steps_shown(after), static_cast<std::size_t>(kThreads + 1)) << after;
    EXPECT_FALSE(std::filesystem::exists(out / "plan.json"));
    EXPECT_TRUE(!std::filesystem::exists(out) || std::filesystem::is_empty(out));
    return;
  }
  FAIL() << "the program was never halted in time";
}

INSTANTIATE_TEST_SUITE_P(Signals, Interruption, testing::Values(SIGINT, SIGTERM));

// Somebody who waits no longer: the second signal ends it at once, whatever it does.
TEST(Interruption, ASecondSignalEndsItToo) {
  const auto scene = source_dir() / "scenes" / "demo" / "scene.json";
  for (int attempt = 0; attempt < 20; ++attempt) {
    const Folder folder;
    const auto out = folder.path() / "out";
    Process program({"plan", scene.string(), "-o", out.string()});
    ASSERT_TRUE(program.shows("tracing beams")) << program.shown();
    if (!program.halt()) continue;
    program.send(SIGINT);
    program.send(SIGTERM);
    program.go_on();
    const auto status = program.wait();
    ASSERT_TRUE(status.has_value());
    EXPECT_EQ(*status, 3);
    EXPECT_FALSE(std::filesystem::exists(out / "plan.json"));
    return;
  }
  FAIL() << "the program was never halted in time";
}

}  // namespace
}  // namespace standpoint::process
