#include <algorithm>

#include <benchmark/benchmark.h>

#include "planner/network/network.h"
#include "planner/network/touch_uncertainty.h"
#include "tests/planner/network/networks.h"

// The least-squares network of a large job, from observations to the uncertainty of every touch.

namespace standpoint::bench {
namespace {

struct LargeJob {
  NetworkInput input;
  std::vector<std::uint32_t> station_of_touch;
  std::vector<Reading> touches;

  LargeJob(std::size_t stations, std::size_t nests, std::size_t touch_count)
      : input(testing::random_network(1, stations, nests)) {
    std::mt19937_64 random(2);
    for (std::size_t i = 0; i < touch_count; ++i) {
      const Vec3 place = testing::random_place(random, {-3000, -2000, 0}, {3000, 2000, 2500});
      station_of_touch.push_back(static_cast<std::uint32_t>(i % stations));
      touches.push_back(direct_reading(place));
    }
  }
};

void network_propagate(benchmark::State& state) {
  const LargeJob job(30, 200, 5000);
  const InstrumentError error = testing::example_error();
  double worst = 0;
  for (auto _ : state) {
    const NetworkResult result = solve_network(job.input);
    worst = 0;
    for (std::size_t i = 0; i < job.touches.size(); ++i) {
      const std::uint32_t station = job.station_of_touch[i];
      const Vec3& at = job.input.stations[station];
      const Mat3 own = reading_covariance(error, at, job.touches[i]);
      const Mat3 all =
          touch_covariance(result.network->pose_covariance[station], at, job.touches[i], own);
      worst = std::max(worst, point_uncertainty(all).expanded);
    }
  }
  state.counters["observations"] = static_cast<double>(job.input.observations.size());
  state.counters["touches"] = static_cast<double>(job.touches.size());
  state.counters["worst_expanded_mm"] = worst;
}
BENCHMARK(network_propagate)
    ->Name("network_propagate/30_stations/200_nests/5000_touches")
    ->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace standpoint::bench
