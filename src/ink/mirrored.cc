#include "ink/mirrored.h"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <variant>
#include <vector>

#include "base/reading.h"

namespace pouchwright::ink {

namespace {

/// About what an icon's lines are wide.
constexpr double kIconLine = 0.4;

constexpr const char* kRightToLeft = "\u200F";

const FigureWords& figure_of(const Item& item) {
  return std::visit([](const auto& one) -> const FigureWords& { return one.figure; }, item);
}

bool is_icon(const Item& item) {
  const auto* shape = std::get_if<Shape>(&item);
  return shape != nullptr && shape->name == "icon";
}

/// How many items from `at` on are one picture; 0 where there is none.
std::size_t picture_at(const std::vector<Item>& items, std::size_t at) {
  std::size_t end = at;
  if (const FigureWords& figure = figure_of(items[at])) {
    while (end < items.size() && figure_of(items[end]) == figure) ++end;
  } else {
    // Two icons side by side change places: what lies over what is there already is of one.
    Box box;
    while (end < items.size() && is_icon(items[end]) && !figure_of(items[end])) {
      const Box next = grown(bounds(std::get<Shape>(items[end]).path), kIconLine);
      if (end > at && !overlap(box, next)) break;
      box = end > at ? united(box, next) : next;
      ++end;
    }
  }
  return end - at;
}

/// Where the left side of a box comes when it changes sides, less where it was.
double shift(const Box& box, const Box& extent) { return extent.x0 + extent.x1 - box.x1 - box.x0; }

void turn_over(Path& path, const Box& extent) {
  for (Step& step : path) {
    for (Point* point : {&step.to, &step.c1, &step.c2}) point->x = extent.x0 + extent.x1 - point->x;
  }
}

}  // namespace

Drawing mirrored(Drawing drawing, const TextMeasure& measure) {
  for (Item& item : drawing.items) {
    auto* text = std::get_if<Text>(&item);
    if (text == nullptr || !base::has_letters_from_right(text->words)) continue;
    if (!text->words.starts_with(kRightToLeft)) text->words.insert(0, kRightToLeft);
  }
  for (std::size_t at = 0; at < drawing.items.size();) {
    const std::size_t count = picture_at(drawing.items, at);
    const auto first = drawing.items.begin() + static_cast<std::ptrdiff_t>(at);
    if (count > 0) {
      const auto last = first + static_cast<std::ptrdiff_t>(count);
      const Point by{shift(bounds(std::vector<Item>(first, last), measure), drawing.extent), 0};
      for (auto item = first; item != last; ++item) *item = moved(std::move(*item), by);
    } else if (auto* shape = std::get_if<Shape>(&*first)) {
      turn_over(shape->path, drawing.extent);
    } else {
      const Point by{shift(bounds(*first, measure), drawing.extent), 0};
      *first = moved(std::move(*first), by);
    }
    at += std::max<std::size_t>(count, 1);
  }
  return drawing;
}

}  // namespace pouchwright::ink
