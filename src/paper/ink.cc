#include "paper/ink.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Group;
using ink::Item;
using ink::Point;
using ink::Shape;
using ink::Step;
using ink::Verb;

constexpr double kMostCells = 300'000;

double distance(Point a, Point b) { return std::hypot(a.x - b.x, a.y - b.y); }

Point on_curve(Point from, const Step& step, double t) {
  const double s = 1 - t;
  const double a = s * s * s;
  const double b = 3 * s * s * t;
  const double c = 3 * s * t * t;
  const double d = t * t * t;
  return {a * from.x + b * step.c1.x + c * step.c2.x + d * step.to.x,
          a * from.y + b * step.c1.y + c * step.c2.y + d * step.to.y};
}

/// A chord of a curve `length` long cut into n pieces strays from it by at most about
/// length / (4 n²): a few hundredths of a millimetre here, which `half` makes up for.
void add_curve(Ink& ink, Point from, const Step& step, double half) {
  const double length =
      distance(from, step.c1) + distance(step.c1, step.c2) + distance(step.c2, step.to);
  const int pieces = std::clamp(static_cast<int>(std::ceil(2 * std::sqrt(length))), 2, 64);
  Point last = from;
  for (int k = 1; k <= pieces; ++k) {
    const Point next = on_curve(from, step, static_cast<double>(k) / pieces);
    ink.streaks.push_back({last, next, half + 0.05});
    last = next;
  }
}

void add_stroke(Ink& ink, const ink::Path& path, double half) {
  Point start;
  Point last;
  for (const Step& step : path) {
    switch (step.verb) {
      case Verb::move:
        start = step.to;
        last = step.to;
        break;
      case Verb::line:
        ink.streaks.push_back({last, step.to, half});
        last = step.to;
        break;
      case Verb::curve:
        add_curve(ink, last, step, half);
        last = step.to;
        break;
      case Verb::close:
        if (!(last == start)) ink.streaks.push_back({last, start, half});
        last = start;
        break;
    }
  }
}

/// Where the outline through `corners` crosses the level `y`, from left to right.
std::vector<double> crossings_at(const std::vector<Point>& corners, double y) {
  std::vector<double> xs;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point& a = corners[i];
    const Point& b = corners[(i + 1) % corners.size()];
    if ((a.y < y) == (b.y < y)) continue;
    xs.push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
  }
  std::sort(xs.begin(), xs.end());
  return xs;
}

void add_enclosed(Ink& ink, const ink::Path& path) {
  if (path.back().verb != Verb::close) return;
  std::vector<Point> corners;
  std::vector<double> levels;
  for (const Step& step : path) {
    if (step.verb == Verb::close) continue;
    corners.push_back(step.to);
    levels.push_back(step.to.y);
  }
  std::sort(levels.begin(), levels.end());
  for (std::size_t i = 0; i + 1 < levels.size(); ++i) {
    if (levels[i] == levels[i + 1]) continue;
    const auto xs = crossings_at(corners, (levels[i] + levels[i + 1]) / 2);
    for (std::size_t k = 0; k + 1 < xs.size(); k += 2) {
      ink.enclosed.push_back({xs[k], levels[i], xs[k + 1], levels[i + 1]});
    }
  }
}

bool must_stay_whole(Group group) {
  switch (group) {
    case Group::fold:
    case Group::notch:
    case Group::label:
    case Group::scale_check:
      return true;
    case Group::cut:
    case Group::seam:
    case Group::seal:
    case Group::grain:
    case Group::registration:
      return false;
  }
  return false;
}

}  // namespace

Ink ink_of(const std::vector<Item>& items, const ink::TextMeasure& measure) {
  Ink ink;
  for (const Item& item : items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape != nullptr && shape->path.empty()) continue;
    const Box box = ink::bounds(item, measure);
    const Group group = std::visit([](const auto& it) { return it.group; }, item);
    if (must_stay_whole(group)) ink.keep_whole.push_back(box);
    if (shape == nullptr) {
      ink.texts.push_back(box);
      continue;
    }
    if (shape->fill != ink::Fill::none) ink.solids.push_back(box);
    if (shape->stroke) add_stroke(ink, shape->path, shape->stroke->width / 2);
    if (group == Group::cut) add_enclosed(ink, shape->path);
  }
  return ink;
}

Box bounds(const Streak& streak) {
  const auto& [a, b, half] = streak;
  return ink::grown(
      {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)}, half);
}

