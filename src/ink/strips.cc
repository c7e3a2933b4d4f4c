#include "ink/strips.h"

#include <algorithm>
#include <utility>

namespace pouchwright::ink {

void draw(Strip& strip, Group group, Path path, Stroke stroke, const char* name) {
  strip.items.emplace_back(Shape{
      .group = group, .path = std::move(path), .stroke = stroke, .fill = Fill::none, .name = name});
}

void write(Strip& strip, std::string words, Point at, Anchor anchor, Weight weight, double size,
           int turn_deg) {
  strip.items.emplace_back(Text{.group = Group::label,
                                .words = std::move(words),
                                .at = at,
                                .size = size,
                                .anchor = anchor,
                                .weight = weight,
                                .turn_deg = turn_deg});
}

std::vector<Drawing> stacked(std::vector<Strip> strips, const SheetRoom& sheet, Breaks breaks) {
  std::vector<Drawing> drawings;
  double y = 0;
  const auto begin_drawing = [&] {
    Drawing drawing{.name = sheet.name, .title = sheet.title};
    drawing.extent = {0, 0, sheet.room.x, breaks == Breaks::pages ? sheet.room.y : 0};
    drawings.push_back(std::move(drawing));
    y = 0;
  };
  begin_drawing();
  for (std::size_t i = 0; i < strips.size(); ++i) {
    Strip& strip = strips[i];
    const bool leads = strip.is_heading && i + 1 < strips.size();
    const double needs = strip.height + (leads ? strips[i + 1].height : 0);
    if (breaks == Breaks::pages && y > 0 && y + needs > sheet.room.y) begin_drawing();
    for (Item& item : strip.items) drawings.back().add(moved(std::move(item), {0, y}));
    y += strip.height;
    drawings.back().extent.y1 = std::max(drawings.back().extent.y1, y);
  }
  return drawings;
}

}  // namespace pouchwright::ink
