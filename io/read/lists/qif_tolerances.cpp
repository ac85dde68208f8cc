#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "io/read/lists/qif_features-inl.h"
#include "io/read/text/json_value.h"

namespace standpoint {
namespace {

/// A kind of geometric characteristic in the words of ISO 1101, and whether its zone says where the
/// feature must lie.
struct ToleranceKind {
  std::string_view characteristic;
  std::string_view words;
  bool is_location;
};
constexpr std::array<ToleranceKind, 18> kToleranceKinds{{
    {"Position", "position", true},
    {"SurfaceProfile", "profile of a surface", true},
    {"LineProfile", "profile of a line", true},
    {"PointProfile", "profile of a point", true},
    {"Coaxiality", "coaxiality", true},
    {"Concentricity", "concentricity", true},
    {"Symmetry", "symmetry", true},
    {"Flatness", "flatness", false},
    {"Straightness", "straightness", false},
    {"Circularity", "roundness", false},
    {"Cylindricity", "cylindricity", false},
    {"Conicity", "conicity", false},
    {"Sphericity", "sphericity", false},
    {"Perpendicularity", "perpendicularity", false},
    {"Parallelism", "parallelism", false},
    {"Angularity", "angularity", false},
    {"CircularRunout", "circular run-out", false},
    {"TotalRunout", "total run-out", false},
}};

constexpr std::string_view kNominal = "CharacteristicNominal";

const ToleranceKind* kind_of(std::string_view name) {
  for (const ToleranceKind& kind : kToleranceKinds)
    if (name == std::string(kind.characteristic) + std::string(kNominal)) return &kind;
  return nullptr;
}

/// A zone that was read: how it is chosen among those of one feature, and what it says.
struct Zone {
  bool is_location = false;
  double width = 0;  ///< mm
  std::string from;
};

/// Whether a feature's tolerance is rather `a` than `b`: a zone that says where it must lie, then
/// the narrower one.
bool is_rather(const Zone& a, const Zone& b) {
  if (a.is_location != b.is_location) return a.is_location;
  return a.width < b.width;
}

class ToleranceReader {
 public:
  ToleranceReader(const QifValues& values, ListFaults& faults, QifFeatures& features)
      : values_(values), xml_(values.xml()), faults_(faults), features_(features) {}

  void read_all() {
    const pugi::xml_node all =
        xml_.child(xml_.child(xml_.root(), "Characteristics"), std::string(kNominal) + "s");
    for (pugi::xml_node node = all.first_child(); node; node = node.next_sibling())
      if (node.type() == pugi::node_element) read(node);
    for (const auto& [index, zone] : zones_) {
      FoundFeature& feature = features_.list.features[index].feature;
      feature.tolerance = zone.width;
      feature.tolerance_from = zone.from;
    }
  }

  void read_datums() {
    const pugi::xml_node all = xml_.child(xml_.root(), "DatumDefinitions");
    for (pugi::xml_node node = all.first_child(); node; node = node.next_sibling()) {
      if (xml_.name(node) != "DatumDefinition") continue;
      for (const std::size_t index : features_of(node))
        features_.list.features[index].feature.datum = true;
    }
  }

 private:
  void pass_over(pugi::xml_node node, std::string_view reason) {
    const std::string_view name = trimmed_text(xml_.child(node, "Name"));
    features_.list.passed_over.push_back({std::string(name), std::string(xml_.name(node)),
                                          std::string(reason), faults_.where(xml_.place(node))});
  }

  void read(pugi::xml_node node) {
    const ToleranceKind* kind = kind_of(xml_.name(node));
    if (kind == nullptr) return pass_over(node, "a size or a distance, no tolerance zone");
    const pugi::xml_node id = xml_.child(node, "CharacteristicDefinitionId");
    if (!id)
      return values_.missing(node, "CharacteristicDefinitionId",
                             "the id of a CharacteristicDefinition");
    if (QifValues::is_elsewhere(id))
      return pass_over(node, "its definition stands in another document");
    const pugi::xml_node definition =
        values_.referred(id, std::string(kind->characteristic) + "CharacteristicDefinition");
    if (!definition) return;
    if (!xml_.child(definition, "ToleranceValue"))
      return pass_over(node, "its zone has no width of its own");
    const auto width = values_.length(definition, "ToleranceValue", QifUse::annotation);
    const std::vector<std::size_t> indices = features_of(node);
    if (!width) return;
    if (indices.empty()) return pass_over(node, "none of its features is listed");
    ++features_.list.tolerances;
    const Zone zone{kind->is_location, *width,
                    fmt::format("{} {:g}{} (#{})", kind->words, *width, datums_of(definition),
                                node.attribute("id").value())};
    for (const std::size_t index : indices) {
      const auto [known, is_new] = zones_.emplace(index, zone);
      if (!is_new && is_rather(zone, known->second)) known->second = zone;
    }
  }

  /// The features that are listed, of those that a characteristic or a datum names.
  std::vector<std::size_t> features_of(pugi::xml_node node) {
    std::vector<std::size_t> indices;
    const pugi::xml_node ids = xml_.child(node, "FeatureNominalIds");
    for (pugi::xml_node id = ids.first_child(); id; id = id.next_sibling()) {
      if (xml_.name(id) != "Id") continue;
      const std::string_view number = trimmed_text(id);
      const auto found = features_.index_of.find(number);
      if (found != features_.index_of.end()) {
        indices.push_back(found->second);
      } else if (features_.passed_ids.count(number) == 0) {
        (void)values_.referred(id, "FeatureNominal");  // for its fault
      }
    }
    return indices;
  }

  /// " | A | B": the datums that a characteristic refers to, in their order.
  std::string datums_of(pugi::xml_node definition) {
    const pugi::xml_node id = xml_.child(definition, "DatumReferenceFrameId");
    if (!id) return "";
    const pugi::xml_node frame = values_.referred(id, "DatumReferenceFrame");
    std::string labels;
    const pugi::xml_node datums = xml_.child(frame, "Datums");
    for (pugi::xml_node datum = datums.first_child(); datum; datum = datum.next_sibling()) {
      const pugi::xml_node simple = xml_.child(datum, "SimpleDatum");
      if (simple) labels += " | " + label_of(xml_.child(simple, "DatumDefinitionId"));
      const pugi::xml_node compound = xml_.child(datum, "CompoundDatum");
      std::string together;
      for (pugi::xml_node one = compound.first_child(); one; one = one.next_sibling()) {
        const pugi::xml_node own = xml_.child(one, "DatumDefinitionId");
        if (own) together += (together.empty() ? "" : "-") + label_of(own);
      }
      if (!together.empty()) labels += " | " + together;
    }
    return labels;
  }

  std::string label_of(pugi::xml_node id) {
    const pugi::xml_node datum = values_.referred(id, "DatumDefinition");
    return std::string(trimmed_text(xml_.child(datum, "DatumLabel")));
  }

  const QifValues& values_;
  const QifXml& xml_;
  ListFaults& faults_;
  QifFeatures& features_;
  std::map<std::size_t, Zone> zones_;
};

}  // namespace

void read_qif_tolerances(const QifValues& values, ListFaults& faults, QifFeatures& features) {
  ToleranceReader reader(values, faults, features);
  reader.read_all();
  reader.read_datums();
}

}  // namespace standpoint
