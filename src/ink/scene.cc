#include "ink/scene.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <utility>

namespace pouchwright::ink {
namespace {

/// `point` turned clockwise as seen (y down) about the origin by a multiple of a quarter turn.
Point turned(Point point, int quarters) {
  for (int k = 0; k < quarters; ++k) point = {-point.y, point.x};
  return point;
}

Box around(Point a, Point b) {
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

/// What part of a text's width lies before its anchor.
double part_before(Anchor anchor) {
  switch (anchor) {
    case Anchor::start:
      return 0.0;
    case Anchor::middle:
      return 0.5;
    case Anchor::end:
      return 1.0;
  }
  return 0.0;
}

Step curve_to(Point c1, Point c2, Point to) { return {Verb::curve, to, c1, c2}; }

std::vector<std::string_view> split_at_blanks(std::string_view words) {
  std::vector<std::string_view> parts;
  std::size_t at = 0;
  while (at < words.size()) {
    const std::size_t begin = words.find_first_not_of(' ', at);
    if (begin == std::string_view::npos) break;
    const std::size_t end = std::min(words.find(' ', begin), words.size());
    parts.push_back(words.substr(begin, end - begin));
    at = end;
  }
  return parts;
}

/// A number's unit stays with it, and "about" with its number.
bool stay_together(std::string_view before, std::string_view after) {
  constexpr std::array<std::string_view, 13> kUnits = {"mm", "cm", "m",   "in", "ft", "yd", "ml",
                                                       "s",  "h",  "min", "°C", "°F", "%"};
  if (before.ends_with("≈")) return true;
  const auto last = static_cast<unsigned char>(before.back());
  // Fractions of one sign are not ASCII.
  if ((last < '0' || last > '9') && last < 0x80) return false;
  // Between words that are read from the right a measure is marked (base/reading.h).
  constexpr std::string_view kMark = "\u200E";
  std::string_view unit = after.substr(0, after.find(kMark));
  unit = unit.substr(0, unit.find_last_not_of(".,;:)") + 1);
  return std::find(kUnits.begin(), kUnits.end(), unit) != kUnits.end();
}

/// What a line is not broken within; `words` are those of one text, in order.
std::vector<std::string_view> unbroken_parts(const std::vector<std::string_view>& words) {
  std::vector<std::string_view> parts;
  for (const std::string_view word : words) {
    if (!parts.empty() && stay_together(parts.back(), word)) {
      const std::string_view& before = parts.back();
      const auto length = static_cast<std::size_t>(word.data() + word.size() - before.data());
      parts.back() = {before.data(), length};
    } else {
      parts.push_back(word);
    }
  }
  return parts;
}

}  // namespace

Box united(const Box& a, const Box& b) {
  return {std::min(a.x0, b.x0), std::min(a.y0, b.y0), std::max(a.x1, b.x1), std::max(a.y1, b.y1)};
}

Box grown(const Box& box, double by) {
  return {box.x0 - by, box.y0 - by, box.x1 + by, box.y1 + by};
}

Point middle(const Box& box) { return {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2}; }

bool overlap(const Box& a, const Box& b) {
  return std::max(a.x0, b.x0) < std::min(a.x1, b.x1) && std::max(a.y0, b.y0) < std::min(a.y1, b.y1);
}

std::string_view id_of(Group group) {
  switch (group) {
    case Group::cut:
      return "cut";
    case Group::fold:
      return "fold";
    case Group::seam:
      return "seam";
    case Group::seal:
      return "seal";
    case Group::notch:
      return "notch";
    case Group::grain:
      return "grain";
    case Group::label:
      return "label";
    case Group::registration:
      return "registration";
    case Group::scale_check:
      return "scale-check";
  }
  return {};
}

std::vector<double> dashes_of(LinePattern pattern, double width) {
  const double dash = 12 * width;
  const double long_dash = 24 * width;
  const double gap = 3 * width;
  const double dot = 0.5 * width;
  switch (pattern) {
    case LinePattern::continuous:
      return {};
    case LinePattern::dashed:
      return {dash, gap};
    case LinePattern::long_dash_dot:
      return {long_dash, gap, dot, gap};
    case LinePattern::long_dash_double_dot:
      return {long_dash, gap, dot, gap, dot, gap};
    case LinePattern::dotted:
      return {dot, gap};
    case LinePattern::specks:
      return {0.9 * width, 4.6 * width};
    case LinePattern::far_specks:
      return {width, 9.3 * width};
  }
  return {};
}

void append(Path& path, const Path& more) { path.insert(path.end(), more.begin(), more.end()); }

Path line(Point from, Point to) { return polyline({from, to}, Ends::open); }

Path rectangle(const Box& box) {
  return polyline({{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}},
                  Ends::closed);
}

Path polyline(const std::vector<Point>& corners, Ends ends) {
  Path path;
  for (const Point& corner : corners) {
    path.push_back(
        {.verb = path.empty() ? Verb::move : Verb::line, .to = corner, .c1 = {}, .c2 = {}});
  }
  // A closing step ends where the path began, so that readers need not look back for it.
  if (ends == Ends::closed && !corners.empty()) {
    path.push_back({.verb = Verb::close, .to = corners.front(), .c1 = {}, .c2 = {}});
  }
  return path;
}

Path circle(Point centre, double radius) {
  const double arm = kQuarterArm * radius;
  const auto at = [&](double x, double y) { return Point{centre.x + x, centre.y + y}; };
  const Point right = at(radius, 0);
  return {{Verb::move, right, {}, {}},
          curve_to(at(radius, arm), at(arm, radius), at(0, radius)),
          curve_to(at(-arm, radius), at(-radius, arm), at(-radius, 0)),
          curve_to(at(-radius, -arm), at(-arm, -radius), at(0, -radius)),
          curve_to(at(arm, -radius), at(radius, -arm), right),
          {Verb::close, right, {}, {}}};
}

Path hatch(const Box& box, double spacing) {
  Path path;
  if (!(spacing > 0)) return path;
  // Each line is x + y = k · step; neighbours are step apart along x, step/√2 = spacing across.
  const double step = spacing * std::numbers::sqrt2;
  const double first = std::floor((box.x0 + box.y0) / step) + 1;
  for (double k = first; k * step < box.x1 + box.y1; ++k) {
    const double sum = k * step;
    const double left = std::max(box.x0, sum - box.y1);
    const double right = std::min(box.x1, sum - box.y0);
    if (!(left < right)) continue;
    path.push_back({Verb::move, {left, sum - left}, {}, {}});
    path.push_back({Verb::line, {right, sum - right}, {}, {}});
  }
  return path;
}

Box bounds(const Path& path) {
  if (path.empty()) return {};
  Box box{path.front().to.x, path.front().to.y, path.front().to.x, path.front().to.y};
  const auto include = [&box](Point p) { box = united(box, {p.x, p.y, p.x, p.y}); };
  for (const Step& step : path) {
    if (step.verb == Verb::close) continue;
    include(step.to);
    if (step.verb != Verb::curve) continue;
    include(step.c1);
    include(step.c2);
  }
  return box;
}

Box bounds(const Text& text, const TextMeasure& measure) {
  const TextSize size = measure.measure(text.words, text.size, text.weight);
  const double left = -part_before(text.anchor) * size.width;
  const int quarters = text.turn_deg / 90;
  const Point a = turned({left, -size.ascent}, quarters);
  const Point b = turned({left + size.width, size.descent}, quarters);
  const Box box = around(a, b);
  return {box.x0 + text.at.x, box.y0 + text.at.y, box.x1 + text.at.x, box.y1 + text.at.y};
}

Box bounds(const Item& item, const TextMeasure& measure) {
  if (const auto* text = std::get_if<Text>(&item)) return bounds(*text, measure);
  const auto& shape = std::get<Shape>(item);
  const Box box = bounds(shape.path);
  return shape.stroke && !shape.path.empty() ? grown(box, shape.stroke->width / 2) : box;
}

Box bounds(const std::vector<Item>& items, const TextMeasure& measure) {
  if (items.empty()) return {};
  Box box = bounds(items.front(), measure);
  for (const Item& item : items) box = united(box, bounds(item, measure));
  return box;
}

std::vector<std::string> broken_into_lines(std::string_view words, double width, double size,
                                           Weight weight, const TextMeasure& measure) {
  std::vector<std::string> lines;
  // A text that is read from the right is so in each of its lines (base/reading.h).
  constexpr std::string_view kFromRight = "\u200F";
  const bool is_marked = words.starts_with(kFromRight);
  for (const std::string_view word : unbroken_parts(split_at_blanks(words))) {
    if (!lines.empty()) {
      const std::string longer = lines.back() + ' ' + std::string(word);
      if (measure.measure(longer, size, weight).width <= width) {
        lines.back() = longer;
        continue;
      }
    }
    const bool lacks_mark = is_marked && !word.starts_with(kFromRight);
    lines.push_back((lacks_mark ? std::string(kFromRight) : "") + std::string(word));
  }
  return lines;
}

void Drawing::add(std::vector<Shape> shapes) {
  for (Shape& shape : shapes) items.emplace_back(std::move(shape));
}

void Drawing::add_line(Group group, std::string line_name, Path path, Stroke stroke) {
  if (path.empty()) return;
  add(Shape{.group = group,
            .path = std::move(path),
            .stroke = stroke,
            .fill = Fill::none,
            .name = std::move(line_name)});
}

Path moved(Path path, Point by) {
  for (Step& step : path) {
    for (Point* point : {&step.to, &step.c1, &step.c2}) *point = {point->x + by.x, point->y + by.y};
  }
  return path;
}

Item moved(Item item, Point by) {
  if (auto* text = std::get_if<Text>(&item)) {
    text->at = {text->at.x + by.x, text->at.y + by.y};
  } else {
    auto& shape = std::get<Shape>(item);
    shape.path = moved(std::move(shape.path), by);
  }
  return item;
}

Drawing from_top_left(Drawing drawing) {
  const Point by{-drawing.extent.x0, -drawing.extent.y0};
  for (Item& item : drawing.items) item = moved(std::move(item), by);
  drawing.extent = {0, 0, drawing.extent.width(), drawing.extent.height()};
  return drawing;
}

Drawing only(const Drawing& drawing, const std::vector<Group>& groups) {
  Drawing result = drawing;
  std::erase_if(result.items, [&](const Item& item) {
    const Group group = std::visit([](const auto& one) { return one.group; }, item);
    return std::find(groups.begin(), groups.end(), group) == groups.end();
  });
  return result;
}

Drawing in_cutting_order(Drawing drawing) {
  std::vector<Item*> places;
  std::vector<Shape> cuts;
  for (Item& item : drawing.items) {
    auto* shape = std::get_if<Shape>(&item);
    if (!shape || shape->group != Group::cut) continue;
    places.push_back(&item);
    cuts.push_back(*shape);
  }
  const auto area = [](const Shape& shape) {
    const Box box = bounds(shape.path);
    return box.width() * box.height();
  };
  std::stable_sort(cuts.begin(), cuts.end(),
                   [&](const Shape& a, const Shape& b) { return area(a) < area(b); });
  for (std::size_t i = 0; i < places.size(); ++i) *places[i] = cuts[i];
  return drawing;
}

}  // namespace pouchwright::ink
