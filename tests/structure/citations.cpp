#include "citations.h"

#include <algorithm>
#include <cctype>
#include <map>
#include <regex>

#include "text_files.h"

namespace standpoint::house {
namespace {

using std::filesystem::path;

constexpr const char* kContract = "docs/contract.md";

/// The numbered sections of a document: number to text.
using Sections = std::map<int, std::string>;

/// As quotations have it: without the marks of Markdown.
std::string plain(std::string text) {
  std::erase_if(text, [](char c) { return c == '*' || c == '`'; });
  return text;
}

Sections sections_of(const std::string& markdown) {
  static const std::regex numbered("(?:^|\n)#+ ([0-9]+)[.]? ");
  Sections sections;
  const std::sregex_iterator none;
  for (std::sregex_iterator heading(markdown.begin(), markdown.end(), numbered); heading != none;) {
    const auto start = static_cast<std::size_t>(heading->position());
    const int number = std::stoi((*heading)[1]);
    ++heading;
    const std::size_t end =
        heading == none ? markdown.size() : static_cast<std::size_t>(heading->position());
    sections[number] = plain(Prose(markdown.substr(start, end - start), true).text());
  }
  return sections;
}

std::vector<int> numbers_in(const std::string& text) {
  static const std::regex digits("[0-9]+");
  std::vector<int> numbers;
  for (std::sregex_iterator n(text.begin(), text.end(), digits), none; n != none; ++n)
    numbers.push_back(std::stoi(n->str()));
  return numbers;
}

std::vector<std::string> quotations_in(const std::string& text) {
  static const std::regex quoted("\"([^\"]+)\"");
  std::vector<std::string> quotations;
  for (std::sregex_iterator q(text.begin(), text.end(), quoted), none; q != none; ++q)
    quotations.push_back((*q)[1]);
  return quotations;
}

struct Citation {
  std::string document;  ///< as cited; empty: the contract
  std::string sections;
  std::string quotations;
};

/// The ways in which a section is cited, each with the groups that hold what is cited.
struct Form {
  std::regex pattern;
  std::size_t document, sections, quotations;  ///< groups; 0: none
};

const std::vector<Form>& forms() {
  const std::string list = "(section [0-9]+|sections [0-9]+(?:(?:, |,? and | to )[0-9]+)*)";
  const std::string quotations = "((?:,? \"[^\"]{1,80}\")*)";
  const auto flags = std::regex::icase | std::regex::optimize;
  static const std::vector<Form> all = {
      // contract section 3, "Full target"
      {std::regex("\\bcontract,? " + list + quotations, flags), 0, 1, 2},
      // section 3 of the contract
      {std::regex(list + " of the \\[?contract\\b", flags), 0, 1, 0},
      // docs/beam.md, section 4; also as a link
      {std::regex("([a-z0-9_./-]+[.]md)[`)]*,? " + list + quotations, flags), 1, 2, 3},
  };
  return all;
}

class Checker {
 public:
  explicit Checker(const path& root) : root_(root) {}

  void check(const std::string& name) {
    name_ = name;
    const std::string text = text_of(root_ / name);
    Prose prose(text, has_ending(name, ".md"));
    for (const Form& form : forms()) check_form(form, prose);
    if (has_ending(name, ".md")) own_ = sections_of(text);
    check_bare_sections(prose);
    own_.clear();
    if (name != kContract && name != "docs/glossary.md") check_bare_contract(prose);
  }

  [[nodiscard]] std::vector<std::string> faults() && { return std::move(faults_); }

 private:
  void tell(const Prose& prose, std::ptrdiff_t place, const std::string& what) {
    faults_.push_back(name_ + ":" + std::to_string(prose.line_at(static_cast<std::size_t>(place))) +
                      ": " + what);
  }

