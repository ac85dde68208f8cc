#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

/// \file
/// The records of a STEP file's text (ISO 10303-21), as they stand there. For what OpenCASCADE 7.6
/// leaves out of its own model of a file; shapes are never read this way.

namespace standpoint {

/// One value in the list of an entity.
struct Part21Value {
  enum class Kind {
    nothing,  ///< $ or *, and what no reader here asks for: binary data, references to other files
    reference,  ///< #12
    number,     ///< 3, 0.5, 1.E-3
    text,       ///< 'in quotes'
    word,       ///< .MILLI.
    list,       ///< (1., 2.)
    typed       ///< LENGTH_MEASURE(0.4)
  };
  Kind kind = Kind::nothing;
  std::uint64_t reference = 0;
  double number = 0;
  std::string text;  ///< text: decoded to UTF-8, well formed; word: without full stops; typed: type
  std::vector<Part21Value> items;  ///< of list and typed
};

/// One entity of a record: its type and its values.
struct Part21Entity {
  std::string type;
  std::vector<Part21Value> values;
};

/// One record: #12 = TYPE(...); or a complex instance, #12 = (TYPE(...) TYPE(...));
struct Part21Record {
  std::uint64_t id = 0;
  std::vector<Part21Entity> entities;  ///< one, or those of the complex instance in their order
  bool is_complex = false;
  bool is_damaged = false;  ///< its values cannot be read: entities then have types alone
};

/// The records of which `is_wanted` says of one of their types that they are, in the file's order.
///
/// Text in quotes, comments, line breaks within values and complex instances are told apart as
/// ISO 10303-21 says (clauses 5 to 7, from memory); the sections of a file are not. Any text is
/// taken: what is no record is passed over, and a record whose values break the grammar, or nest
/// deeper than 64, is damaged. Of two records with one id both are given. O(n). Throws
/// std::bad_alloc alone. Safe from several threads.
[[nodiscard]] std::vector<Part21Record> part21_records(
    std::string_view text, const std::function<bool(std::string_view type)>& is_wanted);

}  // namespace standpoint
