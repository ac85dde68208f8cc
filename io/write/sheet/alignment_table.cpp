#include <array>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/motion_words.h"
#include "io/words/names.h"
#include "io/words/text.h"
#include "io/words/tolerances.h"
#include "io/write/sheet/html_table.h"
#include "io/write/sheet/page_parts.h"
#include "planner/network/alignment.h"

namespace standpoint::page {

using namespace markup;

namespace {

/// Three touches far apart, by name: what a first, rough alignment is taken on.
std::vector<std::string> three_far_apart(const Scene& scene, const Plan& plan,
                                         const std::vector<ExpectedResidual>& all) {
  const auto place = [&](const ExpectedResidual& one) {
    return mark_of(plan, plan.features[one.feature.index])->touches[one.touch].at;
  };
  std::array<std::size_t, 3> best{};
  double most = 0;
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = i + 1; j < all.size(); ++j)
      for (std::size_t k = j + 1; k < all.size(); ++k) {
        const Vec3 from = place(all[i]);
        const double area = (place(all[j]) - from).cross(place(all[k]) - from).norm();
        if (area <= most * (1 + tolerance::kSameArea)) continue;
        most = area;
        best = {i, j, k};
      }
  if (!(most > 0)) return {};
  std::vector<std::string> names;
  names.reserve(best.size());
  for (const std::size_t i : best)
    names.push_back(
        fmt::format("{} (touch {})", scene.features[all[i].feature.index].name, all[i].touch + 1));
  return names;
}

std::string coarse_note(const Scene& scene, const Plan& plan,
                        const std::vector<ExpectedResidual>& all) {
  const std::vector<std::string> names = three_far_apart(scene, plan, all);
  if (names.empty()) return "";
  return fmt::format(
      "<p><b>Coarse.</b> Touch {}, {} and {} by hand. A millimetre is good enough: it lets the "
      "software lead you to the rest.</p>\n",
      for_markup(names[0]), for_markup(names[1]), for_markup(names[2]));
}

}  // namespace

std::string alignment_table(const Scene& scene, const Plan& plan) {
  if (!scene.alignment) return "";
  std::string html = "<p>" + for_markup(alignment_sentence(scene, plan)) + "</p>\n";
  const std::vector<ExpectedResidual> all = expected_residuals(scene, plan);
  if (all.empty()) return html;
  html += coarse_note(scene, plan, all);
  html +=
      "<p><b>Fine.</b> Take the touches in this order and fit the part to them, each along what it "
      "holds.</p>\n<table>\n<thead>" +
      heads_row({{"", true},
                 {"feature"},
                 {"touch", true},
                 {"station"},
                 {"target"},
                 {with_unit("residual, 95 %", scene), true},
                 {"found"}}) +
      "</thead>\n<tbody>\n";
  std::size_t number = 0;
  for (const ExpectedResidual& one : all) {
    const PlannedFeature& planned = plan.features[one.feature.index];
    html += "<tr>" + number_cell(std::to_string(++number)) +
            row_head(scene.features[one.feature.index].name) +
            number_cell(std::to_string(one.touch + 1)) +
            cell(plan.stations[one.station.index].name) +
            cell(target_name(scene, *planned.target)) +
            number_cell(length_text(scene, one.most, step::kUncertainty)) + blank_cell("reading") +
            "</tr>\n";
  }
  return html +
         "</tbody>\n</table>\n<p class=\"note\">In 95 of 100 cases a residual is smaller. One of 0 "
         "has nothing to be checked against: an error there moves the part and does not "
         "show.</p>\n";
}

}  // namespace standpoint::page
