#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/scene/scene_parts.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

/// Contract section 3: a shallower ball does not centre itself, a steeper one wedges.
constexpr Interval kRimContactDeg{20, 75};

}  // namespace

void read_rules(const Cursor& at, SceneReading& reading) {
  Rules& rules = reading.scene().rules;
  rules = Rules{};
  rules.rim_contact_rad = {rad_from_deg(kRimContactDeg.low), rad_from_deg(kRimContactDeg.high)};
  if (at.value == nullptr) return;
  const ObjectCursor object(at);
  object.allow({"min_margin", "tight_margin", "fit_tolerance", "stations_per_feature",
                "shared_nests", "ties_by_stylus", "rim_contact", "max_expanded", "split_features"});
  const auto read_length = [&](std::string_view key, double& length) {
    if (const auto value = read_number(object.optional(key), kLengthOrZero))
      length = reading.mm(*value);
  };
  read_length("min_margin", rules.min_margin);
  read_length("tight_margin", rules.tight_margin);
  read_length("fit_tolerance", rules.fit_tolerance);
  rules.stations_per_feature = read_whole(object.optional("stations_per_feature"), kStationCount)
                                   .value_or(rules.stations_per_feature);
  rules.shared_nests =
      read_whole(object.optional("shared_nests"), kSharedNests).value_or(rules.shared_nests);
  rules.ties_by_stylus =
      read_flag(object.optional("ties_by_stylus")).value_or(rules.ties_by_stylus);
  rules.split_features =
      read_flag(object.optional("split_features")).value_or(rules.split_features);
  if (const auto rim = read_interval(object.optional("rim_contact"), kHalfAngle))
    rules.rim_contact_rad = {rad_from_deg(rim->low), rad_from_deg(rim->high)};
  if (const auto most = read_number(object.optional("max_expanded"), kLength))
    rules.max_expanded = reading.mm(*most);
}

}  // namespace standpoint
