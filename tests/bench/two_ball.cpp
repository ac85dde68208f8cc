#include <chrono>
#include <cmath>
#include <functional>
#include <numbers>

#include <benchmark/benchmark.h>

#include "geometry/tree/tree.h"
#include "planner/reach/shank_room.h"
#include "planner/reach/two_ball_stylus.h"

// The two-ball stylus on a closed box of 3 x 2 x 1 m seen from all sides, beside asking each of its
// 24 576 directions: docs/reach.md. The argument is how often the box's faces are halved.

namespace standpoint::bench {
namespace {

/// The box's face square to `axis` on one side, in 2^halvings by 2^halvings rectangles.
void add_face(Mesh& mesh, const Vec3& size, int axis, bool is_high, int halvings) {
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  const std::uint32_t n = 1u << halvings;
  const int u = (axis + 1) % 3, v = (axis + 2) % 3;
  for (std::uint32_t i = 0; i <= n; ++i) {
    for (std::uint32_t j = 0; j <= n; ++j) {
      Vec3 at;
      at[axis] = is_high ? size[axis] : 0;
      at[u] = size[u] * i / n;
      at[v] = size[v] * j / n;
      mesh.vertices.push_back(at);
    }
  }
  for (std::uint32_t i = 0; i < n; ++i) {
    for (std::uint32_t j = 0; j < n; ++j) {
      const std::uint32_t a = first + i * (n + 1) + j, b = a + n + 1;
      mesh.triangles.push_back({a, b, b + 1});
      mesh.triangles.push_back({a, b + 1, a + 1});
    }
  }
}

struct Job {
  Scene scene;
  Meshes meshes;
  std::vector<Place> places;
  std::vector<Vec3> stations;

  explicit Job(int halvings) {
    scene.instrument.beam_diameter = 6;
    scene.instrument.beam_growth_rad = 0.2e-3;
    scene.instrument.range = {400, 40000};
    scene.instrument.elevation_rad = {-1.5, 1.5};
    TwoBallStylus rod;
    rod.name = "rod";
    rod.shank = {3, 4, 20};
    rod.ball_distances = {150, 350};
    rod.ball_radius = 6.35;
    rod.acceptance_rad = std::numbers::pi / 6;
    scene.offset_styli.emplace_back(rod);
    const Vec3 size(3000, 2000, 1000);
    Mesh box;
    for (int axis = 0; axis < 3; ++axis) {
      for (const bool is_high : {false, true}) {
        add_face(box, size, axis, is_high, halvings);
        Place& place = places.emplace_back();
        place.normal = (is_high ? 1 : -1) * Vec3::Unit(axis);
        // Off the middle of the face, and the tip's radius off the face.
        place.optical_centre =
            0.5 * size + 0.21 * size[(axis + 1) % 3] * Vec3::Unit((axis + 1) % 3);
        place.optical_centre[axis] = (is_high ? size[axis] : 0) + (is_high ? 3 : -3);
      }
    }
    scene.bodies.push_back({"box", BodyRole::part});
    meshes.push_back(std::make_shared<const Mesh>(std::move(box)));
    for (int i = 0; i < 60; ++i) {
      // A spiral over the sphere: golden-ratio steps round, even ones up.
      const double up = (2 * i + 1) / 60.0 - 1, turn = 2.399963 * i, level = std::sqrt(1 - up * up);
      stations.push_back(0.5 * size + (3000 + 66.0 * i) *
                                          Vec3(level * std::cos(turn), level * std::sin(turn), up));
    }
  }
};

double seconds_of(const std::function<void()>& work) {
  const auto before = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count();
}

/// Asks the free directions one after the other, until one passes.
bool reaches_asking_each(const Cell& cell, const TwoBallView& view,
                         const std::vector<std::uint32_t>& free, BlockerHint* hints) {
  for (const std::uint32_t k : free) {
    const Vec3& s = finest_directions()[k];
    if (!view.rule_that_fails(s) && cell.tree().is_clear(view.beam(0, s), 0, &hints[0]) &&
        cell.tree().is_clear(view.beam(1, s), 0, &hints[1])) {
      return true;
    }
  }
  return false;
}

void two_ball(benchmark::State& state) {
  const Job job(static_cast<int>(state.range(0)));
  const Cell cell(job.scene, job.meshes);
  const auto& rod = std::get<TwoBallStylus>(job.scene.offset_styli.front());
  (void)finest_directions();
  double first = 0, first_each = 0;
  std::array<double, 2> ours{}, each{}, count{};  // blocked, reached
  for (auto _ : state) {
    for (const Place& place : job.places) {
      TwoBallStylusAt at(cell, TargetId(0), place);
      // Once from everywhere: what does not depend on the station is known after it.
      first += seconds_of([&] {
        for (const Vec3& station : job.stations) benchmark::DoNotOptimize(at.reaches(station));
      });
      std::vector<std::uint32_t> free;
      first_each += seconds_of([&] {
        ShankRoom room(cell, place.optical_centre, rod);
        for (std::uint32_t k = 0; k < DirectionPatch::kFinestCount; ++k) {
          if (room.is_free(finest_directions()[k])) free.push_back(k);
        }
      });
      BlockerHint hints[2];
      for (const Vec3& station : job.stations) {
        bool is_reached = false, is_reached_by_each = false;
        const double taken = seconds_of([&] { is_reached = at.reaches(station); });
        const TwoBallView view(job.scene.instrument, rod, place.optical_centre, station);
        const double taken_each =
            seconds_of([&] { is_reached_by_each = reaches_asking_each(cell, view, free, hints); });
        if (is_reached != is_reached_by_each) state.SkipWithError("the two disagree");
        ours[is_reached] += taken;
        each[is_reached] += taken_each;
        count[is_reached] += 1;
      }
    }
    state.SetIterationTime(ours[0] + ours[1]);
  }
  state.counters["triangles"] = static_cast<double>(cell.tree().triangle_count());
  state.counters["share_reached"] = count[1] / (count[0] + count[1]);
  state.counters["each_over_ours_reached"] = each[1] / ours[1];
  state.counters["each_over_ours_blocked"] = each[0] / ours[0];
  // What is found out once a touch, and one round of stations.
  state.counters["each_over_ours_first_round"] = (first_each + each[0] + each[1]) / first;
  state.counters["us_reached"] = 1e6 * ours[1] / count[1];
  state.counters["us_blocked"] = 1e6 * ours[0] / count[0];
}

BENCHMARK(two_ball)
    ->ArgName("halvings")
    ->DenseRange(0, 6, 2)
    ->Iterations(1)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace standpoint::bench
