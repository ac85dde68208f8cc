#pragma once

// Meshes of a CAD file as the tests look at them: fine, coarse, with scatter, made coarser.

#include <filesystem>
#include <ostream>

#include "standpoint/shapes.h"

namespace standpoint::test {

struct Cut {
  const char* name;
  double chord;    ///< mm, that the CAD is cut with
  double scatter;  ///< mm, put on every coordinate
  double coarser;  ///< mm, that the mesh may be moved by when it is made coarser; 0: it is not
};

/// What stands in the name of a test.
void PrintTo(const Cut& cut, std::ostream* out);

inline constexpr Cut kFine = {"fine", 0.02, 0, 0};
inline constexpr Cut kCoarse = {"coarse", 0.5, 0, 0};
inline constexpr Cut kNoisy = {"noisy", 0.1, 0.05, 0};
inline constexpr Cut kSimplified = {"simplified", 0.02, 0, 0.05};

/// The mesh with coordinates as an STL file holds them. Empty where the file cannot be read.
[[nodiscard]] Mesh mesh_cut(const std::filesystem::path& file, const Cut& cut);

}  // namespace standpoint::test
