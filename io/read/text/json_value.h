#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace standpoint {

// A JSON document as it stands in the file: members in their order, duplicate keys kept. What the
// usual JSON containers lose is exactly what a fault has to name.

struct JsonValue;
struct JsonMember;

/// Stands for a number that no finite double holds (1e999, NaN, Infinity); already told as a fault.
struct NotFinite {};

using JsonList = std::vector<JsonValue>;
using JsonObject = std::vector<JsonMember>;

struct JsonValue {
  std::variant<std::nullptr_t, bool, double, NotFinite, std::string, JsonList, JsonObject> content;
  /// The place in the document: values are numbered as they begin, from 0.
  std::uint32_t order = 0;

  template <class T>
  [[nodiscard]] const T* as() const {
    return std::get_if<T>(&content);
  }
};

struct JsonMember {
  std::string key;
  JsonValue value;
};

/// The value as JSON text on one line, cut to about 60 bytes with "..." (never within a character).
/// Always valid UTF-8. O(1) in the size of the value, apart from the first few entries.
[[nodiscard]] std::string short_text(const JsonValue& value);

/// A string as JSON text, shortened likewise. Bytes that are not UTF-8 become U+FFFD.
[[nodiscard]] std::string short_text(std::string_view text);

/// A key as one step of a JSON pointer: "/" and the key with ~ as ~0 and / as ~1 (RFC 6901,
/// section 3). A key of more than 200 bytes is cut there with "..." (no scene has one; a hostile
/// file must not make every pointer as long as itself).
[[nodiscard]] std::string pointer_step(std::string_view key);

}  // namespace standpoint
