#pragma once

#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/vec.h"
#include "io/read/text/fault_sink.h"
#include "io/read/text/json_value.h"

namespace standpoint {

/// A value of the document together with the way to it: what a fault needs to name its place.
///
/// A cursor refers to its parent, which must outlive it; both live on the reader's stack. Where
/// nothing stands, `value` is null: readers return nothing then, and tell `missing` if
/// `is_required`.
struct Cursor {
  const JsonValue* value = nullptr;
  const Cursor* parent = nullptr;
  std::string_view key;              ///< in the parent, where that is an object
  std::optional<std::size_t> index;  ///< in the parent, where that is a list
  FaultSink* faults = nullptr;
  bool is_required = false;

  /// The JSON pointer (RFC 6901). O(depth).
  [[nodiscard]] std::string pointer() const;

  /// The pointer as a fault tells it: after the document's name where that must be told. O(depth).
  [[nodiscard]] std::string place() const { return faults->placed(pointer()); }

  /// The place in the document: the value's own, or where nothing stands the nearest holder's.
  [[nodiscard]] std::uint32_t order() const;

  /// Tells a fault of this value; `arguments` fill what the kind expects.
  template <class... Arguments>
  void fault(FaultKind kind, const Arguments&... arguments) const {
    fault_near(kind, "", arguments...);
  }

  /// As `fault`, with the name that was most likely meant; empty for none.
  template <class... Arguments>
  void fault_near(FaultKind kind, std::string_view nearest, const Arguments&... arguments) const {
    if (faults->full()) {
      faults->count_only();
      return;
    }
    faults->add_near(kind, order(), pointer(), value != nullptr ? short_text(*value) : "",
                     std::string(nearest), arguments...);
  }

  /// The value as `T` (one of JsonValue's); where it is something else, or missing though required,
  /// tells so and returns null. `expected` says what is allowed. A number already told as not
  /// finite is passed over in silence.
  template <class T>
  [[nodiscard]] const T* expect(std::string_view expected) const {
    if (value == nullptr) {
      if (is_required) fault(FaultKind::missing, expected);
      return nullptr;
    }
    if (const T* content = value->as<T>()) return content;
    if (value->as<NotFinite>() == nullptr) fault(FaultKind::wrong_type, expected);
    return nullptr;
  }
};

/// The members of one object, found by key; tells keys that nobody asks for.
class ObjectCursor {
 public:
  /// Tells a fault where `at` is no object; all members are absent then, without further faults.
  /// `at` must outlive this.
  explicit ObjectCursor(const Cursor& at);

  [[nodiscard]] bool is_object() const { return members_ != nullptr; }
  /// A member that must be there; the reader given it tells where it is not.
  [[nodiscard]] Cursor required(std::string_view key) const { return member(key, is_object()); }
  /// A member that may be there.
  [[nodiscard]] Cursor optional(std::string_view key) const { return member(key, false); }

  /// Tells every key that is not among `keys`, with a hint where a known one is near. Keys among
  /// `passed_over` may stand there and are not read.
  void allow(std::span<const std::string_view> keys,
             std::span<const std::string_view> passed_over = {}) const;
  void allow(std::initializer_list<std::string_view> keys) const {
    allow(std::span(keys.begin(), keys.size()));
  }

 private:
  [[nodiscard]] Cursor member(std::string_view key, bool is_required) const;

  const Cursor* at_;
  const JsonObject* members_;
};

/// How many entries a list may have.
struct CountRule {
  std::string_view expected;  ///< "a list of places", for the fault
  std::size_t least = 0;
  std::size_t most = SIZE_MAX;
};

/// The list's entries; null and a fault where it is no list or has too few or too many.
/// (Too few or too many still gives the list, so that its entries are checked as well.)
[[nodiscard]] const JsonList* expect_list(const Cursor& at, const CountRule& rule);

/// The cursor of one entry of a list.
[[nodiscard]] Cursor entry_of(const Cursor& list, const JsonList& entries, std::size_t index);

/// Calls `read(cursor, index)` for each entry of a list; nothing where it is none.
template <class Read>
void for_each_entry(const Cursor& list, const CountRule& rule, Read read) {
  const JsonList* entries = expect_list(list, rule);
  if (entries == nullptr) return;
  for (std::size_t i = 0; i < entries->size(); ++i) read(entry_of(list, *entries, i), i);
}

}  // namespace standpoint
