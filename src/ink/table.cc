#include "ink/table.h"

#include <algorithm>

namespace pouchwright::ink {
namespace {

constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr double kBox = 3.6;
constexpr double kAfterBox = 2;
constexpr double kColumnGap = 3;
/// Over and under a row's words, to its lines.
constexpr double kOver = 1;
constexpr double kUnder = 0.6;
/// Beside the words of a head, to the end of its tint.
constexpr double kTintEdge = 1;

Weight weight_of(const TableRow& row) { return row.is_head ? Weight::bold : Weight::regular; }

std::vector<double> widths_of(const Table& table, const TextMeasure& measure) {
  std::vector<double> widths;
  for (const TableRow& row : table.rows) {
    widths.resize(std::max(widths.size(), row.cells.size()));
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      widths[i] =
          std::max(widths[i], measure.measure(row.cells[i], table.size, weight_of(row)).width);
    }
  }
  return widths;
}

/// The words alone, in the order in which they are read; returns the baseline below them.
double write_cells(Frame& made, const TableRow& row, const std::vector<double>& widths,
                   const Lines& lines, const TextMeasure& measure) {
  const double base = kOver + measure.measure("", lines.size, lines.weight).ascent;
  const double left = kBox + kAfterBox;
  double right = made.box.x1;
  for (std::size_t i = row.cells.size(); i-- > 1;) right -= widths[i] + kColumnGap;
  double below = base + lines.step;
  if (!row.cells.front().empty()) {
    Lines first = lines;
    first.role = Role::row;
    below = made.write_lines(row.cells.front(), {left, base}, right - left, first, measure);
  }
  for (std::size_t i = 1; i < row.cells.size(); ++i) {
    right += kColumnGap + widths[i];
    made.write(row.cells[i], {right - (row.is_head ? kTintEdge : 0), base}, Anchor::end,
               lines.weight, lines.size);
    const bool begins = i == 1 && row.cells.front().empty();
    std::get<Text>(made.items.back()).role = begins ? Role::row : Role::cell;
  }
  return below;
}

Frame frame_of(const TableRow& row, const std::vector<double>& widths, double width, double size,
               const TextMeasure& measure) {
  Frame words{.items = {}, .box = {0, 0, width, 0}};
  const Lines lines{.step = line_distance(size), .weight = weight_of(row), .size = size};
  const double below = write_cells(words, row, widths, lines, measure);
  const double descent = measure.measure("", size, lines.weight).descent;
  words.box.y1 = below - lines.step + descent + kUnder;
  if (row.is_head) {
    Frame made{.items = {}, .box = words.box};
    made.items.emplace_back(Shape{
        .group = Group::label, .path = rectangle(words.box), .fill = Fill::pale, .name = "head"});
    made.place(words, {});
    return made;
  }
  const double middle = kOver + lines.step / 2;
  if (row.has_box) {
    words.draw(rectangle({0.2, middle - kBox / 2, kBox, middle + kBox / 2 - 0.2}), kThin);
  }
  words.draw(line({0.15, words.box.y1}, {width - 0.15, words.box.y1}), kRowRule);
  return words;
}

}  // namespace

std::vector<Frame> rows_of(const Table& table, double width, const TextMeasure& measure) {
  const std::vector<double> widths = widths_of(table, measure);
  std::vector<Frame> frames;
  frames.reserve(table.rows.size());
  for (const TableRow& row : table.rows) {
    frames.push_back(frame_of(row, widths, width, table.size, measure));
  }
  return frames;
}

}  // namespace pouchwright::ink
