#include <atomic>
#include <chrono>
#include <map>
#include <memory>

#include <benchmark/benchmark.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include "fuselage.h"
#include "geometry/tree/tree.h"
#include "planner/reach/beam.h"
#include "planner/stations/reach_table.h"
#include "rivals.h"

// The whole reach stage of planning, one full target on points of the skin, beside a ray for every
// pair of station and point, on the same threads.

namespace standpoint::bench {
namespace {

struct Job {
  Scene scene;
  std::unique_ptr<Cell> cell;
  std::unique_ptr<EmbreeScene> embree;
  std::vector<Candidate> candidates;

  Job(std::size_t triangles, std::size_t stations, std::size_t points) {
    scene.instrument.beam_diameter = 6;
    scene.instrument.beam_growth_rad = 0.2e-3;
    scene.instrument.range = {400, 40000};
    scene.instrument.elevation_rad = {-1.5, 1.5};
    scene.full_targets = {{"ball", 19.05, 0.9, 0.7}};
    std::vector<Mesh> bodies = make_fuselage(triangles);
    embree = std::make_unique<EmbreeScene>(bodies, 0);
    Meshes meshes;
    for (Mesh& mesh : bodies) {
      scene.bodies.push_back({"", BodyRole::part});
      meshes.push_back(std::make_shared<const Mesh>(std::move(mesh)));
    }
    for (std::size_t i = 0; i < points; ++i) {
      // Golden-ratio steps cover the skin evenly. Off it by the bumps' height, so that balls fit.
      const double along = 0.02 + 0.96 * static_cast<double>(i) / static_cast<double>(points);
      const SkinPoint skin = skin_point(along, 2.399963 * static_cast<double>(i));
      Feature feature;
      feature.name = "p" + std::to_string(i);
      feature.shape = PointFeature{skin.at + 25 * skin.normal, skin.normal};
      scene.features.push_back(feature);
    }
    for (std::size_t i = 0; i < stations; ++i) {
      const double along = 0.02 + 0.96 * static_cast<double>(i) / static_cast<double>(stations);
      const SkinPoint skin = skin_point(along, 1.7 * static_cast<double>(i));
      Candidate& candidate = candidates.emplace_back();
      candidate.at = skin.at + (3000 + 500.0 * static_cast<double>(i % 11)) * skin.normal;
    }
    cell = std::make_unique<Cell>(scene, std::move(meshes));
  }
};

/// Built when first asked for; the latest is kept.
Job& job_of(std::size_t triangles, std::size_t stations, std::size_t points) {
  static std::array<std::size_t, 3> key{};
  static std::unique_ptr<Job> job;
  if (job && key == std::array{triangles, stations, points}) return *job;
  job.reset();
  key = {triangles, stations, points};
  job = std::make_unique<Job>(triangles, stations, points);
  return *job;
}

std::size_t shoot_rays(const Job& job) {
  std::atomic<std::size_t> clear = 0;
  tbb::parallel_for(std::size_t{0}, job.scene.features.size(), [&](std::size_t f) {
    const auto& point = std::get<PointFeature>(job.scene.features[f].shape);
    const Vec3 centre = point.at + 19.05 * point.normal;
    std::size_t mine = 0;
    for (const Candidate& candidate : job.candidates) {
      mine += !job.embree->is_axis_blocked(RoundCone::capsule(candidate.at, centre, 0));
    }
    clear += mine;
  });
  return clear;
}

std::size_t count_reached(const Job& job, const ReachTable& table) {
  std::size_t reached = 0;
  for (std::size_t c = 0; c < job.candidates.size(); ++c) {
    for (std::size_t f = 0; f < job.scene.features.size(); ++f)
      reached += table.feature(CandidateId(c), FeatureId(f)) == Verdict::full_target;
  }
  return reached;
}

double seconds_of(const std::function<void()>& work) {
  const auto before = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count();
}

/// Both in turns, so that the machine's moods strike both.
void reach_stage(benchmark::State& state) {
  const auto triangles = static_cast<std::size_t>(state.range(0));
  const auto stations = static_cast<std::size_t>(state.range(1));
  const auto points = static_cast<std::size_t>(state.range(2));
  tbb::task_arena threads(static_cast<int>(state.range(3)));
  const Job& job = job_of(triangles, stations, points);
  double ours = 0, rays = 0;
  std::size_t reached = 0, clear = 0;
  for (auto _ : state) {
    const auto shoot = [&] { clear = shoot_rays(job); };
    const auto reach = [&] {
      reached = count_reached(job, reach_all(*job.cell, job.candidates, Watch{}));
    };
    rays += seconds_of([&] { threads.execute(shoot); });
    const double taken = seconds_of([&] { threads.execute(reach); });
    state.SetIterationTime(taken);
    ours += taken;
  }
  const double pairs = static_cast<double>(stations * points);
  state.counters["pairs_per_second"] = pairs * static_cast<double>(state.iterations()) / ours;
  state.counters["time_over_axis_embree"] = ours / rays;
  state.counters["share_reached"] = static_cast<double>(reached) / pairs;
  state.counters["share_clear_axis"] = static_cast<double>(clear) / pairs;
  state.counters["triangles"] = static_cast<double>(job.cell->tree().triangle_count());
}

// A million pairs; then what doubles one thing at a time: triangles, pairs, threads.
BENCHMARK(reach_stage)
    ->Name("reach_stage")
    ->ArgNames({"triangles", "stations", "points", "threads"})
    ->Args({1'000'000, 1000, 1000, 1})
    ->Args({1'000'000, 1000, 1000, 2})
    ->Args({1'000'000, 500, 1000, 2})
    ->Args({1'000'000, 2000, 1000, 2})
    ->Args({1'000'000, 2000, 2000, 2})
    ->Args({31'250, 1000, 1000, 2})
    ->Args({125'000, 1000, 1000, 2})
    ->Args({500'000, 1000, 1000, 2})
    ->Args({2'000'000, 1000, 1000, 2})
    ->Args({8'000'000, 1000, 1000, 2})
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace standpoint::bench
