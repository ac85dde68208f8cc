#include <algorithm>
#include <array>
#include <cstdint>

#include <fmt/format.h>

#include "io/read/lists/qif_xml-inl.h"
#include "io/read/text/json_value.h"
#include "io/words/text.h"

namespace standpoint {
namespace {

constexpr std::size_t kMarkStep = 4096;
constexpr std::string_view kNamespace = "http://qifstandards.org/xsd/qif3";
constexpr std::string_view kQifVersion = "3.0.0";

CsvPlace after(CsvPlace place, char c) {
  if (c == '\n') return {place.line + 1, 1};
  // Of a character in UTF-8 the first byte counts.
  if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) ++place.column;
  return place;
}

/// What is wrong with a text that is no XML.
std::string_view words_of(pugi::xml_parse_status status) {
  switch (status) {
    case pugi::status_end_element_mismatch:
      return "an end tag for each start tag, in order";
    case pugi::status_bad_end_element:
      return "a whole end tag";
    case pugi::status_bad_start_element:
      return "a whole start tag";
    case pugi::status_bad_attribute:
      return "attributes with a name and a value in quotes";
    case pugi::status_bad_comment:
      return "a comment that ends";
    case pugi::status_bad_cdata:
      return "a CDATA section that ends";
    case pugi::status_bad_pi:
      return "a processing instruction that ends";
    case pugi::status_bad_doctype:
      return "no document type in it";
    case pugi::status_no_document_element:
      return "an element QIFDocument";
    default:
      return "elements within one another";
  }
}

std::string shown_from(std::string_view text, std::size_t byte) {
  std::string_view rest = text.substr(std::min(byte, text.size()));
  rest = rest.substr(0, std::min(rest.find_first_of("\r\n"), rest.size()));
  return rest.empty() ? "the end of the text" : short_text(rest);
}

}  // namespace

QifXml::QifXml(std::string_view text, ListFaults& faults) : faults_(faults), text_(text) {
  if (is_fit(text)) parse(text);
}

/// Bounds what the parser may take, and marks places.
bool QifXml::is_fit(std::string_view text) {
  if (text.substr(0, 2).find('\0') != text.npos) {
    faults_.add_for_file("text in UTF-16", FaultKind::bad_text, "text in UTF-8");
    return false;
  }
  const auto count = static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return c == '<' || c == '='; }));
  if (count > kMostParts) {
    faults_.add_for_file(fmt::format("{} elements and attributes", count),
                         FaultKind::too_many_entries, fmt::format("at most {}", kMostParts));
    return false;
  }
  CsvPlace place;
  for (std::size_t byte = 0; byte < text.size(); ++byte) {
    if (byte % kMarkStep == 0) marks_.push_back(place);
    place = after(place, text[byte]);
  }
  const std::string clean = well_formed(text);
  if (clean == text) return true;
  const auto differs = std::mismatch(text.begin(), text.end(), clean.begin(), clean.end());
  const auto byte = static_cast<std::size_t>(differs.first - text.begin());
  faults_.add(place_of(byte), shown_from(text, byte), FaultKind::bad_text, "text in UTF-8");
  return false;
}

void QifXml::parse(std::string_view text) {
  const unsigned options = pugi::parse_default | pugi::parse_doctype | pugi::parse_trim_pcdata;
  const auto result = document_.load_buffer(text.data(), text.size(), options, pugi::encoding_utf8);
  if (!result) {
    const auto byte = static_cast<std::size_t>(std::max<std::ptrdiff_t>(result.offset, 0));
    return faults_.add(place_of(byte), shown_from(text, byte), FaultKind::syntax,
                       fmt::format("valid XML, with {}", words_of(result.status)));
  }
  pugi::xml_node root;
  for (const pugi::xml_node node : document_.children()) {
    if (node.type() == pugi::node_doctype)
      return faults_.add({1, 1}, "a document type", FaultKind::syntax, "a document without one");
    if (node.type() != pugi::node_element) continue;
    if (root)
      return faults_.add(place(node), short_text(node.name()), FaultKind::syntax,
                         "one element in the document, QIFDocument");
    root = node;
  }
  if (!is_shallow(root) || !is_qif(root)) return;
  root_ = root;
  collect_ids();
}

