#pragma once

// What is found on a mesh beside what is found on the CAD that the mesh was made from. Needs
// nothing of what is judged but the two lists and the faces they stand on.

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "planner/part/face.h"
#include "planner/part/found_feature.h"

namespace standpoint::test {

/// The kinds as the table tells them: bosses and bores are cylinders from outside and inside.
enum class AgreedKind { hole, slot, boss, bore, cone, sphere, plane };
inline constexpr std::size_t kAgreedKinds = 7;
[[nodiscard]] const char* word_of(AgreedKind kind);

/// How features of one kind agree.
struct Tally {
  std::size_t in_cad = 0;
  std::size_t agrees = 0;    ///< on the mesh alike, and not told as doubtful
  std::size_t doubtful = 0;  ///< on the mesh alike, told as doubtful
  std::size_t missed = 0;    ///< in CAD alone
  std::size_t wrong = 0;     ///< on the mesh alone, and not told as doubtful
  std::size_t guessed = 0;   ///< on the mesh alone, told as doubtful
};

struct Agreement {
  std::array<Tally, kAgreedKinds> of_kind;
  std::vector<std::string> words;  ///< one line for each that was missed, or is on the mesh alone
};

/// A part's features with the faces that they were found on.
struct Looked {
  PartFaces part;
  std::vector<FoundFeature> found;
};

struct AgreeOptions {
  double within = 0.02;         ///< mm, by which places and sizes may be off
  double axial_within = 0.1;    ///< mm, by which the ends of a wall may be off along its axis
  double blend_within = 0.1;    ///< the same where a wall runs out tangent into what is beyond
  double plane_within = 0.02;   ///< mm, by which points of a plane may be off the other one
  double plane_share = 0.0005;  ///< of the part's area: smaller planes do not count
  double cover_share = 0.8;     ///< of a plane that must be covered
  double rim = 0.5;             ///< mm, by which a plane's rim may be off
};

/// Round features agree when the axes lie within `within` over the length of the CAD's, diameters
/// within twice that, and both ends within `axial_within`; slots when their middle, width and
/// length do. Planes are compared by the area that they cover: a plane of CAD agrees when planes of
/// the mesh with its equation cover most of it, in however many pieces, and the other way
/// round for those on the mesh alone.
[[nodiscard]] Agreement agreement_of(const Looked& cad, const Looked& mesh,
                                     const AgreeOptions& options);

}  // namespace standpoint::test
