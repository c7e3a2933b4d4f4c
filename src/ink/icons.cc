#include "ink/icons.h"

#include <cmath>
#include <initializer_list>
#include <utility>

namespace pouchwright::ink {
namespace {

constexpr double kLine = 0.35;
constexpr double kFine = 0.25;
constexpr double kHeadLength = 2.4;
constexpr double kHeadWidth = 1.8;

/// Draws in a square of 10 x 10 and puts it into a box.
class IconPen {
 public:
  explicit IconPen(const Box& box) : box_(box) {}

  void stroke(Path path, double width = kLine, LinePattern pattern = LinePattern::continuous) {
    shapes_.push_back({.group = Group::label,
                       .path = placed(std::move(path)),
                       .stroke = Stroke{pattern, width},
                       .fill = Fill::none,
                       .name = "icon"});
  }
  void solid(Path path) {
    shapes_.push_back({.group = Group::label,
                       .path = placed(std::move(path)),
                       .stroke = std::nullopt,
                       .fill = Fill::solid,
                       .name = "icon"});
  }
  void stroke(const std::vector<Point>& corners, double width = kLine) {
    stroke(polyline(corners, Ends::open), width);
  }
  void closed(const std::vector<Point>& corners, double width = kLine) {
    stroke(polyline(corners, Ends::closed), width);
  }
  void curve(Point from, Point c1, Point c2, Point to, double width = kLine) {
    stroke(Path{{Verb::move, from, {}, {}}, {Verb::curve, to, c1, c2}}, width);
  }
  void head(Point tip, double dx, double dy) {
    const double size = std::hypot(dx, dy);
    const Point back{tip.x - dx / size * 2, tip.y - dy / size * 2};
    const Point side{-dy / size * 0.9, dx / size * 0.9};
    solid(polyline({tip, {back.x + side.x, back.y + side.y}, {back.x - side.x, back.y - side.y}},
                   Ends::closed));
  }
  /// Rows of dots, as film is shown in the pictures.
  void film(const Box& part) {
    for (double y = part.y0 + 0.8; y < part.y1; y += 1.5) {
      stroke(line({part.x0, y}, {part.x1, y}), kFine, LinePattern::dotted);
    }
  }

  std::vector<Shape> taken() { return std::move(shapes_); }

 private:
  [[nodiscard]] Path placed(Path path) const {
    const double unit = box_.width() / 10;
    for (Step& step : path) {
      for (Point* point : {&step.to, &step.c1, &step.c2}) {
        *point = {box_.x0 + point->x * unit, box_.y0 + point->y * unit};
      }
    }
    return path;
  }

