#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "geometry/vec.h"

/// \file
/// Axes that a STEP file draws beside its part (of threads, mostly), and the round faces that they
/// run through. All in the file's own coordinates, whatever their unit: what is compared is a share
/// of a radius. Structure of the records: ISO 10303-42, from memory and as the public test files
/// that the tests name have it.

namespace standpoint {

/// Finds the cylinders and cones that a drawn item belongs to. Safe for queries from several
/// threads.
class AxisFaces {
 public:
  AxisFaces() = default;

  /// Reads from a STEP file's text the round faces among `face_numbers` (a face's number by that of
  /// its entity) and the axes of `items`. Any text is taken. O(n log n) in its length.
  AxisFaces(std::string_view text, const std::map<std::uint64_t, std::size_t>& face_numbers,
            const std::set<std::uint64_t>& items);

  /// The numbers of the round faces about the axis that `item` draws, and along it where that has
  /// ends. A circle tells a radius too: then the cylinders nearest to it alone, since a thread is
  /// drawn wider than its drilled hole. A line on no axis, but in the skin of a cylinder, belongs
  /// to that cylinder. `within`: the faces that are asked about; all where null. O(faces).
  [[nodiscard]] std::set<std::size_t> of(std::uint64_t item,
                                         const std::set<std::size_t>* within) const;

 private:
  struct Axis {
    Vec3 point = Vec3::Zero();
    Vec3 direction = Vec3::UnitZ();  ///< unit
    std::optional<double> radius;    ///< > 0
    double from = 0;                 ///< along the direction, from the point
    double to = 0;                   ///< where not beyond `from`, the ends are not known
  };
  struct RoundFace {
    std::size_t number = 0;
    Axis axis;  ///< with the radius and ends of the face
    bool is_cone = false;
  };
  class Reader;

  [[nodiscard]] static bool share_a_stretch(const Axis& drawn, const RoundFace& face);
  [[nodiscard]] std::vector<const RoundFace*> beside(const Axis& drawn, bool in_skin,
                                                     const std::set<std::size_t>* within) const;

  std::unordered_map<std::uint64_t, Axis> drawn_;
  std::vector<RoundFace> faces_;
};

}  // namespace standpoint
