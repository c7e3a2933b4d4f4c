#include "ink/icons.h"

#include <algorithm>

namespace pouchwright::ink {
namespace {

/// Icons are drawn in a square of so many units.
constexpr double kUnits = 10;

/// A point of the square, turned with its picture.
Point turned(Point at, Facing facing) {
  switch (facing) {
    case Facing::up:
      return at;
    case Facing::right:
      return {kUnits - at.y, at.x};
    case Facing::left:
      return {at.y, at.x};
  }
  return at;
}

std::vector<Shape> placed(const Icons& icons, std::string_view name, const Box& box,
                          Facing facing = Facing::up) {
  std::vector<Shape> shapes = icons.find(name)->second;
  const double unit = box.width() / kUnits;
  for (Shape& shape : shapes) {
    shape.name = "icon";
    for (Step& step : shape.path) {
      for (Point* point : {&step.to, &step.c1, &step.c2}) {
        const Point at = turned(*point, facing);
        *point = {box.x0 + at.x * unit, box.y0 + at.y * unit};
      }
    }
  }
  return shapes;
}

}  // namespace

std::vector<Shape> icon(const Icons& icons, Icon which, const Box& box, Facing facing) {
  const auto* named = std::find_if(kIconNames.begin(), kIconNames.end(),
                                   [&](const auto& one) { return one.first == which; });
  return placed(icons, named->second, box, facing);
}

std::vector<Shape> forbidden(const Icons& icons, Icon which, const Box& box) {
  std::vector<Shape> shapes = icon(icons, which, grown(box, -0.17 * box.width()));
  for (Shape& shape : placed(icons, kNever, box)) shapes.push_back(std::move(shape));
  return shapes;
}

}  // namespace pouchwright::ink
