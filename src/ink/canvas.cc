#include "ink/canvas.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace pouchwright::ink {
namespace {

/// Two columns narrower than this break lines after two or three words, so one is taken.
constexpr double kNarrowestColumn = 58;
constexpr double kColumnGap = 4;
/// Words along a line come again after this, mm.
constexpr double kWordsEvery = 180;
constexpr double kWordsInset = 2.5;
/// From a drawing to what stands beside it, mm.
constexpr double kBeside = 6;
constexpr double kNoLowerEnd = 1e6;
constexpr int kPlacesBelow = 400;
constexpr double kPlaceStep = 2;

Box no_wider_than_a_line(Box column) {
  column.x1 = std::min(column.x1, column.x0 + kWidestBlock);
  return column;
}

}  // namespace

std::vector<Box> joins_of(const Joins& joins, const std::string& drawing) {
  const auto found = joins.find(drawing);
  return found == joins.end() ? std::vector<Box>{} : found->second;
}

bool Sheet::is_cut(const Box& box) const {
  return std::any_of(joins_.begin(), joins_.end(),
                     [&box](const Box& join) { return overlap(join, box); });
}

void Sheet::draw(Group group, Path path, Stroke stroke, std::string name) {
  placer_.take(path, stroke.width);
  draw_freely(group, std::move(path), stroke, std::move(name));
}

void Sheet::draw_freely(Group group, Path path, Stroke stroke, std::string name) {
  drawing_.add_line(group, std::move(name), std::move(path), stroke);
}

void Sheet::fill(Group group, Path path, std::string name) {
  drawing_.add(Shape{.group = group,
                     .path = std::move(path),
                     .stroke = std::nullopt,
                     .fill = Fill::solid,
                     .name = std::move(name)});
}

void Sheet::draw(const Text& text) {
  word_boxes_.push_back(bounds(text, *measure_));
  placer_.take(grown(word_boxes_.back(), kClearance));
  drawing_.add(text);
}

bool Sheet::put(const Text& text, const std::vector<Point>& corners) {
  const auto placed = placer_.put(text, corners);
  if (!placed) return false;
  word_boxes_.push_back(bounds(*placed, *measure_));
  drawing_.add(*placed);
  return true;
}

bool Sheet::draw(std::optional<Frame> placed) {
  if (!placed) return false;
  word_boxes_.push_back(placed->box);
  for (Item& item : placed->items) drawing_.add(std::move(item));
  return true;
}

// On small pages a long block has room on none: its paragraphs are parted then, before they make
// the drawing wider.
bool Sheet::put(const Block& block, const std::vector<Box>& regions,
                const std::optional<Box>& beside) {
  if (joins_.empty()) return draw(placer_.put(block, regions, beside));
  for (std::size_t count = block.size(); count > 0; --count) {
    // A heading keeps its first paragraph.
    const bool ends_in_heading = count < block.size() && block[count - 1].size > kTextSize;
    if (ends_in_heading) continue;
    const auto part = block.begin() + static_cast<std::ptrdiff_t>(count);
    if (!draw(placer_.put({block.begin(), part}, regions, std::nullopt))) continue;
    return part == block.end() || put({part, block.end()}, regions, beside);
  }
  return draw(placer_.put(block, {}, beside));
}

Drawing Sheet::finished(std::string name, std::string title) const {
  Drawing result = drawing_;
  result.name = std::move(name);
  result.title = std::move(title);
  result.extent = grown(bounds(result.items, *measure_), kWhiteAround);
  return result;
}

std::string kept_together(base::Length length, const base::Voice& voice) {
  return kept_together(voice.text(length));
}

Row heading_row(std::string words, double space_before) {
  return {.words = std::move(words),
          .size = kHeadingSize,
          .weight = Weight::bold,
          .space_before = space_before};
}

Text label(std::string words, double size, Weight weight) {
  return {.group = Group::label,
          .words = std::move(words),
          .at = {},
          .size = size,
          .anchor = Anchor::start,
          .weight = weight,
          .turn_deg = 0};
}

std::vector<Text> words_along(const Sheet& sheet, const std::string& words, double x, double from,
                              double to) {
  const TextMeasure& measure = sheet.measure();
  Text upright = label(words, kSmallestSize);
  upright.turn_deg = 270;
  std::vector<Text> result;
  const double high = bounds(upright, measure).height() + 2 * kWordsInset;
  if (to - from < high) return result;
  const double count = std::max(1.0, std::round((to - from) / kWordsEvery));
  const double part = (to - from) / count;
  for (double k = 0; k < count; ++k) {
    const double middle = from + part * (k + 0.5);
    for (double away = 0; away <= (part - high) / 2 + kPlaceStep; away += kPlaceStep) {
      const double off = std::min(away, (part - high) / 2);
      const Text up = centred_on(upright, {x, middle - off}, measure);
      const Text down = centred_on(upright, {x, middle + off}, measure);
      const bool up_is_cut = sheet.is_cut(bounds(up, measure));
      if (up_is_cut && sheet.is_cut(bounds(down, measure))) continue;
      result.push_back(up_is_cut ? down : up);
      break;
    }
  }
  return result;
}

std::vector<Box> columns(const Box& region, double centre) {
  Box left = region;
  Box right = region;
  left.x1 = centre - kColumnGap / 2;
  right.x0 = centre + kColumnGap / 2;
  if (left.width() < kNarrowestColumn || right.width() < kNarrowestColumn) {
    return {no_wider_than_a_line(region)};
  }
  return {no_wider_than_a_line(left), no_wider_than_a_line(right)};
}

Box room_beside(double right) {
  return {right + kBeside, 0, right + kBeside + kWidestBlock, kNoLowerEnd};
}

void add_places_below(std::vector<Point>& corners, Point first) {
  for (int k = 0; k < kPlacesBelow; ++k) corners.push_back({first.x, first.y + k * kPlaceStep});
}

std::vector<Box> beginning_at(const std::vector<Box>& regions, std::size_t first) {
  std::vector<Box> result;
  for (std::size_t i = 0; i < regions.size(); ++i) {
    result.push_back(regions[(first + i) % regions.size()]);
  }
  return result;
}

}  // namespace pouchwright::ink
