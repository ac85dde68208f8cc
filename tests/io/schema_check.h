#pragma once

#include <map>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace standpoint::schema_check {

using Json = nlohmann::ordered_json;

/// The text of a file of the sources, named from their top; a failed expectation where it cannot be
/// read.
[[nodiscard]] std::string text_of(const std::string& file);

/// How often one property of one kind of object was there, and how. A kind goes by the title of its
/// schema.
struct Use {
  int written = 0;  ///< there, and not null
  int null = 0;
  int missing = 0;
};
using Uses = std::map<std::string, std::map<std::string, Use>>;  ///< by title, then by property

/// The JSON Schemas (draft 2020-12) of one folder, which may refer to one another. It knows the
/// keywords that our schemas use, and tells any other as a fault rather than passing over it.
class Schemas {
 public:
  /// Reads every FOLDER/*.schema.json; `folder` is named from the top of the sources.
  explicit Schemas(const std::string& folder);

  /// All files by name, such as "plan.schema.json". Each `$ref` in them begins with the name of a
  /// file.
  [[nodiscard]] const std::map<std::string, Json>& files() const { return files_; }

  /// A node with what its `$ref` says put in; keys of its own win.
  [[nodiscard]] Json resolved(Json node) const;

  /// How `value` breaks the schema of `file`, one sentence each with a JSON pointer; none where it
  /// does not. Adds to `uses` what objects it saw.
  [[nodiscard]] std::vector<std::string> faults(const std::string& file, const Json& value,
                                                Uses* uses = nullptr) const;

 private:
  std::map<std::string, Json> files_;
};

/// Those of docs/schemas, read once.
[[nodiscard]] const Schemas& schemas();

}  // namespace standpoint::schema_check
