#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "io/read/lists/qif_values-inl.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/decimal_number.h"
#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"

namespace standpoint {
namespace {

constexpr NumberRule kQifLength{"a length", kLength.low, kLength.high};
constexpr NumberRule kQifDistance{"a length", kCoordinate.low, kCoordinate.high};
constexpr NumberRule kQifAngle{"an angle", -1e9, 1e9};
constexpr std::string_view kBlanks = " \t\r\n";

/// An element as its document names it.
std::string_view told_name(const QifXml& xml, pugi::xml_node node) {
  return xml.name(node);
}

}  // namespace

std::string_view trimmed_text(pugi::xml_node node) {
  std::string_view text = node.text().get();
  const std::size_t first = text.find_first_not_of(kBlanks);
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

QifValues::QifValues(const QifXml& xml, ListFaults& faults) : xml_(xml), faults_(faults) {
  const pugi::xml_node units = xml.child(xml.root(), "FileUnits");
  const pugi::xml_node primary = xml.child(units, "PrimaryUnits");
  for (const pugi::xml_node list : {primary, xml.child(units, "OtherUnits")}) {
    for (const char* name : {"LinearUnit", "PMILinearUnit"}) read_units(list, name, lengths_);
    for (const char* name : {"AngularUnit", "PMIAngularUnit"}) read_units(list, name, angles_);
  }
  const auto primary_of = [&](std::string_view name, const Units& known, double fallback) {
    const pugi::xml_node unit = xml.child(xml.child(primary, name), "UnitName");
    const auto found = known.find(std::string(trimmed_text(unit)));
    return found == known.end() ? fallback : found->second;
  };
  mm_ = primary_of("LinearUnit", lengths_, mm_);
  annotation_mm_ = primary_of("PMILinearUnit", lengths_, mm_);
  rad_ = primary_of("AngularUnit", angles_, rad_);
}

/// Reads the units of one name of a list: what one of each is in mm or rad.
void QifValues::read_units(pugi::xml_node list, std::string_view name, Units& units) {
  const double si = &units == &lengths_ ? 1000 : 1;
  for (pugi::xml_node node = list.first_child(); node; node = node.next_sibling()) {
    if (xml_.name(node) != name) continue;
    const pugi::xml_node own_name = xml_.child(node, "UnitName");
    if (trimmed_text(own_name).empty()) {
      missing(node, "UnitName", "the name of a unit");
      continue;
    }
    double factor = 1;
    if (const pugi::xml_node conversion = xml_.child(node, "UnitConversion")) {
      factor = number(conversion, "Factor", {"a factor", 1e-12, 1e12}).value_or(1);
      const pugi::xml_node offset = xml_.child(conversion, "Offset");
      if (offset && number(conversion, "Offset", {"an offset", -1e12, 1e12}).value_or(0) != 0)
        fault(offset, FaultKind::out_of_range, "0: lengths and angles have no offset");
    }
    const auto [known, is_new] = units.emplace(trimmed_text(own_name), factor * si);
    if (!is_new && known->second != factor * si)
      fault(own_name, FaultKind::duplicate_name,
            "a name of its own; another unit has this one already");
  }
}

void QifValues::fault(pugi::xml_node node, FaultKind kind, std::string_view allowed) const {
  const std::string_view text = trimmed_text(node);
  faults_.add(xml_.place(node), text.empty() ? "" : short_text(text),
              text.empty() ? FaultKind::missing : kind,
              fmt::format("for {} {}", told_name(xml_, node), allowed));
}

void QifValues::missing(pugi::xml_node parent, std::string_view name,
                        std::string_view allowed) const {
  faults_.add(xml_.place(parent), "", FaultKind::missing,
              fmt::format("for {} in {} {}", name, told_name(xml_, parent), allowed));
}

std::optional<double> QifValues::unit(pugi::xml_node node, const char* attribute,
                                      const Units& units, double primary) const {
  const pugi::xml_attribute stated = node.attribute(attribute);
  if (!stated) return primary;
  const auto found = units.find(stated.value());
  if (found != units.end()) return found->second;
  std::vector<std::string_view> names;
  for (const auto& [name, factor] : units) names.push_back(name);
  std::sort(names.begin(), names.end());
  faults_.add(xml_.place(node), short_text(stated.value()), FaultKind::unknown_name,
              fmt::format("for {} the name of a unit of FileUnits", attribute),
              nearest_name(stated.value(), names));
  return std::nullopt;
}

/// The numbers that an element holds, `count` of them, or any number for 0.
std::optional<std::vector<double>> QifValues::numbers(pugi::xml_node node, std::size_t count,
                                                      std::string_view what) const {
  std::vector<double> all;
  std::string_view rest = trimmed_text(node);
  bool is_good = true;
  while (!rest.empty()) {
    const std::string_view word =
        rest.substr(0, std::min(rest.find_first_of(kBlanks), rest.size()));
    const auto value = decimal_number(word);
    is_good = is_good && value && std::abs(*value) <= 1e9;
    all.push_back(value.value_or(0));
    rest.remove_prefix(word.size());
    rest.remove_prefix(std::min(rest.find_first_not_of(kBlanks), rest.size()));
  }
  if (is_good && !all.empty() && (count == 0 || all.size() == count)) return all;
  fault(node, FaultKind::wrong_type, what);
  return std::nullopt;
}

std::optional<double> QifValues::number(pugi::xml_node parent, std::string_view name,
                                        const NumberRule& rule) const {
  const pugi::xml_node node = xml_.child(parent, name);
  const std::string allowed = describe(rule);
  if (!node) {
    missing(parent, name, allowed);
    return std::nullopt;
  }
  const auto value = decimal_number(trimmed_text(node));
  if (value && *value >= rule.low && *value <= rule.high) return value;
  fault(node, value ? FaultKind::out_of_range : FaultKind::wrong_type, allowed);
  return std::nullopt;
}

std::optional<double> QifValues::length_of(pugi::xml_node parent, std::string_view name,
                                           const NumberRule& rule, QifUse use) const {
  const auto value = number(parent, name, rule);
  const auto mm = unit(xml_.child(parent, name), "linearUnit", lengths_,
                       use == QifUse::geometry ? mm_ : annotation_mm_);
  if (!value || !mm) return std::nullopt;
  return *value * *mm;
}

std::optional<double> QifValues::length(pugi::xml_node parent, std::string_view name,
                                        QifUse use) const {
  return length_of(parent, name, kQifLength, use);
}

std::optional<double> QifValues::optional_length(pugi::xml_node parent,
                                                 std::string_view name) const {
  if (!xml_.child(parent, name)) return std::nullopt;
  return length(parent, name);
}

std::optional<double> QifValues::distance(pugi::xml_node parent, std::string_view name) const {
  return length_of(parent, name, kQifDistance, QifUse::geometry);
}

std::optional<double> QifValues::angle(pugi::xml_node parent, std::string_view name,
                                       double most_rad) const {
  const auto value = number(parent, name, kQifAngle);
  const pugi::xml_node node = xml_.child(parent, name);
  const auto rad = unit(node, "angularUnit", angles_, rad_);
  if (!value || !rad) return std::nullopt;
  if (*value * *rad > 0 && *value * *rad < most_rad) return *value * *rad;
  fault(node, FaultKind::out_of_range,
        fmt::format("an angle between 0 and {:.4g} degrees", most_rad * 180 / std::numbers::pi));
  return std::nullopt;
}

std::optional<Interval> QifValues::ends(pugi::xml_node parent, std::string_view name) const {
  const pugi::xml_node node = xml_.child(parent, name);
  if (!node) {
    missing(parent, name, "two angles");
    return std::nullopt;
  }
  const auto ends = numbers(node, 2, "two angles");
  const auto rad = unit(node, "angularUnit", angles_, rad_);
  if (!ends || !rad) return std::nullopt;
  return Interval{std::min((*ends)[0], (*ends)[1]) * *rad, std::max((*ends)[0], (*ends)[1]) * *rad};
}

std::optional<double> QifValues::span(pugi::xml_node parent, std::string_view name) const {
  const auto ends = this->ends(parent, name);
  if (!ends) return std::nullopt;
  return ends->high - ends->low;
}

std::optional<Vec3> QifValues::at(pugi::xml_node parent, std::string_view name) const {
  constexpr std::string_view kAllowed = "three coordinates, each -1e9 to 1e9";
  const pugi::xml_node node = xml_.child(parent, name);
  if (!node) {
    missing(parent, name, kAllowed);
    return std::nullopt;
  }
  const auto values = numbers(node, 3, kAllowed);
  const auto mm = unit(node, "linearUnit", lengths_, mm_);
  if (!values || !mm) return std::nullopt;
  return Vec3((*values)[0], (*values)[1], (*values)[2]) * *mm;
}

std::optional<Vec3> QifValues::direction(pugi::xml_node parent, std::string_view name) const {
  const pugi::xml_node node = xml_.child(parent, name);
  if (!node) {
    missing(parent, name, "a direction of three numbers");
    return std::nullopt;
  }
  const auto values = numbers(node, 3, "a direction of three numbers");
  if (!values) return std::nullopt;
  const Vec3 direction((*values)[0], (*values)[1], (*values)[2]);
  const double greatest = direction.cwiseAbs().maxCoeff();
  if (greatest > 0) return Vec3(direction / greatest).normalized();
  fault(node, FaultKind::zero_direction, "a direction with a length other than zero");
  return std::nullopt;
}

std::optional<Vec3> QifValues::optional_direction(pugi::xml_node parent,
                                                  std::string_view name) const {
  if (!xml_.child(parent, name)) return std::nullopt;
  return direction(parent, name);
}

std::optional<std::vector<Vec3>> QifValues::points(pugi::xml_node node) const {
  const auto values = numbers(node, 0, "points of three coordinates, each -1e9 to 1e9");
  const auto mm = unit(node, "linearUnit", lengths_, mm_);
  if (!values || !mm) return std::nullopt;
  if (values->size() % 3 != 0) {
    fault(node, FaultKind::wrong_type,
          fmt::format("points of three coordinates; there are {} numbers", values->size()));
    return std::nullopt;
  }
  std::vector<Vec3> points;
  for (std::size_t i = 0; i + 2 < values->size(); i += 3)
    points.emplace_back(Vec3((*values)[i], (*values)[i + 1], (*values)[i + 2]) * *mm);
  return points;
}

std::string_view QifValues::word(pugi::xml_node parent, std::string_view name,
                                 const std::vector<std::string_view>& words) const {
  const pugi::xml_node node = xml_.child(parent, name);
  const std::string allowed = fmt::format("one of {}", fmt::join(words, ", "));
  if (!node) {
    missing(parent, name, allowed);
    return {};
  }
  const std::string_view text = trimmed_text(node);
  if (std::find(words.begin(), words.end(), text) != words.end()) return text;
  fault(node, FaultKind::unknown_choice, allowed);
  return {};
}

pugi::xml_node QifValues::referred(pugi::xml_node id, std::string_view kind) const {
  if (is_elsewhere(id)) return {};
  const pugi::xml_node found = xml_.by_id(trimmed_text(id));
  const std::string_view name = xml_.name(found);
  if (found && name.size() >= kind.size() && name.substr(name.size() - kind.size()) == kind)
    return found;
  fault(id, FaultKind::unknown_name, fmt::format("the id of a {}", kind));
  return {};
}

}  // namespace standpoint
