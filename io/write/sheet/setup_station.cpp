#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/stance_words.h"
#include "io/words/text.h"
#include "io/words/words.h"
#include "io/write/sheet/html_table.h"
#include "io/write/sheet/setup_parts.h"
#include "io/write/sheet/setup_words.h"
#include "planner/crew/cautions.h"

namespace standpoint::page {

using namespace markup;

namespace {

/// A line to tick, with space behind it for what is found.
std::string tick(std::string_view text, const std::vector<std::string>& blanks = {}) {
  std::string html = "<li>" + for_markup(text);
  for (const std::string& blank : blanks)
    html += fmt::format(" <span class=\"fill\">{}</span>", for_markup(blank));
  return html + "</li>\n";
}

std::string heading(const StationSheet& sheet) {
  const PlannedStation& station = sheet.station();
  std::size_t features = 0, changes = 0;
  for (const TargetTurn& turn : sheet.work.turns) {
    features += turn.features.size();
    changes += turn.is_change() ? 1 : 0;
  }
  const std::string where =
      station.zone ? sheet.scene.zones[*station.zone].name : std::string("a fixed place");
  return fmt::format(
      "<p class=\"kind\">Set-up sheet of {}, station {} of {}</p>\n"
      "<h2>{} <span>{}</span></h2>\n<p class=\"lede\">{}, {}, {}.</p>\n",
      for_markup(sheet.scene.name), sheet.id.index + 1, sheet.plan.stations.size(),
      for_markup(station.name), for_markup(where), counted(features, "feature", "features"),
      counted(station.nests.size(), "nest", "nests"),
      counted(changes, "change of target", "changes of target"));
}

std::string signed_length(const Scene& scene, double mm) {
  const std::string text = length_text(scene, mm, step::kPlace);
  return text.front() == '-' ? "\u2212" + text.substr(1) : "+" + text;
}

std::string marks_table(const StationSheet& sheet) {
  const Scene& scene = sheet.scene;
  std::string html = "<table class=\"marks\">\n<thead>" +
                     heads_row({{"from"},
                                {"what"},
                                {with_unit("along x", scene), true},
                                {"along y", true},
                                {"horizontal distance", true},
                                {"centre over it", true}}) +
                     "</thead>\n<tbody>\n";
  for (std::size_t m = 0; m < sheet.marks.size(); ++m) {
    const Vec3 offset = sheet.station().at - sheet.marks[m].at;
    html += fmt::format("<tr><th scope=\"row\">{}</th>", static_cast<char>('A' + m));
    html += cell(landmark_words(scene, sheet.marks[m]));
    html += number_cell(signed_length(scene, offset.x()));
    html += number_cell(signed_length(scene, offset.y()));
    html += number_cell(length_text(scene, offset.head<2>().norm(), step::kPlace));
    html += number_cell(signed_length(scene, offset.z())) + "</tr>\n";
  }
  return html + "</tbody>\n</table>\n";
}

/// How high the measuring centre is, over which floor.
std::string height_words(const StationSheet& sheet) {
  const PlannedStation& station = sheet.station();
  const Scene& scene = sheet.scene;
  if (!station.zone) {
    return fmt::format(
        "Measuring centre at z {}. The scene does not state the floor of a fixed place",
        length_with_unit(scene, station.at.z(), step::kPlace));
  }
  const Zone& zone = scene.zones[*station.zone];
  return fmt::format("Measuring centre {} over the floor of {}, which is at z {}",
                     length_with_unit(scene, station.at.z() - zone.floor, step::kPlace), zone.name,
                     length_text(scene, zone.floor, step::kPlace));
}

struct NearBeam {
  std::string name;
  double margin = 0;
};

/// The beams from here with the least margin; empty where nothing stands near any.
std::vector<NearBeam> tightest(const StationSheet& sheet) {
  constexpr std::size_t kMost = 3;
  std::vector<NearBeam> beams;
  for (const PlannedFeature& planned : sheet.plan.features) {
    if (!is_measured_from(planned, sheet.id)) continue;
    const auto margin = mark_from(sheet.plan, planned, sheet.id).margin;
    if (margin && std::isfinite(*margin))
      beams.push_back({sheet.scene.features[planned.feature.index].name, *margin});
  }
  for (const NestId nest : sheet.station().nests) {
    const auto& margin = sheet.station().sight.nests[nest.index].mark.margin;
    if (margin && std::isfinite(*margin))
      beams.push_back({"nest " + sheet.scene.nests[nest.index].name, *margin});
  }
  std::stable_sort(beams.begin(), beams.end(),
                   [](const NearBeam& a, const NearBeam& b) { return a.margin < b.margin; });
  if (beams.size() > kMost) beams.resize(kMost);
  return beams;
}

/// Of an instrument that does not stand upright.
std::string how_it_stands(const StationSheet& sheet) {
  const Vec3& up = sheet.station().up;
  if (is_upright(up)) return "";
  return tick(
      fmt::format("Instrument {} (directions in the scene\u2019s frame). Its stand and "
                  "fixing are made for this, and its manual allows it.",
                  stance_with_head(up)));
}

std::string stand_part(const StationSheet& sheet) {
  const Scene& scene = sheet.scene;
  std::string words = fmt::format(
      "<p>Measuring centre (instrument centre) over ({}) {}, in the scene\u2019s frame.</p>\n",
      length_text(scene, sheet.station().at.x(), step::kPlace) + ", " +
          length_text(scene, sheet.station().at.y(), step::kPlace),
      for_markup(scene.units));
  if (sheet.marks.empty())
    words += "<p>The scene has no point to measure from: find the place by its coordinates.</p>\n";
  words += "<ul class=\"steps\">\n" +
           tick("Stand put there and secured, its cables out of the way.") + how_it_stands(sheet) +
           tick(height_words(sheet) + ".", {"actual"});
  std::vector<std::string> beams;
  for (const NearBeam& beam : tightest(sheet)) {
    beams.push_back(
        fmt::format("{} ({})", beam.name, length_with_unit(scene, beam.margin, step::kMargin)));
  }
  if (!beams.empty())
    words +=
        tick("Beams with the least margin (beam clearance) tried first: " + list_of(beams) + ".");
  return "<h3>Where to put the stand</h3>\n<div class=\"place\">\n<div>\n" + words +
         "</ul>\n</div>\n<figure>\n" + station_drawing(sheet) + "</figure>\n</div>\n" +
         (sheet.marks.empty() ? "" : marks_table(sheet));
}

std::string care_part(const StationSheet& sheet) {
  const Cautions cautions = find_cautions_at(sheet.scene, sheet.plan, sheet.id);
  std::string html = "<h3>Take care here</h3>\n<div class=\"care\">\n";
  for (const CautionText& caution :
       caution_texts(sheet.scene, sheet.plan, cautions, WalkwayDetail::each_walkway)) {
    html += fmt::format("<article>\n<p><strong>{}.</strong> {}</p>\n", for_markup(caution.title),
                        for_markup(caution.text));
    if (!caution.items.empty()) html += list_items("", caution.items);
    html += "</article>\n";
  }
  return html + fmt::format("</div>\n<p class=\"note\">{}</p>\n", for_markup(deference()));
}

std::string start_part() {
  return "<h3>Before the start</h3>\n<ul class=\"steps\">\n" +
         tick("Instrument warmed up as its manual says.", {"from", "to"}) +
         tick("Two-face check made, and within what the manual allows.", {"found", "allowed"}) +
         tick("Environment (air and part) entered in the measuring software.",
              {"air temperature", "pressure", "humidity", "part temperature"}) +
         "</ul>\n";
}

std::string signatures() {
  return "<p class=\"sign\"><span>Set up by</span><span>Measured by</span><span>Checked "
         "by</span></p>\n<p class=\"sign\"><span>Date and time</span><span>Instrument, serial "
         "number</span><span>Styli, serial numbers</span></p>\n";
}

}  // namespace

std::string station_section(const StationSheet& sheet) {
  return fmt::format("<section class=\"station\" id=\"station-{}\">\n", sheet.id.index + 1) +
         heading(sheet) + stand_part(sheet) + care_part(sheet) + start_part() +
         alignment_to_take(sheet) + nests_to_take(sheet) + features_to_take(sheet) +
         nests_again(sheet) + signatures() + "</section>\n";
}

}  // namespace standpoint::page
