#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "planner/setup/resection.h"

namespace standpoint {

/// What moved between the readings of nests at the start and at the end.
enum class Moved : std::uint8_t {
  untested,     ///< the scene states no error of the instrument
  nothing,      ///< all differences are such as the stated errors give
  nest,         ///< one nest: without it the others differ as stated
  station,      ///< the station: after one motion of all, the nests differ as stated
  cannot_tell,  ///< one or two nests were read again: these or the station
  several,      ///< neither one nest nor the station alone explains it
};

/// A nest at the end against the start.
struct NestShift {
  NestId nest;
  Vec3 shift = Vec3::Zero();  ///< end less start, as the station saw it at the start; world, mm
  double chi_square = 0;      ///< of that shift, 3 degrees of freedom
};

/// Nests read twice. World frame, mm, rad.
struct Movement {
  Moved moved = Moved::untested;
  std::vector<NestShift> nests;     ///< in the order of the second readings
  std::optional<std::size_t> nest;  ///< into `nests`: that moved (Moved::nest)
  std::vector<std::size_t> rivals;  ///< others that could be it as well
  double chi_square = 0;            ///< were nothing moved
  int freedoms = 0;                 ///< 3 nests
  double bound = 0;                 ///< 99 % of sound set-ups stay below
  /// With three nests or more, not in one line: the motion of the station that explains the second
  /// readings best, and what they leave then.
  std::optional<Vec3> shift_of_station;  ///< of the measuring centre, end less start
  Vec3 turn_of_station = Vec3::Zero();   ///< rad
  double chi_square_after = 0;
  double bound_after = 0;  ///< 99 %, 3 nests - 6 degrees of freedom
};

/// Compares second readings of nests with the first ones, seen from the set-up of the start. The
/// covariance of a difference is the sum of both readings'. Nothing moved where the sum of all
/// weighted squares is under its 99 % bound. Else one nest, where without it the others are under
/// theirs; else the station, where one rigid motion (`fit_rigidly`) brings them under it. The
/// simplest that explains it is told: a nest before the station. Preconditions: every nest of
/// `again` is among `first`; no reading is at zero. Pure. O(nests^2).
[[nodiscard]] Movement find_movement(const Scene& scene, const std::vector<SeenNest>& first,
                                     const std::vector<SeenNest>& again,
                                     const Pose& world_from_instrument);

}  // namespace standpoint
