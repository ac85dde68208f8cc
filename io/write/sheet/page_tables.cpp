#include <algorithm>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/names.h"
#include "io/words/stance_words.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/drawings/plan_drawing.h"
#include "io/write/sheet/html_table.h"
#include "io/write/sheet/page_parts.h"

namespace standpoint::page {

using namespace markup;

std::string stations_table(const Scene& scene, const Plan& plan) {
  if (plan.stations.empty()) return "";
  std::string html = "<table>\n<thead>" +
                     heads_row({{"station"},
                                {with_unit("x", scene), true},
                                {"y", true},
                                {"z", true},
                                {"height over floor", true},
                                {"zone"},
                                {"nests (reference nests) to measure"}}) +
                     "</thead>\n";
  html += "<tbody>\n";
  for (const PlannedStation& station : plan.stations) {
    const Zone* zone = station.zone ? &scene.zones[*station.zone] : nullptr;
    html += "<tr>" + row_head(station.name);
    for (const double c : station.at) html += number_cell(length_text(scene, c, step::kPlace));
    html += number_cell(
        zone != nullptr ? length_text(scene, station.at.z() - zone->floor, step::kPlace) : "-");
    html += cell(where_words(scene, station));
    html += cell(nest_list(scene, station.nests)) + "</tr>\n";
  }
  return html + "</tbody>\n</table>\n";
}

std::string links_table(const Scene& scene, const Plan& plan) {
  if (plan.links.empty()) return "";
  std::string html =
      "<p>Tied stations are connected through common nests (reference nests, the tie and drift "
      "points). Their measurements can be joined.</p>\n<table>\n<thead>" +
      heads_row({{"stations"}, {"shared nests"}}) + "</thead>\n<tbody>\n";
  for (const Link& link : plan.links) {
    html += "<tr>" +
            cell(plan.stations[link.a.index].name + " \u2013 " + plan.stations[link.b.index].name) +
            cell(nest_list(scene, link.nests)) + "</tr>\n";
  }
  return html + "</tbody>\n</table>\n";
}

std::string blocked_list(const Scene& scene, const Plan& plan) {
  std::string html;
  for (const PlannedFeature& planned : plan.features) {
    if (planned.verdict != Verdict::blocked) continue;
    const Feature& feature = scene.features[planned.feature.index];
    const BlockedText text = blocked_text(scene, plan, planned.feature);
    const std::string from = text.from.empty() ? "." : "; seen from " + text.from + ":";
    html += fmt::format("<h3>{}{} <span>no. {}{}</span></h3>\n<p>{}</p>\n",
                        verdict_symbol(Verdict::blocked), for_markup(feature.name),
                        planned.feature.index + 1, feature.required ? "" : ", not required",
                        for_markup(capitalised(text.reason) + from));
    if (!text.causes.empty()) html += list_items("", text.causes);
  }
  return html.empty() ? "" : "<div class=\"blocked-list\">\n" + html + "</div>\n";
}

std::string warnings_list(const Scene& scene, const Plan& plan) {
  if (plan.warnings.empty()) return "";
  return list_items("warnings", warning_sentences(scene, plan));
}

std::string cautions_list(const Scene& scene, const Plan& plan, const Cautions& cautions) {
  constexpr std::size_t kFew = 6;  // more places than that run across the whole page
  std::string few, many;
  for (const CautionText& caution : caution_texts(scene, plan, cautions)) {
    const bool is_long = caution.items.size() > kFew;
    std::string article = fmt::format("<article>\n<h3>{}</h3>\n<p>{}</p>\n",
                                      for_markup(caution.title), for_markup(caution.text));
    if (!caution.items.empty()) article += list_items(is_long ? "places" : "", caution.items);
    (is_long ? many : few) += article + "</article>\n";
  }
  return "<div class=\"cautions\">\n" + few + "</div>\n" + many +
         fmt::format("<p>{}</p>\n", deference());
}

std::string field_check(const Scene& scene, const Plan& plan) {
  return "<p>A plan is a prediction. Check it where the part stands before it is trusted:</p>\n" +
         list_items("steps", field_check_steps(scene, plan)) +
         "<p class=\"sign\"><span>Checked by</span><span>Date</span><span>Instrument, "
         "serial "
         "number</span></p>\n";
}

}  // namespace standpoint::page
