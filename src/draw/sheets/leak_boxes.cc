#include "draw/sheets/leak_boxes.h"

#include <algorithm>
#include <utility>

namespace pouchwright::draw {
namespace {

constexpr Stroke kThin{LinePattern::continuous, 0.18};

constexpr double kRow = 8;
constexpr double kBox = 4;

struct Grid {
  double across = 0;  ///< of all columns
  int columns = 1;
  double cell = 0;
  double number = 0;  ///< what the number takes of a cell

  [[nodiscard]] double half() const { return (cell - number - 2) / 2; }
};

/// Columns wide enough for a number and the words over both boxes.
Grid grid(const std::vector<std::string>& names, double across, const base::Voice& words,
          const TextMeasure& measure) {
  double widest = kBox;
  for (const char* key : {"leak-holds", "leak-leaks"}) {
    widest =
        std::max(widest, measure.measure(words.say(key), kSmallestSize, Weight::regular).width);
  }
  Grid made{.across = across};
  for (const std::string& name : {names.front(), names.back()}) {
    made.number =
        std::max(made.number, measure.measure(name, kSmallestSize, Weight::regular).width + 2.5);
  }
  const double least = made.number + 2 * (widest + 2) + 2;
  made.columns = std::max(1, static_cast<int>(across / least));
  made.cell = across / made.columns;
  return made;
}

/// Who tested, and when.
Frame signature(double across, const base::Voice& words, const TextMeasure& measure) {
  constexpr double kLongestLine = 50;
  constexpr double kGap = 4;
  const std::vector<std::string> names{words.say("leak-tested-by"), words.say("leak-tested-on")};
  const double half = (across - kGap) / 2;
  Frame made;
  made.box = {0, 0, across, kRow};
  double x = 0;
  for (const std::string& name : names) {
    const double from = measure.measure(name, kSmallestSize, Weight::regular).width + 2;
    const double to = std::min(half, from + kLongestLine);
    made.write(name, {x, kRow - 2});
    if (to > from) made.draw(line({x + from, kRow - 1.5}, {x + to, kRow - 1.5}), kThin);
    x += to + kGap;
  }
  return made;
}

void head(Frame& picture, double x, const Grid& grid, const base::Voice& words) {
  const double box = grid.half();
  x += grid.number;
  picture.write(words.say("leak-holds"), {x + box / 2, kRow - 2}, Anchor::middle);
  picture.write(words.say("leak-leaks"), {x + box * 1.5, kRow - 2}, Anchor::middle);
}

void one(Frame& picture, const std::string& name, Point at, const Grid& grid) {
  const double middle = at.y + kRow / 2;
  const double box = grid.half();
  const double left = at.x + grid.number;
  picture.write(name, {left - 1.5, middle + 1}, Anchor::end);
  for (const double centre : {left + box / 2, left + box * 1.5}) {
    picture.draw(
        rectangle({centre - kBox / 2, middle - kBox / 2, centre + kBox / 2, middle + kBox / 2}),
        kThin);
  }
  picture.draw(line({at.x + 1, at.y + kRow}, {at.x + grid.cell - 1, at.y + kRow}),
               {LinePattern::dotted, 0.18});
}

/// Numbers run down the columns of the piece.
Frame tick_rows(const Grid& grid, const std::vector<std::string>& names, int first_row, int rows,
                const base::Voice& words) {
  Frame made;
  made.box = {0, 0, grid.across, (rows + 1) * kRow};
  const int begin = first_row * grid.columns;
  const int end = std::min(static_cast<int>(names.size()), begin + rows * grid.columns);
  const int used_rows = std::max(1, (end - begin + grid.columns - 1) / grid.columns);
  for (int i = begin; i < end; ++i) {
    const int column = (i - begin) / used_rows;
    const int row = (i - begin) % used_rows;
    const double x = column * grid.cell;
    if (row == 0) head(made, x, grid, words);
    one(made, names[static_cast<std::size_t>(i)], {x, (row + 1) * kRow}, grid);
  }
  return made;
}

}  // namespace

void add_boxes(TextPages& pages, const std::vector<std::string>& names, const Paragraphs& told,
               const base::Voice& words, const TextMeasure& measure) {
  const Grid made = grid(names, pages.width(), words, measure);
  const int count = static_cast<int>(names.size());
  const int rows = (count + made.columns - 1) / made.columns;
  // The form stands on one page where one holds it: its heading stays with all of its boxes.
  pages.make_room(std::min((rows + 10) * kRow, pages.height_of_page()));
  pages.add(told);
  pages.add(signature(pages.width(), words, measure));
  int row = 0;
  while (row < rows) {
    // The head takes a row of its own.
    const int fit = static_cast<int>((pages.height_left() - 4) / kRow) - 1;
    const int most = static_cast<int>((pages.height_of_page() - 4) / kRow) - 1;
    const int here = std::min(rows - row, std::max(1, fit > 0 ? fit : most));
    pages.add(tick_rows(made, names, row, here, words));
    row += here;
  }
}

void add_boxes_again(TextPages& pages, const base::Voice& words, const TextMeasure& measure) {
  constexpr int kLines = 3;
  constexpr double kNumberLine = 20;
  const auto wide = [&](const std::string& text) {
    return measure.measure(text, kSmallestSize, Weight::regular).width;
  };
  const std::string told = words.say("leak-again");
  const double x = wide(told) + 2;
  const double boxes =
      wide(words.say("leak-holds")) + wide(words.say("leak-leaks")) + 2 * (kBox + 1.5) + 5;
  const bool below = x + kNumberLine + 4 + boxes > pages.width();
  const double line_end = std::min(x + kNumberLine, pages.width());
  Frame made;
  made.box = {0, 0, pages.width(), kLines * kRow * (below ? 2 : 1)};
  double y = 0;
  for (int i = 0; i < kLines; ++i) {
    y += kRow;
    made.write(told, {0, y - 2});
    if (line_end > x) made.draw(line({x, y - 1.5}, {line_end, y - 1.5}), kThin);
    if (below) y += kRow;
    double at = below ? 0 : line_end + 4;
    for (const char* key : {"leak-holds", "leak-leaks"}) {
      const std::string word = words.say(key);
      made.write(word, {at, y - 2});
      at += wide(word) + 1.5;
      made.draw(rectangle({at, y - 1.5 - kBox, at + kBox, y - 1.5}), kThin);
      at += kBox + 5;
    }
  }
  pages.add(std::move(made));
}

}  // namespace pouchwright::draw
