#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "standpoint/scene.h"

namespace standpoint {

// What `start` guesses where nobody has said anything yet: how the part stands, where stations and
// nests could be. All figures are ours, and each is told with the line to change. Lengths mm.

/// An upright box, mm.
struct PlacedBox {
  Vec3 low = Vec3::Zero(), high = Vec3::Zero();
};

/// How the part is put on the floor: turned about its file's x axis, then about y, then shifted.
struct Footing {
  enum class Why {
    own_up,        ///< it stands well with its file's +Z up
    largest_flat,  ///< it does not; the largest flat face that it can stand on is down
    nothing_flat   ///< it can stand on nothing flat; its file's +Z is up
  };
  Why why = Why::own_up;
  double flat_area = 0;  ///< of what touches the floor, mm²; 0 with nothing_flat
  Vec3 rotate_xyz_deg = Vec3::Zero();
  Vec3 translate = Vec3::Zero();
  PlacedBox box;  ///< of the part, placed: its bottom at height 0, its middle over the origin
};

/// Stands the part on the floor. The file's own +Z stays up where the part can stand so on a flat
/// area of at least kOwnUpShare of the largest it can stand on. Precondition: `part` has vertices,
/// in its file's frame, mm.
[[nodiscard]] Footing stand_on_floor(const Mesh& part);

/// The turn by `Footing::rotate_xyz_deg`, as a scene's pose has it; z is 0.
[[nodiscard]] Mat3 turn_of(const Footing& footing);

/// A floor, seen from above.
struct Rectangle {
  std::string name;
  Vec2 low = Vec2::Zero(), high = Vec2::Zero();
};

/// Where instrument and nests could stand round a part on a floor at height 0.
struct Layout {
  std::vector<Rectangle> aisles;   ///< one on each side; the instrument may stand anywhere in them
  std::vector<double> heights;     ///< of the measuring centre, ascending
  double spacing = 0;              ///< of the grid of candidates
  std::vector<Nest> nest_sites;    ///< on the floor before each side, on posts beyond each corner
  Vec2 floor_size = Vec2::Zero();  ///< of a floor, centred, that reaches beyond all of it
};

/// Puts stations and nests round the part. `part` is centred over the origin, its bottom at 0.
[[nodiscard]] Layout lay_out(const PlacedBox& part, const Instrument& instrument);

/// How many candidates the layout has at most.
[[nodiscard]] std::size_t count_places(const Layout& layout);

}  // namespace standpoint
