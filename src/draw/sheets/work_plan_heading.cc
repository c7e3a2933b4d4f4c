#include "draw/sheets/work_plan_heading.h"

#include <algorithm>
#include <string>
#include <utility>

#include "ink/canvas.h"

namespace pouchwright::draw {
namespace {

/// What is said and what the letters stand for are side by side where each has this.
constexpr double kNarrowestColumn = 70;
constexpr double kColumnGap = 8;
constexpr double kSampleWidth = 9;
constexpr Stroke kIronStroke{LinePattern::continuous, 0.25};
constexpr double kIronHatch = 1;
constexpr Stroke kRule{LinePattern::continuous, 0.18};

class Heading {
 public:
  Heading(const ScheduleToDraw& drawn, const base::Voice& words, const TextMeasure& measure,
          double width)
      : drawn_(drawn), words_(words), measure_(measure), width_(width) {}

  [[nodiscard]] AroundBars around() const {
    AroundBars made{{title()}, {}};
    for (const PersonLine& person : drawn_.people) made.above.push_back(line_of(person));
    if (!drawn_.people.empty()) made.above.back().box.y1 += 2;
    auto& where = drawn_.people.empty() ? made.above : made.below;
    for (Frame& strip : strips()) where.push_back(std::move(strip));
    return made;
  }

 private:
  /// Side by side what is said and the key.
  [[nodiscard]] std::vector<Frame> strips() const {
    std::vector<Frame> strips;
    const double said = (width_ - kColumnGap) / 2;
    const double left = said + kColumnGap;
    if (said < kNarrowestColumn) {
      strips.push_back(summary(width_, kSmallestSize));
      for (Frame& strip : key(width_)) strips.push_back(std::move(strip));
      return strips;
    }
    Frame both = summary(said, kTextSize);
    double y = 0;
    for (const Frame& strip : key(width_ - left)) {
      both.place(strip, {left, y});
      y += strip.box.y1;
    }
    both.box = {0, 0, width_, std::max(both.box.y1, y)};
    strips.push_back(std::move(both));
    return strips;
  }

  /// Her name and hours on the left, then what she does, as large as a heading.
  [[nodiscard]] Frame line_of(const PersonLine& person) const {
    constexpr double kNames = 42;
    constexpr double kApart = 3.5;
    const double step = line_distance(ink::kHeadingSize);
    Frame strip;
    const double name = strip.write_lines(
        person.who, {0, ink::kHeadingSize}, kNames - 3,
        {.step = step, .weight = Weight::bold, .size = ink::kHeadingSize, .role = Role::item},
        measure_);
    const std::string hours =
        words_.say({"schedule-hours", {{"from", person.from}, {"to", person.to}}});
    strip.write(hours, {0, name}, Anchor::start, Weight::regular, kTextSize);
    const double below =
        strip.write_lines(person.work, {kNames, ink::kHeadingSize}, width_ - kNames,
                          {.step = step, .size = ink::kHeadingSize, .role = Role::item}, measure_);
    const double bottom = std::max(below - step, name) + kApart;
    strip.draw(line({0, bottom - 1}, {width_, bottom - 1}), kRule);
    strip.box = {0, 0, width_, bottom + 1};
    return strip;
  }

  [[nodiscard]] Frame title() const {
    const double under_title = drawn_.people.empty() ? 2 : 4;
    Frame strip;
    strip.box.y1 = strip.write_lines(drawn_.title, {0, kTitleSize}, width_, kTitleLines, measure_) -
                   kTitleSize + under_title;
    return strip;
  }

  [[nodiscard]] Frame summary(double width, double size) const {
    constexpr double kApart = 0.7;
    const Lines lines{.step = line_distance(size), .size = size};
    Frame strip;
    double y = size;
    std::vector<std::string> paragraphs = drawn_.summary;
    paragraphs.push_back(words_.say({"schedule-chart-read"}));
    paragraphs.push_back(words_.say({"schedule-pictures"}));
    paragraphs.push_back(
        words_.say({"schedule-chart-bundles"}) + " " +
        words_.say({drawn_.makes_up ? "schedule-not-counted-pieces" : "schedule-not-counted"}));
    for (const std::string& paragraph : paragraphs) {
      y = strip.write_lines(paragraph, {0, y}, width, lines, measure_) + kApart;
    }
    strip.box.y1 = y - size;
    return strip;
  }

  [[nodiscard]] std::vector<Frame> key(double width) const {
    std::vector<Frame> strips(1);
    const double below =
        strips.front().write_lines(words_.say({"schedule-chart-key"}), {0, kPlanLine}, width,
                                   {.step = kPlanLine, .weight = Weight::bold}, measure_);
    strips.front().box.y1 = below - kPlanLine + 2;
    std::size_t lines = 0;
    for (std::size_t i = 0; i < drawn_.line->steps.size(); ++i) {
      const batch::Step& step = drawn_.line->steps[i];
      if (step.like.value_or(i) == i) strips.push_back(key_row(step, drawn_.key[lines++], width));
    }
    return strips;
  }

  [[nodiscard]] Frame key_row(const batch::Step& step, const std::string& words,
                              double width) const {
    Frame strip;
    const Box sample{kRight, 0.8, kRight + kSampleWidth, 0.8 + kPatternHeight};
    draw_pattern(strip, step.station, sample);
    strip.draw(Group::cut, rectangle(sample), kBarStroke, "sample");
    const double left = kSampleWidth + 3;
    const double below = strip.write_lines(words, {left, kPlanLine - 1}, width - left,
                                           {.step = kPlanLine}, measure_);
    strip.box.y1 = below - kPlanLine + 1.6;
    return strip;
  }

  const ScheduleToDraw& drawn_;
  const base::Voice& words_;
  const TextMeasure& measure_;
  double width_;
};

}  // namespace

void draw_pattern(Frame& strip, batch::Station station, const Box& box) {
  if (box.width() <= 0 || station == batch::Station::hands) return;
  const auto fill = [&strip, &box](Fill tint, const char* name) {
    strip.items.emplace_back(Shape{.group = Group::cut,
                                   .path = rectangle(box),
                                   .stroke = std::nullopt,
                                   .fill = tint,
                                   .name = name});
  };
  if (station == batch::Station::iron) {
    return strip.draw(Group::cut, hatch(box, kIronHatch), kIronStroke, "iron");
  }
  fill(station == batch::Station::table ? Fill::pale : Fill::grey, "station");
  if (station != batch::Station::overedge) return;
  const double middle = (box.y0 + box.y1) / 2;
  strip.draw(Group::cut, line({box.x0, middle}, {box.x1, middle}), kBarStroke, "overedge");
}

AroundBars work_plan_heading(const ScheduleToDraw& drawn, const base::Voice& words,
                             const TextMeasure& measure, double width) {
  return Heading(drawn, words, measure, width).around();
}

}  // namespace pouchwright::draw
