#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/vec.h"

namespace standpoint {

struct NetworkInput;

/// How a station that can still move is tied to the rest.
enum class Tie : std::uint8_t {
  no_nest,      ///< it observes no nest
  none_shared,  ///< it shares no nest with the rest
  one_nest,     ///< it shares one nest only: it can turn about it
  one_place,    ///< it shares several nests, all in one place: it can turn about it
  two_nests,    ///< it shares two nests only: it can turn about their line
  one_line,     ///< it shares three nests or more, all in one line: it can turn about it
  linkage,      ///< its own ties would hold it, but what it is tied to gives way
  too_weak,     ///< it holds on paper, but so weakly that the figures cannot be computed
};

/// A station that can still move.
struct Deficiency {
  std::uint32_t station = 0;
  int degrees_of_freedom = 0;  ///< in how many ways it can move against the rest; 0 for `too_weak`
  Tie tie = Tie::no_nest;
  std::vector<std::uint32_t> nests = {};       ///< that tie it, ascending (indices into the input)
  std::vector<std::uint32_t> moves_with = {};  ///< other stations that move as one with it
  /// The rest holds, but the datum does not hold it: `nests` are then the datum's.
  bool against_datum = false;
  std::optional<Vec3> pivot = {};  ///< a point that stays (the nest, or one on the line), mm
  std::optional<Vec3> axis = {};   ///< unit; along the line about which it can turn
};

/// The tie that points at `places` give to a rigid body on their own: 6 degrees of freedom without
/// a point, 3 about one place, 1 about one line, 0 otherwise (`tie` is then `linkage`, to be read
/// as "not by these"). Fills all but `station`, `nests`, `moves_with`. Points within
/// sqrt(kHingeRatio) of their spread of one line count as in line. Pure, O(places).
[[nodiscard]] Deficiency tie_through(const std::vector<Vec3>& places);

/// Every station that can move against the rest while all observations stay as they are: the flexes
/// of stations (rigid bodies) joined at shared nests (ball joints). The rest is the greatest set of
/// stations that hold one another (of equal sets the one with more shared nests, then the one with
/// the lowest station). Ascending by station; empty when all hold. Weights play no part. Does not
/// look at the datum. Derived in docs/uncertainty.md. O((6 stations)^3 + observations x stations).
[[nodiscard]] std::vector<Deficiency> find_deficiencies(const NetworkInput& input);

}  // namespace standpoint
