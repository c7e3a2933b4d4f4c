#include "draw/sheets/supplies.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/number.h"
#include "ink/flow.h"
#include "ink/labels.h"
#include "tell/operations.h"
#include "tell/supplies.h"

namespace pouchwright::draw {
namespace {

using batch::Supply;
using batch::SupplyUnit;

constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr double kBox = 3.6;
constexpr double kColumnGap = 4;

class ListPages {
 public:
  ListPages(const tell::SuppliesSheet& sheet, const base::Voice& words, const TextMeasure& measure,
            Point room)
      : sheet_(sheet),
        words_(words),
        measure_(measure),
        rows_(tell::supply_rows(*sheet.list, words)),
        pages_("supplies", words.say({"supplies-title", {{"title", sheet.title}}}), room,
               TextPages::Columns::one, measure) {}

  std::vector<Drawing> drawn() {
    measure_columns();
    pages_.add(line_of({"", words_.say("supplies-amount"), words_.say("supplies-price"),
                        words_.say("supplies-cost")},
                       Weight::bold));
    for (const tell::SupplyRow& row : rows_) pages_.add(line_of(row, Weight::regular), 1);
    pages_.add_gap(2);
    Paragraphs notes;
    for (std::string& note : tell::supply_notes(sheet_, words_)) {
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
    const tell::SupplyRow head{"", words_.say("supplies-amount"), words_.say("supplies-price"),
                               words_.say("supplies-cost")};
    widths_ = {width_of(head.amount, Weight::bold), width_of(head.price, Weight::bold),
               width_of(head.cost, Weight::bold)};
    for (const tell::SupplyRow& row : rows_) {
      widths_[0] = std::max(widths_[0], width_of(row.amount, Weight::regular));
      widths_[1] = std::max(widths_[1], width_of(row.price, Weight::regular));
      widths_[2] = std::max(widths_[2], width_of(row.cost, Weight::regular));
    }
  }

  [[nodiscard]] Frame line_of(const tell::SupplyRow& row, Weight weight) const {
    Frame made;
    made.box.x1 = pages_.width();
    double right = made.box.x1;
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
    made.box.y1 = std::max(y - 3.9, kBase) + 1.6;
    made.draw(line({0.1, made.box.y1}, {made.box.x1 - 0.1, made.box.y1}), kThin);
    return made;
  }

  const tell::SuppliesSheet& sheet_;
  base::Voice words_;
  const TextMeasure& measure_;
  std::vector<tell::SupplyRow> rows_;
  TextPages pages_;
  std::array<double, 3> widths_{};
};

}  // namespace

std::vector<Drawing> supplies_list(const tell::SuppliesSheet& sheet, const base::Voice& words,
                                   const TextMeasure& measure, Point room) {
  return ListPages(sheet, words, measure, room).drawn();
}

}  // namespace pouchwright::draw
