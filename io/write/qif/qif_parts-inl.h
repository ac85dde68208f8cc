#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "standpoint/plan.h"
#include "standpoint/scene.h"

// A piece of the files of this folder: a QIF document while it is being made.

namespace standpoint::qif {

/// Gives out the document's ids, from 1.
struct Ids {
  std::uint32_t last = 0;
  [[nodiscard]] std::uint32_t next() { return ++last; }
};

/// Adds an element with a text. XML knows no control characters: names come written out
/// (`for_terminal`).
pugi::xml_node add(pugi::xml_node parent, const char* name, std::string_view text);
pugi::xml_node add(pugi::xml_node parent, const char* name, std::uint32_t number);
/// Adds an element with an id of its own, which is given back.
std::uint32_t identify(pugi::xml_node node, Ids& ids);
/// Adds references to ids, as a list with its length.
void add_ids(pugi::xml_node parent, const char* name, const std::vector<std::uint32_t>& ids);
/// Adds Attributes that hold one text.
void add_attribute(pugi::xml_node parent, std::string_view name, std::string_view value);
/// Sets `n`, the number of the elements in a list.
void set_count(pugi::xml_node list);

/// A number as xs:decimal has it: whole, without an exponent.
[[nodiscard]] std::string decimal_text(double value);
/// A length in the scene's units.
[[nodiscard]] std::string length_text_of(const Scene& scene, double mm);
/// Three coordinates in the scene's units, or the parts of a direction.
[[nodiscard]] std::string place_text_of(const Scene& scene, const Vec3& at);
[[nodiscard]] std::string direction_text_of(const Vec3& direction);

/// The ids of what the plan's steps refer to.
struct ItemIds {
  std::vector<std::uint32_t> features;  ///< by FeatureId: of the items
  std::vector<std::uint32_t> nests;     ///< by NestId: likewise
  std::vector<std::uint32_t> nominals;  ///< by FeatureId
};

/// Adds the features and nests of the scene: definitions, nominals, items, and the points at which
/// the plan touches each.
[[nodiscard]] ItemIds add_features(const Scene& scene, const Plan& plan, pugi::xml_node document,
                                   Ids& ids);

/// Adds a characteristic for each feature that has a tolerance. `standard` is the id of the
/// standard that the words are of.
void add_tolerances(const Scene& scene, const ItemIds& items, std::uint32_t standard,
                    pugi::xml_node document, Ids& ids);

/// Adds the plan's steps: stations in their order, each with the turns of its targets.
void add_steps(const Scene& scene, const Plan& plan, const ItemIds& items, std::uint32_t instrument,
               pugi::xml_node document, Ids& ids);

}  // namespace standpoint::qif
