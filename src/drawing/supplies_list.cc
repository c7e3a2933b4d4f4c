#include "drawing/supplies_list.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "drawing/labels.h"
#include "drawing/operation_words.h"
#include "drawing/text_page.h"
#include "units/number.h"

namespace pouchwright::drawing {
namespace {

using batch::Supply;
using batch::SupplyUnit;

constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr double kBox = 3.6;
constexpr double kColumnGap = 4;

std::string money(double amount) { return units::decimal(amount, 2); }

std::string amount_of(const Supply& line, const diag::Words& words) {
  if (!line.amount) return words.say("supply-amount-unknown");
  // Pieces are whole; cloth was rounded up to the shop's step, which may be no decimal of a yard.
  std::string amount = units::shortest(std::ceil(*line.amount * 100 - 1e-6) / 100, 2);
  switch (line.unit) {
    case SupplyUnit::metre:
      return words.say({"supply-metres", {{"amount", amount}}});
    case SupplyUnit::yard:
      return words.say({"supply-yards", {{"amount", amount}}});
    case SupplyUnit::piece:
    case SupplyUnit::sheet:
    case SupplyUnit::page:
      return amount;
  }
  return amount;
}

/// A group's own sundry may have no words: then it is called by its name.
std::string what_of(const diag::Message& shown, const std::string& name, const diag::Words& words) {
  return words.has(shown.key) ? words.say(shown) : name;
}

std::string listed(const std::vector<std::string>& names) {
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
  return all;
}

/// `504, three-thread overedge`: the number of ISO 4915, and what people call it.
std::string stitch_name(const std::string& code, const diag::Words& words) {
  const std::string key = "stitch-" + code;
  if (!words.has(key)) return code;
  return words.say({"supply-stitch-named", {{"code", code}, {"name", words.say(key)}}});
}

/// The operations that a stitch sews.
std::string seams_with(const std::string& stitch, const batch::Supplies& list,
                       const OperationWords& said) {
  std::vector<std::string> names;
  for (const batch::Seam& seam : list.seams) {
    if (seam.stitch != stitch) continue;
    if (names.empty() || names.back() != seam.operation) names.push_back(seam.operation);
  }
  return said.listed(names);
}

std::string thread_note(const batch::ThreadNeed& need, const batch::Supplies& list,
                        const batch::ThreadRules& rules, const OperationWords& said,
                        const diag::Words& words) {
  const batch::Stitch& stitch = *rules.stitch(need.stitch);
  std::vector<std::pair<std::string, std::string>> values = {
      {"stitch", stitch_name(need.stitch, words)},
      {"seams", seams_with(need.stitch, list, said)},
      {"seam", units::decimal(need.seam_metres, 1)},
      {"thread", units::decimal(std::ceil(need.metres), 0)},
      {"ratio", units::shortest(stitch.ratio, 3)},
      {"count", std::to_string(stitch.threads)},
      {"source", words.say({"thread-source-" + stitch.source})}};
  std::string note = words.say({"supply-thread-note", values});
  if (stitch.other_ratio) {
    note += " " + words.say({"supply-thread-other",
                             {{"ratio", units::shortest(*stitch.other_ratio, 3)}}});
  }
  for (const batch::ThreadPart& part : need.parts) {
    note += " " + words.say({"thread-part-" + part.part,
                             {{"metres", units::decimal(std::ceil(part.metres), 0)}}});
  }
  return note;
}

/// Seams so thick that geometry asks for more than the table's ratio and the waste.
std::vector<std::string> thick_seam_notes(const batch::Supplies& list,
                                          const batch::ThreadRules& rules,
                                          const OperationWords& said, const diag::Words& words) {
  std::vector<std::string> notes;
  for (const batch::Seam& seam : list.seams) {
    const batch::Stitch* stitch = rules.stitch(seam.stitch);
    if (stitch == nullptr) continue;
    const auto ratio = batch::ratio_by_geometry(*stitch, seam.thickness);
    if (!ratio || *ratio <= stitch->ratio * (1 + rules.waste)) continue;
    notes.push_back(words.say({"supply-thick-seam",
                               {{"operation", said.listed({seam.operation})},
                                {"stitch", seam.stitch},
                                {"ratio", units::decimal(*ratio, 1)},
                                {"usual", units::shortest(stitch->ratio, 3)}}}));
  }
  return notes;
}

class ListPages {
 public:
  ListPages(const SuppliesSheet& sheet, const diag::Words& words, const TextMeasure& measure,
            Point room)
      : sheet_(sheet),
        words_(words),
        measure_(measure),
        rows_(supply_rows(*sheet.list, words)),
        pages_("supplies", words.say({"supplies-title", {{"title", sheet.title}}}), room,
               TextPages::Columns::one, measure) {}

  std::vector<Drawing> drawn() {
    measure_columns();
    pages_.add(line_of({"", words_.say("supplies-amount"), words_.say("supplies-price"),
                        words_.say("supplies-cost")},
                       Weight::bold));
    for (const SupplyRow& row : rows_) pages_.add(line_of(row, Weight::regular), 1);
    pages_.add_gap(2);
    Paragraphs notes;
    for (std::string& note : supply_notes(sheet_, words_)) {
      notes.push_back(point(std::move(note)));
    }
    pages_.add(notes);
    if (!sheet_.ready.empty()) {
      Paragraphs ready{heading(words_.say("supplies-ready"))};
      for (const std::string& one : sheet_.ready) ready.push_back(point(one));
      pages_.add(ready);
    }
    return pages_.finished();
  }

 private:
  [[nodiscard]] double width_of(const std::string& words, Weight weight) const {
    return measure_.measure(words, kSmallestSize, weight).width;
  }

