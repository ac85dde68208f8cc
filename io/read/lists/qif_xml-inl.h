#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include <pugixml.hpp>

#include "io/read/lists/list_faults.h"

// A piece of the files of this folder that read QIF documents: the document as XML.

namespace standpoint {

/// A QIF document (ISO 23952:2020, QIF 3.0) as XML, with the place of every element in its text.
/// Neither external entities nor document types are read. One thread.
class QifXml {
 public:
  /// Elements within one another; those of QIF are far fewer.
  static constexpr std::size_t kDeepest = 64;
  /// Elements and attributes: bounds the memory that a hostile document takes.
  static constexpr std::size_t kMostParts = 4'000'000;

  /// Reads the text, which must outlive it. Every fault goes to `faults`; `root` is then empty.
  QifXml(std::string_view text, ListFaults& faults);

  /// The document's element QIFDocument; empty where it could not be read.
  [[nodiscard]] pugi::xml_node root() const { return root_; }
  /// Where an element begins, at its "<". O(1).
  [[nodiscard]] CsvPlace place(pugi::xml_node node) const;

  /// A child by its name without a prefix; empty where there is none, or no parent.
  [[nodiscard]] pugi::xml_node child(pugi::xml_node parent, std::string_view name) const;
  /// An element's name without a prefix.
  [[nodiscard]] std::string_view name(pugi::xml_node node) const;

  /// The element that has this id; empty where none has.
  [[nodiscard]] pugi::xml_node by_id(std::string_view id) const;

 private:
  [[nodiscard]] bool is_fit(std::string_view text);
  void parse(std::string_view text);
  [[nodiscard]] bool is_qif(pugi::xml_node root);
  [[nodiscard]] bool is_shallow(pugi::xml_node root);
  void collect_ids();
  [[nodiscard]] CsvPlace place_of(std::size_t byte) const;

  ListFaults& faults_;
  std::string_view text_;
  std::vector<CsvPlace> marks_;  ///< the place of every `kMarkStep`-th byte
  pugi::xml_document document_;
  pugi::xml_node root_;
  std::string prefix_;  ///< of QIF's names in this document, with its colon
  std::unordered_map<std::string_view, pugi::xml_node> by_id_;
};

}  // namespace standpoint
