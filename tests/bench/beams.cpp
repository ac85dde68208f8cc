#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <ctime>
#include <map>

#include "fuselage.h"
#include "geometry/tree/tree.h"
#include "rivals.h"

// Each of our queries beside its rivals: the same triangles, the same beams in the same order, one
// thread. The machine's speed wanders, so every benchmark also times `axis_embree` (ours: the
// bundle as well) and our own query, pass by pass in turns: a ratio is the quotient of what
// neighbours in time took. Time is what the thread had of the processor: other jobs do not count.

namespace standpoint::bench {
namespace {

double thread_seconds() {
  timespec time{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
  return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
}

enum class Set { kPlanning, kSkimming };
constexpr std::size_t kBeams = 20000;

struct Stage {
  std::vector<Mesh> bodies;
  std::unique_ptr<Tree> tree;
  std::unique_ptr<EmbreeScene> embree;
  std::unique_ptr<CgalTree> cgal;
  double build_seconds = 0;
  std::map<Set, std::vector<RoundCone>> beams;
};

/// Built when first asked for; only the latest is kept, for 10 M triangles fill the memory.
Stage& stage_of(std::size_t triangles) {
  static std::size_t size = 0;
  static std::unique_ptr<Stage> stage;
  if (stage && size == triangles) return *stage;
  stage = std::make_unique<Stage>();
  size = triangles;
  stage->bodies = make_fuselage(triangles);
  std::vector<const Mesh*> pointers;
  for (const Mesh& mesh : stage->bodies) pointers.push_back(&mesh);
  // The middle of three: the first has to ask the system for fresh memory.
  std::array<double, 3> seconds{};
  for (double& taken : seconds) {
    stage->tree.reset();
    const double before = thread_seconds();
    stage->tree = std::make_unique<Tree>(pointers);
    taken = thread_seconds() - before;
  }
  std::sort(seconds.begin(), seconds.end());
  stage->build_seconds = seconds[1];
  stage->embree = std::make_unique<EmbreeScene>(stage->bodies);
  stage->beams[Set::kPlanning] = planning_beams(kBeams);
  for (const RoundCone& beam : skimming_beams(20 * kBeams)) {
    auto& kept = stage->beams[Set::kSkimming];
    if (kept.size() == kBeams) break;
    if (stage->tree->is_clear(beam, 0)) kept.push_back(beam);
  }
  return *stage;
}

/// Which of the beams are clear.
using Query = std::vector<bool> (*)(const Stage&, std::span<const RoundCone>);

/// Asks for one beam after the other.
template <class One>
std::vector<bool> each(std::span<const RoundCone> beams, One&& is_clear) {
  std::vector<bool> clear(beams.size());
  for (std::size_t i = 0; i < beams.size(); ++i) clear[i] = is_clear(beams[i]);
  return clear;
}

/// As planning asks: for many beams together.
std::vector<bool> beam_clear(const Stage& stage, std::span<const RoundCone> beams) {
  return stage.tree->are_clear(beams, 0);
}
std::vector<bool> beam_margin(const Stage& stage, std::span<const RoundCone> beams) {
  std::vector<bool> clear;
  clear.reserve(beams.size());
  for (const auto& contact : stage.tree->nearest_to_each(beams))
    clear.push_back(contact->nearest.margin >= 0);
  return clear;
}
std::vector<bool> beam_clear_alone(const Stage& stage, std::span<const RoundCone> beams) {
  return each(beams, [&](const RoundCone& beam) { return stage.tree->is_clear(beam, 0); });
}
std::vector<bool> beam_clear_hinted(const Stage& stage, std::span<const RoundCone> beams) {
  BlockerHint hint;
  return each(beams, [&](const RoundCone& beam) { return stage.tree->is_clear(beam, 0, &hint); });
}
std::vector<bool> beam_margin_alone(const Stage& stage, std::span<const RoundCone> beams) {
  return each(
      beams, [&](const RoundCone& beam) { return stage.tree->nearest(beam)->nearest.margin >= 0; });
}
std::vector<bool> axis_embree(const Stage& stage, std::span<const RoundCone> beams) {
  return each(beams, [&](const RoundCone& beam) { return !stage.embree->is_axis_blocked(beam); });
}
std::vector<bool> stream_embree(const Stage& stage, std::span<const RoundCone> beams) {
  return stage.embree->clear_axes_by_stream(beams);
}
std::vector<bool> packets_embree(const Stage& stage, std::span<const RoundCone> beams) {
  return stage.embree->clear_axes_by_packets(beams);
}
std::vector<bool> bundle_embree(const Stage& stage, std::span<const RoundCone> beams) {
  return each(beams, [&](const RoundCone& beam) { return !stage.embree->is_bundle_blocked(beam); });
}
std::vector<bool> segment_cgal(const Stage& stage, std::span<const RoundCone> beams) {
  return each(beams, [&](const RoundCone& beam) { return !stage.cgal->is_axis_blocked(beam); });
}

struct Tally {
  double seconds = 0;
  std::size_t clear = 0;
};

void run(const Stage& stage, std::span<const RoundCone> beams, Query query, Tally& tally) {
  const double before = thread_seconds();
  const std::vector<bool> clear = query(stage, beams);
  tally.seconds += thread_seconds() - before;
  tally.clear += static_cast<std::size_t>(std::count(clear.begin(), clear.end(), true));
}

void count_wrong(const Stage& stage, std::span<const RoundCone> beams, Query query,
                 benchmark::State& state) {
  const std::vector<bool> ours = beam_clear(stage, beams), theirs = query(stage, beams);
  double wrong = 0;
  for (std::size_t i = 0; i < beams.size(); ++i) wrong += ours[i] != theirs[i];
  state.counters["wrong_verdicts"] = wrong;
}

void measure(benchmark::State& state, Query query, std::size_t triangles, Set set) {
  Stage& stage = stage_of(triangles);
  const std::span<const RoundCone> beams = stage.beams.at(set);
  if (query == segment_cgal && !stage.cgal) stage.cgal = std::make_unique<CgalTree>(stage.bodies);
  const std::array ours = {beam_clear, beam_margin, beam_clear_alone, beam_clear_hinted,
                           beam_margin_alone};
  const bool is_ours = std::find(ours.begin(), ours.end(), query) != ours.end();
  // The bundle would leave the axis' own path in the cache: never just before it.
  std::map<std::string, Query> beside = {{"axis_embree", axis_embree}, {"beam_clear", beam_clear}};
  if (is_ours) beside["bundle_embree"] = bundle_embree;
  Tally own;
  std::map<std::string, Tally> others;
  for (auto _ : state) {
    Tally pass;
    for (const auto& [name, other] : beside) {
      if (other != query) run(stage, beams, other, others[name]);
    }
    run(stage, beams, query, pass);
    state.SetIterationTime(pass.seconds);
    own.seconds += pass.seconds;
    own.clear += pass.clear;
  }
  const auto done = static_cast<double>(state.iterations()) * static_cast<double>(beams.size());
  state.counters["queries_per_second"] = done / own.seconds;
  state.counters["share_blocked"] = 1 - static_cast<double>(own.clear) / done;
  for (const auto& [name, tally] : others) {
    state.counters["ratio_" + name] = tally.seconds / own.seconds;
  }
  if (query != beam_clear && query != beam_margin) count_wrong(stage, beams, query, state);
  const auto n = static_cast<double>(stage.tree->triangle_count());
  state.counters["triangles"] = n;
  if (query == beam_clear || query == beam_margin) {
    state.counters["bytes_per_triangle"] = static_cast<double>(stage.tree->bytes()) / n;
    state.counters["build_seconds"] = stage.build_seconds;
    state.counters["build_seconds_per_million"] = stage.build_seconds / n * 1e6;
  } else if (query == axis_embree) {
    state.counters["bytes_per_triangle"] = static_cast<double>(stage.embree->bytes()) / n;
    state.counters["build_seconds"] = stage.embree->build_seconds();
  }
}

void register_all() {
  const std::array<std::pair<const char*, std::size_t>, 3> sizes = {
      {{"20k", 20'000}, {"1M", 1'000'000}, {"10M", 10'000'000}}};
  const std::array<std::pair<const char*, Query>, 10> queries = {
      {{"beam_clear", beam_clear},
       {"beam_margin", beam_margin},
       {"beam_clear_alone", beam_clear_alone},
       {"beam_clear_hinted", beam_clear_hinted},
       {"beam_margin_alone", beam_margin_alone},
       {"axis_embree", axis_embree},
       {"stream_embree", stream_embree},
       {"packets_embree", packets_embree},
       {"bundle_embree", bundle_embree},
       {"segment_cgal", segment_cgal}}};
  const std::array<std::pair<const char*, Set>, 2> sets = {
      {{"planning", Set::kPlanning}, {"skimming", Set::kSkimming}}};
  for (const auto& [size_name, size] : sizes) {
    for (const auto& [set_name, set] : sets) {
      for (const auto& [name, query] : queries) {
        const std::string full = std::string(name) + "/" + set_name + "/" + size_name;
        benchmark::RegisterBenchmark(full.c_str(), measure, query, size, set)
            ->UseManualTime()
            ->Unit(benchmark::kMillisecond);
      }
    }
  }
}

}  // namespace
}  // namespace standpoint::bench

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
  standpoint::bench::register_all();
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
  return 0;
}
