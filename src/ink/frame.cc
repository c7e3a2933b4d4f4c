#include "ink/frame.h"

#include <utility>

namespace pouchwright::ink {

void Frame::draw(Path path, Stroke stroke) { draw(Group::label, std::move(path), stroke, ""); }

void Frame::draw(Group group, Path path, Stroke stroke, const char* name) {
  items.emplace_back(Shape{
      .group = group, .path = std::move(path), .stroke = stroke, .fill = Fill::none, .name = name});
}

void Frame::write(std::string words, Point at, Anchor anchor, Weight weight, double size,
                  int turn_deg) {
  items.emplace_back(Text{.group = Group::label,
                          .words = std::move(words),
                          .at = at,
                          .size = size,
                          .anchor = anchor,
                          .weight = weight,
                          .turn_deg = turn_deg});
}

double Frame::write_lines(std::string_view words, Point at, double width, const Lines& lines,
                          const TextMeasure& measure) {
  bool goes_on = false;
  for (const std::string& one :
       broken_into_lines(words, width, lines.size, lines.weight, measure)) {
    write(one, at, lines.anchor, lines.weight, lines.size);
    Text& written = std::get<Text>(items.back());
    written.role = lines.role;
    written.goes_on = std::exchange(goes_on, true);
    at.y += lines.step;
  }
  return at.y;
}

void Frame::place(const Frame& other, Point at) {
  for (const Item& item : other.items) items.push_back(moved(item, at));
}

Box moved(const Box& box, Point by) {
  return {box.x0 + by.x, box.y0 + by.y, box.x1 + by.x, box.y1 + by.y};
}

Text moved(Text text, Point by) {
  text.at = {text.at.x + by.x, text.at.y + by.y};
  return text;
}

Frame moved(Frame frame, Point by) {
  for (Item& item : frame.items) item = moved(std::move(item), by);
  frame.box = moved(frame.box, by);
  return frame;
}

Frame as_figure(Frame frame, std::string words) {
  const auto figure = std::make_shared<const std::string>(std::move(words));
  for (Item& item : frame.items) {
    std::visit([&figure](auto& one) { one.figure = figure; }, item);
  }
  return frame;
}

}  // namespace pouchwright::ink
