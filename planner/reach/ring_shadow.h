#pragma once

#include <array>
#include <optional>

#include "geometry/directions.h"
#include "planner/reach/shadow.h"
#include "standpoint/scene.h"

namespace standpoint {

/// Where a rod's balls can lie as one station sees them: acceptance leaves the rod nearly square to
/// the line of sight, so each ball lies in a thin ring about that line, in whichever direction the
/// rod is held. The ring is cut into sectors (docs/reach.md). Immutable.
class BallRing {
 public:
  static constexpr int kSectors = 24;

  /// Some sectors that follow each other: first, first + 1, ... modulo kSectors.
  struct Sectors {
    int first = 0, count = kSectors;
  };

  /// Nothing where the ring is not thin: the station is too near, or too much is accepted.
  [[nodiscard]] static std::optional<BallRing> about(const TwoBallStylus& stylus,
                                                     const Vec3& tip_centre, const Vec3& station);

  /// The beams to one ball for all directions in one sector that acceptance allows.
  [[nodiscard]] std::optional<BeamBundle> bundle(std::size_t ball, int sector) const;
  /// All sectors that hold a direction of the patch.
  [[nodiscard]] Sectors sectors_of(const DirectionPatch& patch) const;
  [[nodiscard]] int sector_of(const Vec3& direction) const;

 private:
  BallRing() = default;
  [[nodiscard]] double azimuth_rad(const Vec3& direction) const;

  const TwoBallStylus* stylus_ = nullptr;
  Vec3 tip_centre_, station_;
  Vec3 sight_, across_, up_;  ///< unit: from the station to the tip, and square to that
  double distance_ = 0;       ///< of the tip, mm
  double tilt_sine_ = 0, tilt_cosine_ = 1;  ///< of the most that the rod leans out of square
};

/// Which sectors of the ring are hidden from the station by surfaces in between. Each is searched
/// for when it is first asked for. Not shared between threads.
class RingShadow {
 public:
  /// `shadows`, of the same station, must outlive this.
  RingShadow(const BallRing& ring, ShadowSearch& shadows) : ring_(ring), shadows_(&shadows) {}

  /// True only where, in each direction of the patch that acceptance allows, the axis of one of the
  /// two beams is broken.
  [[nodiscard]] bool hides(const DirectionPatch& patch);
  [[nodiscard]] bool hides(const Vec3& direction) { return hides(ring_.sector_of(direction)); }

 private:
  enum class Known : std::uint8_t { nothing, hidden, open };

  [[nodiscard]] bool hides(int sector);

  BallRing ring_;
  ShadowSearch* shadows_;
  std::array<Known, BallRing::kSectors> known_{};
  std::size_t first_tried_ = 0;  ///< the ball that was hidden last
};

}  // namespace standpoint
