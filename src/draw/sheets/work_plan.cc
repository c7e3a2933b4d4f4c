#include "draw/sheets/work_plan.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/number.h"
#include "batch/work/stretches.h"
#include "draw/sheets/work_plan_heading.h"
#include "ink/labels.h"
#include "tell/work.h"

namespace pouchwright::draw {

using batch::Station;
using batch::Task;
using batch::Time;

namespace {

constexpr Stroke kAxisStroke{LinePattern::continuous, 0.25};
constexpr Stroke kGridStroke{LinePattern::dotted, 0.25};
constexpr Stroke kPatternStroke{LinePattern::continuous, 0.18};
constexpr double kRowHeight = 6.6;
/// A bar: words in its upper part, the station's pattern in its lower.
constexpr double kBarHeight = 5.8;
/// Left of the bars, for the helper's number, and for names at most.
constexpr double kLeft = 20;
constexpr double kMostLeft = 45;
constexpr double kAxisHeight = 5.2;
constexpr double kGap = 2.6;
/// A bar as usual as any other is to be so wide that its words have room.
constexpr double kUsualBar = 11;
/// Bands are made longer rather than fill more than so many pages.
constexpr int kMostPages = 8;

/// A stretch of time that one band shows, and how far its marks are apart.
struct Scale {
  Time band{};
  Time mark{};
};

class Chart {
 public:
  Chart(const ScheduleToDraw& drawn, const base::Voice& words, const TextMeasure& measure,
        Point room)
      : line_(*drawn.line),
        plan_(*drawn.plan),
        drawn_(drawn),
        words_(words),
        measure_(measure),
        room_(room),
        left_(left_of_bars()),
        bars_(room.x - left_ - kRight),
        stretches_(batch::stretches(plan_)) {
    for (std::size_t i = 0; i < stretches_.size(); ++i) {
      if (!stretches_[i].empty()) rows_.push_back(i);
    }
  }

  std::vector<Frame> strips() {
    AroundBars around = work_plan_heading(drawn_, words_, measure_, room_.x);
    std::vector<Frame> result = std::move(around.above);
    result.back().box.y1 += kGap;
    const Scale scale = chosen_scale(result);
    for (Time from{}; from < plan_.finish; from += scale.band) {
      for (std::size_t row = 0; row < rows_.size(); row += most_rows()) {
        result.push_back(band(from, scale, row, std::min(rows_.size(), row + most_rows())));
      }
    }
    for (Frame& strip : around.below) result.push_back(std::move(strip));
    return result;
  }

 private:
  [[nodiscard]] double width_of(const std::string& text) const {
    return measure_.measure(text, kSmallestSize, Weight::regular).width;
  }

  [[nodiscard]] double left_of_bars() const {
    double left = kLeft;
    for (std::size_t i = 0; i < plan_.loads.size(); ++i) {
      left = std::max(left, width_of(tell::helper_called(line_, i, words_)) + 2);
    }
    return std::min(left, kMostLeft);
  }

  // ---- Bands -----------------------------------------------------------------------------------

  [[nodiscard]] std::size_t most_rows() const {
    const double rows = (room_.y - kAxisHeight - kGap - kPlanLine) / kRowHeight;
    return std::max(std::size_t{1}, static_cast<std::size_t>(rows));
  }

  [[nodiscard]] double band_height(std::size_t rows) const {
    return kAxisHeight + static_cast<double>(rows) * kRowHeight + kGap;
  }

  /// Bands short enough for the words of a usual bar, if they fill no more than kMostPages.
  [[nodiscard]] Scale chosen_scale(const std::vector<Frame>& above) const {
    double taken = 0;
    for (const Frame& strip : above) taken += strip.box.y1;
    const double height = band_height(rows_.size());
    const auto on = [height](double room) { return std::floor(std::max(0.0, room) / height); };
    double most = on(room_.y - taken) + (kMostPages - 1) * on(room_.y);
    most = std::max(1.0, most);
    const double usual = static_cast<double>(usual_bar().in_ms());
    const double wanted = static_cast<double>(plan_.finish.in_ms()) * kUsualBar / usual / bars_;
    const auto bands = static_cast<std::int64_t>(std::clamp(std::ceil(wanted), 1.0, most));
    return scale_of((plan_.finish.in_ms() + bands - 1) / bands);
  }

  [[nodiscard]] Time usual_bar() const {
    std::vector<Time> lengths = {Time::ms(1)};
    for (const auto& own : stretches_) {
      for (const batch::Stretch& one : own) lengths.push_back(one.end - one.first.start);
    }
    std::nth_element(lengths.begin(),
                     lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2),
                     lengths.end());
    return std::max(Time::ms(1), lengths[lengths.size() / 2]);
  }

  /// A band of at least `least` milliseconds, of whole marks that stand far enough apart.
  [[nodiscard]] Scale scale_of(std::int64_t least) const {
    static constexpr std::array<int, 12> kMarks = {1,  2,  5,   10,  15,  20,
                                                   30, 60, 120, 240, 480, 1440};
    constexpr std::int64_t kMinute = 60'000;
    constexpr double kApart = 14;
    std::int64_t mark = kMinute * kMarks.back();
    for (const int minutes : kMarks) {
      const double apart =
          bars_ * static_cast<double>(kMinute * minutes) / static_cast<double>(least);
      if (apart < kApart) continue;
      mark = kMinute * minutes;
      break;
    }
    return {Time::ms((least + mark - 1) / mark * mark), Time::ms(mark)};
  }

