#include "draw/sheets/overview.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "draw/full_size/template_words.h"
#include "draw/sheets/scenes.h"
#include "draw/views/finished.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/table.h"
#include "tell/capacity.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

/// The pictures of the pouch, side by side: no higher than this, mm.
constexpr double kPouchHeight = 56;
constexpr double kGap = 4;
/// Narrower, a picture stands below the other.
constexpr double kNarrowestPicture = 70;
/// The table of sizes, and its lines from baseline to baseline.
constexpr double kTableWidth = 116;
constexpr double kTableLine = 5;
/// From the last line of a row to the rule below it.
constexpr double kUnderLine = 1.5;

Frame picture_of(const Drawing& drawing) {
  return {from_top_left(drawing).items, {0, 0, drawing.extent.width(), drawing.extent.height()}};
}

/// A line of the table: what it is, and its lengths, one by the other.
struct SizeRow {
  std::string what;
  std::vector<base::Measure> lengths;
};

std::vector<base::Measure> measured(const std::vector<base::Length>& lengths) {
  std::vector<base::Measure> all;
  for (const base::Length length : lengths) all.push_back({length});
  return all;
}

/// "204 mm × 390 mm". Millimetres that small inches have beside them stand in the next column.
std::string in_words(const SizeRow& row, const base::Voice& words) {
  return base::list_text(row.lengths, " × ", [&](const base::Measure& length) {
    const std::string text = words.text(length);
    return text.substr(0, text.find(" ("));
  });
}
std::string in_other_unit(const SizeRow& row, const base::Voice& words) {
  return base::list_text(row.lengths, " × ",
                         [&](const base::Measure& length) { return words.in_other_unit(length); });
}

class Maker {
 public:
  Maker(const OverviewSheet& sheet, const base::Voice& words, const TextMeasure& measure,
        Point room)
      : sheet_(sheet),
        words_(words),
        measure_(measure),
        pages_("overview", sheet.title, room, TextPages::Columns::one, measure) {}

  Overview made() {
    pages_.add(pictures());
    std::vector<ink::ItemIndex> where = add_tasks();
    add_prints();
    add_facts();
    add_measuring();
    return {pages_.finished(), std::move(where)};
  }

 private:
  // ---- Pictures --------------------------------------------------------------------------------

  /// What it is to become, shut and open.
  [[nodiscard]] Frame pictures() const {
    const bool beside = pages_.width() >= 2 * kNarrowestPicture + kGap;
    const double width = beside ? (pages_.width() - kGap) / 2 : pages_.width();
    const Point room{width, std::min(kPouchHeight, pages_.height_left())};
    Frame made{.items = {}, .box = {0, 0, pages_.width(), 0}};
    Point at;
    const auto place = [&](const Drawing& one, const char* shown) {
      const Frame picture = as_figure(picture_of(one), words_.say(shown));
      made.place(picture, at);
      made.box.y1 = std::max(made.box.y1, at.y + picture.box.y1);
      (beside ? at.x : at.y) += beside ? width + kGap : picture.box.y1 + kGap;
    };
    place(closed_view(*sheet_.pouch, {.room = room, .sizes = true}, words_, measure_),
          "overview-figure-closed");
    place(open_view(*sheet_.pouch, {.room = room}, words_, measure_), "overview-figure-open");
    return made;
  }

  // ---- The day ---------------------------------------------------------------------------------

  /// Returns where each task's page is named.
  std::vector<ink::ItemIndex> add_tasks() {
    if (sheet_.tasks.empty()) return {};
    pages_.add({heading(words_.say("overview-tasks"))});
    ink::Table table{.size = kTextSize};
    for (const OverviewTask& task : sheet_.tasks) {
      table.rows.push_back({.cells = {task.words, task.where}});
    }
    return pages_.add(table);
  }

  /// What is written on or given away is printed anew for the next day.
  void add_prints() {
    if (sheet_.again.empty()) return;
    pages_.add_gap(kGap / 2);
    pages_.add({text_paragraph(words_.say(
        {"overview-again",
         {{"sections", base::Value::List(sheet_.again.begin(), sheet_.again.end())}}}))});
  }

  // ---- What is made ----------------------------------------------------------------------------

  /// The words beside the table, or above it.
  void add_facts() {
    if (pages_.width() < kTableWidth + kNarrowestPicture) {
      pages_.add(facts());
      for (const Frame& row : sizes(pages_.width())) pages_.add(row, 0);
      return;
    }
    Frame table{.items = {}, .box = {0, 0, kTableWidth, 0}};
    for (const Frame& row : sizes(kTableWidth)) {
      table.place(row, {0, table.box.y1});
      table.box.y1 += row.box.y1;
    }
    pages_.add_beside(facts(), table);
  }

