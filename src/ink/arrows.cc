#include "ink/arrows.h"

#include <cmath>
#include <utility>

namespace pouchwright::ink {

Path arrow_head(Point tip, Point from, HeadSize size, Ends ends) {
  const double far = std::hypot(tip.x - from.x, tip.y - from.y);
  const Point along{(tip.x - from.x) / far, (tip.y - from.y) / far};
  const Point back{tip.x - along.x * size.length, tip.y - along.y * size.length};
  const double half = size.width / 2;
  Point a{back.x - along.y * half, back.y + along.x * half};
  Point b{back.x + along.y * half, back.y - along.x * half};
  // The right one first: heads that point up and down are then written alike.
  if (a.x < b.x) std::swap(a, b);
  if (ends == Ends::closed) return polyline({tip, a, b}, ends);
  return {{Verb::move, tip, {}, {}},
          {Verb::line, a, {}, {}},
          {Verb::move, tip, {}, {}},
          {Verb::line, b, {}, {}}};
}

std::vector<Shape> arrow(Point from, Point c1, Point c2, Point to) {
  Path head = arrow_head(to, c2, {}, Ends::closed);
  // The line ends within the head, so that its width does not blunt the tip.
  const Point back{(head[1].to.x + head[2].to.x) / 2, (head[1].to.y + head[2].to.y) / 2};
  return {Shape{.group = Group::label,
                .path = {{Verb::move, from, {}, {}}, {Verb::curve, back, c1, c2}},
                .stroke = Stroke{LinePattern::continuous, 0.5},
                .fill = Fill::none,
                .name = "arrow"},
          Shape{.group = Group::label,
                .path = std::move(head),
                .stroke = std::nullopt,
                .fill = Fill::solid,
                .name = "arrow head"}};
}

std::vector<Shape> arrow(Point from, Point to) {
  const Point third{(to.x - from.x) / 3, (to.y - from.y) / 3};
  return arrow(from, {from.x + third.x, from.y + third.y}, {to.x - third.x, to.y - third.y}, to);
}

}  // namespace pouchwright::ink
