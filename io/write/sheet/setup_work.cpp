#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/drawings/plan_drawing.h"
#include "io/write/sheet/html_table.h"
#include "io/write/sheet/setup_parts.h"
#include "io/write/sheet/setup_words.h"
#include "io/write/words/why_words.h"
#include "planner/network/touch_uncertainty.h"

namespace standpoint::page {

using namespace markup;

namespace {

constexpr double kCommonlyAsked = 4;  // of tolerance / (2 U)

/// Number of a change within its station, from 1; nothing where the turn is none.
std::optional<std::size_t> change_number(const StationSheet& sheet, const TargetTurn& turn) {
  if (!turn.is_change()) return std::nullopt;
  std::size_t number = 0;
  for (const TargetTurn& other : sheet.work.turns) {
    number += other.is_change() ? 1 : 0;
    if (&other == &turn) break;
  }
  return number;
}

/// What is done with the targets before a turn, and all that is then entered in the measuring
/// software.
std::string call_out(const StationSheet& sheet, const TargetTurn& turn) {
  const Scene& scene = sheet.scene;
  const std::string name = target_name(scene, turn.target);
  const auto number = change_number(sheet, turn);
  std::string title = number ? fmt::format("Change of target {}: put down {}, take {}", *number,
                                           target_name(scene, *turn.before), name)
                      : turn.before ? fmt::format("Same target kept: {}", name)
                                    : fmt::format("Take {}", name);
  std::string html = fmt::format("<div class=\"turn{}\">\n<h4>{}</h4>\n", number ? " change" : "",
                                 for_markup(title));
  if (!turn.before || number) {
    html += "<dl>\n";
    for (const Setting& setting : target_settings(scene, turn.target)) {
      html += fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", for_markup(setting.what),
                          for_markup(setting.value));
    }
    html += "</dl>\n";
    if (number) {
      // The centre of a seated ball is used as it is seen.
      const char* what = turn.nests.empty() ? "every point" : "every touch after the nests";
      html += fmt::format("<p class=\"shift\">{}</p>\n",
                          for_markup(shift_sentence(scene, *turn.before, turn.target, what)));
    }
    html +=
        "<ul class=\"steps\"><li>Entered in the measuring software.</li><li>Read back from it and "
        "compared with this sheet.</li></ul>\n";
  }
  return html + "</div>\n";
}

/// The row of a table's head that is repeated on every page of paper: where, and with what.
std::string with_row(const StationSheet& sheet, const TargetTurn& turn, std::size_t columns) {
  const Scene& scene = sheet.scene;
  return fmt::format("<tr class=\"with\"><th colspan=\"{}\">{}{}: with {}, radius {}</th></tr>\n",
                     columns,
                     verdict_symbol(is_full_target(scene, turn.target) ? Verdict::full_target
                                                                       : Verdict::offset_stylus),
                     for_markup(sheet.station().name), for_markup(target_name(scene, turn.target)),
                     for_markup(setting_text(scene, touching_radius(scene, turn.target))));
}

std::string nests_table(const StationSheet& sheet, const TargetTurn& turn) {
  const Scene& scene = sheet.scene;
  const std::vector<Head> heads{{"nest"},
                                {with_unit("x", scene), true},
                                {"y", true},
                                {"z", true},
                                {"distance", true},
                                {"first reading"},
                                {"at the end"},
                                {"difference"},
                                {"expected difference (95 %)", true}};
  std::string html = "<table class=\"readings\">\n<thead>\n" + with_row(sheet, turn, heads.size()) +
                     heads_row(heads) + "</thead>\n<tbody>\n";
  for (const NestId id : turn.nests) {
    const Nest& nest = scene.nests[id.index];
    html += "<tr>" + row_head(nest.name);
    for (const double c : nest.at) html += number_cell(length_text(scene, c, step::kMargin));
    html += number_cell(length_text(scene, (nest.at - sheet.station().at).norm(), step::kPlace));
    html += blank_cell("reading") + blank_cell("reading") + blank_cell("difference");
    const auto spread = reading_spread(sheet, id);
    html += number_cell(spread ? length_text(scene, *spread, step::kUncertainty) : "-") + "</tr>\n";
  }
  return html + "</tbody>\n</table>\n";
}

/// How the one touch of a feature is held with a stylus; of several it differs.
std::string held_words(const FeatureMark& mark) {
  if (mark.touches.size() != 1) return "";
  const Reached* reached = reached_by_target(mark, 0);
  if (reached == nullptr || !reached->shank_direction) return "";
  return "held " + direction_words(*reached->shank_direction);
}

/// Which touches of a feature are taken here, and where the others are.
std::string shared_words(const StationSheet& sheet, const PlannedFeature& planned) {
  std::vector<std::string> here, others;
  for (std::size_t t = 0; t < planned.touch_stations.size(); ++t)
    if (planned.touch_stations[t] == sheet.id) here.push_back(std::to_string(t + 1));
  for (const StationId id : planned.stations)
    if (id != sheet.id) others.push_back(sheet.plan.stations[id.index].name);
  return fmt::format("only {} {} here; the others from {}, with the same target",
                     here.size() == 1 ? "touch" : "touches", list_of(here), list_of(others));
}

/// The name, and under it in small what it is, how it is taken, and where else.
std::string feature_cell(const StationSheet& sheet, const PlannedFeature& planned,
                         const FeatureMark& mark) {
  const Feature& feature = sheet.scene.features[planned.feature.index];
  std::vector<std::string> notes{nominal_words(sheet.scene, feature)};
  if (const Reached* seated = reached_by_target(mark, 0); seated != nullptr && mark.way == Way::rim)
    notes.push_back(rim_words(sheet.scene, mark.touches.front(), *seated));
  if (mark.way == Way::adapter && mark.target)
    notes.push_back(adapter_words(sheet.scene, *hole_adapter(sheet.scene, *mark.target), feature));
  if (mark.way == Way::wall) notes.emplace_back("on its wall");
  if (const std::string held = held_words(mark); !held.empty()) notes.push_back(held);
  std::vector<std::string> others;
  if (planned.station && *planned.station != sheet.id)
    others.push_back(sheet.plan.stations[planned.station->index].name);
  for (const StationId id : planned.also_from) {
    if (id != sheet.id) others.push_back(sheet.plan.stations[id.index].name);
  }
  if (!others.empty()) notes.push_back("also from " + list_of(others));
  if (!planned.stations.empty()) notes.push_back(shared_words(sheet, planned));
  return fmt::format("<td>{}<br><small>{}</small></td>", for_markup(feature.name),
                     for_markup(fmt::format("{}", fmt::join(notes, "; "))));
}

std::string touches_text(const FeatureMark& mark) {
  const std::size_t reached = count_reached(mark), all = mark.touches.size();
  return reached == all ? std::to_string(all) : fmt::format("{} of {}", reached, all);
}

/// U and T / 2U, both of the station that the plan rests on.
std::string uncertainty_cells(const StationSheet& sheet, const PlannedFeature& planned) {
  const bool is_main = is_told_at(planned, sheet.id);
  if (!is_main || !planned.uncertainty) return number_cell("-") + number_cell("-");
  const double expanded = planned.uncertainty->expanded;
  const auto& tolerance = sheet.scene.features[planned.feature.index].tolerance;
  const std::string u = number_cell(length_text(sheet.scene, expanded, step::kUncertainty));
  if (!tolerance || !(expanded > 0)) return u + number_cell("-");
  const double ratio = *tolerance / (2 * expanded);
  return u + number_cell(fixed_text(ratio, 1), ratio < kCommonlyAsked);
}

std::string feature_row(const StationSheet& sheet, FeatureId id) {
  const PlannedFeature& planned = sheet.plan.features[id.index];
  const FeatureMark mark = mark_from(sheet.plan, planned, sheet.id);
  const Scene& scene = sheet.scene;
  return "<tr>" + cell(std::to_string(id.index + 1), true) + feature_cell(sheet, planned, mark) +
         number_cell(touches_text(mark)) +
         number_cell(mark.margin ? length_text(scene, *mark.margin, step::kMargin) : "-",
                     mark.margin && *mark.margin < scene.rules.tight_margin) +
         uncertainty_cells(sheet, planned) + blank_cell("actual") +
         "<td class=\"done\"><i></i></td></tr>\n";
}

std::string features_table(const StationSheet& sheet, const TargetTurn& turn) {
  const std::vector<Head> heads{
      {"no.", true}, {"feature"},      {"touches", true}, {with_unit("margin", sheet.scene), true},
      {"U", true},   {"T / 2U", true}, {"actual values"}, {""}};
  std::string columns;
  for (std::size_t c = 0; c < heads.size(); ++c) columns += "<col/>";
  std::string html = "<table class=\"features\">\n<colgroup>" + columns + "</colgroup>\n<thead>\n" +
                     with_row(sheet, turn, heads.size()) + heads_row(heads) + "</thead>\n<tbody>\n";
  for (const FeatureId id : turn.features) html += feature_row(sheet, id);
  return html + "</tbody>\n</table>\n";
}

bool has_way(const StationSheet& sheet, const TargetTurn& turn, Way way) {
  return std::any_of(turn.features.begin(), turn.features.end(), [&](FeatureId id) {
    return sheet.station().sight.features[id.index].way == way;
  });
}

const char* rim_note() {
  return "<p class=\"note\">On the rim: determined is the hole\u2019s place in the plane of its "
         "rim. A wrong radius does not shift it; it shifts only the centre\u2019s height over the "
         "rim. Not determined are its depth, its direction and its width.</p>\n";
}

const char* adapter_note() {
  return "<p class=\"note\">By hole adapter: determined is the hole\u2019s place in the plane of "
         "its rim, below the ball. Not determined are its depth, its direction and its width. The "
         "pin\u2019s play in the hole and a lean of its axis come on top of U.</p>\n";
}

}  // namespace

