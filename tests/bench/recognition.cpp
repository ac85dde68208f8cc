#include <filesystem>
#include <iostream>
#include <string>

#include <benchmark/benchmark.h>

#include "io/read/cad/cad_faces.h"
#include "planner/part/find_features.h"

// What recognition takes beside reading: every STEP file named on the command line is read as
// faces, then its features are found. One file after the other, in this process alone.
//
//     bench_recognition PART.step...

namespace standpoint::bench {
namespace {

namespace fs = std::filesystem;

constexpr double kChord = 0.1;  // mm, as `features` has it

void read_part(benchmark::State& state, const fs::path& file) {
  std::size_t faces = 0;
  for (auto _ : state) {
    const auto read = read_step_faces(file, kChord);
    if (!read) {
      state.SkipWithError(read.error().c_str());
      return;
    }
    faces = read->part.faces.size();
  }
  state.counters["faces"] = static_cast<double>(faces);
}

void recognise_part(benchmark::State& state, const fs::path& file) {
  const auto read = read_step_faces(file, kChord);
  if (!read) {
    state.SkipWithError(read.error().c_str());
    return;
  }
  std::size_t found = 0;
  for (auto _ : state) found = find_features(read->part).size();
  state.counters["found"] = static_cast<double>(found);
}

}  // namespace
}  // namespace standpoint::bench

int main(int count, char** arguments) {
  benchmark::Initialize(&count, arguments);
  if (count < 2) {
    std::cerr << "name the STEP files to read\n";
    return 2;
  }
  for (int i = 1; i < count; ++i) {
    const std::filesystem::path file = arguments[i];
    const std::string name = file.stem().string();
    benchmark::RegisterBenchmark(("read/" + name).c_str(), standpoint::bench::read_part, file)
        ->Unit(benchmark::kMillisecond);
    benchmark::RegisterBenchmark(("recognise/" + name).c_str(), standpoint::bench::recognise_part,
                                 file)
        ->Unit(benchmark::kMillisecond);
  }
  benchmark::RunSpecifiedBenchmarks();
}
