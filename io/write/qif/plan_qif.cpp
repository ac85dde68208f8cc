#include "io/write/qif/plan_qif.h"

#include <fmt/format.h>

#include "io/write/qif/qif_parts-inl.h"

namespace standpoint {
namespace {

using namespace qif;

/// Collects what pugixml writes.
struct TextWriter : pugi::xml_writer {
  std::string text;
  void write(const void* data, std::size_t size) override {
    text.append(static_cast<const char*>(data), size);
  }
};

std::string text_of(const pugi::xml_document& document) {
  TextWriter writer;
  document.save(writer, " ", pugi::format_indent, pugi::encoding_utf8);
  return std::move(writer.text);
}

/// FNV-1a, 64 bits: G. Fowler, L. C. Noll, K.-P. Vo (from memory).
std::uint64_t hash_of(std::string_view text, std::uint64_t start) {
  std::uint64_t hash = start;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
  return hash;
}

/// A UUID that depends on the text alone: version 8 (RFC 9562, section 5.8).
std::string identifier_of(std::string_view text) {
  constexpr std::uint64_t kStart = 0xcbf29ce484222325ULL;
  const std::uint64_t a = hash_of(text, kStart);
  const std::uint64_t b = hash_of(text, ~kStart);
  return fmt::format("{:08x}-{:04x}-8{:03x}-{:04x}-{:012x}", a >> 32U, a >> 16U & 0xFFFFU,
                     a & 0xFFFU, (b >> 48U & 0x3FFFU) | 0x8000U, b & 0xFFFFFFFFFFFFULL);
}

std::uint32_t add_standard(pugi::xml_node document, Ids& ids) {
  pugi::xml_node list = document.append_child("StandardsDefinitions");
  pugi::xml_node standard = list.append_child("Standard");
  const std::uint32_t id = identify(standard, ids);
  add(standard.append_child("Organization"), "StandardsOrganizationEnum", "ISO");
  add(standard, "Designator", "1101");
  add(standard, "Year", "2017");
  set_count(list);
  return id;
}

void add_unit(pugi::xml_node units, const char* element, std::string_view si, std::string_view name,
              const std::string& factor) {
  pugi::xml_node unit = units.append_child(element);
  add(unit, "SIUnitName", si);
  add(unit, "UnitName", name);
  add(unit.append_child("UnitConversion"), "Factor", factor);
}

void add_units(const Scene& scene, pugi::xml_node document) {
  pugi::xml_node units = document.append_child("FileUnits").append_child("PrimaryUnits");
  add_unit(units, "AngularUnit", "radian", "degree", "0.017453292519943295");
  add_unit(units, "LinearUnit", "meter", scene.units, decimal_text(scene.mm_per_unit / 1000));
}

std::uint32_t add_instrument(const Scene& scene, pugi::xml_node document, Ids& ids) {
  pugi::xml_node devices =
      document.append_child("MeasurementResources").append_child("MeasurementDevices");
  pugi::xml_node tracker = devices.append_child("LaserTracker");
  const std::uint32_t id = identify(tracker, ids);
  add(tracker, "Name", scene.instrument.name.empty() ? "instrument" : scene.instrument.name);
  set_count(devices);
  return id;
}

}  // namespace

std::string plan_qif(const Scene& scene, const Plan& plan) {
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version").set_value("1.0");
  declaration.append_attribute("encoding").set_value("utf-8");
  pugi::xml_node root = document.append_child("QIFDocument");
  root.append_attribute("xmlns").set_value("http://qifstandards.org/xsd/qif3");
  root.append_attribute("versionQIF").set_value("3.0.0");
  pugi::xml_attribute most = root.append_attribute("idMax");
  pugi::xml_node identifier = add(root, "QPId", identifier_of(""));
  pugi::xml_node header = root.append_child("Header");
  add(header.append_child("Application"), "Name", "standpoint");
  add(header, "Description", fmt::format("measurement plan of the scene {}", scene.name));
  add(header, "Scope", "Plan");
  Ids ids;
  const std::uint32_t standard = add_standard(root, ids);
  add_units(scene, root);
  const std::uint32_t instrument = add_instrument(scene, root, ids);
  const ItemIds items = add_features(scene, plan, root, ids);
  add_tolerances(scene, items, standard, root, ids);
  add_steps(scene, plan, items, instrument, root, ids);
  most.set_value(ids.last);
  identifier.text().set(identifier_of(text_of(document)).c_str());
  return text_of(document);
}

}  // namespace standpoint
