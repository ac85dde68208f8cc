#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace standpoint::house {

/// Files and folders that the documents (every .md at the top and below docs/) name and that do not
/// exist, as sentences with file and line. A name is a relative link, or a word in backticks that
/// looks like a path: with the ending of a source, below a folder of the top, or ending with '/'.
/// It stands from the top, from the document, or is the end of a path ("touch.cpp",
/// "model/store.ts"). `*` stands for any part of a name, {a,b} for either; an ending may be left
/// out where a path begins at the top.
std::vector<std::string> missing_files(const std::filesystem::path& root);

/// Names in backticks that the sources do not have, as sentences with file and line:
/// - a member, `Type::member`, that no header declares: in none is there a type (or namespace) of
///   that name whose braces hold the member's name outside comments;
/// - a name told with its file, "`touch.cpp`: `touch_sets`", that is no word of that file.
std::vector<std::string> missing_names(const std::filesystem::path& root);

}  // namespace standpoint::house
