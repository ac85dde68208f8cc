// one_definition NM FILE...
//
// Fails where two object files give one name a definition each: the linker takes either without a
// word where they come from archives, or where one of them is inline. FILES are objects and
// archives; NM is the binutils or LLVM tool that lists what they define.

#include <cstdio>
#include <cstdlib>
#include <iostream>
#include <map>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

#include <cxxabi.h>

namespace {

/// Where a name is defined: outright, or inline (weak: many objects may hold it, all alike).
struct Definitions {
  std::vector<std::string> outright;
  std::vector<std::string> weak;
};

/// What a command prints; nothing where it fails.
std::string output_of(const std::string& command, bool& has_failed) {
  std::string text;
  const auto close = [&](FILE* pipe) { has_failed = pclose(pipe) != 0; };
  {
    const std::unique_ptr<FILE, decltype(close)> pipe(popen(command.c_str(), "r"), close);
    if (!pipe) {
      has_failed = true;
      return {};
    }
    char piece[4096];
    while (const std::size_t got = std::fread(piece, 1, sizeof piece, pipe.get()))
      text.append(piece, got);
  }
  return text;
}

/// Reads `nm -A -P -g --defined-only`: a line "FILE: NAME TYPE ..." or "FILE[MEMBER]: ..." a name.
void add_names(const std::string& listing, std::map<std::string, Definitions>& names) {
  std::istringstream lines(listing);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t colon = line.find(": ");
    if (colon == std::string::npos) continue;
    const std::string where = line.substr(0, colon);
    std::istringstream fields(line.substr(colon + 2));
    std::string name, type;
    if (!(fields >> name >> type) || type.size() != 1) continue;
    if (std::string("TDBRSC").find(type) != std::string::npos)
      names[name].outright.push_back(where);
    else if (std::string("WV").find(type) != std::string::npos)
      names[name].weak.push_back(where);
  }
}

std::string as_written(const std::string& name) {
  int status = 0;
  const std::unique_ptr<char, decltype(&std::free)> text(
      abi::__cxa_demangle(name.c_str(), nullptr, nullptr, &status), &std::free);
  return status == 0 ? text.get() : name;
}

int tell_doubles(const std::map<std::string, Definitions>& names) {
  int doubles = 0;
  for (const auto& [name, defined] : names) {
    const bool is_single =
        defined.outright.empty() || (defined.outright.size() == 1 && defined.weak.empty());
    if (is_single) continue;
    ++doubles;
    std::cout << as_written(name) << " is defined in";
    for (const std::string& where : defined.outright) std::cout << ' ' << where;
    for (const std::string& where : defined.weak) std::cout << ' ' << where << " (inline)";
    std::cout << '\n';
  }
  return doubles;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 3) {
    std::cerr << "one_definition NM FILE...\n";
    return 2;
  }
  std::map<std::string, Definitions> names;
  for (int i = 2; i < count; ++i) {
    bool has_failed = false;
    add_names(output_of(std::string("'") + arguments[1] + "' -A -P -g --defined-only '" +
                            arguments[i] + "'",
                        has_failed),
              names);
    if (has_failed) {
      std::cerr << "cannot list " << arguments[i] << '\n';
      return 2;
    }
  }
  const int doubles = tell_doubles(names);
  std::cout << names.size() << " names, " << doubles << " with two definitions\n";
  return doubles == 0 && !names.empty() ? 0 : 1;
}
