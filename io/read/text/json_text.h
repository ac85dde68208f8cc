#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "io/read/text/fault_sink.h"
#include "io/read/text/json_value.h"

namespace standpoint {

// What a scene's text may hold. A real scene stays far below; the bounds keep a broken or hostile
// file from taking memory and stack.
inline constexpr std::size_t kMostSceneMiB = 64;
inline constexpr std::size_t kMostSceneBytes = kMostSceneMiB << 20U;
inline constexpr std::size_t kDeepest = 64;             ///< lists and objects within each other
inline constexpr std::size_t kMostEntries = 1'000'000;  ///< of one list
inline constexpr std::size_t kMostValues = 4'000'000;   ///< of all kinds, in the whole text

/// Parses JSON text (RFC 8259; a UTF-8 byte order mark is skipped).
///
/// Beyond a plain parser it tells every key that stands twice and every number that no double holds
/// (1e999, NaN, Infinity: the latter two are not JSON, but common writers put them there), and goes
/// on after them. Returns nothing where the text is no JSON (one `syntax` fault, with line, column
/// and how far the document was understood) or passes a bound above; what was found before that is
/// told too. Otherwise the document, with or without faults. Never recurses on the text: any depth
/// is refused in constant stack. O(n log n) for n bytes, about 100 bytes of memory a value.
[[nodiscard]] std::optional<JsonValue> parse_json(const std::string& text, FaultSink& faults);

}  // namespace standpoint
