// What an importer may do to itself, and what becomes of the program.

#include "io/read/bodies/apart.h"

#include <array>
#include <atomic>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>
#include <thread>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

namespace standpoint {
namespace {

using Body = tl::expected<RawBody, std::string>;
using testing::HasSubstr;

constexpr ApartLimits kLimits = {std::uint64_t{1} << 30, 60};

std::string failure_of(const std::function<Body()>& work, const ApartLimits& limits = kLimits) {
  const Body body = read_apart(work, limits);
  return body ? "it came back" : body.error();
}

RawBody full_body(std::uint32_t triangles) {
  RawBody body;
  body.mesh.vertices = {{1, 2, 3}, {4, 5, 6}, {7, 8, 1e300}};
  body.mesh.triangles.assign(triangles, {2, 1, 0});
  body.mesh.face_of_triangle.assign(triangles, 1);
  body.mesh.face_names = {"first", std::string("with\0nothing", 12)};
  body.format = "invented";
  body.stated_mm_per_unit = 25.4;
  body.coordinates_per_unit = 2;
  body.up_axis = 'Z';
  body.lost_faces = {"", "lost"};
  body.fanned_polygons = 3;
  return body;
}

TEST(Apart, BodyComesBackWhole) {
  const RawBody sent = full_body(1'000'000);
  const Body got = read_apart([&]() -> Body { return sent; }, kLimits);
  ASSERT_TRUE(got) << got.error();
  EXPECT_EQ(got->mesh.vertices, sent.mesh.vertices);
  EXPECT_EQ(got->mesh.triangles, sent.mesh.triangles);
  EXPECT_EQ(got->mesh.face_of_triangle, sent.mesh.face_of_triangle);
  EXPECT_EQ(got->mesh.face_names, sent.mesh.face_names);
  EXPECT_EQ(got->format, sent.format);
  EXPECT_EQ(got->stated_mm_per_unit, sent.stated_mm_per_unit);
  EXPECT_EQ(got->coordinates_per_unit, sent.coordinates_per_unit);
  EXPECT_EQ(got->up_axis, sent.up_axis);
  EXPECT_EQ(got->lost_faces, sent.lost_faces);
  EXPECT_EQ(got->fanned_polygons, sent.fanned_polygons);
  EXPECT_FALSE(read_apart([]() -> Body { return RawBody{}; }, kLimits)->stated_mm_per_unit);
}

TEST(Apart, SentenceComesBack) {
  EXPECT_EQ(failure_of([]() -> Body { return tl::unexpected(std::string("no surface")); }),
            "no surface");
}

TEST(Apart, CrashBecomesASentence) {
  EXPECT_THAT(failure_of([]() -> Body {
                ::raise(SIGSEGV);
                return RawBody{};
              }),
              HasSubstr("crashed"));
  EXPECT_THAT(failure_of([]() -> Body { std::abort(); }), HasSubstr("crashed"));
  EXPECT_THAT(failure_of([]() -> Body { ::_exit(7); }), HasSubstr("stopped half-way"));
  EXPECT_THAT(failure_of([]() -> Body { throw std::runtime_error("not caught by anyone"); }),
              HasSubstr("crashed"));
}

TEST(Apart, EndlessLoopIsGivenUp) {
#if defined(__SANITIZE_ADDRESS__)
  GTEST_SKIP() << "a sanitized importer has ten times as long";
#endif
  ApartLimits limits = kLimits;
  limits.cpu_seconds = 1;
  EXPECT_THAT(failure_of(
                  []() -> Body {
                    std::atomic<unsigned> count = 0;
                    while (true) {
                      ++count;
                    }
                  },
                  limits),
              HasSubstr("given up after 1 s"));
}

TEST(Apart, MemoryBombIsStopped) {
#if defined(__SANITIZE_ADDRESS__)
  GTEST_SKIP() << "no memory limit under a sanitizer";
#endif
  ApartLimits limits = kLimits;
  limits.memory_bytes = 300'000'000;
  const auto takes = [](std::size_t megabytes) {
    return [megabytes]() -> Body {
      std::vector<std::vector<char>> all;
      for (std::size_t i = 0; i < megabytes; ++i) {
        all.emplace_back(1'000'000, 'x');
      }
      RawBody body;
      body.format = all.back()[5];
      return body;
    };
  };
  EXPECT_EQ(read_apart(takes(200), limits)->format, "x");
  EXPECT_THAT(failure_of(takes(400), limits), HasSubstr("more than the 0.3 GB of memory"));
}

// The limit is on what the importer takes, whatever the program holds already.
TEST(Apart, ProgramsOwnMemoryDoesNotCount) {
  const std::vector<char> held(500'000'000, 'x');
  ApartLimits limits = kLimits;
  limits.memory_bytes = 100'000'000;
  EXPECT_TRUE(read_apart([&]() -> Body { return full_body(held[7] == 'x' ? 1000 : 0); }, limits));
}

TEST(Apart, NothingThatAnImporterPrintsIsSeen) {
  testing::internal::CaptureStdout();
  testing::internal::CaptureStderr();
  EXPECT_TRUE(read_apart(
      []() -> Body {
        std::puts("from the importer");
        std::fflush(stdout);
        std::fputs("and in red", stderr);
        return RawBody{};
      },
      kLimits));
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

TEST(Apart, ManyThreadsReadAtOnce) {
  std::vector<std::thread> threads;
  std::array<bool, 8> good{};
  for (std::size_t i = 0; i < good.size(); ++i) {
    threads.emplace_back([i, &good] {
      good[i] = true;
      for (std::uint32_t k = 0; k < 10; ++k) {
        const auto size = static_cast<std::uint32_t>(1 + 1000 * i + k);
        const Body body = read_apart([&]() -> Body { return full_body(size); }, kLimits);
        good[i] = good[i] && body && body->mesh.triangles.size() == size;
      }
    });
  }
  for (std::thread& thread : threads) {
    thread.join();
  }
  EXPECT_THAT(good, testing::Each(true));
}

TEST(Apart, NoDescriptorAndNoChildIsLeft) {
  const auto lowest_free = [] {
    const int descriptor = ::dup(0);
    ::close(descriptor);
    return descriptor;
  };
  const int before = lowest_free();
  for (int i = 0; i < 20; ++i) {
    failure_of([]() -> Body { std::abort(); });
    EXPECT_TRUE(read_apart([]() -> Body { return RawBody{}; }, kLimits));
  }
  EXPECT_EQ(lowest_free(), before);
}

}  // namespace
}  // namespace standpoint
