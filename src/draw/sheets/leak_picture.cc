#include "draw/sheets/leak_picture.h"

#include <algorithm>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "draw/folds/marks.h"
#include "draw/views/finished.h"
#include "draw/views/on_view.h"
#include "ink/canvas.h"
#include "ink/labels.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Pouch;

constexpr Stroke kBand{LinePattern::dashed, 0.25};
constexpr Stroke kMark{LinePattern::continuous, 0.5};
constexpr Stroke kLeader{LinePattern::continuous, 0.18};
constexpr double kDot = 0.5;
/// Rings nearer to each other than this are one, so that their numbers stand apart.
constexpr double kLeastApart = 4.5;
/// From a corner down to its number's foot.
constexpr double kLower = 4.1;
/// From the pouch to the names beside it, and from the uppermost corner up to the lowest name.
constexpr double kToNames = 3;
constexpr double kOverRing = kCornerRing + 2.6;
/// From the left edge to where a name's line ends on the lip and in the water.
constexpr double kAlong = 0.2;
/// A fused band is named at so much of the fill level.
constexpr double kBandNamed = 0.55;

void draw(Drawing& drawing, const char* name, Path path, Stroke stroke) {
  drawing.add_line(Group::label, name, std::move(path), stroke);
}

void draw_bands(Drawing& drawing, const View& view, const Pouch& pouch) {
  const pouch::Sizes& sizes = pouch.sizes;
  for (const Length x : {sizes.seal_width, sizes.cut_width - sizes.seal_width}) {
    draw(drawing, "fused band", along(view, x, {Length(), pouch.lip_height}), kBand);
  }
}

/// The number stands outside and lower, where no line is.
void draw_ring(Drawing& drawing, Point at, int number, Anchor anchor) {
  draw(drawing, "corner", circle(at, kCornerRing), kMark);
  Text text = label(std::to_string(number), kSmallestSize, Weight::bold);
  text.at = {anchor == Anchor::end ? at.x - kCornerRing : at.x + kCornerRing, at.y + kLower};
  text.anchor = anchor;
  drawing.add(std::move(text));
}

/// From the bottom up; corners too near to each other share a ring.
void draw_rings(Drawing& drawing, const View& view, const Pouch& pouch, Length level) {
  int number = 0;
  std::optional<double> last;
  for (const Length height : corner_heights(pouch, level)) {
    const Point left = view.on_top(Length(), height);
    if (last && *last - left.y < kLeastApart) continue;
    last = left.y;
    draw_ring(drawing, left, ++number, Anchor::end);
    draw_ring(drawing, view.on_top(pouch.sizes.cut_width, height), ++number, Anchor::start);
  }
}

/// What something is called, and where it is.
struct Named {
  Point at;
  std::string words;
};

/// From the top down.
std::vector<Named> named_parts(const View& view, const Pouch& pouch, Length level,
                               const base::Voice& words) {
  const Length aside = Length::mm(kAlong * pouch.sizes.cut_width.in_mm());
  const Length in_band = Length::mm(kBandNamed * level.in_mm());
  std::vector<Named> parts{
      {view.on_top(aside, pouch.lip_height), words.say("content-lip")},
      {view.on_top(aside, level), words.say("leak-picture-water")},
      {view.on_top(pouch.sizes.seal_width, in_band), words.say("leak-picture-seal")}};
  if (const auto flap = pouch.construction().flap_span) {
    const pouch::Folded& folded = view.pose.folded();
    const pouch::SpanId id = folded.id(*flap);
    const pouch::Interval& heights = folded.layer(id).heights;
    parts.push_back(
        {view.on_paper(id, aside, middle(heights)), tell::span_name(folded.name(id), words)});
  }
  std::sort(parts.begin(), parts.end(),
            [](const Named& a, const Named& b) { return a.at.y < b.at.y; });
  return parts;
}

/// Where the names stand, each as near to what it names as the others let it, none below `lowest`.
std::vector<double> heights_of(const std::vector<Named>& parts, double lowest) {
  const double step = line_distance(kSmallestSize);
  std::vector<double> heights;
  for (const Named& one : parts) {
    heights.push_back(heights.empty() ? one.at.y : std::max(heights.back() + step, one.at.y));
  }
  for (auto one = heights.rbegin(); one != heights.rend(); ++one, lowest -= step) {
    *one = std::min(*one, lowest);
  }
  return heights;
}

/// In a column left of the pouch, each with a line to what it names.
void draw_names(Drawing& drawing, const std::vector<Named>& parts, Point foot,
                const TextMeasure& measure) {
  const TextSize size = measure.measure("x", kSmallestSize, Weight::regular);
  const std::vector<double> heights = heights_of(parts, foot.y);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Point at = parts[i].at;
    Text text = label(parts[i].words, kSmallestSize);
    text.at = {foot.x, heights[i] + (size.ascent - size.descent) / 2};
    text.anchor = Anchor::end;
    drawing.add(std::move(text));
    draw(drawing, "name line", line({foot.x + 1, heights[i]}, at), kLeader);
    drawing.add(Shape{.group = Group::label,
                      .path = circle(at, kDot),
                      .stroke = std::nullopt,
                      .fill = Fill::solid,
                      .name = "name dot"});
  }
}

/// What the rings mean; ends the picture.
void add_caption(Frame& picture, const base::Voice& words, const TextMeasure& measure) {
  const Block rows{{.words = words.say("leak-picture-corners"),
                    .size = kSmallestSize,
                    .indent = 5,
                    .sample = {Shape{.group = Group::label,
                                     .path = circle({2, 0}, 1.6),
                                     .stroke = kMark,
                                     .fill = Fill::none,
                                     .name = "sample"}}}};
  const Frame placed = laid_out(rows, picture.box.x1, 1, measure);
  picture.place(placed, {0, picture.box.y1 + 1});
  picture.box.y1 += 1 + placed.box.y1;
}

}  // namespace

std::vector<Length> corner_heights(const pouch::Pouch& pouch, Length level) {
  std::set<Length> heights{Length()};
  for (const pouch::TestPoint& point : pouch.test_points) {
    if (point.height > Length() && point.height < level) heights.insert(point.height);
  }
  return {heights.begin(), heights.end()};
}

Frame leak_picture(const pouch::Pouch& pouch, Point room, const base::Voice& words,
                   const TextMeasure& measure) {
  const Length level = tell::fill_read(pouch, words).test_level;
  const auto marks = [&](Drawing& drawing, const View& view) {
    draw_bands(drawing, view, pouch);
    draw_rings(drawing, view, pouch, level);
    const Point corner = view.on_top(Length(), corner_heights(pouch, level).back());
    draw_names(drawing, named_parts(view, pouch, level, words),
               {corner.x - kToNames, corner.y - kOverRing}, measure);
  };
  Drawing drawing =
      filled_view(pouch, {.room = room, .sizes = true, .marks = marks}, words, measure);
  Frame made{.items = std::move(drawing.items), .box = drawing.extent};
  add_caption(made, words, measure);
  return as_figure(std::move(made), words.say({"leak-figure", {{"level", words.text(level)}}}));
}

}  // namespace pouchwright::draw