bool QifXml::is_qif(pugi::xml_node root) {
  const std::string_view whole = root.name();
  const std::size_t colon = whole.find(':');
  prefix_ = colon == whole.npos ? "" : std::string(whole.substr(0, colon + 1));
  const std::string declaration =
      prefix_.empty() ? "xmlns" : "xmlns:" + prefix_.substr(0, prefix_.size() - 1);
  const std::string_view space = root.attribute(declaration.c_str()).value();
  const std::string_view version = root.attribute("versionQIF").value();
  if (name(root) != "QIFDocument") {
    faults_.add(place(root), short_text(whole), FaultKind::unknown_choice,
                "the element QIFDocument");
  } else if (space != kNamespace) {
    faults_.add(place(root), space.empty() ? "" : short_text(space), FaultKind::unknown_choice,
                fmt::format("the namespace of QIF 3.0, {}", kNamespace));
  } else if (version != kQifVersion) {
    faults_.add(place(root), version.empty() ? "" : short_text(version), FaultKind::unknown_choice,
                fmt::format("for versionQIF {}", kQifVersion));
  } else {
    return true;
  }
  return false;
}

/// Goes through the elements without a call for each level.
bool QifXml::is_shallow(pugi::xml_node root) {
  std::size_t depth = 1;
  for (pugi::xml_node node = root; node;) {
    if (depth > kDeepest) {
      faults_.add(place(node), short_text(node.name()), FaultKind::too_deep,
                  fmt::format("at most {} elements within one another", kDeepest));
      return false;
    }
    if (const pugi::xml_node inner = node.first_child()) {
      node = inner;
      ++depth;
      continue;
    }
    while (node != root && !node.next_sibling()) {
      node = node.parent();
      --depth;
    }
    if (node == root) break;
    node = node.next_sibling();
  }
  return true;
}

/// Of what a list is made from; ids of the product's faces and the like are not asked for.
void QifXml::collect_ids() {
  const pugi::xml_node features = child(root_, "Features");
  const pugi::xml_node characteristics = child(root_, "Characteristics");
  const std::array<pugi::xml_node, 7> lists{child(features, "FeatureDefinitions"),
                                            child(features, "FeatureNominals"),
                                            child(features, "NominalPointSets"),
                                            child(characteristics, "CharacteristicDefinitions"),
                                            child(characteristics, "CharacteristicNominals"),
                                            child(root_, "DatumDefinitions"),
                                            child(root_, "DatumReferenceFrames")};
  for (const pugi::xml_node list : lists) {
    for (const pugi::xml_node node : list.children()) {
      if (node.type() != pugi::node_element) continue;
      const std::string_view id = node.attribute("id").value();
      const bool is_number = !id.empty() && id.size() <= 10 &&
                             id.find_first_not_of("0123456789") == std::string_view::npos;
      if (!is_number) {
        faults_.add(place(node), id.empty() ? "" : short_text(id), FaultKind::wrong_type,
                    "for id a whole number");
      } else if (!by_id_.emplace(id, node).second) {
        faults_.add(place(node), short_text(id), FaultKind::duplicate_name,
                    fmt::format("for id a number of its own; line {} has this one already",
                                place(by_id_.at(id)).line));
      }
    }
  }
}

CsvPlace QifXml::place_of(std::size_t byte) const {
  byte = std::min(byte, text_.size());
  if (marks_.empty()) return {};
  const std::size_t mark = std::min(byte / kMarkStep, marks_.size() - 1);
  CsvPlace place = marks_[mark];
  for (std::size_t i = mark * kMarkStep; i < byte; ++i) place = after(place, text_[i]);
  return place;
}

CsvPlace QifXml::place(pugi::xml_node node) const {
  // Points to the name, behind the "<".
  const std::ptrdiff_t offset = node.offset_debug();
  return place_of(offset > 0 ? static_cast<std::size_t>(offset - 1) : 0);
}

pugi::xml_node QifXml::child(pugi::xml_node parent, std::string_view name) const {
  return parent.child((prefix_ + std::string(name)).c_str());
}

std::string_view QifXml::name(pugi::xml_node node) const {
  std::string_view whole = node.name();
  if (whole.substr(0, prefix_.size()) == prefix_) whole.remove_prefix(prefix_.size());
  return whole;
}

pugi::xml_node QifXml::by_id(std::string_view id) const {
  const auto found = by_id_.find(id);
  return found == by_id_.end() ? pugi::xml_node() : found->second;
}

}  // namespace standpoint
