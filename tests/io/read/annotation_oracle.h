#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace standpoint {

/// A geometric tolerance as OpenCASCADE's own reading of annotation has it.
struct OracleTolerance {
  std::string kind;  ///< in the words of ISO 1101
  std::string name;
  double width = 0;  ///< mm; OpenCASCADE 7.6 leaves it at 0 where the file's value has a name
  bool is_diameter = false;
  std::vector<std::size_t> faces;   ///< ascending
  std::vector<std::string> datums;  ///< letters
};

/// A STEP file by OpenCASCADE alone.
struct OracleAnnotation {
  std::vector<OracleTolerance> tolerances;            ///< in the file's order
  std::map<std::uint64_t, std::size_t> face_numbers;  ///< by # of the face's entity
};

/// Reads `file`, which must be readable, with OpenCASCADE's reader of documents and its table of
/// tolerances. Shares no code with io/read/cad/annotation.h.
[[nodiscard]] OracleAnnotation annotation_by_opencascade(const std::filesystem::path& file);

}  // namespace standpoint
