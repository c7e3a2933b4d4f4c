#include "ink/labels.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace pouchwright::ink {
namespace {

/// White kept above and below a single line of words, mm.
constexpr double kLineGap = 1.6;
/// White kept at either side of any words, mm.
constexpr double kSideGap = 2;
/// Narrower than this, running text falls into single words.
constexpr double kNarrowestBlock = 34;
/// Of boxes that only touch, rounding may make boxes that overlap.
constexpr double kRounding = 1e-9;
/// U+00A0, the blank at which no line breaks.
constexpr std::string_view kNoBreak = "\u00A0";

std::string replaced(std::string_view words, std::string_view from, std::string_view to) {
  std::string result;
  while (!words.empty()) {
    const std::size_t at = words.find(from);
    result += words.substr(0, at);
    if (at == std::string_view::npos) break;
    result += to;
    words.remove_prefix(at + from.size());
  }
  return result;
}

/// Adds `row` below `top`; returns where it ends.
double add_row(Frame& block, const Row& row, double top, double width, double scale,
               const TextMeasure& measure) {
  const double size = std::max(kSmallestSize, row.size * scale);
  const TextSize height = measure.measure(row.words, size, row.weight);
  const double middle = top + (height.ascent + height.descent) / 2;
  for (const Shape& shape : row.sample) {
    block.items.push_back(moved(Item(shape), {0, middle}));
    block.box = united(block.box, bounds(block.items.back(), measure));
  }
  double y = top;
  for (const std::string& words :
       broken_into_lines(row.words, width - row.indent, size, row.weight, measure)) {
    const Text text{.group = Group::label,
                    .words = replaced(words, kNoBreak, " "),
                    .at = {row.indent, y + height.ascent},
                    .size = size,
                    .anchor = Anchor::start,
                    .weight = row.weight,
                    .turn_deg = 0,
                    .role = row.role,
                    .goes_on = y > top};
    block.box = united(block.box, bounds(text, measure));
    block.items.emplace_back(text);
    y += height.ascent + height.descent;
  }
  return y;
}

}  // namespace

std::string kept_together(std::string_view words) { return replaced(words, " ", kNoBreak); }

Text centred_on(Text text, Point centre, const TextMeasure& measure) {
  const Box box = bounds(text, measure);
  return moved(std::move(text),
               {centre.x - (box.x0 + box.x1) / 2, centre.y - (box.y0 + box.y1) / 2});
}

Text with_top_left(Text text, Point corner, const TextMeasure& measure) {
  const Box box = bounds(text, measure);
  return moved(std::move(text), {corner.x - box.x0, corner.y - box.y0});
}

Frame laid_out(const Block& block, double width, double scale, const TextMeasure& measure) {
  Frame placed;
  double y = 0;
  for (const Row& row : block) {
    if (!placed.items.empty()) y += std::max(row.space_before * scale, kClearance / 2);
    y = add_row(placed, row, y, width, scale, measure);
  }
  return placed;
}

void LabelPlacer::take(const Path& path, double line_width) {
  Point begin;
  Point last;
  const auto take_segment = [&](const Path& segment) {
    take(grown(bounds(segment), line_width / 2 + kClearance));
  };
  for (const Step& step : path) {
    if (step.verb == Verb::move) begin = step.to;
    if (step.verb == Verb::line) take_segment(line(last, step.to));
    if (step.verb == Verb::curve) {
      take_segment({{Verb::move, last, {}, {}}, step});
    }
    if (step.verb == Verb::close) take_segment(line(last, begin));
    last = step.verb == Verb::close ? begin : step.to;
  }
}

bool LabelPlacer::is_free(const Box& box) const {
  return !taken_.any_overlaps(grown(box, -kRounding));
}

// The highest, leftmost place touches the region's top or the lower end of a taken box, and the
// region's left side or the right end of one; no other place need be tried.
std::optional<Point> LabelPlacer::first_free(const Box& region, double width, double height) const {
  std::vector<double> lefts{region.x0};
  std::vector<double> tops{region.y0};
  for (const Box& taken : taken_.boxes()) {
    if (!overlap(taken, region)) continue;
    lefts.push_back(taken.x1);
    tops.push_back(taken.y1);
  }
  std::sort(lefts.begin(), lefts.end());
  std::sort(tops.begin(), tops.end());
  for (const double top : tops) {
    if (top < region.y0 || top + height > region.y1 + kRounding) continue;
    for (const double left : lefts) {
      if (left < region.x0 || left + width > region.x1 + kRounding) continue;
      if (is_free({left, top, left + width, top + height})) return Point{left, top};
    }
  }
  return std::nullopt;
}

std::optional<Text> LabelPlacer::put(const Text& text, const std::vector<Point>& corners) {
  for (const double size : {text.size, kSmallestSize}) {
    Text sized = text;
    sized.size = std::min(size, text.size);
    for (const Point& corner : corners) {
      const Text placed = with_top_left(sized, corner, *measure_);
      const Box box = bounds(placed, *measure_);
      if (!is_free(box)) continue;
      take({box.x0 - kSideGap, box.y0 - kLineGap, box.x1 + kSideGap, box.y1 + kLineGap});
      return placed;
    }
  }
  return std::nullopt;
}

std::optional<Frame> LabelPlacer::fitted(const Block& block, const Box& region,
                                         double scale) const {
  for (const double part : {1.0, 0.8, 0.6, 0.45}) {
    const double width = std::min(region.width(), kWidestBlock) * part;
    if (width < kNarrowestBlock && part < 1.0) break;
    Frame laid = laid_out(block, width, scale, *measure_);
    const auto corner = first_free(region, laid.box.width(), laid.box.height());
    if (!corner) continue;
    const Point by{corner->x - laid.box.x0, corner->y - laid.box.y0};
    return moved(std::move(laid), by);
  }
  return std::nullopt;
}

std::optional<Frame> LabelPlacer::put(const Block& block, const std::vector<Box>& regions,
                                      const std::optional<Box>& beside) {
  const auto taken_at = [this](Frame placed) {
    const Box& box = placed.box;
    take({box.x0 - kSideGap, box.y0 - kBlockGap, box.x1 + kSideGap, box.y1 + kBlockGap});
    return placed;
  };
  for (const double scale : {1.0, kSmallestSize / kTextSize}) {
    for (const Box& region : regions) {
      if (auto placed = fitted(block, region, scale)) return taken_at(std::move(*placed));
    }
  }
  if (!beside) return std::nullopt;
  auto placed = fitted(block, *beside, 1.0);
  // Nothing else in these rows, so that the blocks beside the drawing make one column.
  if (placed)
    take({beside->x0, placed->box.y0 - kBlockGap, beside->x1, placed->box.y1 + kBlockGap});
  return placed;
}

}  // namespace pouchwright::ink
