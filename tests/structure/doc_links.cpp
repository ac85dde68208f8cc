#include "doc_links.h"

#include <algorithm>
#include <cctype>
#include <iterator>
#include <regex>
#include <set>
#include <sstream>

#include "text_files.h"

namespace standpoint::house {
namespace {

using std::filesystem::path;

std::vector<std::string> documents(const std::vector<std::string>& names) {
  std::vector<std::string> found;
  for (const std::string& name : names) {
    const bool is_at_top = name.find('/') == std::string::npos;
    if (has_ending(name, ".md") && (is_at_top || name.rfind("docs/", 0) == 0))
      found.push_back(name);
  }
  return found;
}

std::string told(const std::string& document, std::size_t line, const std::string& what) {
  return document + ":" + std::to_string(line) + ": " + what;
}

/// `{a,b}.cpp` as `a.cpp` and `b.cpp`.
std::vector<std::string> unfolded(const std::string& name) {
  const std::size_t open = name.find('{'), close = name.find('}');
  if (open == std::string::npos || close == std::string::npos || close < open) return {name};
  std::vector<std::string> all;
  std::istringstream choices(name.substr(open + 1, close - open - 1));
  for (std::string choice; std::getline(choices, choice, ',');) {
    for (const std::string& one : unfolded(name.substr(0, open) + choice + name.substr(close + 1)))
      all.push_back(one);
  }
  return all;
}

/// A name with `*` as a regular expression.
std::string pattern_of(const std::string& name) {
  std::string pattern;
  for (const char c : name) {
    if (c == '*') {
      pattern += "[^/]*";
    } else if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '/' || c == '_') {
      pattern += c;
    } else {
      pattern += std::string("\\") + c;
    }
  }
  return pattern;
}

class Names {
 public:
  explicit Names(const path& root) : root_(root), all_(names_below(root)) {
    for (const std::string& name : all_) {
      if (name.find('/') == std::string::npos && std::filesystem::is_directory(root / name))
        top_folders_.insert(name);
    }
  }

  [[nodiscard]] const std::vector<std::string>& all() const { return all_; }

  [[nodiscard]] bool begins_at_top(const std::string& name) const {
    const std::size_t slash = name.find('/');
    return slash != std::string::npos && top_folders_.contains(name.substr(0, slash));
  }

  [[nodiscard]] bool has(const std::string& name, const std::string& document) const {
    return std::filesystem::exists(root_ / path(document).parent_path() / name) ||
           !meant_by(name).empty();
  }

  /// All that a name in a document may mean.
  [[nodiscard]] std::vector<std::string> meant_by(std::string name) const {
    const bool is_folder = has_ending(name, "/");
    if (is_folder) name.pop_back();
    const std::string before = begins_at_top(name + "/") ? "" : "(.*/)?";
    const std::string after = begins_at_top(name) && !is_folder ? "([.][a-z]+)?" : "";
    const std::regex wanted(before + pattern_of(name) + after);
    std::vector<std::string> meant;
    std::copy_if(all_.begin(), all_.end(), std::back_inserter(meant), [&](const auto& known) {
      return std::regex_match(known, wanted) &&
             (!is_folder || std::filesystem::is_directory(root_ / known));
    });
    return meant;
  }

  /// Whether a word in backticks is meant as a file or folder of the project.
  [[nodiscard]] bool looks_like_one(const std::string& word) const {
    static const std::regex characters("[A-Za-z0-9_.*{},/+-]+");
    // What building and running make is in no listing.
    static const std::regex made("(build|out|node_modules)/.*");
    if (!std::regex_match(word, characters) || word[0] == '/' || std::regex_match(word, made))
      return false;
    if (begins_at_top(word) || (has_ending(word, "/") && word.size() > 1)) return true;
    const bool is_ending_alone = word[0] == '.' && word.find('/') == std::string::npos;
    return is_written_by_hand(word) && !is_ending_alone;
  }