  [[nodiscard]] Frame band(Time from, const Scale& scale, std::size_t first_row,
                           std::size_t last_row) const {
    Frame strip;
    const double bottom = kAxisHeight + static_cast<double>(last_row - first_row) * kRowHeight;
    for (Time at = from; at <= from + scale.band; at += scale.mark) {
      const double x = x_of(at, from, scale);
      const Anchor anchor = at == from + scale.band ? Anchor::end : Anchor::middle;
      strip.write(tell::clock_time(at, words_), {x, kAxisHeight - 2}, anchor);
      strip.draw(Group::fold, line({x, kAxisHeight - 1}, {x, kAxisHeight}), kAxisStroke, "time");
    }
    for (std::size_t row = first_row; row < last_row; ++row) {
      const double top = kAxisHeight + static_cast<double>(row - first_row) * kRowHeight;
      strip.write(tell::helper_called(line_, rows_[row], words_), {0, top + kRowHeight / 2 + 1},
                  Anchor::start);
      grid(strip, stretches_[rows_[row]], from, scale, top);
      for (const batch::Stretch& one : stretches_[rows_[row]]) {
        if (one.end > from && one.first.start < from + scale.band) {
          bar(strip, one, from, scale, top + (kRowHeight - kBarHeight) / 2);
        }
      }
    }
    strip.draw(Group::fold, line({left_, bottom}, {left_ + bars_, bottom}), kAxisStroke, "axis");
    strip.box.y1 = bottom + kGap;
    const Time to = std::min(from + scale.band, plan_.finish);
    return as_figure(std::move(strip), words_.say({"schedule-figure",
                                                   {{"from", tell::clock_time(from, words_)},
                                                    {"to", tell::clock_time(to, words_)}}}));
  }

  /// The marks' lines through one row, not through its bars: their words are there.
  void grid(Frame& strip, const std::vector<batch::Stretch>& own, Time from, const Scale& scale,
            double top) const {
    for (Time at = from; at <= from + scale.band; at += scale.mark) {
      const bool is_end = at == from || at == from + scale.band;
      const bool is_covered = std::any_of(own.begin(), own.end(), [at](const batch::Stretch& one) {
        return one.first.start <= at && at <= one.end;
      });
      if (is_covered && !is_end) continue;
      const double x = x_of(at, from, scale);
      strip.draw(Group::fold, line({x, top}, {x, top + kRowHeight}),
                 is_end ? kAxisStroke : kGridStroke, "time");
    }
  }

  [[nodiscard]] double x_of(Time at, Time from, const Scale& scale) const {
    const Time inside = std::clamp(at - from, Time(), scale.band);
    return left_ +
           bars_ * static_cast<double>(inside.in_ms()) / static_cast<double>(scale.band.in_ms());
  }

  void bar(Frame& strip, const batch::Stretch& one, Time from, const Scale& scale,
           double top) const {
    const Box box{x_of(one.first.start, from, scale), top, x_of(one.end, from, scale),
                  top + kBarHeight};
    const double split = box.y1 - kPatternHeight;
    draw_pattern(strip, line_.steps[one.first.step].station, {box.x0, split, box.x1, box.y1});
    outline(strip, box, one.first.start >= from, one.end <= from + scale.band);
    strip.draw(Group::cut, line({box.x0, split}, {box.x1, split}), kPatternStroke, "split");
    for (const Time at : one.between) {
      if (at <= from || at >= from + scale.band) continue;
      const double x = x_of(at, from, scale);
      strip.draw(Group::cut, line({x, split - 0.9}, {x, split}), kAxisStroke, "bundle");
    }
    for (const std::string& words : labels(one)) {
      if (width_of(words) + 1 > box.width()) continue;
      strip.write(words, {(box.x0 + box.x1) / 2, split - 1}, Anchor::middle);
      break;
    }
  }

  /// A bar that goes on in another band is open there.
  void outline(Frame& strip, const Box& box, bool begins, bool ends) const {
    Path path = polyline({{box.x0, box.y0}, {box.x1, box.y0}}, Ends::open);
    const auto add = [&path](Point from, Point to) {
      const Path more = line(from, to);
      path.insert(path.end(), more.begin(), more.end());
    };
    add({box.x0, box.y1}, {box.x1, box.y1});
    if (begins) add({box.x0, box.y0}, {box.x0, box.y1});
    if (ends) add({box.x1, box.y0}, {box.x1, box.y1});
    strip.draw(Group::cut, std::move(path), kBarStroke, "bar");
  }

  /// From the fullest to the shortest.
  [[nodiscard]] std::vector<std::string> labels(const batch::Stretch& one) const {
    const batch::Step& step = line_.steps[one.first.step];
    const std::string letter = tell::step_letter(line_, one.first.step);
    const std::string mark =
        one.first.step < drawn_.marks.size() ? drawn_.marks[one.first.step] : std::string();
    const std::string first = mark + std::to_string(step.number_of(one.first.bundle));
    const std::string last = std::to_string(step.number_of(one.last_bundle));
    return {letter + " " + (first == mark + last ? first : first + "-" + last), letter};
  }

  const batch::Line& line_;
  const batch::Schedule& plan_;
  const ScheduleToDraw& drawn_;
  base::Voice words_;
  const TextMeasure& measure_;
  Point room_;
  double left_;  ///< of them
  double bars_;  ///< width of a band's bars, mm
  std::vector<std::vector<batch::Stretch>> stretches_;
  std::vector<std::size_t> rows_;  ///< the helpers that have work
};

}  // namespace

std::vector<Drawing> schedule_charts(const ScheduleToDraw& drawn, const base::Voice& words,
                                     const TextMeasure& measure, Point room, Breaks breaks) {
  ink::Flow flow({"schedule", drawn.title, room}, {.breaks = breaks});
  flow.add(Chart(drawn, words, measure, room).strips());
  return flow.pages();
}

}  // namespace pouchwright::draw