  void check_form(const Form& form, Prose& prose) {
    const std::string text = prose.text();
    for (std::sregex_iterator found(text.begin(), text.end(), form.pattern), none; found != none;
         ++found) {
      const auto group = [&](std::size_t i) { return i == 0 ? std::string() : (*found)[i].str(); };
      check_citation({group(form.document), group(form.sections), group(form.quotations)}, prose,
                     found->position());
      prose.blank(static_cast<std::size_t>(found->position()),
                  static_cast<std::size_t>(found->length()));
    }
  }

  void check_citation(const Citation& citation, const Prose& prose, std::ptrdiff_t place) {
    const path document = find(citation.document);
    if (document.empty()) {
      tell(prose, place, "cites " + citation.document + ", which does not exist");
      return;
    }
    const Sections& sections = sections_in(document);
    std::string cited;
    for (const int number : numbers_in(citation.sections)) {
      const auto section = sections.find(number);
      if (section == sections.end()) {
        tell(prose, place, document.generic_string() + " has no section " + std::to_string(number));
      } else {
        cited += section->second;
      }
    }
    if (cited.empty()) return;
    for (const std::string& quotation : quotations_in(citation.quotations)) {
      if (cited.find(plain(quotation)) == std::string::npos) {
        tell(prose, place,
             document.generic_string() + ", " + citation.sections + ", does not say \"" +
                 quotation + "\"");
      }
    }
  }

  /// Relative to the root; empty where there is no such document.
  [[nodiscard]] path find(const std::string& cited) const {
    if (cited.empty()) return kContract;
    for (const path& folder : {path(), path(name_).parent_path(), path("docs")}) {
      const path name = (folder / cited).lexically_normal();
      if (std::filesystem::is_regular_file(root_ / name)) return name;
    }
    return {};
  }

  const Sections& sections_in(const path& document) {
    const auto [known, is_new] = sections_.try_emplace(document);
    if (is_new) known->second = sections_of(text_of(root_ / document));
    return known->second;
  }

  /// What is left after the citations: a section of this document, or of a work that is named just
  /// before it ("RFC 4180, section 2", "RFC 4180 section 2").
  void check_bare_sections(const Prose& prose) {
    static const std::regex bare("(\\S+ )?\\bsections? ([0-9]+)", std::regex::icase);
    const std::string& text = prose.text();
    for (std::sregex_iterator found(text.begin(), text.end(), bare), none; found != none; ++found) {
      const std::string before = (*found)[1];
      const bool is_of_a_work = has_ending(before, ", ") ||
                                std::any_of(before.begin(), before.end(),
                                            [](unsigned char c) { return std::isdigit(c) != 0; });
      if (is_of_a_work || own_.contains(std::stoi((*found)[2]))) continue;
      tell(prose, found->position(), "of what is this the section? " + found->str());
    }
  }

  void check_bare_contract(const Prose& prose) {
    // A word of its own: no part of an option or a file's name; and no link, which leads there.
    static const std::regex bare(
        "(?:^|[^-\\w./])((?:contract(?:'?s)?|project's requirements)\\b)"
        "(?![.]md|\\]\\(|=)",
        std::regex::icase);
    const std::string& text = prose.text();
    for (std::sregex_iterator found(text.begin(), text.end(), bare), none; found != none; ++found)
      tell(prose, found->position(1), "\"" + (*found)[1].str() + "\" without a section");
  }

  path root_;
  std::string name_;
  Sections own_;
  std::map<path, Sections> sections_;
  std::vector<std::string> faults_;
};

}  // namespace

std::vector<std::string> wrong_citations(const path& root) {
  Checker checker(root);
  for (const std::string& name : names_below(root)) {
    // This check and its test speak of what they look for.
    const bool is_this_check = name.find("structure/citations") != std::string::npos;
    if (is_written_by_hand(name) && !is_this_check && std::filesystem::is_regular_file(root / name))
      checker.check(name);
  }
  return std::move(checker).faults();
}

}  // namespace standpoint::house
