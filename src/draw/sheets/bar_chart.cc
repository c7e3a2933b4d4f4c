#include "draw/sheets/bar_chart.h"

#include <algorithm>
#include <utility>

namespace pouchwright::draw {

namespace {

constexpr double kRow = 6.5;
constexpr double kBar = 4;
constexpr double kOverBar = 0.6;
constexpr double kBarOverInterval = 3;
constexpr double kWhite = 2;
/// Of a page's width, for the names at most.
constexpr double kMostOfNames = 0.42;
constexpr Stroke kOutline{LinePattern::continuous, 0.18};
constexpr Stroke kInterval{LinePattern::continuous, 0.35};
constexpr Stroke kLimit{LinePattern::continuous, 0.7};

class Rows {
 public:
  Rows(const BarChart& chart, double width, const TextMeasure& measure)
      : width_(width), measure_(measure) {
    double names = 0;
    double numbers = 0;
    for (const Bar& bar : chart.bars) {
      names = std::max(names, wide(bar.name));
      numbers = std::max(numbers, wide(bar.number));
      for (const double value : {bar.value, bar.high.value_or(0), bar.limit.value_or(0)}) {
        most_ = std::max(most_, value);
      }
    }
    names_ = std::min(names, kMostOfNames * width);
    from_ = names_ + kWhite;
    to_ = std::max(from_ + 1, width - numbers - 2 * kWhite);
  }

  [[nodiscard]] Frame row(const Bar& bar) const {
    Frame made;
    const auto lines =
        broken_into_lines(bar.name, names_, kSmallestSize, Weight::regular, measure_);
    const double step = line_distance(kSmallestSize);
    const double height = std::max(kRow, static_cast<double>(lines.size()) * step + 1.5);
    made.box = {0, 0, width_, height};
    double y = step;
    for (const std::string& line : lines) {
      made.write(line, {0, y});
      y += step;
    }
    draw_bar(made, bar);
    return made;
  }

 private:
  [[nodiscard]] double wide(const std::string& text) const {
    return measure_.measure(text, kSmallestSize, Weight::regular).width;
  }
  [[nodiscard]] double x_of(double value) const {
    return most_ > 0 ? from_ + (to_ - from_) * value / most_ : from_;
  }

  void draw_bar(Frame& made, const Bar& bar) const {
    const double top = bar.low ? kOverBar : (kRow - kBar) / 2;
    const double height = bar.low ? kBarOverInterval : kBar;
    made.draw(line({from_, 0}, {from_, made.box.y1}), kOutline);
    if (bar.value > 0) {
      made.items.emplace_back(Shape{.group = Group::label,
                                    .path = rectangle({from_, top, x_of(bar.value), top + height}),
                                    .stroke = kOutline,
                                    .fill = bar.stands_out ? Fill::solid : Fill::grey,
                                    .name = "bar"});
    }
    if (bar.low && bar.high) draw_interval(made, *bar.low, *bar.high);
    double end = std::max(x_of(bar.value), x_of(bar.high.value_or(0)));
    if (bar.limit) {
      made.draw(Group::label, line({x_of(*bar.limit), 0.6}, {x_of(*bar.limit), kRow - 0.6}), kLimit,
                "limit");
      end = std::max(end, x_of(*bar.limit));
    }
    made.write(bar.number, {end + kWhite, line_distance(kSmallestSize)});
  }

  /// Below the bar, where it is seen whether the bar is grey or black.
  void draw_interval(Frame& made, double low, double high) const {
    constexpr double kEnd = 0.9;
    constexpr double kAt = 5;
    Path path = line({x_of(low), kAt}, {x_of(high), kAt});
    append(path, line({x_of(low), kAt - kEnd}, {x_of(low), kAt + kEnd}));
    append(path, line({x_of(high), kAt - kEnd}, {x_of(high), kAt + kEnd}));
    made.draw(Group::label, std::move(path), kInterval, "interval");
  }

  double width_;
  const TextMeasure& measure_;
  double names_ = 0;
  double from_ = 0;
  double to_ = 0;
  double most_ = 0;
};

}  // namespace

void add_bar_chart(TextPages& pages, const BarChart& chart, const TextMeasure& measure) {
  if (chart.bars.empty() && chart.said.empty()) return;
  Paragraphs said{heading(chart.title)};
  for (const std::string& one : chart.said) said.push_back(text_paragraph(one));
  constexpr double kFirstRows = 60;  // a chart begins a page rather than stand at its foot
  pages.make_room(std::min(kFirstRows, pages.height_of_page()));
  pages.add(said);
  const Rows rows(chart, pages.width(), measure);
  bool is_first = true;
  for (const Bar& bar : chart.bars) {
    pages.add(rows.row(bar), std::exchange(is_first, false) ? kPictureGap : 0);
  }
  pages.add_gap(kPictureGap);
}

}  // namespace pouchwright::draw
