#include "draw/sheets/overview.h"

#include <algorithm>
#include <utility>

#include "draw/folds/picture.h"
#include "draw/full_size/template_words.h"
#include "draw/sheets/content.h"
#include "draw/sheets/scenes.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "tell/capacity.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

/// Of the finished pouch: no wider than this, mm across and down.
constexpr Point kPouchRoom{86, 64};
/// Of the liners in the pouch: no higher than this.
constexpr double kContentHeight = 110;

Frame picture_of(const Drawing& drawing) {
  return {from_top_left(drawing).items, {0, 0, drawing.extent.width(), drawing.extent.height()}};
}

class Maker {
 public:
  Maker(const OverviewSheet& sheet, const base::Voice& words, const TextMeasure& measure,
        Point room)
      : sheet_(sheet),
        words_(words),
        measure_(measure),
        room_(room),
        pages_("overview", sheet.title, room, TextPages::Columns::one, measure) {}

  Overview made() {
    const Point room{std::min(kPouchRoom.x, room_.x), kPouchRoom.y};
    pages_.add_beside(facts(), pictures(room));
    std::vector<ink::ItemIndex> where = add_tasks();
    add_content();
    return {pages_.finished(), std::move(where)};
  }

 private:
  [[nodiscard]] std::string both(base::Length length) const { return in_both(length, words_); }
  [[nodiscard]] std::string at_most(base::Length length) const {
    return at_most_in_both(length, words_);
  }

  [[nodiscard]] Paragraphs facts() const {
    const pouch::Sizes& sizes = sheet_.pouch->sizes;
    Paragraphs all = {
        heading(words_.say("overview-sizes")),
        point(words_.say({sheet_.pouches == 1 ? "overview-batch-one" : "overview-batch",
                          {{"pouches", sheet_.pouches}, {"helpers", sheet_.helpers}}}))};
    add_parts(all);
    all.push_back(
        point(words_.say({"overview-finished",
                          {{"width", both(sizes.finished_width)}, {"depth", both(sizes.depth)}}})));
    if (sizes.flap > base::Length()) {
      std::string flap = words_.say({"overview-flap", {{"flap", both(sizes.flap)}}});
      if (sizes.lip_drop > base::Length()) {
        flap += " " + words_.say({"overview-lip", {{"drop", both(sizes.lip_drop)}}});
      }
      all.push_back(point(std::move(flap)));
    }
    const bool has_seam = sheet_.pouch->construction().has_bottom_seam();
    all.push_back(point(words_.say({has_seam ? "overview-seal-bottom" : "overview-seal",
                                    {{"seal", both(sizes.seal_width)}}})));
    all.push_back(sewn());
    all.push_back(water());
    if (sheet_.pouch->capacity) {
      all.push_back(point(words_.say(tell::carries_said(*sheet_.pouch->capacity))));
      const pouch::Liners& liners = *sheet_.pouch->request.liners;
      all.push_back(point(words_.say({"overview-liner",
                                      {{"width", both(liners.width.value)},
                                       {"length", both(liners.length.value)},
                                       {"thickness", both(liners.thickness.value)}}})));
      all.push_back(point(words_.say("overview-measure-how")));
    }
    return all;
  }

  /// What is cut for one pouch; what is bought is on the shopping list.
  void add_parts(Paragraphs& all) const {
    const auto& parts = sheet_.pouch->sizes.parts;
    for (const pouch::CutPart& part : parts) {
      if (part.cloth == pouch::ClothKind::bought) continue;
      const std::string width = both(part.width);
      const std::string length = both(part.length);
      all.push_back(point(parts.size() == 1
                              ? words_.say({"overview-cut", {{"width", width}, {"length", length}}})
                              : words_.say({"overview-cut-part",
                                            {{"part", tell::part_name(part.name, words_)},
                                             {"count", part.count},
                                             {"width", width},
                                             {"length", length}}})));
    }
  }

  /// A limit that is the seam itself would read as another length where it is rounded down.
  [[nodiscard]] Paragraph sewn() const {
    const pouch::Sizes& sizes = sheet_.pouch->sizes;
    const base::Message::Values values = {{"allowance", both(sizes.seam_allowance)},
                                          {"reach", at_most(sizes.needle_reach)}};
    const bool is_seam = sizes.needle_reach == sizes.seam_allowance;
    return point(words_.say({is_seam ? "overview-sewn-limit" : "overview-sewn", values}));
  }

  [[nodiscard]] Paragraph water() const {
    const base::Length level = tell::fill_read(*sheet_.pouch, words_).test_level;
    if (level <= base::Length()) return point(words_.say("overview-no-water"));
    return point(words_.say({"overview-water", {{"water", at_most(level)}}}));
  }

  /// Returns where each task's page is named.
  std::vector<ink::ItemIndex> add_tasks() {
    if (sheet_.tasks.empty()) return {};
    pages_.add({heading(words_.say("overview-tasks"))});
    ink::Table table;
    for (const OverviewTask& task : sheet_.tasks) {
      table.rows.push_back({.cells = {task.words, task.where}});
    }
    return pages_.add(table);
  }

  /// The finished pouch, and below it how thick a liner is: what the pouch carries hangs on it.
  [[nodiscard]] Frame pictures(Point room) const {
    Frame made = picture_of(finished_picture(*sheet_.pouch, room, words_, measure_));
    if (!sheet_.pouch->capacity || sheet_.icons == nullptr) return made;
    constexpr double kGap = 3;
    constexpr double kCaption = 4.5;
    const double caption = made.box.y1 + kGap + kCaption;
    made.write(words_.say("overview-measure"), {0, caption}, ink::Anchor::start, ink::Weight::bold);
    made.place(liner_stack_picture(*sheet_.icons), {0, caption + kGap / 2});
    made.box.x1 = std::max(made.box.x1, kStackWidth);
    made.box.y1 = caption + kGap / 2 + kStackHeight;
    return made;
  }

  /// What is to go in, where the page has room for it.
  void add_content() {
    constexpr double kGap = 4;
    const double height = std::min(kContentHeight, pages_.height_left() - kGap);
    if (height < kLeastPictureRoom.y || pages_.width() < kLeastPictureRoom.x) return;
    for (const Drawing& one : content_picture(*sheet_.pouch, words_, measure_,
                                              {pages_.width(), height}, NamedBy::page)) {
      pages_.add(picture_of(one), kGap);
    }
  }

  const OverviewSheet& sheet_;
  base::Voice words_;
  const TextMeasure& measure_;
  Point room_;
  TextPages pages_;
};

}  // namespace

Overview overview(const OverviewSheet& sheet, const base::Voice& words, const TextMeasure& measure,
                  Point room) {
  return Maker(sheet, words, measure, room).made();
}

}  // namespace pouchwright::draw
