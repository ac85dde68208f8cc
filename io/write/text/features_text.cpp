#include "io/write/text/features_text.h"

#include <algorithm>
#include <map>
#include <ostream>
#include <set>

#include <fmt/format.h>

#include "io/words/lengths.h"
#include "io/words/paragraph.h"
#include "io/words/table.h"
#include "io/words/words.h"
#include "io/write/text/annotation_text.h"
#include "planner/part/feature_names.h"

namespace standpoint {
namespace {

/// Features of one kind and size, which follow one another.
struct Lot {
  std::string kind, size;
  std::vector<const FoundFeature*> features;
};

std::string size_words(const FoundFeature& feature) {
  if (feature.kind == FoundKind::slot)
    return size_text(feature.width) + " x " + size_text(feature.length);
  return feature.kind == FoundKind::point ? "" : size_text(size_of(feature));
}

/// Planes come in as many sizes as there are: they are one lot.
std::vector<Lot> lots_of(const PartAnswer& part) {
  std::vector<Lot> lots;
  for (const FoundFeature& feature : part.features) {
    const std::string kind = kind_word(feature);
    const bool is_plane = feature.kind == FoundKind::plane;
    const std::string size = is_plane ? "" : size_words(feature);
    if (lots.empty() || lots.back().kind != kind || lots.back().size != size)
      lots.push_back({kind, size, {}});
    lots.back().features.push_back(&feature);
  }
  return lots;
}

template <class Is>
void add_count(const Lot& lot, const Is& is, std::string_view word,
               std::vector<std::string>& words) {
  const auto count = std::count_if(lot.features.begin(), lot.features.end(),
                                   [&](const FoundFeature* f) { return is(*f); });
  if (count == 0) return;
  const bool all = count == static_cast<std::ptrdiff_t>(lot.features.size());
  words.push_back(all ? std::string(word) : fmt::format("{} {}", count, word));
}

std::string remarks_of(const Lot& lot) {
  std::vector<std::string> words;
  const auto is_hole = [](const FoundFeature& f) {
    return f.kind == FoundKind::hole || f.kind == FoundKind::slot || !f.steps.empty();
  };
  add_count(
      lot, [&](const auto& f) { return is_hole(f) && f.through; }, "through", words);
  add_count(
      lot, [&](const auto& f) { return is_hole(f) && !f.through; }, "blind", words);
  add_count(
      lot, [](const auto& f) { return f.steps.size() > 1; }, "stepped", words);
  add_count(
      lot, [](const auto& f) { return f.tip; }, "with drill tip", words);
  add_count(
      lot, [](const auto& f) { return f.countersink > 0; }, "countersunk", words);
  add_count(
      lot,
      [](const auto& f) {
        return f.kind != FoundKind::cylinder && !f.hollow &&
               (f.kind == FoundKind::cone || f.kind == FoundKind::sphere);
      },
      "outside", words);
  add_count(
      lot, [](const auto& f) { return f.datum; }, "datum", words);
  add_count(
      lot, [](const auto& f) { return f.tolerance.has_value(); }, "with tolerance", words);
  add_count(
      lot, [](const auto& f) { return f.fit && f.fit->doubtful; }, "doubtful", words);
  return fmt::format("{}", fmt::join(words, ", "));
}

void print_lots(const PartAnswer& part, std::ostream& out) {
  Table table{{{"kind"}, {"size (mm)", Align::right}, {"count", Align::right}, {"which"}}, {}};
  for (const Lot& lot : lots_of(part))
    table.rows.push_back(
        {lot.kind, lot.size, fmt::format("{}", lot.features.size()), remarks_of(lot)});
  print(table, out);
}

std::string vector_text(const Vec3& v, int decimals) {
  return fmt::format("{}, {}, {}", fixed_text(v.x(), decimals), fixed_text(v.y(), decimals),
                     fixed_text(v.z(), decimals));
}

std::string depth_words(const FoundFeature& f) {
  const double depth = f.kind == FoundKind::hole || f.kind == FoundKind::slot ? f.depth : f.length;
  return depth > 0 ? fixed_text(depth, 3) : "";
}

void print_each(const PartAnswer& part, std::ostream& out) {
  const bool has_parts = std::any_of(part.features.begin(), part.features.end(),
                                     [](const auto& f) { return !f.component.empty(); });
  Table table{{{"name"},
               {"centre (mm)", Align::right},
               {"axis", Align::right},
               {"depth (mm)", Align::right},
               {"faces"}},
              {}};
  if (has_parts) table.columns.push_back({"part"});
  for (const FoundFeature& f : part.features) {
    table.rows.push_back({f.name, vector_text(f.centre, 3), vector_text(f.axis, 4), depth_words(f),
                          fmt::format("{}", fmt::join(f.faces, " "))});
    if (has_parts) table.rows.back().push_back(f.component);
  }
  out << '\n';
  print(table, out);
}

/// What else is to be known of the file, a sentence each.
std::vector<std::string> remarks_of(const PartAnswer& part) {
  std::vector<std::string> remarks;
  if (part.loose_faces > 0)
    remarks.push_back(fmt::format(
        "{} in no solid and {} left out: it is not known where the material is.",
        part.loose_faces == 1 ? "1 face is" : fmt::format("{} faces are", part.loose_faces),
        part.loose_faces == 1 ? "is" : "are"));
  if (part.solids > 1)
    remarks.push_back(fmt::format(
        "The file holds {} solids. Each is looked at by itself: a hole through several of them is "
        "found once in each.",
        part.solids));
  std::map<std::string, std::pair<std::size_t, std::string>> passed;
  for (const PassedOver& one : part.passed_over) {
    auto& [count, where] = passed[one.what + ": " + one.reason];
    if (++count == 1) where = one.where;
  }
  for (const auto& [words, at] : passed)
    remarks.push_back(fmt::format("{} passed over, {} (first: {}).",
                                  counted(at.first, "element was", "elements were"), words,
                                  at.second));
  if (part.features.size() < part.found)
    remarks.push_back(
        fmt::format("{} of {} found are listed: the others are not what was asked for.",
                    part.features.size(), part.found));
  return remarks;
}

std::string title_of(const PartAnswer& part) {
  if (part.solids == 0)
    return fmt::format("{}, a list: {}", part.file.string(),
                       counted(part.found, "feature", "features"));
  return fmt::format("{}, {}: {} in {}, {} found", part.file.string(), part.format,
                     counted(part.faces, "face", "faces"), counted(part.solids, "solid", "solids"),
                     counted(part.found, "feature", "features"));
}

}  // namespace

void print_features(const FeaturesAnswer& answer, bool details, std::ostream& out) {
  bool is_first = true;
  for (const PartAnswer& part : answer.parts) {
    if (!is_first) out << '\n';
    is_first = false;
    print_paragraph("", title_of(part), out);
    out << '\n';
    print_lots(part, out);
    if (details) print_each(part, out);
    for (const std::string& remark : remarks_of(part)) print_paragraph("Note: ", remark, out);
    for (const std::string& remark : annotation_remarks(part))
      print_paragraph("Note: ", remark, out);
  }
}

}  // namespace standpoint
