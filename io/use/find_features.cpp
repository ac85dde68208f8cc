#include "io/use/find_features.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "io/read/bodies/part_reader.h"
#include "io/read/lists/feature_list.h"
#include "io/read/lists/list_columns.h"
#include "io/read/lists/qif_list.h"
#include "io/read/scene/nearest_file.h"
#include "io/read/scene/parse_scene.h"
#include "io/read/text/json_value.h"
#include "planner/part/apply_annotation.h"
#include "planner/part/find_features.h"

namespace standpoint {
namespace {

using Part = tl::expected<PartAnswer, Faults>;

bool is_list(const std::filesystem::path& file) {
  const auto ending = file.extension();
  return ending == ".csv" || ending == ".CSV" || ending == ".txt" || ending == ".tsv" ||
         ending == ".qif" || ending == ".QIF";
}

Part read_list(const Request& request, const std::filesystem::path& file) {
  const auto text = text_of_file(file, "a list of features");
  if (!text) return tl::unexpected(text.error());
  auto list = parse_feature_list(*text, {file.string(), request.units, {}, request.holes_up_to});
  if (!list) return tl::unexpected(std::move(list.error()));
  PartAnswer answer;
  answer.file = file;
  answer.format = is_xml(*text) ? "QIF" : "CSV";
  answer.passed_over = std::move(list->passed_over);
  for (ListedFeature& listed : list->features) answer.features.push_back(std::move(listed.feature));
  return answer;
}

/// A file as a message shows it: a long value is cut at its end, so of a long path the name alone.
std::string shown(const std::filesystem::path& file) {
  constexpr std::size_t kWhole = 36;
  const std::string text = file.string();
  return short_text(text.size() > kWhole && file.has_filename() ? file.filename().string() : text);
}

Part read_part(const Request& request, const std::filesystem::path& file) {
  const double mm_per_unit = request.units ? mm_per(*request.units).value_or(1) : 1;
  auto read = read_part_faces(file, 0.1, mm_per_unit);
  if (!read) {
    std::error_code error;
    return tl::unexpected(Faults{
        {"FILE", shown(file),
         fmt::format("a STEP, IGES or mesh file of a part, or a list of features (.csv, .qif); {}",
                     read.error()),
         FaultKind::mesh_unreadable,
         std::filesystem::exists(file, error) ? "" : nearest_file(file)}});
  }
  PartAnswer answer;
  answer.file = file;
  answer.format = std::move(read->format);
  answer.faces = read->part.faces.size();
  answer.solids = read->solids;
  answer.loose_faces = read->loose_faces;
  FindOptions options;
  options.holes_up_to = request.holes_up_to;
  answer.features = find_features(read->part, options);
  apply_annotation(answer.features, read->annotation);
  answer.annotation = std::move(read->annotation);
  return answer;
}

/// Of several files each name begins with its file's, so that none stands twice:
/// "flange.hole-20-1". Where two files have one name, with its number among them too.
void tell_files_apart(std::vector<PartAnswer>& parts) {
  if (parts.size() < 2) return;
  std::map<std::string, int> seen;
  for (PartAnswer& part : parts) {
    std::string stem = part.file.stem().string();
    if (const int number = ++seen[stem]; number > 1) stem += fmt::format("({})", number);
    for (FoundFeature& feature : part.features) feature.name = stem + "." + feature.name;
  }
}

}  // namespace

Answered<FeaturesAnswer> find_part_features(const Request& request, const Attendant& attendant) {
  FeaturesAnswer answer;
  Faults faults;
  for (const auto& file : request.files) {
    attendant.say(fmt::format("reading {}", file.filename().string()));
    Part part = is_list(file) ? read_list(request, file) : read_part(request, file);
    if (attendant.watch.is_interrupted()) return interrupted();
    if (!part) {
      faults.insert(faults.end(), part.error().begin(), part.error().end());
      continue;
    }
    part->found = part->features.size();
    std::erase_if(part->features,
                  [&](const FoundFeature& feature) { return !passes(request.filter, feature); });
    answer.parts.push_back(std::move(*part));
  }
  if (!faults.empty()) return wrong_input(std::move(faults));
  tell_files_apart(answer.parts);
  return answer;
}

}  // namespace standpoint
