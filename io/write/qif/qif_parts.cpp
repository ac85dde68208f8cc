#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/text.h"
#include "io/write/qif/qif_parts-inl.h"

namespace standpoint::qif {
namespace {

/// What XML 1.0 has no place for is written out or replaced: U+FFFE and U+FFFF are no characters.
std::string xml_text(std::string_view text) {
  std::string clean = for_terminal(text);
  for (const std::string_view none : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"}) {
    for (std::size_t at = 0; (at = clean.find(none, at)) != clean.npos;)
      clean.replace(at, none.size(), "\xEF\xBF\xBD");
  }
  return clean;
}

}  // namespace

pugi::xml_node add(pugi::xml_node parent, const char* name, std::string_view text) {
  pugi::xml_node node = parent.append_child(name);
  node.text().set(xml_text(text).c_str());
  return node;
}

pugi::xml_node add(pugi::xml_node parent, const char* name, std::uint32_t number) {
  return add(parent, name, std::to_string(number));
}

std::uint32_t identify(pugi::xml_node node, Ids& ids) {
  const std::uint32_t id = ids.next();
  node.append_attribute("id").set_value(id);
  return id;
}

void add_ids(pugi::xml_node parent, const char* name, const std::vector<std::uint32_t>& ids) {
  pugi::xml_node list = parent.append_child(name);
  for (const std::uint32_t id : ids) add(list, "Id", id);
  set_count(list);
}

void add_attribute(pugi::xml_node parent, std::string_view name, std::string_view value) {
  pugi::xml_node list = parent.child("Attributes");
  if (!list) list = parent.append_child("Attributes");
  pugi::xml_node attribute = list.append_child("AttributeStr");
  attribute.append_attribute("name").set_value(std::string(name).c_str());
  attribute.append_attribute("value").set_value(xml_text(value).c_str());
  set_count(list);
}

void set_count(pugi::xml_node list) {
  const auto count = std::distance(list.begin(), list.end());
  pugi::xml_attribute n = list.attribute("n");
  if (!n) n = list.prepend_attribute("n");
  n.set_value(static_cast<unsigned>(count));
}

std::string decimal_text(double value) {
  std::string text = fmt::format("{}", value + 0.0);  // adding 0 turns -0 into 0
  if (text.find('e') == text.npos) return text;
  // XML Schema part 2, 3.2.3: readers need take no more than 18 digits, and some take 24.
  text = fmt::format("{:.18f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  return text.back() == '.' ? text + "0" : text;
}

std::string length_text_of(const Scene& scene, double mm) {
  return decimal_text(to_scene_units(scene, mm));
}

std::string place_text_of(const Scene& scene, const Vec3& at) {
  return direction_text_of(Vec3(at / scene.mm_per_unit));
}

std::string direction_text_of(const Vec3& direction) {
  return fmt::format("{} {} {}", decimal_text(direction.x()), decimal_text(direction.y()),
                     decimal_text(direction.z()));
}

}  // namespace standpoint::qif