  [[nodiscard]] Paragraphs facts() const {
    Paragraphs all = {
        heading(words_.say("overview-made")),
        point(words_.say({sheet_.pouches == 1 ? "overview-batch-one" : "overview-batch",
                          {{"pouches", sheet_.pouches}, {"helpers", sheet_.helpers}}}))};
    if (sheet_.pouch->capacity) {
      all.push_back(point(words_.say(tell::carries_said(*sheet_.pouch->capacity))));
      all.push_back(point(words_.say("overview-measure-how")));
    }
    return all;
  }

  /// How thick a liner is: what the pouch carries hangs on it. Only where the page has room.
  void add_measuring() {
    if (!sheet_.pouch->capacity || sheet_.icons == nullptr) return;
    if (pages_.height_left() < kStackHeight + kGap) return;
    pages_.add(liner_stack_picture(*sheet_.icons));
  }

  /// All lengths in both units.
  [[nodiscard]] std::vector<Frame> sizes(double width) const {
    const std::vector<SizeRow> rows = size_rows();
    double middle = 0;
    double last = 0;
    for (const SizeRow& row : rows) {
      middle = std::max(middle, width_of(in_words(row, words_)));
      last = std::max(last, width_of(in_other_unit(row, words_)));
    }
    Frame head{.items = {}, .box = {0, 0, width, kTableLine + kUnderLine}, .is_heading = true};
    head.write(words_.say("overview-sizes"), {0, kTableLine}, ink::Anchor::start, ink::Weight::bold,
               kTextSize);
    std::vector<Frame> made{head};
    const double second = width - last - kGap;
    for (const SizeRow& row : rows) {
      Frame frame{.items = {}, .box = {0, 0, width, 0}};
      frame.draw(line({0.15, 0}, {width - 0.15, 0}), ink::kRowRule);
      const double base = kTableLine - kUnderLine;
      const double below = frame.write_lines(row.what, {0, base}, second - middle - kGap,
                                             {.step = kTableLine * 0.8}, measure_);
      frame.write(in_words(row, words_), {second, base}, ink::Anchor::end, ink::Weight::bold);
      frame.write(in_other_unit(row, words_), {width, base}, ink::Anchor::end);
      frame.box.y1 = below - kTableLine * 0.8 + kUnderLine;
      made.push_back(std::move(frame));
    }
    return made;
  }

  [[nodiscard]] double width_of(const std::string& words) const {
    return measure_.measure(words, ink::kSmallestSize, ink::Weight::bold).width;
  }

  [[nodiscard]] std::vector<SizeRow> size_rows() const {
    const pouch::Sizes& sizes = sheet_.pouch->sizes;
    std::vector<SizeRow> rows = parts();
    const auto add = [&](const char* key, std::vector<base::Measure> lengths) {
      rows.push_back({words_.say(key), std::move(lengths)});
    };
    add("overview-finished", measured({sizes.finished_width, sizes.depth}));
    if (sizes.flap > base::Length()) {
      add("overview-flap", measured({sizes.flap}));
      if (sizes.lip_drop > base::Length()) add("overview-lip", measured({sizes.lip_drop}));
    }
    const bool has_seam = sheet_.pouch->construction().has_bottom_seam();
    add(has_seam ? "overview-seal-bottom" : "overview-seal", measured({sizes.seal_width}));
    add("overview-sewn", measured({sizes.seam_allowance}));
    // A limit that is the seam itself would read as another length where it is rounded down.
    const bool is_seam = sizes.needle_reach == sizes.seam_allowance;
    add("overview-reach",
        {is_seam ? base::Measure{sizes.needle_reach} : base::at_most(sizes.needle_reach)});
    const base::Length level = tell::fill_read(*sheet_.pouch, words_).test_level;
    if (level > base::Length()) add("overview-water", {base::at_most(level)});
    if (sheet_.pouch->capacity) {
      const pouch::Liners& liners = *sheet_.pouch->request.liners;
      add("overview-liner", measured({liners.width.value, liners.length.value}));
      add("overview-liner-thick", measured({liners.thickness.value}));
    }
    if (level <= base::Length()) rows.push_back({words_.say("overview-no-water"), {}});
    return rows;
  }

  /// What is cut for one pouch; what is bought is on the shopping list.
  [[nodiscard]] std::vector<SizeRow> parts() const {
    std::vector<SizeRow> rows;
    const auto& parts = sheet_.pouch->sizes.parts;
    for (const pouch::CutPart& part : parts) {
      if (part.cloth == pouch::ClothKind::bought) continue;
      const std::string what =
          parts.size() == 1
              ? words_.say("overview-cut")
              : words_.say({"overview-cut-part",
                            {{"part", tell::part_name(part.name, words_)}, {"count", part.count}}});
      rows.push_back({what, measured({part.width, part.length})});
    }
    return rows;
  }

  const OverviewSheet& sheet_;
  base::Voice words_;
  const TextMeasure& measure_;
  TextPages pages_;
};

}  // namespace

Overview overview(const OverviewSheet& sheet, const base::Voice& words, const TextMeasure& measure,
                  Point room) {
  return Maker(sheet, words, measure, room).made();
}

}  // namespace pouchwright::draw