std::optional<double> reading_spread(const StationSheet& sheet, NestId nest) {
  const Scene& scene = sheet.scene;
  const auto& best = sheet.station().sight.nests[nest.index].mark.best;
  if (!states_error(scene.instrument) || !best) return std::nullopt;
  const double own = scene.environment.nest_repeatability;
  const Mat3 once = reading_covariance(scene.instrument.error, sheet.station().at,
                                       reading_of(scene, *best, scene.nests[nest.index].at)) +
                    Mat3(own * own * Mat3::Identity());
  return point_uncertainty(2 * once).expanded;
}

std::string nests_to_take(const StationSheet& sheet) {
  std::string html;
  bool has_stylus = false;
  for (const TargetTurn& turn : sheet.work.turns) {
    if (turn.stage != WorkStage::nests_first) continue;
    html += call_out(sheet, turn) + nests_table(sheet, turn);
    has_stylus |= !is_full_target(sheet.scene, turn.target);
  }
  if (html.empty()) return "";
  html += "<p class=\"note\">A nest is its seated ball\u2019s centre: no radius is taken off. ";
  if (has_stylus) {
    html +=
        "A nest measured with a stylus needs the adaptor ball that brings the tip\u2019s centre "
        "to the same place. ";
  }
  return "<h3>Nests, before anything else</h3>\n" + html +
         "Compare the fit to the nests with the predicted uncertainty before going on.</p>\n";
}

