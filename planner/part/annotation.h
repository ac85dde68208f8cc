#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

/// \file
/// What a CAD file says of a part's tolerances and datums in a form that programs read (semantic
/// annotation). Plain values, mm and rad. Faces are told by their numbers in the file, ascending
/// and each once. Names and letters are as the file has them, which may be anything.

namespace standpoint {

/// The characteristics of ISO 1101.
enum class ToleranceKind {
  position,
  coaxiality,  ///< concentricity too
  symmetry,
  surface_profile,
  line_profile,
  total_runout,
  circular_runout,
  perpendicularity,
  parallelism,
  angularity,
  flatness,
  straightness,
  roundness,
  cylindricity
};

/// What the width of a tolerance zone is measured across.
enum class ZoneShape {
  width,     ///< between two surfaces, lines or circles
  diameter,  ///< of a cylinder or circle
  sphere     ///< of a ball
};

/// One geometric tolerance.
struct GeometricTolerance {
  std::uint64_t id = 0;  ///< number of its entity in the file
  ToleranceKind kind = ToleranceKind::position;
  ZoneShape zone = ZoneShape::width;
  double width = 0;  ///< full width or full diameter of its zone, >= 0; 0 only with a modifier
  std::vector<std::string> datums;     ///< in their order of precedence: "A", "B(M)", "A-B"
  std::vector<std::string> modifiers;  ///< "(M)", "(L)", ..., or words
  std::vector<std::size_t> faces;      ///< that it applies to; none where it applies to edges alone
  bool whole_part = false;             ///< applies to all faces of a part ("all over")
  std::string name;                    ///< in the file; may be empty
  std::string part_file;  ///< that has it, of those that the part's own refers to; else empty
  std::string text;       ///< for people: "position 0.4 | A | B | C (#1234)"
};

/// A geometric tolerance in the file's text that was not understood.
struct UnreadTolerance {
  std::uint64_t id = 0;
  std::string kind;       ///< in words; of an unknown kind, its entity's name
  std::string name;       ///< in the file; may be empty
  std::string why;        ///< one plain clause
  std::string part_file;  ///< as of GeometricTolerance
};

/// A datum with the faces that it is taken from.
struct DatumFeature {
  std::string letter;
  std::vector<std::size_t> faces;  ///< none where the file names no face for it
  bool by_targets = false;         ///< taken at datum targets on these faces
  std::string part_file;           ///< as of GeometricTolerance
};

/// A dimension with its limits. Not a zone: it never becomes a feature's tolerance.
struct SizeTolerance {
  std::uint64_t id = 0;           ///< of the dimension
  std::string name;               ///< "diameter", "linear distance", ... as in the file
  bool is_angle = false;          ///< then values are rad, else mm
  std::optional<double> nominal;  ///< where the file tells
  double lower = 0;               ///< smallest deviation allowed from the nominal, signed
  double upper = 0;               ///< greatest, >= lower
  std::vector<std::size_t> faces;
  std::string part_file;  ///< as of GeometricTolerance
};

/// All of it. Each list in the file's order, and file after file; datums by letter.
struct Annotation {
  std::vector<GeometricTolerance> tolerances;
  std::vector<UnreadTolerance> not_read;
  std::vector<DatumFeature> datums;
  std::vector<SizeTolerance> sizes;
};

}  // namespace standpoint
