#include "io/read/cad/part21_text.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <utility>

#include "io/read/cad/part21_string.h"

namespace standpoint {
namespace {

using Kind = Part21Value::Kind;

/// Lists within lists: what a file of shapes and annotation needs is three or four.
constexpr int kDeepest = 64;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_blank(char c) {
  return c == ' ' || c == '\n' || c == '\r' || c == '\t';
}
bool is_of_name(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || is_digit(c) || c == '_' || c == '!';
}

/// Walks through text. Every step forward is bounded by its end.
class Cursor {
 public:
  explicit Cursor(std::string_view text) : text_(text) {}

  [[nodiscard]] bool at_end() const { return at_ == text_.size(); }
  [[nodiscard]] char peek() const { return at_end() ? '\0' : text_[at_]; }
  [[nodiscard]] std::size_t position() const { return at_; }
  void step() { at_ += at_end() ? 0 : 1; }
  bool take(char c) {
    const bool is_here = !at_end() && text_[at_] == c;
    at_ += is_here ? 1 : 0;
    return is_here;
  }
  [[nodiscard]] std::string_view since(std::size_t from) const {
    return text_.substr(from, at_ - from);
  }

  bool skip_comment() {
    if (text_.substr(at_, 2) != "/*") {
      return false;
    }
    const std::size_t end = text_.find("*/", at_ + 2);
    at_ = end == std::string_view::npos ? text_.size() : end + 2;
    return true;
  }
  void skip_blank() {
    for (;;) {
      if (!at_end() && is_blank(text_[at_])) {
        ++at_;
      } else if (!skip_comment()) {
        return;
      }
    }
  }
  /// What is between two `quote`s, of which the cursor stands on the first; a doubled one stands
  /// for itself. Nothing where the second is missing.
  std::optional<std::string_view> take_quoted(char quote) {
    const std::size_t first = ++at_;
    for (;;) {
      const std::size_t end = text_.find(quote, at_);
      if (end == std::string_view::npos) {
        at_ = text_.size();
        return std::nullopt;
      }
      at_ = end + 1;
      if (peek() != quote) {
        return text_.substr(first, end - first);
      }
      ++at_;
    }
  }
  std::string_view take_name() {
    const std::size_t first = at_;
    while (!at_end() && is_of_name(text_[at_])) {
      ++at_;
    }
    return since(first);
  }
  std::optional<std::uint64_t> take_whole_number() {
    std::uint64_t value = 0;
    const char* const first = text_.data() + at_;
    const auto [end, error] = std::from_chars(first, text_.data() + text_.size(), value);
    at_ += static_cast<std::size_t>(end - first);
    return error == std::errc() ? std::optional(value) : std::nullopt;
  }
  std::optional<double> take_number() {
    take('+');
    double value = 0;
    const char* const first = text_.data() + at_;
    const auto [end, error] = std::from_chars(first, text_.data() + text_.size(), value);
    at_ += static_cast<std::size_t>(end - first);
    return error == std::errc() ? std::optional(value) : std::nullopt;
  }
  /// To the next one of `stops` outside of quotes and comments; on it, not beyond.
  void skip_to(std::string_view stops) {
    while (!at_end() && stops.find(text_[at_]) == std::string_view::npos) {
      if (text_[at_] == '\'' || text_[at_] == '"') {
        take_quoted(text_[at_]);
      } else if (!skip_comment()) {
        ++at_;
      }
    }
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

/// Reads values by the grammar. The first thing that breaks it ends the reading.
class Values {
 public:
  explicit Values(std::string_view record) : cursor_(record) {}

  [[nodiscard]] bool ok() const { return ok_; }

  /// TYPE(...)
  Part21Entity entity() {
    cursor_.skip_blank();
    Part21Entity result;
    result.type = cursor_.take_name();
    result.values = list(0);
    ok_ = ok_ && !result.type.empty();
    return result;
  }
  /// (TYPE(...) TYPE(...))
  std::vector<Part21Entity> complex() {
    std::vector<Part21Entity> result;
    cursor_.skip_blank();
    cursor_.take('(');
    for (cursor_.skip_blank(); ok_ && !cursor_.take(')'); cursor_.skip_blank()) {
      result.push_back(entity());
    }
    return result;
  }
  void expect_end() {
    cursor_.skip_blank();
    ok_ = ok_ && cursor_.at_end();
  }

 private:
  std::vector<Part21Value> list(int depth) {
    std::vector<Part21Value> values;
    cursor_.skip_blank();
    ok_ = ok_ && depth <= kDeepest && cursor_.take('(');
    cursor_.skip_blank();
    if (!ok_ || cursor_.take(')')) {
      return values;
    }
    do {
      values.push_back(value(depth));
      cursor_.skip_blank();
    } while (ok_ && cursor_.take(','));
    ok_ = ok_ && cursor_.take(')');
    return values;
  }

  Part21Value value(int depth) {
    cursor_.skip_blank();
    const char c = cursor_.peek();
    if (c == '(') return {Kind::list, 0, 0, {}, list(depth + 1)};
    if (c == '\'') return text();
    if (c == '#') return reference();
    if (c == '.' || is_of_name(c)) return word_or_typed(depth);
    if (c == '+' || c == '-') return number();
    return nothing();
  }
  Part21Value text() {
    const std::optional<std::string_view> between = cursor_.take_quoted('\'');
    ok_ = ok_ && between;
    return {Kind::text, 0, 0, between ? part21_string(*between) : std::string(), {}};
  }
  Part21Value reference() {
    cursor_.step();
    const std::optional<std::uint64_t> id = cursor_.take_whole_number();
    ok_ = ok_ && id;
    return {Kind::reference, id.value_or(0), 0, {}, {}};
  }
  Part21Value number() {
    const std::optional<double> number = cursor_.take_number();
    ok_ = ok_ && number;
    return {Kind::number, 0, number.value_or(0), {}, {}};
  }
  Part21Value word_or_typed(int depth) {
    if (is_digit(cursor_.peek())) return number();
    const bool is_word = cursor_.take('.');
    const std::string_view name = cursor_.take_name();
    ok_ = ok_ && !name.empty();
    if (is_word) {
      ok_ = ok_ && cursor_.take('.');
      return {Kind::word, 0, 0, std::string(name), {}};
    }
    return {Kind::typed, 0, 0, std::string(name), list(depth + 1)};
  }
  /// $, *, "binary", or what later editions allow: @constant, <resource>.
  Part21Value nothing() {
    if (cursor_.take('$') || cursor_.take('*')) return {};
    const std::size_t before = cursor_.position();
    cursor_.skip_to(",)");
    ok_ = ok_ && cursor_.position() > before;
    return {};
  }

  Cursor cursor_;
  bool ok_ = true;
};

/// The types of a record, without its values: of a complex instance the names one level in.
std::vector<std::string_view> types_of(std::string_view record, bool is_complex) {
  Cursor cursor(record);
  std::vector<std::string_view> types;
  int depth = is_complex ? -1 : 0;
  for (cursor.skip_blank(); !cursor.at_end(); cursor.skip_blank()) {
    if (cursor.take('(')) {
      ++depth;
    } else if (cursor.take(')')) {
      --depth;
    } else if (const std::string_view name = cursor.take_name(); !name.empty()) {
      if (depth == 0) types.push_back(name);
      if (!is_complex) break;
    } else {
      cursor.skip_to("()");
    }
  }
  return types;
}

/// Reads #12 = at the start of a statement.
std::optional<std::uint64_t> take_id(Cursor& cursor) {
  if (!cursor.take('#')) return std::nullopt;
  const std::optional<std::uint64_t> id = cursor.take_whole_number();
  cursor.skip_blank();
  return cursor.take('=') ? id : std::nullopt;
}

Part21Record read_record(std::uint64_t id, std::string_view body, bool is_complex,
                         const std::vector<std::string_view>& types) {
  Part21Record record;
  record.id = id;
  record.is_complex = is_complex;
  Values values(body);
  if (is_complex) {
    record.entities = values.complex();
  } else {
    record.entities.push_back(values.entity());
  }
  values.expect_end();
  if (!values.ok()) {
    record.is_damaged = true;
    record.entities.clear();
    for (const std::string_view type : types) record.entities.push_back({std::string(type), {}});
  }
  return record;
}

}  // namespace

std::vector<Part21Record> part21_records(
    std::string_view text, const std::function<bool(std::string_view type)>& is_wanted) {
  std::vector<Part21Record> records;
  Cursor cursor(text);
  for (cursor.skip_blank(); !cursor.at_end(); cursor.skip_blank()) {
    const std::optional<std::uint64_t> id = take_id(cursor);
    cursor.skip_blank();
    const std::size_t first = cursor.position();
    const bool is_complex = cursor.peek() == '(';
    cursor.skip_to(";");
    const std::string_view body = cursor.since(first);
    cursor.step();
    if (!id) continue;
    const std::vector<std::string_view> types = types_of(body, is_complex);
    if (std::any_of(types.begin(), types.end(), is_wanted)) {
      records.push_back(read_record(*id, body, is_complex, types));
    }
  }
  return records;
}

}  // namespace standpoint
