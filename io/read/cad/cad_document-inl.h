#pragma once

// A CAD file as OpenCASCADE's document: what triangles and faces are both taken from. For the .cpp
// files of the CAD reader only, because it needs OpenCASCADE's headers.

#include <cstdint>
#include <filesystem>
#include <map>
#include <new>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <tl/expected.hpp>

#include <Standard_Failure.hxx>
#include <Standard_OutOfMemory.hxx>
#include <TDocStd_Document.hxx>

#include "io/read/cad/cad_shapes-inl.h"

namespace standpoint {

/// How much OpenCASCADE mends of what it reads, beyond what it needs to know an edge on its faces.
enum class Healing { light, full };

/// A file that a STEP file refers to for a part of its own.
struct PartFile {
  std::string name;                               ///< as the file that refers to it has it
  std::filesystem::path path;                     ///< where it was found
  std::map<std::uint64_t, std::size_t> face_ids;  ///< a face's number by its entity's (#) there
};

/// What a CAD file holds. Its shapes are in mm.
struct CadDocument {
  Handle(TDocStd_Document) document;
  FaceNumbers numbers;
  std::map<std::uint64_t, std::size_t> face_ids;  ///< STEP: a face's number by its entity's (#)
  std::vector<PartFile> part_files;               ///< STEP: all that it refers to, by name
  std::string format;                             ///< "STEP" or "IGES"
  std::optional<double> stated_mm_per_unit;       ///< what the file says one unit of its numbers is
  double coordinates_per_unit = 1;                ///< the shapes' mm to one unit of the file
  std::vector<std::string> unread;                ///< surfaces that it has as triangles only
};

using Document = tl::expected<CadDocument, std::string>;

/// Reads a STEP file. The error is one plain sentence. `one_unit_is_needed`: several units in one
/// file are an error. Throws Standard_Failure and std::bad_alloc. OpenCASCADE keeps global
/// settings: one thread at a time.
[[nodiscard]] Document open_step(const std::filesystem::path& file, Healing healing,
                                 bool one_unit_is_needed);

/// Reads an IGES file likewise.
[[nodiscard]] Document open_iges(const std::filesystem::path& file);

/// Keeps OpenCASCADE from printing.
void silence_importer();

/// `read()`, whose answer is a tl::expected with a sentence, with OpenCASCADE's failures as such
/// sentences. Throws std::bad_alloc.
template <class Read>
auto guarded(const Read& read) -> decltype(read()) {
  silence_importer();
  try {
    return read();
  } catch (const Standard_OutOfMemory&) {
    throw std::bad_alloc();
  } catch (const Standard_Failure& failure) {
    return tl::unexpected(
        fmt::format("it cannot be read ({}): it is likely damaged", failure.DynamicType()->Name()));
  }
}

}  // namespace standpoint