  Box box_;
  std::vector<Shape> shapes_;
};

/// The iron from the side; its sole is at `sole`.
void draw_iron(IconPen& pen, double sole) {
  const double top = sole - 4.2;
  pen.stroke(Path{{Verb::move, {0.6, sole}, {}, {}},
                  {Verb::curve, {5.5, top + 1}, {1, sole - 2.4}, {3, top + 1}},
                  {Verb::line, {8.4, top + 1}, {}, {}},
                  {Verb::line, {9.2, sole}, {}, {}},
                  {Verb::close, {0.6, sole}, {}, {}}},
             0.5);
  pen.curve({3.6, top + 1.6}, {3.8, top - 1.4}, {5.5, top - 1.4}, {8.6, top - 1.2}, 0.5);
  pen.stroke({{8.6, top - 1.2}, {8.2, top + 1}}, 0.5);
}

void draw_needle(IconPen& pen) {
  pen.closed({{4.2, 0.4}, {5.8, 0.4}, {5.8, 3}, {4.2, 3}});
  pen.closed({{4.6, 3}, {5.4, 3}, {5.1, 7.6}, {4.9, 7.6}});
  pen.curve({5, 6.6}, {7, 6}, {6.6, 3}, {9.4, 2.4}, kFine);
  pen.stroke({{1.6, 6.4}, {1.6, 7.8}, {8.4, 7.8}, {8.4, 6.4}});
  pen.stroke(line({0.4, 9.2}, {9.6, 9.2}), 0.5, LinePattern::dashed);
}

void draw_overedge(IconPen& pen) {
  pen.stroke({{0.5, 8.6}, {9.5, 8.6}}, 0.5);
  pen.stroke({{0.5, 5}, {9.5, 5}}, kFine);
  pen.stroke({{0.8, 5}, {2, 9.2}, {3.2, 5}, {4.4, 9.2}, {5.6, 5}, {6.8, 9.2}, {8, 5}, {9.2, 9.2}});
  pen.closed({{4.8, 0.4}, {5.6, 0.4}, {5.3, 4.2}, {5.1, 4.2}});
}

void draw_chain(IconPen& pen) {
  pen.closed({{0.2, 3}, {2.6, 3}, {2.6, 9}, {0.2, 9}});
  pen.closed({{7.4, 3}, {9.8, 3}, {9.8, 9}, {7.4, 9}});
  pen.stroke({{2.6, 7},
              {3.2, 6.3},
              {3.8, 7.7},
              {4.4, 6.3},
              {5, 7.7},
              {5.6, 6.3},
              {6.2, 7.7},
              {6.8, 6.3},
              {7.4, 7}},
             kFine);
}

void draw_tail(IconPen& pen) {
  pen.stroke({{0.3, 3}, {7, 3}, {7, 9}, {0.3, 9}}, kLine);
  pen.stroke(line({0.3, 6}, {7, 6}), kFine, LinePattern::dashed);
  pen.curve({7, 6}, {10.6, 6}, {10.4, 1.2}, {7.6, 1.4});
  pen.curve({7.6, 1.4}, {5.6, 1.6}, {5.2, 3}, {4.6, 4.6});
  pen.head({4.5, 5.2}, -0.3, 1);
}

void draw_eye(IconPen& pen) {
  pen.stroke(Path{{Verb::move, {0.4, 5}, {}, {}},
                  {Verb::curve, {9.6, 5}, {2.8, 1}, {7.2, 1}},
                  {Verb::curve, {0.4, 5}, {7.2, 9}, {2.8, 9}},
                  {Verb::close, {0.4, 5}, {}, {}}},
             0.5);
  pen.stroke(circle({5, 5}, 1.9));
  pen.solid(circle({5, 5}, 0.9));
}

void draw_drop(IconPen& pen) {
  pen.stroke(Path{{Verb::move, {5, 0.5}, {}, {}},
                  {Verb::curve, {5, 9.5}, {9.6, 6}, {8.6, 9.5}},
                  {Verb::curve, {5, 0.5}, {1.4, 9.5}, {0.4, 6}},
                  {Verb::close, {5, 0.5}, {}, {}}},
             0.5);
  pen.curve({3.4, 6.4}, {3.3, 7.6}, {4, 8.2}, {5, 8.3}, kFine);
}

void draw_clip(IconPen& pen) {
  pen.stroke({{0.4, 7.2}, {9.6, 7.2}}, kFine);
  pen.stroke({{0.4, 8.4}, {9.6, 8.4}}, kFine);
  pen.solid(polyline({{3.2, 3.4}, {6.8, 3.4}, {6.2, 9.2}, {3.8, 9.2}}, Ends::closed));
  pen.closed({{3.6, 0.6}, {6.4, 0.6}, {6.4, 3.4}, {3.6, 3.4}}, 0.5);
}

void draw_pin(IconPen& pen) {
  pen.stroke({{0.4, 6.4}, {9.6, 6.4}}, kFine);
  pen.stroke({{0.4, 7.8}, {9.6, 7.8}}, kFine);
  pen.stroke({{2.2, 2.2}, {7.6, 9.4}}, 0.35);
  pen.solid(circle({2, 1.9}, 1.2));
}

void draw_snip(IconPen& pen, double depth) {
  pen.stroke({{2, 0.4}, {2, 4.4}, {2 + depth, 5}, {2, 5.6}, {2, 9.6}}, 0.5);
  pen.stroke(line({6, 0.4}, {6, 9.6}), kFine, LinePattern::dashed);
}

void draw_film_up(IconPen& pen) {
  pen.closed({{2.6, 2.6}, {9.8, 2.6}, {7.4, 8}, {0.2, 8}});
  for (double y = 3.6; y < 7.8; y += 1.2) {
    const double shift = (8 - y) * 0.44;
    pen.stroke(line({0.9 + shift, y}, {7 + shift, y}), kFine, LinePattern::dotted);
  }
  pen.stroke({{5, 2.2}, {5, 0.2}}, 0.5);
  pen.head({5, 0}, 0, -1);
  pen.stroke({{0.2, 8}, {0.2, 9}, {7.4, 9}, {9.8, 3.6}, {9.8, 2.6}}, kFine);
}

void draw_same_way(IconPen& pen) {
  for (const double x : {0.4, 3.7, 7.0}) {
    pen.closed({{x, 0.6}, {x + 2.6, 0.6}, {x + 2.6, 9.4}, {x, 9.4}});
    pen.stroke({{x + 1.3, 8.4}, {x + 1.3, 3}});
    pen.head({x + 1.3, 1.6}, 0, -1);
  }
}

void draw_card(IconPen& pen) {
  pen.closed({{0.6, 0.8},
              {9.4, 0.8},
              {9.4, 3.8},
              {7.6, 3.8},
              {7.6, 9.4},
              {2.4, 9.4},
              {2.4, 3.8},
              {0.6, 3.8}},
             0.5);
}

void draw_flap_down(IconPen& pen) {
  pen.closed({{0.8, 2.8}, {9.2, 2.8}, {9.2, 9.6}, {0.8, 9.6}});
  pen.stroke({{0.8, 5.8}, {9.2, 5.8}}, 0.5);
  pen.stroke({{5, 0.2}, {5, 3.4}}, 0.5);
  pen.head({5, 5}, 0, 1);
}

void draw_turn(IconPen& pen) {
  pen.curve({1, 7.6}, {1, 0}, {8, 0}, {8.6, 5.4}, 0.5);
  pen.head({8.8, 7.4}, 0.15, 1);
  pen.stroke({{0.4, 9}, {9.6, 9}}, 0.5);
}

void draw_steam(IconPen& pen) {
  draw_iron(pen, 6.6);
  for (const double x : {2.2, 5.0, 7.8}) {
    pen.curve({x, 7.2}, {x + 1, 8}, {x - 1, 8.8}, {x, 9.8}, kFine);
  }
}

void draw_scrap_test(IconPen& pen) {
  draw_iron(pen, 6.2);
  pen.closed({{1.6, 7}, {7, 7}, {7, 8.4}, {1.6, 8.4}}, kFine);
  pen.stroke({{7.4, 8.6}, {8.2, 9.6}, {9.8, 7.2}}, 0.5);
}

void draw_hot_film(IconPen& pen) {
  draw_iron(pen, 6.2);
  pen.stroke({{0.2, 6.8}, {9.8, 6.8}}, kFine);
  pen.film({0.2, 6.8, 9.8, 9.8});
}

Shape head_at(Point tip, Point from) {
  const double size = std::hypot(tip.x - from.x, tip.y - from.y);
  const Point along{(tip.x - from.x) / size, (tip.y - from.y) / size};
  const Point back{tip.x - along.x * kHeadLength, tip.y - along.y * kHeadLength};
  const double half = kHeadWidth / 2;
  return {.group = Group::label,
          .path = polyline({tip,
                            {back.x - along.y * half, back.y + along.x * half},
                            {back.x + along.y * half, back.y - along.x * half}},
                           Ends::closed),
          .stroke = std::nullopt,
          .fill = Fill::solid,
          .name = "arrow head"};
}

}  // namespace

std::vector<Shape> icon(Icon which, const Box& box) {
  IconPen pen(box);
  switch (which) {
    case Icon::iron:
      draw_iron(pen, 8.4);
      break;
    case Icon::hot_film:
      draw_hot_film(pen);
      break;
    case Icon::scrap_test:
      draw_scrap_test(pen);
      break;
    case Icon::steam:
      draw_steam(pen);
      break;
    case Icon::clip:
      draw_clip(pen);
      break;
    case Icon::pin:
      draw_pin(pen);
      break;
    case Icon::needle:
      draw_needle(pen);
      break;
    case Icon::overedge:
      draw_overedge(pen);
      break;
    case Icon::chain:
      draw_chain(pen);
      break;
    case Icon::tail:
      draw_tail(pen);
      break;
    case Icon::eye:
      draw_eye(pen);
      break;
    case Icon::drop:
      draw_drop(pen);
      break;
    case Icon::clock:
      pen.stroke(circle({5, 5}, 4.6), 0.5);
      pen.stroke({{5, 1.8}, {5, 5}, {7.2, 6.4}});
      break;
    case Icon::snip:
      draw_snip(pen, 1.6);
      break;
    case Icon::deep_snip:
      draw_snip(pen, 6.6);
      break;
    case Icon::film_up:
      draw_film_up(pen);
      break;
    case Icon::same_way:
      draw_same_way(pen);
      break;
    case Icon::card:
      draw_card(pen);
      break;
    case Icon::flap_down:
      draw_flap_down(pen);
      break;
    case Icon::turn:
      draw_turn(pen);
      break;
  }
  return pen.taken();
}

std::vector<Shape> forbidden(Icon which, const Box& box) {
  const double inset = 0.17 * box.width();
  std::vector<Shape> shapes = icon(which, grown(box, -inset));
  IconPen pen(box);
  pen.stroke(circle({5, 5}, 4.9), 0.7);
  pen.stroke({{1.5, 1.5}, {8.5, 8.5}}, 0.7);
  for (Shape& shape : pen.taken()) shapes.push_back(std::move(shape));
  return shapes;
}

std::vector<Shape> arrow(Point from, Point c1, Point c2, Point to) {
  const Shape head = head_at(to, c2);
  // The line ends within the head, so that its width does not blunt the tip.
  const Point back{(head.path[1].to.x + head.path[2].to.x) / 2,
                   (head.path[1].to.y + head.path[2].to.y) / 2};
  Shape shaft{.group = Group::label,
              .path = {{Verb::move, from, {}, {}}, {Verb::curve, back, c1, c2}},
              .stroke = Stroke{LinePattern::continuous, 0.5},
              .fill = Fill::none,
              .name = "arrow"};
  return {std::move(shaft), head};
}

std::vector<Shape> arrow(Point from, Point to) {
  const Point third{(to.x - from.x) / 3, (to.y - from.y) / 3};
  return arrow(from, {from.x + third.x, from.y + third.y}, {to.x - third.x, to.y - third.y}, to);
}

}  // namespace pouchwright::ink
