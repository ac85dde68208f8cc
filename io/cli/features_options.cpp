#include "io/cli/features_options.h"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <string_view>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "io/cli/command_options.h"
#include "io/read/text/decimal_number.h"
#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

std::vector<std::string_view> parts_of(std::string_view text) {
  std::vector<std::string_view> parts;
  for (std::size_t comma = 0; comma != std::string_view::npos;) {
    comma = text.find(',');
    parts.push_back(text.substr(0, comma));
    if (comma != std::string_view::npos) text.remove_prefix(comma + 1);
  }
  return parts;
}

/// N numbers with commas between; nothing where the text is anything else.
template <std::size_t N>
std::optional<std::array<double, N>> numbers(std::string_view text) {
  const auto parts = parts_of(text);
  std::array<double, N> values{};
  if (parts.size() != N) return std::nullopt;
  for (std::size_t i = 0; i < N; ++i) {
    const auto value = decimal_number(parts[i]);
    if (!value) return std::nullopt;
    values[i] = *value;
  }
  return values;
}

void read_kinds(const std::string& text, Request& request, Faults& faults) {
  const auto& words = kind_words();
  for (const std::string_view part : parts_of(text)) {
    if (std::find(words.begin(), words.end(), part) != words.end()) {
      request.filter.words.emplace_back(part);
      continue;
    }
    const std::vector<std::string_view> views(words.begin(), words.end());
    faults.push_back({"--kind", short_text(part),
                      fmt::format("some of these, with commas between: {}", fmt::join(words, ", ")),
                      FaultKind::unknown_choice, std::string(nearest_name(part, views))});
  }
}

/// "20", "5..20", "5.." or "..20".
std::optional<Interval> size_range(std::string_view text) {
  const std::size_t dots = text.find("..");
  if (dots == std::string_view::npos) {
    const auto one = decimal_number(text);
    return one ? std::optional(Interval{*one, *one}) : std::nullopt;
  }
  const std::string_view low = text.substr(0, dots), high = text.substr(dots + 2);
  Interval range{0, std::numeric_limits<double>::infinity()};
  const auto from = decimal_number(low), to = decimal_number(high);
  if ((!low.empty() && !from) || (!high.empty() && !to) || (low.empty() && high.empty()))
    return std::nullopt;
  range.low = from.value_or(range.low);
  range.high = to.value_or(range.high);
  return range.low <= range.high ? std::optional(range) : std::nullopt;
}

void read_axis(const std::string& text, Request& request, Faults& faults) {
  const auto axis = numbers<3>(text);
  const Vec3 direction = axis ? Vec3((*axis)[0], (*axis)[1], (*axis)[2]) : Vec3(Vec3::Zero());
  if (direction.norm() > 0) {
    request.filter.axis = direction.normalized();
  } else {
    faults.push_back(wrong("--axis", text, "three numbers X,Y,Z that are not all 0"));
  }
}

void read_box(const std::string& text, Request& request, Faults& faults) {
  const auto box = numbers<6>(text);
  if (!box) {
    faults.push_back(wrong("--box", text, "two corners in mm: six numbers X,Y,Z,X,Y,Z"));
    return;
  }
  const Vec3 a((*box)[0], (*box)[1], (*box)[2]), b((*box)[3], (*box)[4], (*box)[5]);
  request.filter.low = a.cwiseMin(b);
  request.filter.high = a.cwiseMax(b);
}

void read_units(const std::string& text, Request& request, Faults& faults) {
  if (std::find(kUnitNames.begin(), kUnitNames.end(), text) != kUnitNames.end()) {
    request.units = text;
  } else {
    faults.push_back(wrong("--units", text, fmt::format("one of {}", fmt::join(kUnitNames, ", "))));
  }
}

}  // namespace

void add_features_options(CLI::App& app, Typed& typed) {
  app.add_option("--kind", typed.kinds,
                 fmt::format("List only these: {}", fmt::join(kind_words(), ", ")))
      ->type_name("KIND,...");
  app.add_option("--size", typed.size,
                 "List only these sizes, in mm: 20, 5..20, 5.. or ..20. The size is the diameter; "
                 "a slot's is its width, a plane's the side of a square of its area")
      ->type_name("SIZE");
  app.add_option("--axis", typed.axis,
                 "List only what points this way, to 1 degree: holes and slots out of their "
                 "opening, planes out of the material, cylinders either way round")
      ->type_name("X,Y,Z");
  app.add_option("--box", typed.box,
                 "List only what has its centre in the box between these two corners, in mm")
      ->type_name("X,Y,Z,X,Y,Z");
  app.add_option("--holes-up-to", typed.holes_up_to,
                 "A hole wider than this is found as a cylinder on the inside (default 60)")
      ->type_name("MM");
  app.add_option("--units", typed.units, "The unit of lists that state none")->type_name("UNIT");
  app.add_flag("--csv", typed.csv, "Print a list of features that this program reads");
  app.add_flag("--details", typed.details, "Print each feature too, with its place and its faces");
}

void read_features_options(const Typed& typed, const CLI::App& app, Request& request,
                           Faults& faults) {
  request.csv = typed.csv;
  request.details = typed.details;
  if (typed.csv && typed.json)
    faults.push_back(wrong("--csv", "--json", "either --csv or --json, not both"));
  if (app.count("--kind") > 0) read_kinds(typed.kinds, request, faults);
  if (app.count("--axis") > 0) read_axis(typed.axis, request, faults);
  if (app.count("--box") > 0) read_box(typed.box, request, faults);
  if (app.count("--units") > 0) read_units(typed.units, request, faults);
  if (app.count("--size") > 0) {
    request.filter.size = size_range(typed.size);
    if (!request.filter.size)
      faults.push_back(
          wrong("--size", typed.size, "a size or a range in mm: 20, 5..20, 5.., ..20"));
  }
  if (app.count("--holes-up-to") > 0) {
    const auto limit = decimal_number(typed.holes_up_to);
    if (limit && *limit >= 0) {
      request.holes_up_to = *limit;
    } else {
      faults.push_back(wrong("--holes-up-to", typed.holes_up_to, "a diameter in mm, 0 or more"));
    }
  }
}

}  // namespace standpoint
