#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "io/read/cad/annotation_axes.h"
#include "io/read/cad/part21_text.h"

/// \file
/// What a STEP file holds around annotation: records by number, what refers to what, lengths with
/// their units, the faces that an aspect of the shape stands for. The structure is that of
/// ISO 10303-47 (tolerances), -41 (aspects of a shape, units) and -242 (which item of a shape an
/// aspect is); from memory, and seen in the public test files that the tests name.

namespace standpoint {

/// A length in mm without the noise that files have from changing units. O(1).
[[nodiscard]] double rounded_length(double mm);

/// A length or angle with its unit.
struct Measured {
  double value = 0;       ///< mm, rounded; or rad
  bool is_angle = false;  ///< then rad
  std::string name;       ///< "nominal value", ...; may be empty
};

/// The faces that something applies to.
struct AppliesTo {
  std::set<std::size_t> faces;
  bool whole_part = false;  ///< they are all faces of a part, because the part itself is named
};

/// The records of one file, and who refers to whom. Safe for queries from several threads.
class AnnotationRecords {
 public:
  /// `face_numbers`: by the number (#) of a face's entity, that of the face. O(n log n).
  AnnotationRecords(std::string_view text, std::map<std::uint64_t, std::size_t> face_numbers);
  AnnotationRecords(const AnnotationRecords&) = delete;  // it points into itself
  AnnotationRecords& operator=(const AnnotationRecords&) = delete;

  [[nodiscard]] const std::vector<Part21Record>& all() const { return records_; }
  /// The record of that number; null where there is none of interest.
  [[nodiscard]] const Part21Record* find(std::uint64_t id) const;

  /// A value of the type `type`, by its place among that type's own. Complex instances have it
  /// under `type`; others have it after the values that `type` inherits, `inherited` in number. So
  /// `record` must be of `type` or of a subtype. Null where there is none.
  [[nodiscard]] static const Part21Value* value_of(const Part21Record& record,
                                                   std::string_view type, std::size_t inherited,
                                                   std::size_t place);
  /// The entity that a value refers to; 0, which no file has, where it refers to none. Takes null.
  [[nodiscard]] static std::uint64_t reference_of(const Part21Value* value);
  /// The text of a value; empty where it has none. Takes null.
  [[nodiscard]] static std::string text_of(const Part21Value* value);
  [[nodiscard]] static bool is_a(const Part21Record& record, std::string_view type);

  /// A length or angle; nothing where the record is neither or its unit is not told.
  [[nodiscard]] std::optional<Measured> measured(const Part21Value* reference) const;

  /// The faces that an aspect of the shape stands for: its own and those of the aspects that it is
  /// made of; of a product's shape, all faces of that part. Where it stands for no face, but for
  /// axes drawn beside the part, the round faces of the part about these (annotation_axes.h).
  /// O(what it is made of), and of axes O(faces).
  [[nodiscard]] AppliesTo applies_to(std::uint64_t aspect) const;
  /// The aspects that have a relation to this one: of a datum, its features and targets.
  [[nodiscard]] const std::vector<std::uint64_t>& related_to(std::uint64_t aspect) const;

 private:
  void note(const Part21Record& record);
  void note_relation(const Part21Record& record);
  void collect_faces(const Part21Value& item, std::set<std::size_t>& faces) const;
  [[nodiscard]] std::set<std::uint64_t> items_without_faces() const;
  [[nodiscard]] std::set<std::size_t> faces_about_axes(std::uint64_t aspect) const;
  [[nodiscard]] std::set<std::size_t> faces_of_part(std::uint64_t shape) const;
  [[nodiscard]] std::optional<double> unit(std::uint64_t id, int depth) const;

  using Lists = std::unordered_map<std::uint64_t, std::vector<std::uint64_t>>;

  std::vector<Part21Record> records_;
  std::unordered_map<std::uint64_t, std::size_t> place_;
  std::map<std::uint64_t, std::size_t> face_numbers_;
  std::unordered_map<std::uint64_t, std::vector<const Part21Value*>> items_;  ///< of an aspect
  AxisFaces axis_faces_;
  Lists parts_;            ///< of an aspect: those that it is made of
  Lists related_to_;       ///< of an aspect: those that have a relation to it
  Lists representations_;  ///< of a product's shape, and of a representation: those beside it
};

}  // namespace standpoint
