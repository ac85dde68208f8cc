#include "io/write/text/rehearsal_text.h"

#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/table.h"
#include "io/words/text.h"

namespace standpoint {
namespace {

std::string percent(double share) {
  return fmt::format("{:.0f} %", 100 * share);
}

void print_features(const Scene& scene, const Rehearsal& rehearsal, std::ostream& out) {
  Table table{{{"feature"},
               {fmt::format("predicted u ({})", scene.units), Align::right},
               {"scatter", Align::right},
               {"ratio", Align::right},
               {"within"}},
              {}};
  for (const FeatureSpread& feature : rehearsal.features) {
    table.rows.push_back({scene.features[feature.feature.index].name,
                          length_text(scene, feature.predicted, step::kUncertainty / 10),
                          length_text(scene, feature.spread, step::kUncertainty / 10),
                          fixed_text(feature.ratio, 3), feature.is_within ? "yes" : "NO"});
  }
  if (!table.rows.empty()) out << "\nScatter of the trials against the prediction\n";
  print(table, out);
}

void print_blunders(const Scene& scene, const Plan& plan, const Rehearsal& rehearsal,
                    std::ostream& out) {
  Table table{{{"blunder"},
               {fmt::format("size ({})", scene.units), Align::right},
               {"noticed by sum", Align::right},
               {"by residual", Align::right},
               {"named", Align::right},
               {"shifts a touch by up to", Align::right}},
              {}};
  for (const BlunderCatch& blunder : rehearsal.blunders) {
    const std::string& station = plan.stations[blunder.station].name;
    const std::string what = blunder.kind == BlunderKind::swapped
                                 ? scene.nests[blunder.nest].name + " and " +
                                       scene.nests[blunder.other].name + " swapped at " + station
                                 : scene.nests[blunder.nest].name + " moved before " + station;
    table.rows.push_back({what, length_text(scene, blunder.size, step::kMargin),
                          percent(blunder.flagged_global), percent(blunder.flagged_local),
                          percent(blunder.named),
                          length_text(scene, blunder.worst_shift, step::kUncertainty)});
  }
  if (!table.rows.empty()) out << "\nWould a blunder be noticed?\n";
  print(table, out);
}

}  // namespace

void print_rehearsal(const Scene& scene, const Plan& plan, const Rehearsal& rehearsal,
                     std::ostream& out) {
  const auto within = std::count_if(rehearsal.features.begin(), rehearsal.features.end(),
                                    [](const FeatureSpread& feature) { return feature.is_within; });
  out << for_terminal(scene.name)
      << fmt::format(
             ": observations simulated {} times, seed {}. {} of {} features scatter as predicted "
             "(ratio {} to {} at 95 %; one in twenty may lie outside by chance).\n",
             rehearsal.order.trials, rehearsal.order.seed, within, rehearsal.features.size(),
             fixed_text(rehearsal.ratio_low, 3), fixed_text(rehearsal.ratio_high, 3));
  out << fmt::format(
      "{} degrees of freedom; the weighted sum of squares is {} on average. False alarms, of sound "
      "trials: {} by the sum (asked {}), {} by a residual.\n",
      rehearsal.degrees_of_freedom, fixed_text(rehearsal.mean_square_sum, 1),
      percent(rehearsal.flagged_global), percent(rehearsal.order.global_level),
      percent(rehearsal.flagged_local));
  print_features(scene, rehearsal, out);
  print_blunders(scene, plan, rehearsal, out);
}

}  // namespace standpoint
