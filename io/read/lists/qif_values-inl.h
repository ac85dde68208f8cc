#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "geometry/vec.h"
#include "io/read/lists/qif_xml-inl.h"
#include "io/read/text/value_rules.h"

// A piece of the files of this folder that read QIF documents: single values with their units.

namespace standpoint {

/// Which of a document's primary units a value has where it names none: annotation may have its own
/// (QIF 3.0, PrimaryUnitsType).
enum class QifUse { geometry, annotation };

/// Reads the values of a QIF document. Each reader gives the value of a child of `parent` where it
/// is there and allowed; otherwise nothing, and has told why; the `optional_` ones also where it is
/// not there, silently. Lengths come in mm, angles in rad. One thread.
class QifValues {
 public:
  /// Reads the units of the document first (FileUnits).
  QifValues(const QifXml& xml, ListFaults& faults);

  [[nodiscard]] const QifXml& xml() const { return xml_; }

  /// Tells what is wrong with an element, whose text is the value; `allowed` goes on after "for
  /// NAME". An empty one is told as missing.
  void fault(pugi::xml_node node, FaultKind kind, std::string_view allowed) const;
  /// Tells that `parent` lacks a child.
  void missing(pugi::xml_node parent, std::string_view name, std::string_view allowed) const;

  /// A length of more than zero.
  [[nodiscard]] std::optional<double> length(pugi::xml_node parent, std::string_view name,
                                             QifUse use = QifUse::geometry) const;
  [[nodiscard]] std::optional<double> optional_length(pugi::xml_node parent,
                                                      std::string_view name) const;
  /// A length of any sign.
  [[nodiscard]] std::optional<double> distance(pugi::xml_node parent, std::string_view name) const;
  /// An angle above zero and below `most_rad`.
  [[nodiscard]] std::optional<double> angle(pugi::xml_node parent, std::string_view name,
                                            double most_rad) const;
  /// The two ends of an angle, the lower one first, rad.
  [[nodiscard]] std::optional<Interval> ends(pugi::xml_node parent, std::string_view name) const;
  /// How far a partial round goes: the difference of an angle's two ends, rad.
  [[nodiscard]] std::optional<double> span(pugi::xml_node parent, std::string_view name) const;
  [[nodiscard]] std::optional<Vec3> at(pugi::xml_node parent, std::string_view name) const;
  /// A direction of any length but zero, made a unit vector.
  [[nodiscard]] std::optional<Vec3> direction(pugi::xml_node parent, std::string_view name) const;
  [[nodiscard]] std::optional<Vec3> optional_direction(pugi::xml_node parent,
                                                       std::string_view name) const;
  /// Points one after another, three numbers each.
  [[nodiscard]] std::optional<std::vector<Vec3>> points(pugi::xml_node node) const;
  /// One of some words: which.
  [[nodiscard]] std::string_view word(pugi::xml_node parent, std::string_view name,
                                      const std::vector<std::string_view>& words) const;
  /// The element that a child refers to by its id: one of those whose name ends in `kind`. Empty,
  /// and told, where there is none; empty and `is_elsewhere` where it stands in another document.
  [[nodiscard]] pugi::xml_node referred(pugi::xml_node id, std::string_view kind) const;
  [[nodiscard]] static bool is_elsewhere(pugi::xml_node id) { return id.attribute("xId"); }

 private:
  using Units = std::unordered_map<std::string, double>;
  void read_units(pugi::xml_node list, std::string_view name, Units& units);
  [[nodiscard]] std::optional<double> unit(pugi::xml_node node, const char* attribute,
                                           const Units& units, double primary) const;
  [[nodiscard]] std::optional<std::vector<double>> numbers(pugi::xml_node node, std::size_t count,
                                                           std::string_view what) const;
  [[nodiscard]] std::optional<double> number(pugi::xml_node parent, std::string_view name,
                                             const NumberRule& rule) const;
  [[nodiscard]] std::optional<double> length_of(pugi::xml_node parent, std::string_view name,
                                                const NumberRule& rule, QifUse use) const;

  const QifXml& xml_;
  ListFaults& faults_;
  Units lengths_;                ///< mm per unit, by name
  Units angles_;                 ///< rad per unit, by name
  double mm_ = 1000;             ///< per primary unit; metres where the document states none
  double annotation_mm_ = 1000;  ///< likewise, of annotation
  double rad_ = 1;               ///< per primary unit; radians where the document states none
};

/// Text without white space at its ends. O(n).
[[nodiscard]] std::string_view trimmed_text(pugi::xml_node node);

}  // namespace standpoint
