#include "io/read/text/json_value.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "io/words/text.h"

namespace standpoint {
namespace {

constexpr std::size_t kLongestText = 60;
constexpr std::size_t kLongestString = 50;
constexpr std::size_t kLongestStep = 200;

/// Where to cut `text` so that at most `most` bytes stay and no UTF-8 character is split.
std::size_t cut_within(std::string_view text, std::size_t most) {
  if (text.size() <= most) return text.size();
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return end;
}

class ShortWriter {
 public:
  void write(const JsonValue& value) {
    if (full()) return;
    std::visit([this](const auto& content) { put(content); }, value.content);
  }

  void put(const std::string& text) { put(std::string_view(text)); }
  void put(std::string_view text) {
    const std::string_view head = text.substr(0, cut_within(text, kLongestString));
    const nlohmann::json quoted = std::string(head) + (head.size() < text.size() ? "..." : "");
    out_ += for_json(quoted.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
  }

  /// Cuts what is too long. Escapes are ASCII, so a cut may fall within one, never within a
  /// character.
  [[nodiscard]] std::string take() {
    if (out_.size() > kLongestText) {
      out_.resize(cut_within(out_, kLongestText));
      out_ += "...";
    }
    return std::move(out_);
  }

 private:
  [[nodiscard]] bool full() const { return out_.size() > kLongestText; }

  void put(std::nullptr_t) { out_ += "null"; }
  void put(bool flag) { out_ += flag ? "true" : "false"; }
  void put(double number) { out_ += fmt::format("{}", number); }
  void put(NotFinite) { out_ += "(not finite)"; }
  void put(const JsonList& list) {
    out_ += '[';
    for (std::size_t i = 0; i < list.size() && !full(); ++i) {
      if (i > 0) out_ += ", ";
      write(list[i]);
    }
    out_ += ']';
  }
  void put(const JsonObject& object) {
    out_ += '{';
    for (std::size_t i = 0; i < object.size() && !full(); ++i) {
      if (i > 0) out_ += ", ";
      put(std::string_view(object[i].key));
      out_ += ": ";
      write(object[i].value);
    }
    out_ += '}';
  }

  std::string out_;
};

}  // namespace

std::string short_text(const JsonValue& value) {
  ShortWriter writer;
  writer.write(value);
  return writer.take();
}

std::string short_text(std::string_view text) {
  ShortWriter writer;
  writer.put(text);
  return writer.take();
}

std::string pointer_step(std::string_view key) {
  std::string step = "/";
  const std::string_view head = key.substr(0, cut_within(key, kLongestStep));
  for (const char c : head) {
    if (c == '~') {
      step += "~0";
    } else if (c == '/') {
      step += "~1";
    } else {
      step += c;
    }
  }
  if (head.size() < key.size()) step += "...";
  return step;
}

}  // namespace standpoint
