#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "new_folder.h"

namespace standpoint::program {

struct Outcome {
  int exit = -1;
  std::string out, err;
  [[nodiscard]] nlohmann::json json() const { return nlohmann::json::parse(out); }
};

/// Runs the program in this process, as its main() does.
[[nodiscard]] Outcome run_program(const std::vector<std::string>& arguments);

[[nodiscard]] nlohmann::json read_json(const std::filesystem::path& file);
void write_text(const std::filesystem::path& file, const std::string& text);

}  // namespace standpoint::program
