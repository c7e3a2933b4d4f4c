#include "draw/sheets/steps.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "draw/folds/cut_through.h"
#include "draw/folds/from_above.h"
#include "draw/folds/step_icons.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/icons.h"
#include "ink/labels.h"
#include "tell/names.h"
#include "tell/step_list.h"
#include "tell/steps.h"

namespace pouchwright::draw {
namespace {

constexpr double kColumnGap = 6;
constexpr double kRowGap = 5;
/// White right of a step's number.
constexpr double kAfterNumber = 3;
constexpr double kNumberSize = 16 * 25.4 / 72;
constexpr double kIcon = 9;
constexpr double kIconStep = 11;
/// Between a step's words and its picture.
constexpr double kUnderWords = 2.5;
/// The highest picture is drawn between these, mm of paper.
constexpr double kLowestPicture = 26;
constexpr double kHighestPicture = 88;
/// The widest panel is drawn no wider than this.
constexpr double kWidestPlan = 60;
constexpr int kScaleRounds = 12;
constexpr Stroke kRule{LinePattern::continuous, 0.13};

/// A step, ready to be put on a page.
struct Cell {
  Frame head;  ///< number, and words or icons; top left corner at 0, 0
  Drawing picture;
};

struct Page {
  std::vector<Item> items;
  double bottom = 0;
};

Text plain(std::string words, double size, Weight weight) {
  return label(std::move(words), size, weight);
}

class StepsSheet {
 public:
  StepsSheet(const pouch::Pouch& pouch, const StepsLook& look, const Icons& icons,
             const base::Voice& words, const TextMeasure& measure)
      : pouch_(pouch),
        look_(look),
        icons_(icons),
        words_(words),
        measure_(measure),
        steps_(tell::assembly_steps(pouch)),
        number_width_(
            measure.measure(std::to_string(steps_.size()), kNumberSize, Weight::bold).width +
            kAfterNumber) {}

  std::vector<Drawing> drawn() {
    std::optional<Plan> best;
    for (const int columns : {2, 3, 1}) {
      auto plan = largest(columns);
      if (plan && (!best || plan->scale > best->scale)) best = std::move(plan);
    }
    if (!best) best = longer();
    return finished(std::move(best->pages));
  }

 private:
  /// Paper mm for a mm of cloth at which the highest picture is `height` high.
  [[nodiscard]] double scale_for(double height) const {
    double tallest = 0;
    for (const tell::AssemblyStep& step : steps_) {
      const std::vector<base::Length> breaks = step.moment.folded.breaks();
      tallest = std::max(tallest, (breaks.back() - breaks.front()).in_mm());
    }
    return std::min(height / tallest, kWidestPlan / pouch_.sizes.cut_width.in_mm());
  }

  struct Plan {
    double scale = 0;
    std::vector<Page> pages;
  };

  /// The largest pictures at which all steps find room on kStepsPages.
  [[nodiscard]] std::optional<Plan> largest(int columns) const {
    const auto at = [&](double height) -> std::optional<Plan> {
      auto pages = laid_out(columns, scale_for(height));
      if (!pages || pages->size() > kStepsPages) return std::nullopt;
      return Plan{scale_for(height), std::move(*pages)};
    };
    std::optional<Plan> best = at(kLowestPicture);
    double low = kLowestPicture;
    double high = kHighestPicture;
    for (int round = 0; best && round < kScaleRounds; ++round) {
      const double height = (low + high) / 2;
      auto plan = at(height);
      (plan ? low : high) = height;
      if (plan) best = std::move(plan);
    }
    return best;
  }

  /// More pages than planned for: the fewest with the smallest pictures. In a room too narrow for
  /// any, the pictures shrink further, until there is nothing left to shrink.
  [[nodiscard]] Plan longer() const {
    for (double height = kLowestPicture; height > 1; height *= 0.8) {
      std::optional<Plan> best;
      for (const int columns : {1, 2, 3}) {
        auto pages = laid_out(columns, scale_for(height));
        if (!pages || (best && best->pages.size() <= pages->size())) continue;
        best = Plan{scale_for(height), std::move(*pages)};
      }
      if (best) return std::move(*best);
    }
    return {};
  }

  [[nodiscard]] double cell_width(int columns) const {
    return (look_.room.x - (columns - 1) * kColumnGap) / columns;
  }

