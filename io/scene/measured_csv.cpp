#include "io/scene/measured_csv.h"

#include <array>
#include <cmath>
#include <optional>
#include <unordered_map>

#include <fmt/format.h>

#include "io/scene/csv_reader.h"
#include "io/scene/decimal_number.h"
#include "io/scene/nearest_name.h"
#include "io/scene/parse_scene.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 4> kColumns{"name", "x", "y", "z"};
constexpr std::string_view kHeader = "name,x,y,z";
constexpr double kFarthest = 1e9;  // scene units, as for every coordinate of a scene

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

std::optional<double> coordinate(std::string_view text) {
  const auto value = decimal_number(trimmed(text));
  if (value && !(std::abs(*value) <= kFarthest)) return std::nullopt;
  return value;
}

std::string shortened(const std::vector<std::string>& fields) {
  constexpr std::size_t kMost = 60;
  std::string text = fmt::format("{}", fmt::join(fields, ","));
  if (text.size() > kMost) text = text.substr(0, kMost) + "...";
  return text;
}

class MeasuredReader {
 public:
  MeasuredReader(const std::string& file, const Scene& scene) : scene_(scene) {
    nests_.file = file;
    for (std::size_t i = 0; i < scene.nests.size(); ++i) {
      names_.push_back(scene.nests[i].name);
      index_of_.emplace(scene.nests[i].name, i);
    }
  }

  [[nodiscard]] tl::expected<MeasuredNests, Faults> read(std::string_view text) {
    const std::vector<CsvRecord> records = csv_records(text);
    if (records.empty())
      add(1, "", FaultKind::missing, fmt::format("the header {} and three nests or more", kHeader));
    for (std::size_t i = 0; i < records.size(); ++i) {
      if (i == 0) {
        read_header(records[i]);
      } else {
        read_record(records[i]);
      }
    }
    if (!faults_.empty()) return tl::unexpected(std::move(faults_));
    return std::move(nests_);
  }

 private:
  void add(std::size_t line, std::string value, FaultKind kind, std::string allowed) {
    faults_.push_back(
        {fmt::format("{}:{}", nests_.file, line), std::move(value), std::move(allowed), kind});
  }

  void read_header(const CsvRecord& record) {
    bool is_right = record.fields.size() == kColumns.size() && record.defect.empty();
    for (std::size_t i = 0; is_right && i < kColumns.size(); ++i)
      is_right = trimmed(record.fields[i]) == kColumns[i];
    if (is_right) return;
    const std::string value = shortened(record.fields);
    const bool is_apart_otherwise = value.find_first_of(";\t") != std::string::npos;
    add(record.line, value, FaultKind::syntax,
        fmt::format("the header {}{}", kHeader,
                    is_apart_otherwise ? ", with commas between the columns" : ""));
  }

  void read_record(const CsvRecord& record) {
    if (!record.defect.empty())
      return add(record.line, shortened(record.fields), FaultKind::syntax,
                 fmt::format("fields quoted as RFC 4180 has it; here is {}", record.defect));
    if (record.fields.size() != kColumns.size())
      return add(record.line, shortened(record.fields), FaultKind::syntax,
                 fmt::format("four fields, {}, numbers with a decimal point; here are {}", kHeader,
                             record.fields.size()));
    const auto nest = read_name(record);
    Vec3 at = Vec3::Zero();
    bool is_place = true;
    for (int axis = 0; axis < 3; ++axis) {
      const std::string& text = record.fields[static_cast<std::size_t>(axis) + 1];
      const auto value = coordinate(text);
      if (!value)
        add(record.line, text, FaultKind::wrong_type,
            fmt::format("{}: a finite number in {}, with a decimal point, -1e9 to 1e9",
                        kColumns[static_cast<std::size_t>(axis) + 1], scene_.units));
      is_place = is_place && value.has_value();
      at[axis] = value.value_or(0) * scene_.mm_per_unit;
    }
    if (!nest || !is_place) return;
    nests_.seen.push_back({NestId(*nest), at});
    nests_.lines.push_back(record.line);
  }

  std::optional<std::size_t> read_name(const CsvRecord& record) {
    const std::string& name = record.fields[0];
    const auto found = index_of_.find(name);
    if (found == index_of_.end()) {
      const std::string_view near = nearest_name(name, names_);
      add(record.line, name, FaultKind::unknown_name,
          near.empty() ? std::string("the name of a nest of the scene")
                       : fmt::format("the name of a nest of the scene (did you mean {}?)", near));
      return std::nullopt;
    }
    const auto [before, is_new] = line_of_.emplace(found->second, record.line);
    if (is_new) return found->second;
    add(record.line, name, FaultKind::duplicate_name,
        fmt::format("each nest once; line {} has this one already", before->second));
    return std::nullopt;
  }

  const Scene& scene_;
  std::vector<std::string_view> names_;
  std::unordered_map<std::string, std::size_t> index_of_;
  std::unordered_map<std::size_t, std::size_t> line_of_;  ///< of each nest that was read
  MeasuredNests nests_;
  Faults faults_;
};

}  // namespace

tl::expected<MeasuredNests, Faults> parse_measured(std::string_view text, const std::string& file,
                                                   const Scene& scene) {
  return MeasuredReader(file, scene).read(text);
}

tl::expected<MeasuredNests, Faults> read_measured(const std::filesystem::path& file,
                                                  const Scene& scene) {
  auto text = text_of_file(file);
  if (text) return parse_measured(*text, file.string(), scene);
  // The one sentence there is speaks of scene files.
  constexpr std::string_view kScene = "a scene file";
  for (Fault& fault : text.error()) {
    if (fault.allowed.rfind(kScene, 0) == 0) fault.allowed.replace(0, kScene.size(), "a CSV file");
  }
  return tl::unexpected(std::move(text.error()));
}

}  // namespace standpoint
