#pragma once

#include <compare>
#include <cstdint>

namespace standpoint {

/// An index that cannot be mistaken for an index into something else.
///
/// `Tag` names what is indexed. Ids are dense, start at 0 and index the vector that holds the
/// things.
template <class Tag>
struct Id {
  std::uint32_t index = 0;

  constexpr Id() = default;
  constexpr explicit Id(std::size_t i) : index(static_cast<std::uint32_t>(i)) {}
  friend constexpr auto operator<=>(Id, Id) = default;
};

/// A body: one mesh that can be in the way.
using BodyId = Id<struct BodyTag>;
/// A triangle, counted within its own body's mesh.
using TriangleId = Id<struct TriangleTag>;

}  // namespace standpoint