  /// Empty where a picture is wider than its column.
  [[nodiscard]] std::optional<std::vector<Page>> laid_out(int columns, double scale) const {
    const double width = cell_width(columns);
    std::vector<Cell> cells;
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      cells.push_back(cell(i, width, scale));
      if (cells.back().picture.extent.width() > width) return std::nullopt;
    }
    double indent = number_width_;
    for (const Cell& one : cells) {
      indent = std::min(indent, width - one.picture.extent.width());
    }
    std::vector<Page> pages;
    for (std::size_t from = 0; from < cells.size(); from += static_cast<std::size_t>(columns)) {
      const std::size_t to = std::min(cells.size(), from + static_cast<std::size_t>(columns));
      add_row(pages, cells, {from, to, width, indent});
    }
    return pages;
  }

  /// Cells side by side: their first and the one after the last, and how far pictures stand in.
  struct CellRow {
    std::size_t from, to;
    double width;
    double indent;
  };

  /// A row of steps below the last one, or on a new page.
  void add_row(std::vector<Page>& pages, const std::vector<Cell>& cells, const CellRow& row) const {
    double head = 0;
    double picture = 0;
    for (std::size_t i = row.from; i < row.to; ++i) {
      head = std::max(head, cells[i].head.box.y1);
      picture = std::max(picture, cells[i].picture.extent.height());
    }
    const double height = head + kUnderWords + picture;
    if (pages.empty() || pages.back().bottom + kRowGap + height > look_.room.y) {
      pages.push_back(new_page(pages.size()));
    } else {
      const double y = pages.back().bottom + kRowGap / 2;
      pages.back().items.emplace_back(rule({0, y}, {look_.room.x, y}));
    }
    Page& page = pages.back();
    const double top = page.bottom + (page.items.empty() ? 0 : kRowGap);
    for (std::size_t i = row.from; i < row.to; ++i) {
      const double left = static_cast<double>(i - row.from) * (row.width + kColumnGap);
      put(page, cells[i].head.items, {left, top});
      const Box& box = cells[i].picture.extent;
      put(page, cells[i].picture.items,
          {left + row.indent - box.x0, top + head + kUnderWords - box.y0});
    }
    page.bottom = top + height;
  }

  static void put(Page& page, const std::vector<Item>& items, Point by) {
    for (const Item& item : items) page.items.push_back(moved(item, by));
  }

  static Shape rule(Point from, Point to) {
    return {.group = Group::label,
            .path = line(from, to),
            .stroke = kRule,
            .fill = Fill::none,
            .name = "rule"};
  }

  // ---- One step --------------------------------------------------------------------------------

  [[nodiscard]] Cell cell(std::size_t index, double width, double scale) const {
    const tell::AssemblyStep& step = steps_[index];
    Cell result;
    result.head =
        look_.wording == Wording::words ? words_head(step, width) : icons_head(step, width);
    const Text number = with_top_left(plain(std::to_string(index + 1), kNumberSize, Weight::bold),
                                      {0, 0}, measure_);
    result.head.items.emplace_back(number);
    result.head.box.y1 = std::max(result.head.box.y1, bounds(number, measure_).y1);
    result.picture = fold_picture(pouch_, step.moment, {.scale = scale, .wording = look_.wording},
                                  icons_, words_, measure_);
    return result;
  }

  [[nodiscard]] Frame words_head(const tell::AssemblyStep& step, double width) const {
    Frame block = ink::laid_out(tell::step_words(pouch_, step, look_.facts, words_),
                                width - number_width_, 1, measure_);
    return moved(std::move(block), {number_width_, 0});
  }

  [[nodiscard]] Frame icons_head(const tell::AssemblyStep& step, double width) const {
    Frame block;
    double x = number_width_;
    double y = 0;
    for (const StepIcon& one : step_icons(pouch_, step)) {
      if (x + kIcon > width && x > number_width_) {
        x = number_width_;
        y += kIconStep;
      }
      const Box box{x, y, x + kIcon, y + kIcon};
      for (Shape& shape :
           one.never ? forbidden(icons_, one.icon, box) : icon(icons_, one.icon, box)) {
        block.items.emplace_back(std::move(shape));
      }
      x += kIconStep;
      block.box = {0, 0, width, y + kIcon};
    }
    return block;
  }

  // ---- The page --------------------------------------------------------------------------------

