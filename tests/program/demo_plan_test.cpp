// The demo's plan, checked again without the tree, the closed form or the solver: beams triangle by
// triangle with CGAL's distances, the number of stations by trying every smaller choice.

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <limits>

#include <CGAL/Simple_cartesian.h>
#include <CGAL/squared_distance_3.h>
#include <gtest/gtest.h>

#include "planner/stations/candidates.h"
#include "planner/stations/reach_table.h"
#include "planner/stations/ties.h"
#include "run_program.h"
#include "source_dir.h"
#include "standpoint/plan.h"
#include "standpoint/read_scene.h"

namespace standpoint::program {
namespace {

using Kernel = CGAL::Simple_cartesian<double>;

std::filesystem::path demo() {
  return source_dir() / "scenes" / "demo" / "scene.json";
}

/// The demo, read, and planned once for all that is checked of it.
struct Demo {
  Cell cell;
  Plan plan;

  explicit Demo(ReadScene read) : cell(std::move(read.scene), std::move(read.meshes)) {
    plan = *make_plan(cell, Watch{});
  }
  Demo() : Demo(read_scene(demo()).value()) {}
};

Kernel::Point_3 point(const Vec3& p) {
  return {p.x(), p.y(), p.z()};
}

/// Golden section over the beam of distance - radius, which is convex; the least over its ends too.
double margin_to(const Kernel::Triangle_3& triangle, const Vec3& from, const Vec3& to,
                 const Instrument& instrument) {
  const double length = (to - from).norm();
  const auto value = [&](double t) {
    const Vec3 p = from + (to - from) * (t / length);
    const double radius = (instrument.beam_diameter + instrument.beam_growth_rad * t) / 2;
    return std::sqrt(CGAL::squared_distance(point(p), triangle)) - radius;
  };
  const double share = (std::sqrt(5.0) - 1) / 2;
  double low = 0, high = length;
  for (int i = 0; i < 60; ++i) {
    const double a = high - share * (high - low), b = low + share * (high - low);
    (value(a) < value(b) ? high : low) = value(a) < value(b) ? b : a;
  }
  return std::min({value((low + high) / 2), value(0), value(length)});
}

/// Least margin over all triangles of the scene; those whose ball is farther than `near` from the
/// beam are left out.
double brute_margin(const Cell& cell, const Vec3& from, const Vec3& to, double near) {
  double least = std::numeric_limits<double>::infinity();
  const Vec3 along = (to - from).normalized();
  for (const auto& mesh : cell.meshes()) {
    for (std::size_t i = 0; i < mesh->triangles.size(); ++i) {
      const auto [a, b, c] = mesh->corners(i);
      const Vec3 middle = (a + b + c) / 3;
      const double size = std::max({(a - middle).norm(), (b - middle).norm(), (c - middle).norm()});
      const double t = std::clamp((middle - from).dot(along), 0.0, (to - from).norm());
      if ((middle - from - t * along).norm() - size > near) continue;
      least = std::min(
          least, margin_to({point(a), point(b), point(c)}, from, to, cell.scene().instrument));
    }
  }
  return least;
}

/// Every beam is as clear as brute force finds it.
void expect_beams_as_clear_as_told(const Cell& cell, const Plan& plan) {
  const Scene& scene = cell.scene();
  std::size_t beams = 0;
  for (const PlannedFeature& planned : plan.features) {
    if (!planned.station) continue;
    const PlannedStation& station = plan.stations[planned.station->index];
    const FeatureMark& mark = station.sight.features[planned.feature.index];
    double least = std::numeric_limits<double>::infinity();
    for (const auto& reached : mark.by_target) {
      if (!reached) continue;
      double touch = std::numeric_limits<double>::infinity();
      for (const Vec3& end : reached->beam_ends) {
        touch = std::min(touch, brute_margin(cell, station.at, end, reached->margin + 10));
        ++beams;
      }
      EXPECT_NEAR(touch, reached->margin, 1e-6) << scene.features[planned.feature.index].name;
      EXPECT_GE(touch, scene.rules.min_margin - 1e-9);
      least = std::min(least, touch);
    }
    EXPECT_NEAR(least, *planned.margin, 1e-6) << scene.features[planned.feature.index].name;
  }
  EXPECT_GT(beams, 200u);
}

void expect_every_verdict_and_ties(const Plan& plan) {
  EXPECT_GE(plan.features.size(), 40u);
  for (const Verdict verdict : {Verdict::full_target, Verdict::offset_stylus, Verdict::blocked}) {
    EXPECT_TRUE(std::any_of(plan.features.begin(), plan.features.end(),
                            [&](const PlannedFeature& f) { return f.verdict == verdict; }));
  }
  EXPECT_GE(plan.stations.size(), 2u);
  EXPECT_LE(plan.stations.size(), 3u);
  EXPECT_GE(plan.links.size(), plan.stations.size() - 1);
}

/// No smaller choice measures as much: every pair of candidates is tried.
void expect_no_smaller_choice(const Scene& scene, const Cell& cell, const Plan& plan) {
  const Candidates candidates = generate_candidates(cell);
  const ReachTable table = reach_all(cell, candidates.kept, Watch{});
  const auto covered = [&](const std::vector<std::size_t>& chosen) {
    std::size_t count = 0;
    for (std::size_t f = 0; f < scene.features.size(); ++f) {
      if (!scene.features[f].required) continue;
      count += std::any_of(chosen.begin(), chosen.end(), [&](std::size_t c) {
        return table.feature(CandidateId(c), FeatureId(f)) != Verdict::blocked;
      });
    }
    return count;
  };
  std::size_t planned = 0;
  for (const PlannedFeature& f : plan.features) {
    planned += scene.features[f.feature.index].required && f.station.has_value();
  }
  std::size_t most = 0;
  for (std::size_t a = 0; a < candidates.kept.size(); ++a) {
    for (std::size_t b = a; b < candidates.kept.size(); ++b) most = std::max(most, covered({a, b}));
  }
  EXPECT_EQ(plan.stations.size(), 3u);
  EXPECT_LT(most, planned);
}

TEST(DemoPlan, IsWhatItClaimsToBe) {
  const Demo demo;
  expect_beams_as_clear_as_told(demo.cell, demo.plan);
  expect_every_verdict_and_ties(demo.plan);
  expect_no_smaller_choice(demo.cell.scene(), demo.cell, demo.plan);
}

TEST(DemoPlan, ComesOutTheSameOnOneThread) {
  const Folder folder;
  std::vector<std::string> texts;
  for (const char* threads : {"1", "2"}) {
    const auto out = folder.path() / threads;
    const Outcome outcome =
        run_program({"plan", demo().string(), "-o", out.string(), "--threads", threads, "--quiet"});
    ASSERT_EQ(outcome.exit, 1) << outcome.err;
    std::string all;
    for (const char* name : {"plan.json", "stations.csv", "touches.csv", "page.html"}) {
      std::ifstream in(out / name);
      all.append(std::istreambuf_iterator<char>(in), {});
    }
    texts.push_back(all);
  }
  EXPECT_GT(texts[0].size(), 100'000u);
  EXPECT_EQ(texts[0], texts[1]);
}

}  // namespace
}  // namespace standpoint::program
