#include "ink/table.h"

#include <algorithm>

namespace pouchwright::ink {
namespace {

constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr double kBox = 3.6;
constexpr double kAfterBox = 2;
constexpr double kColumnGap = 4;
/// From a row's top to its first baseline, and from baseline to baseline, in ems.
constexpr double kBase = 1.13;
constexpr double kLine = 1.22;
/// From the last baseline to the line below a row, and from there to the next row.
constexpr double kUnder = 1.6;
constexpr double kRowGap = 1;

std::vector<double> widths_of(const Table& table, const TextMeasure& measure) {
  std::vector<double> widths;
  for (const TableRow& row : table.rows) {
    widths.resize(std::max(widths.size(), row.cells.size()));
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      widths[i] = std::max(widths[i], measure.measure(row.cells[i], table.size, row.weight).width);
    }
  }
  return widths;
}

Frame frame_of(const TableRow& row, const std::vector<double>& widths, double width, double size,
               const TextMeasure& measure) {
  const double base = kRowGap + kBase * size;
  Frame made{.items = {}, .box = {0, 0, width, 0}};
  double right = width;
  for (std::size_t i = row.cells.size(); i-- > 1;) {
    made.write(row.cells[i], {right, base}, Anchor::end, row.weight, size);
    right -= widths[i] + kColumnGap;
  }
  const double left = kBox + kAfterBox;
  const double below =
      made.write_lines(row.cells.front(), {left, base}, right - left,
                       {.step = kLine * size, .weight = row.weight, .size = size}, measure);
  if (row.has_box) made.draw(rectangle({0.2, base - kBox + 0.4, kBox, base + 0.2}), kThin);
  made.box.y1 = std::max(below - kLine * size, base) + kUnder;
  made.draw(line({0.1, made.box.y1}, {width - 0.1, made.box.y1}), kThin);
  return made;
}

}  // namespace

std::vector<Frame> rows_of(const Table& table, double width, const TextMeasure& measure) {
  const std::vector<double> widths = widths_of(table, measure);
  std::vector<Frame> frames;
  frames.reserve(table.rows.size());
  for (const TableRow& row : table.rows)
    frames.push_back(frame_of(row, widths, width, table.size, measure));
  return frames;
}

}  // namespace pouchwright::ink
