#include "draw/sheets/supplies.h"

#include <utility>

#include "ink/flow.h"
#include "tell/supplies.h"

namespace pouchwright::draw {
namespace {

/// White above the table beyond its rows' own.
constexpr double kAboveTable = 2;

ink::Table table_of(const tell::SuppliesSheet& sheet, const base::Voice& words) {
  ink::Table table{{{.cells = {"", words.say("supplies-amount"), words.say("supplies-price"),
                               words.say("supplies-cost")},
                     .weight = Weight::bold,
                     .has_box = false}}};
  for (const tell::SupplyRow& row : tell::supply_rows(*sheet.list, words)) {
    table.rows.push_back(
        {.cells = {row.what, row.amount, row.price, row.cost}, .has_box = !row.what.empty()});
  }
  return table;
}

Paragraphs notes_of(const tell::SuppliesSheet& sheet, const base::Voice& words) {
  Paragraphs notes;
  for (std::string& note : tell::supply_notes(sheet, words))
    notes.push_back(point(std::move(note)));
  if (sheet.ready.empty()) return notes;
  notes.push_back(heading(words.say("supplies-ready")));
  for (const std::string& one : sheet.ready) notes.push_back(point(one));
  return notes;
}

}  // namespace

std::vector<Drawing> supplies_list(const tell::SuppliesSheet& sheet, const base::Voice& words,
                                   const TextMeasure& measure, Point room) {
  TextPages pages("supplies", words.say({"supplies-title", {{"title", sheet.title}}}), room,
                  TextPages::Columns::one, measure);
  pages.add_gap(kAboveTable);
  pages.add(table_of(sheet, words));
  pages.add_gap(kAboveTable);
  pages.add(notes_of(sheet, words));
  return pages.finished();
}

}  // namespace pouchwright::draw
