#include "io/read/text/json_text.h"

#include <algorithm>
#include <tuple>

#include <nlohmann/json.hpp>

#include "io/read/text/non_finite.h"

namespace standpoint {
namespace {

struct TextPlace {
  std::size_t line = 1;
  std::size_t column = 1;  ///< in characters
};

TextPlace place_of(std::string_view text, std::size_t byte) {
  TextPlace place;
  for (const char c : text.substr(0, byte)) {
    if (c == '\n') {
      ++place.line;
      place.column = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++place.column;
    }
  }
  return place;
}

std::string_view rest_of_line(std::string_view text, std::size_t byte) {
  if (byte >= text.size()) return {};
  text.remove_prefix(byte);
  return text.substr(0, text.find_first_of("\r\n"));
}

/// What the parser says is wrong, without its own prefix and without the text it last read (which
/// can be as long as the file).
std::string reason_of(std::string message) {
  static constexpr std::string_view kPrefix = "syntax error ";
  if (const auto at = message.find(kPrefix); at != std::string::npos)
    message.erase(0, at + kPrefix.size());
  if (const auto read = message.find("; last read: "); read != std::string::npos) {
    const auto expected = message.rfind("; expected ");
    const bool keep_tail = expected != std::string::npos && expected > read;
    message.erase(read, keep_tail ? expected - read : std::string::npos);
  }
  return message;
}

/// Builds the document from the parser's events. Open containers are kept as pointers: the last
/// entry of each is the one being built, so no list grows while a pointer into it is held.
class Builder final : public nlohmann::json_sax<nlohmann::json> {
 public:
  Builder(const MaskedText& masked, FaultSink& faults) : masked_(masked), faults_(faults) {}

  [[nodiscard]] JsonValue take() { return std::move(root_); }

  bool null() override { return add(nullptr) != nullptr; }
  bool boolean(bool flag) override { return add(flag) != nullptr; }
  bool number_integer(std::int64_t number) override {
    return add_number(static_cast<double>(number));
  }
  bool number_unsigned(std::uint64_t number) override {
    return add_number(static_cast<double>(number));
  }
  bool number_float(double number, const std::string& /*token*/) override {
    return add_number(number);
  }
  bool string(std::string& text) override { return add(std::move(text)) != nullptr; }
  bool binary(nlohmann::json::binary_t& /*bytes*/) override { return false; }
  bool start_object(std::size_t /*size*/) override { return open(JsonObject{}); }
  bool start_array(std::size_t /*size*/) override { return open(JsonList{}); }
  bool key(std::string& key) override {
    std::get<JsonObject>(open_.back()->content).push_back({std::move(key), {}});
    return true;
  }
  bool end_array() override {
    open_.pop_back();
    return true;
  }
  bool end_object() override {
    tell_duplicate_keys();
    open_.pop_back();
    return true;
  }
  /// `position` counts the bytes read, up to and with the one that is wrong.
  bool parse_error(std::size_t position, const std::string& /*last_token*/,
                   const nlohmann::json::exception& error) override {
    const std::size_t byte = position > 0 ? position - 1 : 0;
    const TextPlace place = place_of(masked_.text, byte);
    const std::string_view line = rest_of_line(masked_.text, byte);
    const char* const end =
        byte < masked_.text.size() ? "the end of the line" : "the end of the text";
    faults_.add(FaultKind::syntax, count_, pointer(), line.empty() ? end : short_text(line),
                place.line, place.column, reason_of(error.what()));
    return false;
  }

 private:
  /// Puts a value where the next one belongs; null (and a fault) where a bound is passed.
  template <class Content>
  JsonValue* add(Content content) {
    if (count_ >= kMostValues) {
      faults_.add(FaultKind::too_many_values, count_, pointer(), "", kMostValues);
      return nullptr;
    }
    JsonValue* value = &root_;
    if (!open_.empty()) {
      if (auto* list = std::get_if<JsonList>(&open_.back()->content)) {
        if (list->size() >= kMostEntries) {
          faults_.add(FaultKind::list_too_long, open_.back()->order, pointer_of_open(),
                      short_text(*open_.back()), kMostEntries);
          return nullptr;
        }
        value = &list->emplace_back();
      } else {
        value = &std::get<JsonObject>(open_.back()->content).back().value;
      }
    }
    value->content = std::move(content);
    value->order = count_++;
    return value;
  }

  bool add_number(double number) {
    const std::size_t ordinal = numbers_++;
    const bool is_masked =
        next_masked_ < masked_.numbers.size() && masked_.numbers[next_masked_].ordinal == ordinal;
    if (!is_masked) return add(number) != nullptr;
    const JsonValue* value = add(NotFinite{});
    if (value == nullptr) return false;
    const std::string& token = masked_.numbers[next_masked_++].token;
    if (faults_.full()) {
      faults_.count_only();
    } else {
      faults_.add(FaultKind::not_finite, value->order, pointer(), token);
    }
    return true;
  }

  template <class Container>
  bool open(Container container) {
    if (open_.size() >= kDeepest) {
      faults_.add(FaultKind::too_deep, count_, pointer(), "", kDeepest);
      return false;
    }
    JsonValue* value = add(std::move(container));
    if (value == nullptr) return false;
    open_.push_back(value);
    return true;
  }

  void tell_duplicate_keys() {
    const auto& members = std::get<JsonObject>(open_.back()->content);
    if (members.size() < 2) return;
    std::vector<const JsonMember*> sorted;
    sorted.reserve(members.size());
    for (const JsonMember& member : members) sorted.push_back(&member);
    std::sort(sorted.begin(), sorted.end(), [](const JsonMember* a, const JsonMember* b) {
      return std::tie(a->key, a->value.order) < std::tie(b->key, b->value.order);
    });
    for (std::size_t i = 1; i < sorted.size(); ++i) {
      if (sorted[i]->key != sorted[i - 1]->key) continue;
      if (faults_.full()) {
        faults_.count_only();
        continue;
      }
      faults_.add(FaultKind::duplicate_key, sorted[i]->value.order,
                  pointer_of_open() + pointer_step(sorted[i]->key), short_text(sorted[i]->value));
    }
  }

  /// The pointer of the innermost open container.
  [[nodiscard]] std::string pointer_of_open() const {
    std::string text;
    for (std::size_t i = 0; i + 1 < open_.size(); ++i) text += step_within(*open_[i]);
    return text;
  }

  /// The pointer of the last value begun.
  [[nodiscard]] std::string pointer() const {
    return open_.empty() ? "" : pointer_of_open() + step_within(*open_.back());
  }

  [[nodiscard]] static std::string step_within(const JsonValue& container) {
    if (const auto* list = container.as<JsonList>())
      return list->empty() ? "" : "/" + std::to_string(list->size() - 1);
    const auto& members = *container.as<JsonObject>();
    return members.empty() ? "" : pointer_step(members.back().key);
  }

  const MaskedText& masked_;
  FaultSink& faults_;
  JsonValue root_;
  std::vector<JsonValue*> open_;
  std::uint32_t count_ = 0;
  std::size_t numbers_ = 0;
  std::size_t next_masked_ = 0;
};

}  // namespace

std::optional<JsonValue> parse_json(const std::string& text, FaultSink& faults) {
  const MaskedText masked = mask_non_finite(text);
  Builder builder(masked, faults);
  if (!nlohmann::json::sax_parse(masked.text, &builder)) return std::nullopt;
  return builder.take();
}

}  // namespace standpoint
