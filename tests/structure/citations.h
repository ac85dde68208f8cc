#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace standpoint::house {

/// Every place below `root` that sends its reader nowhere, as sentences with file and line:
/// - a section that the document cited does not have: "contract section N", "docs/FILE.md,
///   section N", and what else `citations.cpp` reads;
/// - words quoted after it, in double quotes, that do not stand in that section;
/// - the contract, or the project's requirements, cited without a section;
/// - "section N" of nothing: neither of a work named before it nor of the same document.
///
/// Sections are the numbered headings of Markdown files. docs/contract.md and docs/glossary.md may
/// speak of the contract as such.
std::vector<std::string> wrong_citations(const std::filesystem::path& root);

}  // namespace standpoint::house
