#include "io/read/measured/measured_csv.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
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

/// The first four are needed.
constexpr std::array<std::string_view, 7> kColumns{"name",  "x",      "y",   "z",
                                                   "touch", "target", "when"};
enum Column : std::size_t { kName, kX, kY, kZ, kTouch, kTarget, kWhen };
constexpr std::size_t kNeeded = 4;
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

std::string joined(const std::vector<std::string>& fields) {
  return fmt::format("{}", fmt::join(fields, ","));
}

class MeasuredReader {
 public:
  MeasuredReader(const std::string& file, const Scene& scene) : scene_(scene) {
    read_.file = file;
    for (std::size_t i = 0; i < scene.nests.size(); ++i) {
      names_.push_back(scene.nests[i].name);
      nest_of_.emplace(scene.nests[i].name, i);
    }
    for (std::size_t i = 0; i < scene.features.size(); ++i) {
      names_.push_back(scene.features[i].name);
      feature_of_.emplace(scene.features[i].name, i);
    }
    for (const TargetId target : all_targets(scene)) {
      targets_.push_back(target_name(scene, target));
      target_of_.emplace(target_name(scene, target), target);
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
    for (const auto& [nest, line] : end_line_of_) {
      if (line_of_.count(nest) == 0)
        add(line, short_text(scene_.nests[nest].name), FaultKind::other,
            "at the end a nest that was read at the start too");
    }
    if (!faults_.empty()) return tl::unexpected(std::move(faults_));
    return std::move(read_);
  }

 private:
  void add(std::size_t line, std::string value, FaultKind kind, std::string allowed,
           std::string_view nearest = {}) {
    faults_.push_back({fmt::format("{}:{}", read_.file, line), std::move(value), std::move(allowed),
                       kind, std::string(nearest)});
  }

  /// Where each column stands; as `kHeader` has them where the header is wrong.
  void read_header(const CsvRecord& record) {
    std::array<std::optional<std::size_t>, kColumns.size()> found;
    bool is_right = record.defect.empty();
    for (std::size_t i = 0; is_right && i < record.fields.size(); ++i) {
      const auto column = std::find(kColumns.begin(), kColumns.end(), trimmed(record.fields[i]));
      is_right = column != kColumns.end();
      if (!is_right) break;
      auto& at = found[static_cast<std::size_t>(column - kColumns.begin())];
      is_right = !at;
      at = i;
    }
    for (std::size_t needed = 0; needed < kNeeded; ++needed)
      is_right = is_right && found[needed].has_value();
    if (is_right) {
      field_of_ = found;
      columns_ = record.fields.size();
      header_ = joined(record.fields);
      return;
    }
    const bool is_apart_otherwise = std::any_of(
        record.fields.begin(), record.fields.end(),
        [](const std::string& field) { return field.find_first_of(";\t") != std::string::npos; });
    add(record.line, as_value(record.fields), FaultKind::syntax,
        fmt::format("the header {}{}; touch, target and when may follow", kHeader,
                    is_apart_otherwise ? ", with commas between the columns" : ""));
  }

  /// What stands in a column of the record; empty where the file does not have it.
  [[nodiscard]] const std::string& field(const CsvRecord& record, Column column) const {
    static const std::string kNone;
    return field_of_[column] ? record.fields[*field_of_[column]] : kNone;
  }

  void read_record(const CsvRecord& record) {
    if (!record.defect.empty())
      return add(record.line, as_value(record.fields), FaultKind::syntax,
                 fmt::format("fields quoted as RFC 4180 has it; this line has {}", record.defect));
    if (record.fields.size() != columns_)
      return add(record.line, as_value(record.fields), FaultKind::syntax,
                 fmt::format("{} fields, {}, numbers with a decimal point; this line has {}",
                             columns_ == kNeeded ? "four" : std::to_string(columns_), header_,
                             record.fields.size()));
    SeenRow row;
    const bool is_named = read_name(record, row);
    const bool is_place = read_place(record, row.at);
    const bool is_end = read_when(record, is_named && row.nest);
    const bool is_touch = read_touch(record, row);
    const bool is_told = read_target(record, is_named && !row.nest, row);
    if (is_named && row.nest && !note_nest(record, *row.nest, is_end)) return;
    if (!is_named || !is_place || !is_touch || !is_told) return;
    if (is_end) {
      read_.again.push_back({*row.nest, row.at});
      return;
    }
    if (row.nest) {
      read_.seen.push_back({*row.nest, row.at});
      read_.lines.push_back(record.line);
    }
    read_.rows.push_back(row);
    read_.row_lines.push_back(record.line);
  }

  bool read_place(const CsvRecord& record, Vec3& at) {
    bool is_place = true;
    for (int axis = 0; axis < 3; ++axis) {
      const auto column = static_cast<Column>(kX + static_cast<std::size_t>(axis));
      const std::string& text = field(record, column);
      const auto value = coordinate(text);
      if (!value)
        add(record.line, short_text(text), FaultKind::wrong_type,
            fmt::format("for {} a finite number in {}, with a decimal point, -1e9 to 1e9",
                        kColumns[column], scene_.units));
      is_place = is_place && value.has_value();
      at[axis] = value.value_or(0) * scene_.mm_per_unit;
    }
    return is_place;
  }

  bool read_name(const CsvRecord& record, SeenRow& row) {
    const std::string& name = field(record, kName);
    const auto nest = nest_of_.find(name);
    const auto feature = feature_of_.find(name);
    if (nest != nest_of_.end() && feature != feature_of_.end()) {
      add(record.line, short_text(name), FaultKind::duplicate_name,
          "a name that is only a nest's or only a feature's; the scene has both");
      return false;
    }
    if (nest != nest_of_.end()) {
      row.nest = NestId(nest->second);
    } else if (feature != feature_of_.end()) {
      row.feature = FeatureId(feature->second);
    } else {
      add(record.line, short_text(name), FaultKind::unknown_name,
          scene_.features.empty() ? "the name of a nest of the scene"
                                  : "the name of a nest or a feature of the scene",
          nearest_name(name, names_));
      return false;
    }
    return true;
  }

  /// Whether it is read at the end.
  bool read_when(const CsvRecord& record, bool is_nest) {
    const std::string_view when = trimmed(field(record, kWhen));
    if (when.empty() || when == "start") return false;
    if (when == "end" && is_nest) return true;
    add(record.line, short_text(field(record, kWhen)), FaultKind::other,
        when == "end" ? "start or nothing; only nests are read again at the end"
                      : "start, end or nothing");
    return false;
  }

  bool read_touch(const CsvRecord& record, SeenRow& row) {
    const std::string_view text = trimmed(field(record, kTouch));
    if (text.empty()) return true;
    const auto value = decimal_number(text);
    constexpr double kMostTouches = 1e6;
    const bool is_count =
        value && *value >= 1 && *value <= kMostTouches && *value == std::floor(*value);
    if (is_count && !row.nest) {
      row.touch = static_cast<std::uint32_t>(*value) - 1;
      return true;
    }
    add(record.line, short_text(field(record, kTouch)), FaultKind::wrong_type,
        row.nest ? "nothing as the touch of a nest"
                 : "the number of a touch, a whole number from 1, or nothing for any point");
    return false;
  }

  bool read_target(const CsvRecord& record, bool is_feature, SeenRow& row) {
    const std::string name(trimmed(field(record, kTarget)));
    if (const auto found = target_of_.find(name); found != target_of_.end()) {
      row.target = found->second;
      return true;
    }
    if (!name.empty()) {
      add(record.line, short_text(name), FaultKind::unknown_name,
          "the name of a target of the scene", nearest_name(name, targets_));
      return false;
    }
    if (!is_feature || scene_.full_targets.size() == 1) return true;  // the first one
    add(record.line, "", FaultKind::missing,
        "the target that the software was told, in a column target; the scene has not just one "
        "full target");
    return false;
  }

  /// Whether the nest was not read before.
  bool note_nest(const CsvRecord& record, NestId nest, bool is_end) {
    auto& lines = is_end ? end_line_of_ : line_of_;
    const auto [before, is_new] = lines.emplace(nest.index, record.line);
    if (is_new) return true;
    add(record.line, short_text(scene_.nests[nest.index].name), FaultKind::duplicate_name,
        fmt::format("each nest once{}; line {} has this one already", is_end ? " at the end" : "",
                    before->second));
    return false;
  }

  const Scene& scene_;
  std::vector<std::string_view> names_, targets_;
  std::unordered_map<std::string, std::size_t> nest_of_, feature_of_;
  std::unordered_map<std::string, TargetId> target_of_;
  std::map<std::size_t, std::size_t> line_of_, end_line_of_;  ///< of each nest that was read
  std::array<std::optional<std::size_t>, kColumns.size()> field_of_{0, 1, 2, 3};
  std::size_t columns_ = kNeeded;
  std::string header_{kHeader};
  MeasuredNests read_;
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
