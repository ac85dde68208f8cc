#include "io/read/measured/measured_csv.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <unordered_map>

#include <fmt/format.h>

#include "io/read/scene/parse_scene.h"
#include "io/read/text/csv_reader.h"
#include "io/read/text/decimal_number.h"
#include "io/read/text/json_value.h"
#include "io/read/text/nearest_name.h"

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

/// The record as it stands, for a fault.
std::string as_value(const std::vector<std::string>& fields) {
  return short_text(fmt::format("{}", fmt::join(fields, ",")));
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
  void add(std::size_t line, std::string value, FaultKind kind, std::string allowed,
           std::string_view nearest = {}) {
    faults_.push_back({fmt::format("{}:{}", nests_.file, line), std::move(value),
                       std::move(allowed), kind, std::string(nearest)});
  }

  void read_header(const CsvRecord& record) {
    bool is_right = record.fields.size() == kColumns.size() && record.defect.empty();
    for (std::size_t i = 0; is_right && i < kColumns.size(); ++i)
      is_right = trimmed(record.fields[i]) == kColumns[i];
    if (is_right) return;
    const bool is_apart_otherwise = std::any_of(
        record.fields.begin(), record.fields.end(),
        [](const std::string& field) { return field.find_first_of(";\t") != std::string::npos; });
    add(record.line, as_value(record.fields), FaultKind::syntax,
        fmt::format("the header {}{}", kHeader,
                    is_apart_otherwise ? ", with commas between the columns" : ""));
  }

  void read_record(const CsvRecord& record) {
    if (!record.defect.empty())
      return add(record.line, as_value(record.fields), FaultKind::syntax,
                 fmt::format("fields quoted as RFC 4180 has it; this line has {}", record.defect));
    if (record.fields.size() != kColumns.size())
      return add(record.line, as_value(record.fields), FaultKind::syntax,
                 fmt::format("four fields, {}, numbers with a decimal point; this line has {}",
                             kHeader, record.fields.size()));
    const auto nest = read_name(record);
    Vec3 at = Vec3::Zero();
    bool is_place = true;
    for (int axis = 0; axis < 3; ++axis) {
      const std::string& text = record.fields[static_cast<std::size_t>(axis) + 1];
      const auto value = coordinate(text);
      if (!value)
        add(record.line, short_text(text), FaultKind::wrong_type,
            fmt::format("for {} a finite number in {}, with a decimal point, -1e9 to 1e9",
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
      add(record.line, short_text(name), FaultKind::unknown_name, "the name of a nest of the scene",
          nearest_name(name, names_));
      return std::nullopt;
    }
    const auto [before, is_new] = line_of_.emplace(found->second, record.line);
    if (is_new) return found->second;
    add(record.line, short_text(name), FaultKind::duplicate_name,
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
  auto text = text_of_file(file, "a CSV file");
  if (!text) return tl::unexpected(std::move(text.error()));
  return parse_measured(*text, file.string(), scene);
}

}  // namespace standpoint