  /// Amount, price and cost as wide as their widest words; what is left is for the thing.
  void measure_columns() {
    const SupplyRow head{"", words_.say("supplies-amount"), words_.say("supplies-price"),
                         words_.say("supplies-cost")};
    widths_ = {width_of(head.amount, Weight::bold), width_of(head.price, Weight::bold),
               width_of(head.cost, Weight::bold)};
    for (const SupplyRow& row : rows_) {
      widths_[0] = std::max(widths_[0], width_of(row.amount, Weight::regular));
      widths_[1] = std::max(widths_[1], width_of(row.price, Weight::regular));
      widths_[2] = std::max(widths_[2], width_of(row.cost, Weight::regular));
    }
  }

  [[nodiscard]] Picture line_of(const SupplyRow& row, Weight weight) const {
    Picture made;
    made.width = pages_.width();
    double right = made.width;
    const std::array<const std::string*, 3> cells = {&row.amount, &row.price, &row.cost};
    constexpr double kBase = 3.6;
    for (std::size_t i = cells.size(); i-- > 0;) {
      made.write(*cells[i], {right, kBase}, Anchor::end, weight);
      right -= widths_[i] + kColumnGap;
    }
    const double left = kBox + 2;
    double y = kBase;
    for (const std::string& one :
         broken_into_lines(row.what, right - left, kSmallestSize, weight, measure_)) {
      made.write(one, {left, y}, Anchor::start, weight);
      y += 3.9;
    }
    if (!row.what.empty()) made.draw(rectangle({0.2, 0.4, kBox, 0.2 + kBox}), kThin);
    made.height = std::max(y - 3.9, kBase) + 1.6;
    made.draw(line({0.1, made.height}, {made.width - 0.1, made.height}), kThin);
    return made;
  }

  const SuppliesSheet& sheet_;
  const diag::Words& words_;
  const TextMeasure& measure_;
  std::vector<SupplyRow> rows_;
  TextPages pages_;
  std::array<double, 3> widths_{};
};

}  // namespace

std::vector<SupplyRow> supply_rows(const batch::Supplies& list, const diag::Words& words) {
  std::vector<SupplyRow> rows;
  for (const Supply& line : list.lines) {
    SupplyRow row{what_of(line.shown, line.name, words), amount_of(line, words), "", ""};
    if (line.basis == batch::Basis::assumed) row.what += " *";
    if (line.unit_price) row.price = money(*line.unit_price);
    if (line.cost) row.cost = money(*line.cost);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<std::string> supply_notes(const SuppliesSheet& sheet, const diag::Words& words) {
  const batch::Supplies& list = *sheet.list;
  const batch::ThreadRules& rules = *sheet.rules;
  const OperationWords said(*sheet.pouch, words);
  std::vector<std::string> notes;
  const std::string unit = sheet.currency.empty() ? "" : " " + sheet.currency;
  if (list.known_cost > 0) {
    notes.push_back(words.say({list.pouches == 1 ? "supply-sum-one" : "supply-sum",
                               {{"cost", money(list.known_cost) + unit},
                                {"pouches", std::to_string(list.pouches)},
                                {"each", money(list.known_cost_per_pouch()) + unit}}}));
  }
  if (!list.without.empty()) {
    notes.push_back(words.say({list.known_cost > 0 ? "supply-without" : "supply-no-prices",
                               {{"names", listed(list.without)}}}));
  }
  for (const batch::ThreadNeed& need : list.thread)
    notes.push_back(thread_note(need, list, rules, said, words));
  if (!list.thread.empty()) {
    notes.push_back(words.say({"supply-thread-waste",
                               {{"percent", units::shortest(rules.waste * 100, 1)},
                                {"chain", units::decimal_mm(rules.chain)},
                                {"tack", units::decimal_mm(rules.back_tack)}}}));
    if (list.stitches_assumed) {
      notes.push_back(words.say(
          {"supply-stitches-assumed", {{"sides", rules.sew}, {"tails", rules.secure_tails}}}));
    }
  }
  if (!list.uncounted.empty()) {
    notes.push_back(words.say({"supply-thread-uncounted", {{"names", listed(list.uncounted)}}}));
  }
  if (!list.cards.empty()) {
    notes.push_back(words.say({list.card_sets == 1 ? "supply-card-set" : "supply-card-sets",
                               {{"sets", std::to_string(list.card_sets)}}}));
  }
  for (std::string& note : thick_seam_notes(list, rules, said, words))
    notes.push_back(std::move(note));
  notes.push_back(words.say("supply-assumed"));
  return notes;
}

std::vector<std::string> things_to_lay_ready(const pouch::Pouch& pouch, const batch::Supplies& list,
                                             int irons, const diag::Words& words) {
  std::vector<std::string> all{words.say("supplies-ready-cut")};
  if (!pouch.seal_zones.empty()) {
    all.push_back(words.say({"supplies-ready-press", {{"irons", std::to_string(irons)}}}));
  }
  std::string stitches;
  for (const batch::ThreadNeed& need : list.thread) {
    stitches += (stitches.empty() ? "" : "; ") + stitch_name(need.stitch, words);
  }
  if (!stitches.empty()) {
    all.push_back(words.say({"supplies-ready-sew", {{"stitches", stitches}}}));
  }
  const bool has_snaps = std::any_of(pouch.fixed.begin(), pouch.fixed.end(), [](const auto& one) {
    return one.kind == pouch::AttachmentKind::snap;
  });
  if (has_snaps) all.push_back(words.say("supplies-ready-snap"));
  all.push_back(words.say("supplies-ready-test"));
  return all;
}

std::vector<Drawing> supplies_list(const SuppliesSheet& sheet, const diag::Words& words,
                                   const TextMeasure& measure, Point room) {
  return ListPages(sheet, words, measure, room).drawn();
}

}  // namespace pouchwright::drawing