  [[nodiscard]] Page new_page(std::size_t number) const {
    Page page;
    if (look_.wording == Wording::wordless) return page;
    Block head{{.words = title(), .size = kTitleSize, .weight = Weight::bold}};
    if (number == 0) head.push_back({.words = words_.say("steps-views"), .space_before = 1});
    const Frame block = ink::laid_out(head, look_.room.x, 1, measure_);
    page.items = block.items;
    page.bottom = block.box.y1;
    if (number == 0) add_legend(page);
    return page;
  }

  [[nodiscard]] std::string title() const {
    return words_.say({"steps-title", {{"title", tell::title_of(pouch_, words_)}}});
  }

  /// What the lines mean, in as many columns as there is room for.
  void add_legend(Page& page) const {
    const std::vector<Row> rows = legend_rows();
    const std::size_t columns = 3;
    const double width = (look_.room.x - 2 * kColumnGap) / columns;
    const double top = page.bottom + 2;
    double bottom = top;
    for (std::size_t column = 0; column < columns; ++column) {
      double y = top;
      for (std::size_t i = column; i < rows.size(); i += columns) {
        const Frame block = ink::laid_out({rows[i]}, width, 1, measure_);
        put(page, block.items,
            {static_cast<double>(column) * (width + kColumnGap), y - block.box.y0});
        y += block.box.height() + 0.8;
      }
      bottom = std::max(bottom, y);
    }
    page.bottom = bottom;
  }

  [[nodiscard]] std::vector<Row> legend_rows() const {
    std::vector<Row> rows;
    const auto add = [&](const char* key, std::vector<Shape> sample) {
      rows.push_back(
          {.words = words_.say(key), .size = kTextSize, .indent = 12, .sample = std::move(sample)});
    };
    add("steps-line-film", {sample(kFilmStroke)});
    add("steps-line-knit", {sample(kKnitStroke)});
    if (pouch_.request.outer) {
      add(pouch_.request.lining ? "steps-line-outer-lining" : "steps-line-outer",
          {sample(kOuterStroke)});
    } else if (pouch_.request.lining) {
      add("steps-line-lining", {sample(kOuterStroke)});
    }
    add("steps-line-fold", {sample(kPlanFoldStroke)});
    add("steps-line-hidden", {sample({LinePattern::dotted, 0.5})});
    add("steps-line-film-up", dots());
    add("steps-line-press", band());
    add("steps-line-clip", {clip()});
    add("steps-line-sew", {sample({LinePattern::dashed, 0.35})});
    return rows;
  }

  static Shape sample(Stroke stroke, double y = 0) {
    return {.group = Group::label,
            .path = line({0.5, y}, {9.5, y}),
            .stroke = stroke,
            .fill = Fill::none,
            .name = "sample"};
  }
  static Shape clip() {
    return {.group = Group::label,
            .path = rectangle({4.2, -1.4, 5.8, 1.4}),
            .stroke = std::nullopt,
            .fill = Fill::solid,
            .name = "sample"};
  }
  static std::vector<Shape> dots() {
    std::vector<Shape> rows;
    for (const double y : {-1.5, 0.0, 1.5}) rows.push_back(sample({LinePattern::dotted, 0.25}, y));
    return rows;
  }
  static std::vector<Shape> band() {
    const Box box{0.5, -1.3, 9.5, 1.3};
    Shape frame = sample({LinePattern::continuous, 0.25});
    Shape lines = frame;
    frame.path = rectangle(box);
    lines.path = hatch(box, 0.8);
    return {frame, lines};
  }

  [[nodiscard]] std::vector<Drawing> finished(std::vector<Page> pages) const {
    std::vector<Drawing> result;
    for (Page& page : pages) {
      Drawing drawing;
      drawing.name = "steps";
      drawing.title = title();
      drawing.extent = {0, 0, look_.room.x, std::max(page.bottom, 1.0)};
      drawing.items = std::move(page.items);
      result.push_back(std::move(drawing));
    }
    return result;
  }

  const pouch::Pouch& pouch_;
  const StepsLook& look_;
  const Icons& icons_;
  base::Voice words_;
  const TextMeasure& measure_;
  std::vector<tell::AssemblyStep> steps_;
  double number_width_;
};

}  // namespace

std::vector<Drawing> steps_sheet(const pouch::Pouch& pouch, const StepsLook& look,
                                 const Icons& icons, const base::Voice& words,
                                 const TextMeasure& measure) {
  return StepsSheet(pouch, look, icons, words, measure).drawn();
}

}  // namespace pouchwright::draw
