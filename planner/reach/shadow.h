#pragma once

#include <array>
#include <optional>
#include <vector>

#include "geometry/tree/tree.h"
#include "standpoint/cell.h"

namespace standpoint {

/// Beams from one station to balls that lie close together, taken as one: every axis crosses a disc
/// that faces the station, and ends beyond it.
struct BeamBundle {
  Vec3 along;         ///< unit, from the station to the middle of the disc
  double length = 0;  ///< of the way there, mm
  double radius = 0;  ///< of the disc, mm; less than `length`

  /// The bundle of all beams that enter balls of `ball_radius` with centres within `spread` of
  /// `middle`, mm; nothing where those are too near, or too widely spread, to have much in common.
  [[nodiscard]] static std::optional<BeamBundle> about(const Vec3& station, const Vec3& middle,
                                                       double spread, double ball_radius);
  /// The same for centres at least `nearest` along the way to `middle`, and no farther than
  /// `beside` from that line, mm.
  [[nodiscard]] static std::optional<BeamBundle> within(const Vec3& station, const Vec3& middle,
                                                        double nearest, double beside,
                                                        double ball_radius);
};

/// Looks for surfaces that stand in a whole bundle of beams from one station.
///
/// A surface is here some triangles before the disc, such that every edge of theirs that an axis
/// may cross belongs to an even number of them. Then each axis crosses an odd number of them, or
/// each an even one, so that where the middle one crosses an odd number none gets through
/// (docs/reach.md). Inside the arithmetic's own error bound nothing is found. Holds the memory it
/// works in; not shared between threads.
class ShadowSearch {
 public:
  ShadowSearch(const Tree& tree, const Vec3& station) : tree_(&tree), station_(station) {}

  /// Whether a surface was found that breaks the axis of every beam of the bundle. O(triangles
  /// of the surfaces about the bundle), and given up where they are very many.
  [[nodiscard]] bool finds_one_over(const BeamBundle& bundle);

 private:
  class Outlook;
  /// A triangle, and the surface that it was entered for.
  struct Piece {
    BodyId body;
    TriangleId triangle;
    std::uint32_t surface = 0;
  };

  void find_crossed(const BeamBundle& bundle, const Outlook& outlook);
  [[nodiscard]] std::uint32_t enter(BodyId body, TriangleId triangle, std::uint32_t surface);
  void make_slots(std::size_t count);
  [[nodiscard]] bool is_odd_surface(const Piece& entry, const Outlook& outlook);
  [[nodiscard]] bool enters_pieces_at(const Piece& piece, std::uint32_t corner,
                                      const EdgeLinks& links);

  const Tree* tree_;
  Vec3 station_;
  std::vector<Piece> crossed_;        ///< by the middle axis, each the entry of a surface
  std::vector<Piece> pieces_;         ///< entered so far, for any surface
  std::vector<std::uint32_t> slots_;  ///< numbers of pieces, by a hash of their triangles
};

}  // namespace standpoint
