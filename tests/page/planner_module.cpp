// All of the planner as plain functions, compiled to WebAssembly; io/page/tests/planner.mjs calls
// them under Node.js. Text comes and goes as UTF-8 that ends with 0; what is returned is valid
// until the next call. A failure's text begins with "!", which nothing else here does.

#include <memory>
#include <optional>
#include <string>

#include <emscripten.h>
#include <fmt/format.h>

#include "io/write/csv/plan_csv.h"
#include "io/write/json/plan_json.h"
#include "io/write/json/rehearsal_json.h"
#include "planner/cover/cover.h"
#include "planner/crew/cautions.h"
#include "planner/planning/advice.h"
#include "planner/stations/candidates.h"
#include "standpoint/cell.h"
#include "standpoint/plan.h"
#include "standpoint/rehearsal.h"
#include "tests/page/dumped_bodies.h"
#include "tests/page/figures.h"

namespace {

using namespace standpoint;

std::optional<Cell> cell_read;
std::optional<Plan> plan_made;
std::string answer;

/// Runs `work`, which gives text; what it throws comes back after a "!".
template <class Work>
const char* text_of(const Work& work) {
  try {
    answer = work();
  } catch (const std::exception& error) {
    answer = std::string("!") + error.what();
  }
  return answer.c_str();
}

/// plan.json and the two lists, as `standpoint plan` writes them; a 0x01 between them.
std::string plan_files() {
  const Cell& cell = *cell_read;
  const Scene& scene = cell.scene();
  const Watch watch;
  plan_made = make_plan(cell, watch);
  const Advice advice =
      advise(cell, *plan_made, scene.nest_sites, generate_candidates(cell).kept, watch);
  const Cautions cautions = find_cautions(scene, *plan_made);
  return plan_json(scene, *plan_made, cautions, &advice) + '\1' + stations_csv(scene, *plan_made) +
         '\1' + touches_csv(scene, *plan_made);
}

/// What `standpoint rehearse --json` says of the plan just made.
std::string rehearsal_of_plan(int trials) {
  const Scene& scene = cell_read->scene();
  RehearsalOrder order;
  order.trials = trials;
  const auto rehearsal = rehearse(scene, *plan_made, order);
  if (!rehearsal) throw std::runtime_error("there is no network to adjust");
  return rehearsal_json(scene, *plan_made, *rehearsal);
}

/// How many points meet every line of the affine space of this dimension over three elements: rows
/// are the lines, columns the points, and no reduction takes anything off.
std::string least_cover_of_affine_space(unsigned dimension) {
  std::uint32_t points = 1;
  for (unsigned i = 0; i < dimension; ++i) points *= 3;
  // The third point of the line through two: in each coordinate all three alike, or all different.
  const auto third = [&](std::uint32_t a, std::uint32_t b) {
    std::uint32_t c = 0;
    for (std::uint32_t digit = 1; digit < points; digit *= 3)
      c += (6 - a / digit % 3 - b / digit % 3) % 3 * digit;
    return c;
  };
  CoverProblem problem;
  problem.covers.resize(points);
  for (std::uint32_t a = 0; a < points; ++a) {
    for (std::uint32_t b = a + 1; b < points; ++b) {
      const std::uint32_t c = third(a, b);
      if (c < b) continue;  // each line once
      for (const std::uint32_t point : {a, b, c})
        problem.covers[point].push_back(static_cast<std::uint32_t>(problem.rows));
      ++problem.rows;
    }
  }
  problem.fully = problem.covers;
  problem.counts.assign(problem.rows, true);
  return fmt::format("{}", solve_cover(problem, 60, {}).columns.size());
}

}  // namespace

extern "C" {

/// Reads the scene; `bodies` points to what planner_oracle wrote.
EMSCRIPTEN_KEEPALIVE const char* planner_read(const char* json, const char* bodies,
                                              unsigned bytes) {
  return text_of([&]() -> std::string {
    test::DumpedBodies dumped({bodies, bytes});
    auto read = parse_scene(json, "", "scene",
                            [&](const BodyRequest& request) { return dumped.next(request); });
    if (!read) {
      const Fault& fault = read.error().front();
      return "!" + fault.where + ": " + fault.value + ", " + fault.allowed;
    }
    cell_read.emplace(std::move(read->scene), std::move(read->meshes));
    return fmt::format("{} bodies", cell_read->scene().bodies.size());
  });
}

EMSCRIPTEN_KEEPALIVE const char* planner_plan() {
  return text_of(plan_files);
}

/// After planner_plan.
EMSCRIPTEN_KEEPALIVE const char* planner_rehearse(int trials) {
  return text_of([&] { return rehearsal_of_plan(trials); });
}

EMSCRIPTEN_KEEPALIVE const char* planner_cover(unsigned dimension) {
  return text_of([&] { return least_cover_of_affine_space(dimension); });
}

EMSCRIPTEN_KEEPALIVE const char* planner_figures() {
  return text_of(test::figures);
}
}