std::string alignment_to_take(const StationSheet& sheet) {
  std::string html;
  for (const TargetTurn& turn : sheet.work.turns) {
    if (turn.stage != WorkStage::alignment) continue;
    html += call_out(sheet, turn) + features_table(sheet, turn);
  }
  if (html.empty()) return "";
  return "<h3>Alignment to the part, before all else</h3>\n" + html +
         "<p class=\"note\">What each touch should leave is on the first page.</p>\n";
}

std::string features_to_take(const StationSheet& sheet) {
  std::string html;
  bool is_rim = false, is_adapter = false;
  for (const TargetTurn& turn : sheet.work.turns) {
    if (turn.stage != WorkStage::features) continue;
    html += call_out(sheet, turn) + features_table(sheet, turn);
    is_rim |= has_way(sheet, turn, Way::rim);
    is_adapter |= has_way(sheet, turn, Way::adapter);
  }
  if (html.empty()) return "";
  return "<h3>Features, by target</h3>\n" + html + (is_rim ? rim_note() : "") +
         (is_adapter ? adapter_note() : "") +
         "<p class=\"note\">Touches: measured points. Margin: beam clearance, the least distance "
         "from the beam\u2019s surface to any body. U: predicted expanded uncertainty of the worst "
         "touch (k = 2). T / 2U: the ratio, tolerance to uncertainty. Bold: a tight margin, or a "
         "ratio below 4. Where each touch lies, and how a stylus is held there, is in "
         "touches.csv.</p>\n";
}

std::string nests_again(const StationSheet& sheet) {
  std::string turns;
  for (const TargetTurn& turn : sheet.work.turns) {
    if (turn.stage != WorkStage::nests_again) continue;
    std::vector<std::string> names;
    for (const NestId nest : turn.nests) names.push_back(sheet.scene.nests[nest.index].name);
    turns += call_out(sheet, turn) +
             fmt::format("<ul class=\"steps\"><li>Measured again with {}: {}.</li></ul>\n",
                         for_markup(target_name(sheet.scene, turn.target)),
                         for_markup(fmt::format("{}", fmt::join(names, ", "))));
  }
  if (turns.empty()) return "";
  return "<h3>The same nests again, at the end</h3>\n" + turns +
         "<p class=\"note\">Write each second reading beside the first, and compare them "
         "coordinate by coordinate. In 95 of 100 cases a coordinate differs by less than the table "
         "says (k = 2). Where it differs by much more, the stand, the part or the air has changed: "
         "measure again what was measured since the first reading.</p>\n";
}

}  // namespace standpoint::page
