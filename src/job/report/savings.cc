#include <string>
#include <vector>

#include "base/text.h"
#include "job/report/parts.h"
#include "job/report/reports.h"
#include "tell/capacity.h"
#include "tell/names.h"

namespace pouchwright::job {

using Fields = Cell::Fields;

namespace {

base::Message cloth(double mm2, const base::Voice& words) {
  return tell::area_said(mm2, 3, words.unit());
}

std::string percent(const batch::Change& change, const base::Voice& words) {
  return words.text(base::fixed(100 * change.saving_fraction, 1));
}

/// For machines, and as the page shows it: `set_typed` is what is typed for it, exactly.
Fields change_fields(const batch::Change& change, const base::Voice& words) {
  Fields set;
  Fields said;
  Fields typed;
  for (const auto& [path, length] : change.set) {
    set.push_back({path, length});
    said.push_back({path, words.text(length)});
    typed.push_back({path, base::exact_text(length, words.unit())});
  }
  return {{"set", std::move(set)},
          {"cut", sides(change.cut_width, change.cut_length)},
          {"cloth_mm2_per_pouch", change.cloth_mm2_per_pouch},
          {"saving_fraction", change.saving_fraction},
          {"water_line_mm", change.water_line},
          {"capacity", capacity_cell(change.capacity)},
          {"set_said", std::move(said)},
          {"set_typed", std::move(typed)},
          {"cloth_said", words.say(cloth(change.cloth_mm2_per_pouch, words))},
          {"saving_said", percent(change, words)},
          {"water_said", words.text(base::at_most(change.water_line))},
          {"capacity_said",
           change.capacity ? Cell(words.say(tell::capacity_said(*change.capacity))) : Cell()}};
}

/// What a change saves, and what it does besides.
std::string change_said(const batch::Savings& found, const batch::Change& change,
                        std::size_t number, const base::Voice& words) {
  const std::string sets = base::list_text(change.set, ", ", [&](const auto& size) {
    return size.first + " = " + words.text(base::exact(size.second));
  });
  std::vector<base::Message> notes = {{"savings-change",
                                       {{"number", number},
                                        {"set", sets},
                                        {"percent", percent(change, words)},
                                        {"cloth", cloth(change.cloth_mm2_per_pouch, words)}}}};
  if (change.water_line != found.water_line_now) {
    notes.push_back({"savings-water",
                     {{"water", base::at_most(change.water_line)},
                      {"water_now", base::at_most(found.water_line_now)}}});
  }
  if (change.capacity && found.capacity_now) {
    const bool moves = change.capacity->liners != found.capacity_now->liners;
    notes.push_back({moves ? "savings-holds" : "savings-still-holds",
                     {{"liners", tell::capacity_said(*change.capacity)},
                      {"now", tell::capacity_said(*found.capacity_now)}}});
  }
  return base::list_text(notes, "; ", [&](const base::Message& note) { return words.say(note); });
}

}  // namespace

Report savings_report(const batch::Savings& found, int pouches, base::Length tolerance,
                      const base::Voice& words) {
  Report report;
  report.field("now", Fields{{"cloth_mm2_per_pouch", found.now_mm2_per_pouch},
                             {"water_line_mm", found.water_line_now},
                             {"capacity", capacity_cell(found.capacity_now)}});
  report.field("pouches", pouches);
  report.field("changes", cells(found.changes, [&](const batch::Change& change) {
                 return change_fields(change, words);
               }));
  report.say({"savings-now",
              {{"cloth", cloth(found.now_mm2_per_pouch, words)},
               {"pouches", pouches},
               {"tolerance", tolerance}}});
  std::size_t number = 0;
  for (const batch::Change& change : found.changes) {
    report.write(change_said(found, change, ++number, words));
  }
  report.say(found.changes.empty() ? "savings-nothing" : "savings-apply");
  return report;
}

}  // namespace pouchwright::job