bool touches(const Streak& streak, const Box& box) {
  if (!ink::overlap(bounds(streak), box)) return false;
  // The line through the streak must pass the grown box: its corners lie on both sides of it.
  const Box wide = ink::grown(box, streak.half);
  const double dx = streak.to.x - streak.from.x;
  const double dy = streak.to.y - streak.from.y;
  const auto side = [&](double x, double y) {
    return dx * (y - streak.from.y) - dy * (x - streak.from.x);
  };
  const double a = side(wide.x0, wide.y0);
  const double b = side(wide.x1, wide.y0);
  const double c = side(wide.x0, wide.y1);
  const double d = side(wide.x1, wide.y1);
  return std::min({a, b, c, d}) <= 0 && std::max({a, b, c, d}) >= 0;
}

bool touches(const Ink& ink, const Box& box) {
  const auto boxed = [&box](const Box& other) { return ink::overlap(other, box); };
  const auto streaked = [&box](const Streak& streak) { return touches(streak, box); };
  return std::any_of(ink.streaks.begin(), ink.streaks.end(), streaked) ||
         std::any_of(ink.solids.begin(), ink.solids.end(), boxed) ||
         std::any_of(ink.texts.begin(), ink.texts.end(), boxed);
}

InkGrid::InkGrid(const Box& area, double finest)
    : area_(area),
      cell_(std::max(finest, std::sqrt(area.width() * area.height() / kMostCells))),
      columns_(std::max(1, static_cast<int>(std::ceil(area.width() / cell_)))),
      rows_(std::max(1, static_cast<int>(std::ceil(area.height() / cell_)))),
      cells_(static_cast<std::size_t>(columns_ + 1) * static_cast<std::size_t>(rows_ + 1)) {}

std::int32_t& InkGrid::at(int column, int row) {
  return cells_[static_cast<std::size_t>(row + 1) * static_cast<std::size_t>(columns_ + 1) +
                static_cast<std::size_t>(column + 1)];
}

void InkGrid::add(const Streak& streak) {
  const double length = distance(streak.from, streak.to);
  const double dx = streak.to.x - streak.from.x;
  const double dy = streak.to.y - streak.from.y;
  if (dx == 0 || dy == 0) {
    add(bounds(streak));
    return;
  }
  // Boxes along the slope, each over one cell's length of it: together they cover the streak.
  const int pieces = std::max(1, static_cast<int>(std::ceil(length / cell_)));
  for (int k = 0; k < pieces; ++k) {
    const double t0 = static_cast<double>(k) / pieces;
    const double t1 = static_cast<double>(k + 1) / pieces;
    add(bounds(Streak{{streak.from.x + t0 * dx, streak.from.y + t0 * dy},
                      {streak.from.x + t1 * dx, streak.from.y + t1 * dy},
                      streak.half}));
  }
}

void InkGrid::add(const Box& box, int weight) {
  if (box.x0 > area_.x1 || box.x1 < area_.x0 || box.y0 > area_.y1 || box.y1 < area_.y0) return;
  const auto cell_of = [this](double offset, int count) {
    return std::clamp(static_cast<int>(std::floor(offset / cell_)), 0, count - 1);
  };
  const int left = cell_of(box.x0 - area_.x0, columns_);
  const int right = cell_of(box.x1 - area_.x0, columns_);
  const int top = cell_of(box.y0 - area_.y0, rows_);
  const int bottom = cell_of(box.y1 - area_.y0, rows_);
  for (int row = top; row <= bottom; ++row) {
    for (int column = left; column <= right; ++column) {
      at(column, row) = std::max(at(column, row), std::int32_t{weight});
    }
  }
}

void InkGrid::settle() {
  for (int row = 0; row < rows_; ++row) {
    std::int32_t so_far = 0;
    for (int column = 0; column < columns_; ++column) {
      so_far += at(column, row);
      at(column, row) = so_far + at(column, row - 1);
    }
  }
}

std::int64_t InkGrid::sum(int column, int row) const {
  return cells_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_ + 1) +
                static_cast<std::size_t>(column)];
}

std::int64_t InkGrid::under(const Box& box) const {
  const int left =
      std::clamp(static_cast<int>(std::floor((box.x0 - area_.x0) / cell_)), 0, columns_);
  const int right =
      std::clamp(static_cast<int>(std::ceil((box.x1 - area_.x0) / cell_)), 0, columns_);
  const int top = std::clamp(static_cast<int>(std::floor((box.y0 - area_.y0) / cell_)), 0, rows_);
  const int bottom = std::clamp(static_cast<int>(std::ceil((box.y1 - area_.y0) / cell_)), 0, rows_);
  if (left >= right || top >= bottom) return 0;
  return sum(right, bottom) - sum(left, bottom) - sum(right, top) + sum(left, top);
}

InkGrid grid_of(const Ink& ink, const Box& area, double finest) {
  InkGrid grid(area, finest);
  for (const Streak& streak : ink.streaks) grid.add(streak);
  for (const Box& box : ink.solids) grid.add(box);
  for (const Box& box : ink.texts) grid.add(box, kTextWeight);
  grid.settle();
  return grid;
}

}  // namespace pouchwright::paper
