#include "io/cli/look_options.h"

#include <optional>
#include <string_view>

#include <CLI/CLI.hpp>

namespace standpoint {
namespace {

std::optional<Vec3> three_numbers(std::string_view text) {
  Vec3 place;
  for (int i = 0; i < 3; ++i) {
    const std::size_t comma = text.find(',');
    if ((comma == std::string_view::npos) != (i == 2)) return std::nullopt;
    const auto number = finite_number(text.substr(0, comma));
    if (!number) return std::nullopt;
    place[i] = *number;
    text.remove_prefix(i == 2 ? text.size() : comma + 1);
  }
  return place;
}

void read_up(const Typed& typed, bool has_place, Request& request, Faults& faults) {
  if (!has_place) {
    faults.push_back(wrong(
        "--up", typed.up,
        "--at or --station beside it; what --measured reads tells how the instrument stands"));
    return;
  }
  const auto up = three_numbers(typed.up);
  if (up && !up->isZero(0)) {
    request.up = (*up / up->cwiseAbs().maxCoeff()).normalized();
  } else {
    faults.push_back(wrong("--up", typed.up, "three finite numbers X,Y,Z, not all zero"));
  }
}

}  // namespace

void add_sight_options(CLI::App& app, Typed& typed) {
  app.add_option("--at", typed.at,
                 "Measuring centre (instrument centre) to look from, in the scene's units")
      ->type_name("X,Y,Z");
  app.add_option(
         "--up", typed.up,
         "With --at or --station: the direction of the instrument's standing axis, from its "
         "foot to its head (default 0,0,1, upright, or as the place says)")
      ->type_name("X,Y,Z");
  app.add_option("--station", typed.station, "Look from this fixed place of the scene instead")
      ->type_name("NAME");
  app.add_option("--measured", typed.measured,
                 "Look from where the instrument really stands. The CSV file holds nests and "
                 "touches of features as the instrument read them, in the columns name,x,y,z, and "
                 "where wanted touch, target and when. With --at or --station, compare with that "
                 "planned place")
      ->type_name("FILE.csv");
}

void add_why_options(CLI::App& app, Typed& typed) {
  add_sight_options(app, typed);
  app.add_option("--feature", typed.feature, "The feature whose beam is asked about")
      ->type_name("NAME");
  app.add_option("--nest", typed.nest, "The nest that is asked about instead")->type_name("NAME");
  app.add_option("--plan", typed.plan,
                 "A plan.json, or nests.json. Then --station may name one of its stations, its "
                 "other stations are tried first, and gains and losses are counted against it")
      ->type_name("FILE");
  app.add_option("--picture", typed.picture, "Draw what is seen along the beam: a .svg or .png")
      ->type_name("FILE");
}

void read_sight_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults) {
  const bool has_at = app.count("--at") > 0;
  const bool has_station = app.count("--station") > 0;
  const bool has_measured = app.count("--measured") > 0;
  if (has_at && has_station) {
    faults.push_back(wrong("--at", typed.at, "either --at or --station, not both"));
  } else if (!has_at && !has_station && !has_measured) {
    faults.push_back(lacking("--at",
                             "the place to look from: --at X,Y,Z, --station NAME or --measured "
                             "FILE.csv"));
  }
  if (has_measured && typed.measured.empty())
    faults.push_back(wrong("--measured", "", "a CSV file with the columns name,x,y,z"));
  if (has_measured) request.measured = typed.measured;
  if (has_at) {
    request.at = three_numbers(typed.at);
    if (!request.at)
      faults.push_back(wrong("--at", typed.at,
                             "three finite numbers X,Y,Z in the scene's units, without spaces"));
  }
  if (has_station) request.station = typed.station;
  if (app.count("--up") > 0) read_up(typed, has_at || has_station, request, faults);
}

void read_why_options(const Typed& typed, const CLI::App& app, Request& request, Faults& faults) {
  read_sight_options(typed, app, request, faults);
  const bool has_feature = app.count("--feature") > 0;
  const bool has_nest = app.count("--nest") > 0;
  if (has_feature && has_nest) {
    faults.push_back(wrong("--feature", typed.feature, "either --feature or --nest, not both"));
  } else if (!has_feature && !has_nest) {
    faults.push_back(lacking("--feature", "what is asked about: --feature NAME or --nest NAME"));
  }
  if (has_feature) request.feature = typed.feature;
  if (has_nest) request.nest = typed.nest;
  request.plan = typed.plan;
  if (app.count("--plan") > 0 && typed.plan.empty())
    faults.push_back(wrong("--plan", "", "a plan.json or nests.json of this scene"));
  if (app.count("--picture") == 0) return;
  request.picture = typed.picture;
  const auto ending = request.picture.extension();
  if (ending != ".svg" && ending != ".png")
    faults.push_back(wrong("--picture", typed.picture, "a file whose name ends in .svg or .png"));
}

}  // namespace standpoint
