#include <algorithm>

#include <fmt/format.h>

#include "io/lengths.h"
#include "io/names.h"
#include "io/page_parts.h"
#include "io/plan_drawing.h"
#include "io/text.h"
#include "io/words.h"

namespace standpoint::page {
namespace {

struct Head {
  std::string title;
  bool is_number = false;
};

std::string head_row(const std::vector<Head>& heads) {
  std::string row = "<thead><tr>";
  for (const Head& head : heads) {
    row += fmt::format("<th scope=\"col\"{}>{}</th>", head.is_number ? " class=\"n\"" : "",
                       for_markup(head.title));
  }
  return row + "</tr></thead>\n";
}

/// A cell of plain text, made safe.
std::string cell(std::string_view text, bool is_number = false) {
  return fmt::format("<td{}>{}</td>", is_number ? " class=\"n\"" : "", for_markup(text));
}

std::string number_cell(const std::string& text, bool is_low = false) {
  if (is_low) return fmt::format("<td class=\"n\"><strong>{}</strong></td>", for_markup(text));
  return cell(text == "-" || text.empty() ? "\u2013" : text, true);
}

/// A <ul> of plain texts, made safe.
std::string list_items(std::string_view kind, const std::vector<std::string>& texts) {
  std::string html = kind.empty() ? "<ul>\n" : fmt::format("<ul class=\"{}\">\n", kind);
  for (const std::string& text : texts) html += "<li>" + for_markup(text) + "</li>\n";
  return html + "</ul>\n";
}

std::string capitalised(std::string text) {
  // Our own phrases, so ASCII.
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

std::string with_unit(std::string_view what, const Scene& scene) {
  return fmt::format("{} ({})", what, scene.units);
}

std::string verdict_cell(Verdict verdict) {
  return fmt::format("<td class=\"verdict\">{}{}</td>", verdict_symbol(verdict),
                     verdict_words(verdict));
}

std::string nest_list(const Scene& scene, const std::vector<NestId>& nests) {
  std::vector<std::string> names;
  for (const NestId nest : nests) names.push_back(scene.nests[nest.index].name);
  return nests.empty() ? "\u2013" : fmt::format("{}", fmt::join(names, ", "));
}

std::string ratio_cell(const Scene& scene, const PlannedFeature& planned) {
  constexpr double kCommonlyAsked = 4;
  const auto& tolerance = scene.features[planned.feature.index].tolerance;
  if (!tolerance || !planned.uncertainty || !(planned.uncertainty->expanded > 0))
    return number_cell("-");
  const double ratio = *tolerance / (2 * planned.uncertainty->expanded);
  return number_cell(fixed_text(ratio, 1), ratio < kCommonlyAsked);
}

std::string touches_text(const FeatureMark& mark) {
  const std::size_t reached = count_reached(mark), all = mark.touches.size();
  return reached == all ? std::to_string(all) : fmt::format("{} of {}", reached, all);
}

std::string feature_row(const Scene& scene, const Plan& plan, const PlannedFeature& planned) {
  const Feature& feature = scene.features[planned.feature.index];
  const FeatureMark& mark =
      plan.stations[planned.station->index].sight.features[planned.feature.index];
  std::string name = for_markup(feature.name);
  if (mark.way == Way::rim) name += " <small>rim</small>";
  if (!planned.also_from.empty()) {
    std::vector<std::string> names;
    for (const StationId id : planned.also_from) names.push_back(plan.stations[id.index].name);
    name += "<br><small>also from " + for_markup(list_of(names)) + "</small>";
  }
  std::string row = "<tr>" + cell(std::to_string(planned.feature.index + 1), true);
  row += "<td>" + name + "</td>";
  row += verdict_cell(planned.verdict);
  row += cell(planned.target ? target_name(scene, *planned.target) : "\u2013");
  row += number_cell(touches_text(mark));
  row += number_cell(planned.margin ? length_text(scene, *planned.margin, step::kMargin) : "-",
                     planned.margin && *planned.margin < scene.rules.tight_margin);
  row += number_cell(planned.uncertainty
                         ? length_text(scene, planned.uncertainty->expanded, step::kUncertainty)
                         : "-");
  return row + ratio_cell(scene, planned) + "</tr>\n";
}

}  // namespace

std::string stations_table(const Scene& scene, const Plan& plan) {
  if (plan.stations.empty()) return "";
  std::string html = "<table>\n" + head_row({{"station"},
                                             {with_unit("x", scene), true},
                                             {"y", true},
                                             {"z", true},
                                             {"height over floor", true},
                                             {"zone"},
                                             {"nests to take"}});
  html += "<tbody>\n";
  for (const PlannedStation& station : plan.stations) {
    const Zone* zone = station.zone ? &scene.zones[*station.zone] : nullptr;
    html += "<tr><th scope=\"row\">" + for_markup(station.name) + "</th>";
    for (const double c : station.at) html += number_cell(length_text(scene, c, step::kPlace));
    html += number_cell(
        zone != nullptr ? length_text(scene, station.at.z() - zone->floor, step::kPlace) : "-");
    html += cell(zone != nullptr ? zone->name : "fixed place");
    html += cell(nest_list(scene, station.nests)) + "</tr>\n";
  }
  return html + "</tbody>\n</table>\n";
}

std::string features_table(const Scene& scene, const Plan& plan) {
  const std::vector<Head> heads{{"no.", true},
                                {"feature"},
                                {"verdict"},
                                {"target"},
                                {"touches", true},
                                {with_unit("margin", scene), true},
                                {with_unit("U", scene), true},
                                {"T / 2U", true}};
  std::string bodies;
  for (std::size_t s = 0; s < plan.stations.size(); ++s) {
    std::string rows;
    std::size_t count = 0;
    for (const PlannedFeature& planned : plan.features) {
      if (planned.station != StationId(s)) continue;
      rows += feature_row(scene, plan, planned);
      ++count;
    }
    if (rows.empty()) continue;
    bodies += fmt::format(
        "<tbody>\n<tr class=\"group\"><th scope=\"rowgroup\" colspan=\"{}\">{} <span>{}</span>"
        "</th></tr>\n{}</tbody>\n",
        heads.size(), for_markup(plan.stations[s].name), counted(count, "feature", "features"),
        rows);
  }
  if (bodies.empty()) return "";
  const bool has_rim = std::any_of(plan.features.begin(), plan.features.end(), [&](const auto& f) {
    return f.station &&
           plan.stations[f.station->index].sight.features[f.feature.index].way == Way::rim;
  });
  return "<table class=\"features\">\n" + head_row(heads) + bodies + "</table>\n" +
         (has_rim
              ? "<p class=\"note\">rim: taken on the hole\u2019s rim, which fixes the hole in the "
                "plane of its rim only.</p>\n"
              : "");
}

std::string links_table(const Scene& scene, const Plan& plan) {
  if (plan.links.empty()) return "";
  std::string html = "<table>\n" + head_row({{"stations"}, {"shared nests"}}) + "<tbody>\n";
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
  return "<p>A plan is a prediction. Before it is trusted, check it where the part stands:</p>\n" +
         list_items("steps", field_check_steps(scene, plan)) +
         "<p class=\"sign\"><span>Checked by</span><span>Date</span><span>Instrument, "
         "serial "
         "number</span></p>\n";
}

}  // namespace standpoint::page
