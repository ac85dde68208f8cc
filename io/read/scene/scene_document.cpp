#include "io/read/scene/scene_document.h"

#include <algorithm>
#include <system_error>

#include "io/read/scene/nearest_file.h"
#include "io/read/scene/read_values.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_text.h"

namespace standpoint {
namespace {

namespace fs = std::filesystem;

/// One spelling for each file, so that a file is known again by whatever way it is named.
fs::path identity(const fs::path& file) {
  std::error_code error;
  fs::path whole = fs::weakly_canonical(file, error);
  return error || whole.empty() ? file.lexically_normal() : whole;
}

/// Follows `include` from one document to the next, depth first.
class Gatherer {
 public:
  explicit Gatherer(const SceneSources& sources) : sources_(sources) {}

  void add(const std::string& text, const fs::path& file, bool is_included) {
    documents_.all.push_back(
        std::make_unique<SceneDocument>(file, shown_path(file, sources_), is_included));
    SceneDocument& document = *documents_.all.back();
    identities_.push_back(identity(file));
    bytes_ += text.size();
    auto value = parse_json(text, document.faults);
    if (!value) {
      documents_.has_gap = true;
      return;
    }
    document.value = std::move(*value);
    document.root.value = &document.value;
    document.root.faults = &document.faults;
    document.is_read = document.value.as<JsonObject>() != nullptr;
    if (!document.is_read) return;
    open_.push_back(documents_.all.size() - 1);
    const ObjectCursor object(document.root);
    const Cursor include = object.optional("include");
    if (include.value != nullptr) follow(include, document);
    open_.pop_back();
  }

  [[nodiscard]] SceneDocuments take() { return std::move(documents_); }

 private:
  void follow(const Cursor& include, SceneDocument& document) {
    std::vector<fs::path> named;
    const CountRule rule{"a list of at most 100 names of scene files", 0, kMostIncludes};
    for_each_entry(include, rule, [&](const Cursor& entry, std::size_t i) {
      const auto file = read_path(entry, document, sources_);
      if (!file || i >= kMostIncludes) return;
      const fs::path own = identity(*file);
      const auto earlier = std::find(named.begin(), named.end(), own);
      if (earlier != named.end()) {
        entry.fault(FaultKind::duplicate_entry, earlier - named.begin());
      } else {
        take_in(entry, *file, own, document);
      }
      named.push_back(own);
    });
  }

  void take_in(const Cursor& entry, const fs::path& file, const fs::path& own,
               SceneDocument& document) {
    for (std::size_t i = 0; i < identities_.size(); ++i) {
      if (identities_[i] != own) continue;
      const bool is_open = std::find(open_.begin(), open_.end(), i) != open_.end();
      if (is_open) entry.fault(FaultKind::include_cycle, told_cycle(i));
      return;
    }
    if (documents_.all.size() >= kMostDocuments) {
      entry.fault(FaultKind::too_many_entries, "at most 1000 scene files in all",
                  documents_.all.size() + 1);
      documents_.has_gap = true;
      return;
    }
    const auto text = sources_.text(file, "a scene file");
    if (!text) {
      entry.fault_near(FaultKind::file_unreadable, nearest_named(file, document), "a scene file");
      documents_.has_gap = true;
    } else if (bytes_ + text->size() > kMostSceneBytes) {
      entry.fault(FaultKind::file_too_large, "scene files that are all together", kMostSceneMiB);
      documents_.has_gap = true;
    } else {
      add(*text, file, true);
    }
  }

  /// "a.json, included by b.json, included by a.json": the way round from document `first`.
  [[nodiscard]] std::string told_cycle(std::size_t first) const {
    const std::string& name = documents_.all[first]->faults.file();
    std::string way = name;
    for (auto step = open_.rbegin(); step != open_.rend(); ++step) {
      way += ", included by " + documents_.all[*step]->faults.file();
      if (*step == first) break;
    }
    return way;
  }

  const SceneSources& sources_;
  SceneDocuments documents_;
  std::vector<fs::path> identities_;  ///< of each document
  std::vector<std::size_t> open_;     ///< documents whose includes are being followed
  std::size_t bytes_ = 0;
};

}  // namespace

SceneDocuments gather_documents(const std::string& text, const fs::path& file,
                                const SceneSources& sources) {
  Gatherer gatherer(sources);
  gatherer.add(text, file, false);
  return gatherer.take();
}

fs::path path_from_utf8(const std::string& text) {
  return {std::u8string(text.begin(), text.end())};
}

std::optional<fs::path> read_path(const Cursor& at, const SceneDocument& document,
                                  const SceneSources& sources) {
  const auto text = read_text(at, kLongestPath);
  if (!text) return std::nullopt;
  const fs::path file = document.folder() / path_from_utf8(*text);
  if (sources.within.empty()) return file;
  const fs::path inside = file.lexically_normal().lexically_relative(sources.within);
  if (!inside.empty() && *inside.begin() != "..") return file;
  at.fault(FaultKind::file_unreadable,
           "the path of a file inside " + shown_path(sources.within, sources));
  return std::nullopt;
}

std::string shown_path(const fs::path& file, const SceneSources& sources) {
  if (sources.within.empty()) return file.string();
  const fs::path inside = file.lexically_normal().lexically_relative(sources.within);
  if (inside.empty() || inside == ".") return sources.within_shown;
  return sources.within_shown + "/" + inside.string();
}

std::string nearest_named(const fs::path& file, const SceneDocument& document) {
  std::error_code error;
  if (fs::exists(file, error)) return "";
  const fs::path near = nearest_file(file), folder = document.folder();
  return (folder.empty() || near.empty() ? near : near.lexically_relative(folder)).string();
}

}  // namespace standpoint
