#include "io/read/lists/nest_list.h"

#include <array>
#include <string>
#include <unordered_map>
#include <utility>

#include <fmt/format.h>

#include "io/read/lists/list_row.h"
#include "io/read/lists/qif_list.h"
#include "io/read/scene/scene_limits.h"
#include "io/read/text/json_value.h"
#include "io/words/units.h"

namespace standpoint {
namespace {

constexpr std::array<std::string_view, 1> kTypes{"nest"};
/// The columns that only features have.
constexpr std::array<ListColumn, 12> kOfFeatures{
    ListColumn::diameter, ListColumn::depth,   ListColumn::length,    ListColumn::width,
    ListColumn::angle,    ListColumn::side,    ListColumn::through,   ListColumn::along_i,
    ListColumn::along_j,  ListColumn::along_k, ListColumn::tolerance, ListColumn::datum};

class NestRows {
 public:
  NestRows(const ListTable& table, ListFaults& faults) : table_(table), faults_(faults) {}

  void read(const CsvRecord& record) {
    const RowReader row(table_, record, faults_);
    ListedNest listed;
    listed.where = faults_.where(row.place());
    if (const auto name = row.name()) take_name(row, *name, listed.nest);
    listed.nest.at = row.at().value_or(Vec3::Zero());
    listed.is_upward = !row.has_direction(ListColumn::i);
    listed.nest.normal =
        listed.is_upward ? Vec3::UnitZ() : row.direction(ListColumn::i).value_or(Vec3::UnitZ());
    listed.has_usual_seat = !row.has(ListColumn::seat);
    const double seat_deg = listed.has_usual_seat
                                ? kUsualSeatDeg
                                : row.angle(ListColumn::seat, kHalfAngle).value_or(kUsualSeatDeg);
    listed.nest.seat_rad = rad_from_deg(seat_deg);
    if (row.has(ListColumn::type)) (void)row.choice(ListColumn::type, kTypes);
    for (const ListColumn column : kOfFeatures) row.expect_none(column, "a nest");
    list.nests.push_back(std::move(listed));
  }

  NestList list;

 private:
  void take_name(const RowReader& row, const std::string& name, Nest& nest) {
    nest.name = name;
    const auto [before, is_new] = line_of_.emplace(name, row.line());
    if (!is_new)
      row.fault(ListColumn::name, FaultKind::duplicate_name,
                fmt::format("a name of its own; line {} has this one already", before->second));
  }

  const ListTable& table_;
  ListFaults& faults_;
  std::unordered_map<std::string, std::size_t> line_of_;
};

}  // namespace

tl::expected<NestList, Faults> parse_nest_list(std::string_view bytes, const ListOptions& options) {
  if (is_xml(bytes)) return parse_qif_nests(bytes, options);
  ListFaults faults(options.file);
  ListTable table(bytes, options, faults);
  NestRows rows(table, faults);
  table.for_each_row([&](const CsvRecord& record) { rows.read(record); });
  if (!faults.empty()) return tl::unexpected(faults.take());
  return std::move(rows.list);
}

}  // namespace standpoint
