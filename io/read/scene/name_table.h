#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "io/read/text/json_cursor.h"

namespace standpoint {

/// The place of a name that stands in a list beside the scene, not in its JSON.
struct ListedPlace {
  std::string where;            ///< as a fault tells it: "points.csv:4"
  std::uint32_t order = 0;      ///< of the list's own entry in the JSON document
  FaultSink* faults = nullptr;  ///< of that document
};

/// The names of one name space of the scene: tells duplicates as they are added and unknown names
/// as they are looked up. The faults' sinks must outlive it.
class NameTable {
 public:
  /// `thing` says in a fault what the names are of, such as "a full target or an offset stylus".
  explicit NameTable(std::string_view thing) : thing_(thing) {}

  /// Adds a name that stands for `index`; a fault at `at` where it is there already.
  void add(const Cursor& at, const std::string& name, std::size_t index);
  /// The same for a name of a list.
  void add(const ListedPlace& at, const std::string& name, std::size_t index);

  /// Tells the table that some names could not be read, so that a name it does not know may well be
  /// right: `find` then stays silent instead of blaming what is correct.
  void mark_incomplete() { is_complete_ = false; }

  /// The index of a name; a fault at `at` where nothing has it.
  [[nodiscard]] std::optional<std::size_t> find(const Cursor& at, const std::string& name) const;

  /// As `find`, without a fault.
  [[nodiscard]] std::optional<std::size_t> look_up(const std::string& name) const;

  [[nodiscard]] bool is_complete() const { return is_complete_; }

 private:
  struct Entry {
    std::size_t index;
    std::string where;
    const FaultSink* document;  ///< in which `where` is a pointer; null where it says all
  };

  /// The known name that was most likely meant; empty where none is near, or to look would cost.
  [[nodiscard]] std::string nearest(const Cursor& at, const std::string& name) const;
  /// The entry's place for a fault that `reader` holds: with its file where that is another one.
  [[nodiscard]] static std::string told(const Entry& entry, const FaultSink* reader);

  std::string_view thing_;
  std::unordered_map<std::string, Entry> entries_;
  std::vector<std::string> in_order_;
  bool is_complete_ = true;
};

/// Calls `read(cursor, name)` for each entry of a list of names; tells entries that are none, and
/// those that stand twice. Nothing where there is no list.
void for_each_name(const Cursor& list, const CountRule& rule,
                   const std::function<void(const Cursor&, const std::string&)>& read);

/// The required `name` of one entry of a list, entered into `names` under `index`; empty and told
/// where it is missing or no name.
[[nodiscard]] std::string read_own_name(const ObjectCursor& object, NameTable& names,
                                        std::size_t index);

}  // namespace standpoint
