#include "ink/mirrored.h"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <variant>
#include <vector>

namespace pouchwright::ink {

namespace {

constexpr const char* kRightToLeft = "\u200F";

/// Has it letters of Hebrew, Arabic or what lies between and around (U+0590 to U+08FF)? A line without
/// any is one of another language.
bool has_letters_from_right(std::string_view words) {
  return std::any_of(words.begin(), words.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte >= 0xD6 && byte <= 0xDF) || byte == 0xE0;
  });
}

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
    while (end < items.size() && is_icon(items[end]) && !figure_of(items[end])) ++end;
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
    if (text != nullptr && has_letters_from_right(text->words)) text->words.insert(0, kRightToLeft);
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
