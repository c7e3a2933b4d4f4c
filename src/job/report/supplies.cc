#include <optional>
#include <utility>

#include "job/commands/supplies.h"
#include "job/report/parts.h"
#include "job/report/reports.h"
#include "tell/supplies.h"

namespace pouchwright::job {

using Fields = Cell::Fields;

namespace {

base::Number amount(double value) { return base::shortened(value, 3); }
base::Number money(double value) { return base::shortened(value, 4); }
/// A blade serves many pouches.
base::Number used(double value) { return base::shortened(value, 6); }

Cell or_nothing(const std::optional<double>& value, base::Number (*shown)(double)) {
  return value ? Cell(shown(*value)) : Cell();
}

Fields line_fields(const batch::Supply& line, const tell::SupplyRow& row, int pouches,
                   const std::string& currency) {
  return {{"kind", line.kind},
          {"name", line.name},
          {"what", row.what},
          {"amount", or_nothing(line.amount, amount)},
          {"unit", word_of(batch::kSupplyUnitWords, line.unit)},
          {"amount_said", row.amount},
          {"assumed", line.basis == batch::Basis::assumed},
          {"price", or_nothing(line.unit_price, money)},
          {"cost", or_nothing(line.cost, money)},
          {"used_share", amount(line.used_share)},
          {"needed", or_nothing(line.needed, amount)},
          {"in_stock", amount(line.in_stock)},
          {"used_per_pouch", or_nothing(line.used_per_pouch(pouches), used)},
          {"used_said", row.used},
          {"bought_once", line.is_bought_once},
          {"currency", currency, In::csv_only}};
}

Fields cloth_fields(const batch::ClothToBuy& cloth) {
  return {{"material", cloth.material},
          {"pieces_length_mm", cloth.pieces},
          {"extra", cells(cloth.extra, extra_fields)},
          {"to_buy_mm", cloth.length},
          {"across_mm", cloth.across},
          {"washed_first", cloth.is_washed_first}};
}

Fields part_fields(const batch::ThreadPart& part) {
  return {{"part", part.part}, {"thread_m", amount(part.metres)}};
}

Fields thread_fields(const batch::ThreadNeed& need, const batch::ThreadRules& rules) {
  const batch::Stitch& stitch = *rules.stitch(need.stitch);
  return {{"stitch", need.stitch},           {"seam_m", amount(need.seam_metres)},
          {"thread_m", amount(need.metres)}, {"ratio", stitch.ratio},
          {"source", stitch.source},         {"parts", cells(need.parts, part_fields)},
          {"package", need.package.name},    {"package_m", need.package.metres},
          {"packages", need.packages}};
}

Fields seam_fields(const batch::Seam& seam, const pouch::Pouch& pouch,
                   const batch::ThreadRules& rules) {
  const batch::Stitch& stitch = *rules.stitch(seam.stitch);
  return {
      {"operation", pouch.operation(seam.operation).id},
      {"stitch", seam.stitch},
      {"length_mm", seam.length},
      {"per_pouch", seam.per_pouch},
      {"thickness_mm", seam.thickness},
      {"ratio_by_geometry", or_nothing(batch::ratio_by_geometry(stitch, seam.thickness), amount)}};
}

Fields card_fields(const batch::CardNeed& card) {
  return {{"card", card.card},
          {"width_mm", card.width},
          {"height_mm", card.height},
          {"per_set", card.each},
          {"cards", card.count},
          {"sheet", card.sheet ? Cell(card.sheet->name) : Cell()},
          {"sheets", card.sheet ? Cell(card.sheets) : Cell()}};
}

}  // namespace

Report supplies_report(const pouch::Pouch& pouch, const ShoppingList& shopping,
                       const std::string& currency, const base::Voice& words) {
  const batch::Supplies& list = shopping.list;
  const batch::ThreadRules& rules = shopping.data.thread;
  Report report;
  report.begin(Block::Look::table);
  const char* head = list.pouches == 1 ? "supplies-what-one" : "supplies-what";
  report.line(Line::Kind::heading,
              {base::Message(head, {{"pouches", list.pouches}}), base::Message("supplies-amount"),
               base::Message("supplies-used"), base::Message("supplies-price"),
               base::Message("supplies-cost")});
  const std::vector<tell::SupplyRow> rows = tell::supply_rows(list, words);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    report.item({rows[i].what, rows[i].amount, rows[i].used, rows[i].price, rows[i].cost});
    report.table.rows.push_back(line_fields(list.lines[i], rows[i], list.pouches, currency));
  }
  report.table.columns = {{"kind"},
                          {"name", Table::Quotes::always},
                          {"what", Table::Quotes::always},
                          {"amount"},
                          {"unit"},
                          {"price"},
                          {"cost"},
                          {"currency", Table::Quotes::always},
                          {"needed"},
                          {"in_stock"},
                          {"used_per_pouch"},
                          {"bought_once"}};
  report.begin();
  for (std::string& note : tell::supply_notes(list, rules, currency, words)) {
    report.write(std::move(note));
  }
  report.field("pouches", list.pouches);
  report.field("spare_pouches",
               Fields{{"first", list.spares.first}, {"spoiled", list.spares.spoiled}});
  report.field("cloths", cells(list.cloths, cloth_fields));
  report.field("supplies", cells(report.table.rows));
  report.field("thread",
               cells(list.thread, [&](const auto& need) { return thread_fields(need, rules); }));
  report.field("seams", cells(list.seams,
                              [&](const auto& seam) { return seam_fields(seam, pouch, rules); }));
  report.field("thread_not_counted", list.uncounted);
  report.field("card_sets", list.card_sets);
  report.field("cards", cells(list.cards, card_fields));
  report.field("cost", Fields{{"currency", currency.empty() ? Cell() : Cell(currency)},
                              {"known", money(list.known_cost)},
                              {"known_per_pouch", money(list.known_cost_per_pouch())},
                              {"used", money(list.known_used)},
                              {"used_per_pouch", money(list.known_used_per_pouch())},
                              {"without", list.without}});
  return report;
}

}  // namespace pouchwright::job