 private:
  path root_;
  std::vector<std::string> all_;
  std::set<std::string> top_folders_;
};

void check_spans(const Names& names, const std::string& document, const std::string& text,
                 std::vector<std::string>& missing) {
  for (const CodeSpan& span : code_spans(text)) {
    std::istringstream words(span.text);
    for (std::string word; words >> word;) {
      while (!word.empty() && (word.back() == ';' || word.back() == ',')) word.pop_back();
      if (word.empty() || !names.looks_like_one(word)) continue;
      for (const std::string& name : unfolded(word)) {
        if (!names.has(name, document))
          missing.push_back(told(document, span.line, name + " does not exist"));
      }
    }
  }
}

void check_links(const path& root, const std::string& document, const std::string& text,
                 std::vector<std::string>& missing) {
  static const std::regex link("\\]\\(([^)\\s]+)\\)");
  static const std::regex elsewhere("[a-z]+:.*|#.*");
  for (std::sregex_iterator found(text.begin(), text.end(), link), none; found != none; ++found) {
    const std::string target = (*found)[1];
    if (std::regex_match(target, elsewhere)) continue;
    const std::string name = target.substr(0, target.find('#'));
    if (std::filesystem::exists(root / path(document).parent_path() / name)) continue;
    const auto line = 1 + std::count(text.begin(), text.begin() + found->position(), '\n');
    missing.push_back(
        told(document, static_cast<std::size_t>(line), "the link to " + name + " leads nowhere"));
  }
}

/// A header without comments, so that what they speak of is not taken for declared.
std::string without_comments(const std::string& text) {
  std::string code;
  for (std::size_t i = 0; i < text.size();) {
    if (text.compare(i, 2, "//") == 0) {
      i = std::min(text.find('\n', i), text.size());
    } else if (text.compare(i, 2, "/*") == 0) {
      const std::size_t end = text.find("*/", i + 2);
      i = end == std::string::npos ? text.size() : end + 2;
    } else {
      code += text[i++];
    }
  }
  return code;
}

/// From the opening brace at `open` to the one that closes it.
std::string braces_from(const std::string& code, std::size_t open) {
  int depth = 0;
  for (std::size_t i = open; i < code.size(); ++i) {
    depth += code[i] == '{' ? 1 : code[i] == '}' ? -1 : 0;
    if (depth == 0) return code.substr(open, i - open + 1);
  }
  return code.substr(open);
}

bool declares(const std::string& header, const std::string& type, const std::string& member) {
  if (header.find(type) == std::string::npos) return false;
  const std::regex declaration("\\b(?:class|struct|union|enum|namespace)\\s[^;{}()]*\\b" + type +
                               "\\b[^;{}()]*\\{");
  const std::regex word("\\b" + member + "\\b");
  for (std::sregex_iterator found(header.begin(), header.end(), declaration), none; found != none;
       ++found) {
    const auto open = static_cast<std::size_t>(found->position() + found->length() - 1);
    if (std::regex_search(braces_from(header, open), word)) return true;
  }
  return false;
}

std::vector<std::string> headers_of(const path& root, const Names& names) {
  std::vector<std::string> headers;
  for (const std::string& name : names.all()) {
    if (has_ending(name, ".h")) headers.push_back(without_comments(text_of(root / name)));
  }
  return headers;
}

/// The members of a piece in backticks that no header declares.
std::vector<std::string> undeclared_in(const std::string& span,
                                       const std::vector<std::string>& headers) {
  static const std::regex member_name("\\b(?:\\w+::)*([A-Za-z_]\\w*)::~?([A-Za-z_]\\w*)");
  std::vector<std::string> undeclared;
  for (std::sregex_iterator found(span.begin(), span.end(), member_name), none; found != none;
       ++found) {
    const std::string type = (*found)[1], member = (*found)[2];
    // The standard library; and the targets of CMake, which are named like members.
    if (found->str().rfind("std::", 0) == 0 || type == "standpoint") continue;
    const bool is_declared = std::any_of(headers.begin(), headers.end(), [&](const auto& header) {
      return declares(header, type, member);
    });
    if (!is_declared) undeclared.push_back(found->str());
  }
  return undeclared;
}

/// Whether a file that `file` may mean has the word. True where one of both is no such thing.
bool has_word(const path& root, const Names& names, const std::string& file,
              const std::string& word) {
  static const std::regex identifier("[A-Za-z_]\\w*");
  if (!is_written_by_hand(file) || !std::regex_match(word, identifier)) return true;
  const std::regex whole("\\b" + word + "\\b");
  const std::vector<std::string> meant = names.meant_by(file);
  return std::any_of(meant.begin(), meant.end(), [&](const std::string& name) {
    return std::regex_search(text_of(root / name), whole);
  });
}

}  // namespace

std::vector<std::string> missing_files(const path& root) {
  const Names names(root);
  std::vector<std::string> missing;
  for (const std::string& document : documents(names.all())) {
    const std::string text = text_of(root / document);
    check_spans(names, document, text, missing);
    check_links(root, document, text, missing);
  }
  return missing;
}

std::vector<std::string> missing_names(const path& root) {
  const Names names(root);
  const std::vector<std::string> headers = headers_of(root, names);
  std::vector<std::string> missing;
  for (const std::string& document : documents(names.all())) {
    std::string last;
    for (const CodeSpan& span : code_spans(text_of(root / document))) {
      for (const std::string& name : undeclared_in(span.text, headers))
        missing.push_back(told(document, span.line, "no header declares " + name));
      if (span.is_of_last && !has_word(root, names, last, span.text))
        missing.push_back(told(document, span.line, "no " + last + " has " + span.text));
      last = span.text;
    }
  }
  return missing;
}

}  // namespace standpoint::house
