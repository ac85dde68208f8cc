#include "tests/fuzz/sound_list.h"

#include <cmath>
#include <set>

#include "io/read/lists/feature_list.h"
#include "io/read/lists/nest_list.h"
#include "io/read/text/fault_text.h"

namespace standpoint::fuzz {
namespace {

bool is_unit(const Vec3& direction) {
  return std::abs(direction.norm() - 1) <= 1e-14;
}

/// Finite and, from 1e9 units of some unit on, refused; of which a kilometre would do.
bool is_place(const Vec3& at) {
  return at.allFinite() && at.cwiseAbs().maxCoeff() <= 1e9 * 1e15;
}

bool is_sound(const FoundFeature& feature) {
  if (feature.name.empty() || !is_place(feature.centre)) return false;
  if (!is_unit(feature.axis) || !is_unit(feature.toward)) return false;
  if (feature.tolerance && !(*feature.tolerance > 0)) return false;
  switch (feature.kind) {
    case FoundKind::point:
      return true;
    case FoundKind::plane:
      return feature.points.size() >= 3;
    case FoundKind::hole:
      return feature.diameter > 0 && feature.depth > 0;
    case FoundKind::cylinder:
      return feature.diameter > 0 && feature.length > 0;
    case FoundKind::sphere:
      return feature.diameter > 0;
    case FoundKind::cone:
      return feature.diameter > 0 && feature.length > 0 && feature.angle_rad > 0;
    case FoundKind::slot:
      return feature.width > 0 && feature.length > feature.width && feature.depth > 0 &&
             is_unit(feature.along);
    case FoundKind::line:
      return feature.points.size() == 2 && feature.length > 0;
  }
  return false;
}

std::string wrong_with(const Faults& faults) {
  if (faults.empty()) return "neither a list nor a fault";
  for (const Fault& fault : faults) {
    if (fault.allowed.empty()) return "a fault that does not say what is allowed";
    if (fault.kind != FaultKind::more_faults && fault.where.rfind("list", 0) != 0)
      return "a fault without a place: " + fault_words(fault);
  }
  return "";
}

}  // namespace

std::string wrong_with_list(std::string_view text) {
  ListOptions options;
  options.file = "list";
  options.default_units = "mm";
  const auto features = parse_feature_list(text, options);
  if (!features) {
    if (const std::string wrong = wrong_with(features.error()); !wrong.empty()) return wrong;
  } else {
    std::set<std::string> names;
    for (const ListedFeature& listed : features->features) {
      if (!is_sound(listed.feature)) return "an unsound feature, " + listed.where;
      if (!names.insert(listed.feature.name).second) return "a name twice, " + listed.where;
    }
    if (names.empty()) return "a list without a feature";
  }
  const auto nests = parse_nest_list(text, options);
  if (!nests) return wrong_with(nests.error());
  for (const ListedNest& listed : nests->nests) {
    const Nest& nest = listed.nest;
    if (nest.name.empty() || !is_place(nest.at) || !is_unit(nest.normal) || nest.seat_rad < 0)
      return "an unsound nest, " + listed.where;
  }
  return nests->nests.empty() ? "a list without a nest" : "";
}

}  // namespace standpoint::fuzz
