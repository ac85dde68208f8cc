#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "io/read/text/json_cursor.h"

namespace standpoint {

/// The names of one name space of the scene: tells duplicates as they are added and unknown names
/// as they are looked up.
class NameTable {
 public:
  /// `thing` says in a fault what the names are of, such as "a full target or an offset stylus".
  explicit NameTable(std::string_view thing) : thing_(thing) {}

  /// Adds a name that stands for `index`; a fault at `at` where it is there already.
  void add(const Cursor& at, const std::string& name, std::size_t index);

  /// Tells the table that some names could not be read, so that a name it does not know may well be
  /// right: `find` then stays silent instead of blaming what is correct.
  void mark_incomplete() { is_complete_ = false; }

  /// The index of a name; a fault at `at` where nothing has it.
  [[nodiscard]] std::optional<std::size_t> find(const Cursor& at, const std::string& name) const;

  /// As `find`, without a fault.
  [[nodiscard]] std::optional<std::size_t> look_up(const std::string& name) const;

  [[nodiscard]] bool is_complete() const { return is_complete_; }

 private:
  /// The known name that was most likely meant; empty where none is near, or to look would cost.
  [[nodiscard]] std::string nearest(const Cursor& at, const std::string& name) const;

  struct Entry {
    std::size_t index;
    std::string where;
  };
  std::string_view thing_;
  std::unordered_map<std::string, Entry> entries_;
  std::vector<std::string> in_order_;
  bool is_complete_ = true;
};

/// The required `name` of one entry of a list, entered into `names` under `index`; empty and told
/// where it is missing or no name.
[[nodiscard]] std::string read_own_name(const ObjectCursor& object, NameTable& names,
                                        std::size_t index);

}  // namespace standpoint
