#include "own_names.h"

#include <cctype>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "text_files.h"

namespace standpoint::house {
namespace {

bool is_of_name(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

std::string without_blanks_at_ends(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

/// `text` in pieces at commas that stand in no bracket.
std::vector<std::string> parted(const std::string& text) {
  std::vector<std::string> parts(1);
  int depth = 0;
  for (const char c : text) {
    if (c == ',' && depth == 0) {
      parts.emplace_back();
      continue;
    }
    if (c == '<' || c == '(' || c == '{' || c == '[') ++depth;
    if (c == '>' || c == ')' || c == '}' || c == ']') --depth;
    parts.back() += c;
  }
  return parts;
}

/// The place of the first '(' that stands in no angle brackets.
std::size_t bracket_of_call(const std::string& definition) {
  int depth = 0;
  for (std::size_t i = 0; i < definition.size(); ++i) {
    if (definition[i] == '<') ++depth;
    if (definition[i] == '>') --depth;
    if (definition[i] == '(' && depth == 0) return i;
  }
  return std::string::npos;
}

/// The name that ends at `end`, with the class that it belongs to.
std::string word_before(const std::string& text, std::size_t end) {
  std::size_t begin = end;
  while (begin > 0 && (is_of_name(text[begin - 1]) || text[begin - 1] == ':')) --begin;
  return text.substr(begin, end - begin);
}

/// A parameter's type: what is there without its name and its default.
std::string type_of(std::string parameter) {
  parameter = without_blanks_at_ends(parameter.substr(0, parameter.find('=')));
  const std::string name = word_before(parameter, parameter.size());
  std::string type = without_blanks_at_ends(parameter.substr(0, parameter.size() - name.size()));
  if (type.empty()) return name;
  // A call cannot tell T from const T&.
  if (type.rfind("const ", 0) == 0 && type.back() == '&') type = type.substr(6, type.size() - 7);
  return type;
}

std::string function_of(const std::string& definition, std::size_t bracket) {
  std::size_t end = bracket;
  for (int depth = 0; end < definition.size(); ++end) {
    if (definition[end] == '(') ++depth;
    if (definition[end] == ')' && --depth == 0) break;
  }
  std::string all;
  for (const std::string& parameter : parted(definition.substr(bracket + 1, end - bracket - 1))) {
    all += (all.empty() ? "" : ", ") + type_of(parameter);
  }
  return word_before(definition, bracket) + "(" + all + ")";
}

/// What one definition defines: names of types and constants, functions with their parameters,
/// aliases with what they stand for.
std::vector<std::string> defined_by(const std::string& definition) {
  static const std::regex type("^(?:template <.*> )?(?:struct|class|enum class|enum) (\\w+)");
  static const std::regex alias("^(?:template <.*> )?(?:using|namespace) (\\w+) = ([^;]*)");
  static const std::regex constant("^k[A-Z]\\w*$");
  std::smatch match;
  if (std::regex_search(definition, match, type)) return {match[1]};
  if (std::regex_search(definition, match, alias)) return {match[1].str() + " = " + match[2].str()};
  const std::size_t bracket = bracket_of_call(definition), is = definition.find('=');
  if (bracket != std::string::npos && bracket < is) {
    const std::string name = word_before(definition, bracket);
    if (std::regex_match(name, constant)) return {name};
    if (name.empty()) return {};
    return {function_of(definition, bracket)};
  }
  std::vector<std::string> names;
  for (const std::string& part : parted(definition.substr(0, definition.find(';')))) {
    std::string head = part.substr(0, part.find('='));
    head = without_blanks_at_ends(head.substr(0, head.find_first_of("[{")));
    const std::string name = word_before(head, head.size());
    if (!name.empty()) names.push_back(name);
  }
  return names;
}

/// The text with what stands in raw strings taken out: style sheets look like definitions.
std::string without_raw_strings(const std::string& text) {
  static const std::regex begin("R\"(\\w*)\\(");
  std::string rest = text, kept;
  for (std::smatch match; std::regex_search(rest, match, begin);) {
    const std::string end = ")" + match[1].str() + "\"";
    kept += match.prefix().str() + "\"\"";
    const std::string after = match.suffix().str();
    const std::size_t at = after.find(end);
    rest = at == std::string::npos ? "" : after.substr(at + end.size());
  }
  return kept + rest;
}

/// What a file's unnamed namespaces define, with the namespaces round it. A definition is read to
/// the line of its first '{' or ';'.
std::vector<std::string> names_of(const std::string& text) {
  std::vector<std::string> names, namespaces;
  std::istringstream lines(without_raw_strings(text));
  std::string definition;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("}  // namespace", 0) == 0) {
      if (!namespaces.empty()) namespaces.pop_back();
      continue;
    }
    line = line.substr(0, line.find("//"));
    if (line.rfind("namespace", 0) == 0 && line.find('{') != std::string::npos) {
      namespaces.push_back(without_blanks_at_ends(line.substr(9, line.find('{') - 9)));
      continue;
    }
    if (namespaces.empty() || !namespaces.back().empty()) continue;
    if (definition.empty() &&
        (line.empty() || std::isalpha(static_cast<unsigned char>(line[0])) == 0))
      continue;
    definition += (definition.empty() ? "" : " ") + without_blanks_at_ends(line);
    if (line.find_first_of("{;") == std::string::npos) continue;
    std::string round;
    for (const std::string& name : namespaces) round += name.empty() ? "" : name + "::";
    for (const std::string& name : defined_by(definition)) names.push_back(round + name);
    definition.clear();
  }
  return names;
}

/// Where one name of a folder is defined.
struct Places {
  std::vector<std::string> files;
  std::set<std::string> meanings;  ///< what aliases stand for; empty text: no alias
};

bool meet(const Places& places) {
  const bool says_the_same = places.meanings.size() == 1 && !places.meanings.begin()->empty();
  return places.files.size() > 1 && !says_the_same;
}

}  // namespace

std::vector<std::string> names_defined_twice(const std::filesystem::path& root) {
  std::map<std::string, std::map<std::string, Places>> folders;
  for (const std::string& file : names_below(root)) {
    const bool is_of_floor = file.rfind("geometry/", 0) == 0 || file.rfind("planner/", 0) == 0 ||
                             file.rfind("io/", 0) == 0;
    if (!is_of_floor || !has_ending(file, ".cpp")) continue;
    const std::size_t slash = file.rfind('/');
    const std::string own = file.substr(slash + 1);
    for (const std::string& name : names_of(text_of(root / file))) {
      const std::size_t is = name.find(" = ");
      Places& places = folders[file.substr(0, slash)][name.substr(0, is)];
      places.meanings.insert(is == std::string::npos ? "" : name.substr(is));
      if (places.files.empty() || places.files.back() != own) places.files.push_back(own);
    }
  }
  std::vector<std::string> twice;
  for (const auto& [folder, names] : folders) {
    for (const auto& [name, places] : names) {
      if (!meet(places)) continue;
      std::string sentence = folder + ": " + name + " is defined in " + places.files[0];
      for (std::size_t i = 1; i < places.files.size(); ++i)
        sentence += " and in " + places.files[i];
      twice.push_back(sentence);
    }
  }
  return twice;
}

}  // namespace standpoint::house
