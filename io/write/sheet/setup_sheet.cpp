#include "io/write/sheet/setup_sheet.h"

#include <algorithm>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/drawings/plan_drawing.h"
#include "io/write/sheet/page_parts.h"
#include "io/write/sheet/setup_parts.h"

namespace standpoint {
namespace {

std::string section(std::string_view title, const std::string& content) {
  if (content.empty()) return "";
  return fmt::format("<section>\n<h2>{}</h2>\n{}</section>\n", title, content);
}

/// The few numbers that are looked for first.
std::string key_numbers(const Scene& scene, const Plan& plan) {
  std::size_t required = 0, reached = 0;
  std::optional<double> worst, least;
  for (const PlannedFeature& planned : plan.features) {
    const bool is_required = scene.features[planned.feature.index].required;
    required += is_required ? 1 : 0;
    reached += is_required && planned.verdict != Verdict::blocked ? 1 : 0;
    if (planned.uncertainty) worst = std::max(worst.value_or(0), planned.uncertainty->expanded);
    if (is_measured(planned) && planned.margin)
      least = std::min(least.value_or(*planned.margin), *planned.margin);
  }
  const auto item = [](const std::string& value, const std::string& words) {
    return fmt::format("<div><dd>{}</dd><dt>{}</dt></div>\n", for_markup(value), words);
  };
  const bool is_proven = plan.optimality.status == ProofStatus::optimal;
  const std::string noun = plan.stations.size() == 1 ? "station" : "stations";
  std::string list = "<dl class=\"key\">\n";
  list += item(
      std::to_string(plan.stations.size()),
      plan.stations.empty() ? noun : noun + (is_proven ? ", proven the fewest" : ", at present"));
  list += item(fmt::format("{} of {}", reached, required), "required features reached");
  if (least && *least < HUGE_VAL)
    list += item(length_with_unit(scene, *least, step::kMargin), "least margin (beam clearance)");
  if (worst)
    list += item(length_with_unit(scene, *worst, step::kUncertainty), "worst expanded uncertainty");
  return list + "</dl>\n";
}

std::string header(const Scene& scene, const Plan& plan) {
  // That the count is proven stands among the key numbers; only what is not needs a sentence.
  const bool is_told = !plan.stations.empty() && plan.optimality.status == ProofStatus::optimal;
  const std::string proof = is_told ? "" : optimality_sentence(plan);
  return fmt::format(
      "<header>\n<p class=\"kind\">Set-up sheet</p>\n<h1>{}</h1>\n{}"
      "<p class=\"lede\">{} {} {}</p>\n</header>\n",
      for_markup(scene.name), key_numbers(scene, plan), for_markup(reached_sentence(scene, plan)),
      for_markup(proof), candidates_sentence(plan.candidates));
}

std::string figures(const Scene& scene, const Plan& plan, const PlanDrawings& drawings) {
  const auto figure = [](const std::string& drawing, const std::string& caption) {
    return "<figure>\n" + drawing + "<figcaption>" + caption + "</figcaption>\n</figure>\n";
  };
  std::string plan_caption = "Top view. Feature numbers are those of the stations\u2019 tables.";
  if (drawings.are_beams_joined)
    plan_caption +=
        " For each feature one beam is drawn, to the middle of its touches (measured points).";
  return figure(drawings.plan, plan_caption) +
         figure(drawings.elevation, "Elevation, seen along the Y axis, to the same scale.") +
         drawing_legend(scene, plan);
}

std::string footer(const Scene& scene) {
  return fmt::format(
      "<footer>\n<p>Lengths in {}. Every touch (measured point) is in touches.csv, the stations in "
      "stations.csv, all of it in plan.json.</p>\n<p>standpoint {}</p>\n</footer>\n",
      for_markup(scene.units), STANDPOINT_VERSION);
}

/// Shown by the page once its user has moved something: what is printed is not what is seen.
const char* moved_notice() {
  return "<p class=\"moved-notice\" hidden>Stations were moved on this page; this sheet is of the "
         "plan as written. For a sheet of the moved stations export the stations as a scene and "
         "plan "
         "again.</p>\n";
}

std::string station_sections(const Cell& cell, const Plan& plan, const PlanDrawings& drawings) {
  const Scene& scene = cell.scene();
  const std::vector<StationWork> work = order_work(scene, plan);
  const std::vector<Landmark> landmarks = landmarks_of(cell);
  std::string html;
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    // Within twice the body's radius somebody with a tape is among the stand's legs.
    const std::vector<Landmark> marks =
        stand_marks(landmarks, plan.stations[s].at, 2 * scene.instrument.body_radius);
    html += page::station_section({scene, plan, StationId(s), work[s], marks, drawings});
  }
  return html;
}

}  // namespace

std::string setup_sheet(const Cell& cell, const Plan& plan, const Cautions& cautions) {
  const Scene& scene = cell.scene();
  const PlanDrawings drawings = draw_plan(cell, plan);
  std::string html = "<div class=\"sheet\">\n";
  html += moved_notice();
  html += header(scene, plan);
  html += section("Alignment to the part", page::alignment_table(scene, plan));
  html += section("Where the instrument stands",
                  figures(scene, plan, drawings) + page::stations_table(scene, plan));
  html += section("Blocked, and why", page::blocked_list(scene, plan));
  html += section("Warnings", page::warnings_list(scene, plan));
  html += section("How the stations are tied", page::links_table(scene, plan));
  html += section("Cautions", page::cautions_list(scene, plan, cautions));
  html += section("Field check", page::field_check(scene, plan));
  html += station_sections(cell, plan, drawings);
  return html + footer(scene) + "</div>\n";
}

}  // namespace standpoint
