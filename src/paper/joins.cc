#include "paper/joins.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Group;
using ink::Item;
using ink::Path;
using ink::Point;
using ink::Shape;
using ink::Stroke;
using ink::Verb;

constexpr Stroke kMarkStroke{ink::LinePattern::continuous, 0.18};
constexpr Stroke kTrimStroke{ink::LinePattern::continuous, 0.18};
/// Of the teeth along a trim line: no line of a drawing has any.
constexpr double kTooth = 1.5;
constexpr double kToothEvery = 5;
constexpr double kReach = 4;          ///< of a mark's cross
constexpr double kRoundness = 0.75;   ///< the circle's radius, as part of the cross's reach
constexpr double kLeastForWhole = 3;  ///< mm of overlap below which marks are halved
constexpr double kStep = 1;           ///< mm between the places tried for a mark
constexpr double kMarkEvery = 250;    ///< mm; a longer join has more than two

/// Control points of a quarter circle, in radii from its ends: 4/3 · (√2 − 1).
constexpr double kQuarterArm = 0.5522847498307936;

bool is_whole(double overlap) { return overlap >= kLeastForWhole; }

bool is_upright(const Join& join) { return join.from.x == join.to.x; }

double length_of(const Join& join) { return join.to.x - join.from.x + join.to.y - join.from.y; }

Point along(const Join& join, double distance) {
  return is_upright(join) ? Point{join.from.x, join.from.y + distance}
                          : Point{join.from.x + distance, join.from.y};
}

Box around(Point centre, double reach) {
  return {centre.x - reach, centre.y - reach, centre.x + reach, centre.y + reach};
}

/// Chooses the marks of one drawing's joins one after another.
class MarkChooser {
 public:
  MarkChooser(const InkGrid& grid, double overlap)
      : grid_(grid), overlap_(overlap), reach_(mark_reach(overlap) + 0.5) {}

  MarkCentres centres(const Join& join) {
    const double length = length_of(join);
    const int count = std::max(2, static_cast<int>(std::ceil(length / kMarkEvery)));
    // Off the ends, where the joins with the rows above and below cross this one.
    const double inset = std::min(overlap_ + reach_, length / 5);
    const double part = (length - 2 * inset) / count;
    MarkCentres result;
    for (int k = 0; k < count; ++k) {
      const double from = inset + k * part;
      // Neighbouring parts stay apart by a mark each, where there is so much room.
      const double spare = std::min(reach_, part / 3);
      result.push_back(
          best(join, from + (k == 0 ? 0 : spare), from + part - (k + 1 == count ? 0 : spare)));
      taken_.push_back(around(result.back(), reach_));
    }
    return result;
  }

 private:
  /// The place with the least ink between two distances along the join; of equals the middle one.
  [[nodiscard]] Point best(const Join& join, double from, double to) const {
    const double middle = (from + to) / 2;
    double best = middle;
    std::int64_t best_cost = cost(along(join, middle));
    const int steps = static_cast<int>((to - from) / 2 / kStep);
    for (int k = 1; k <= steps && best_cost > 0; ++k) {
      for (const double distance : {middle - k * kStep, middle + k * kStep}) {
        const std::int64_t here = cost(along(join, distance));
        if (here >= best_cost) continue;
        best = distance;
        best_cost = here;
      }
    }
    return along(join, best);
  }

  [[nodiscard]] std::int64_t cost(Point centre) const {
    constexpr std::int64_t kTaken = std::int64_t{1} << 40;
    const Box box = around(centre, reach_);
    const bool taken = std::any_of(taken_.begin(), taken_.end(),
                                   [&box](const Box& other) { return ink::overlap(box, other); });
    return grid_.under(box) + (taken ? kTaken : 0);
  }

  const InkGrid& grid_;
  double overlap_;
  double reach_;
  std::vector<Box> taken_;
};

/// A half circle and a spoke, on the side to which (x, y), one of them 0, points.
Path half_mark(Point centre, double radius, double reach, Point to) {
  const double arm = kQuarterArm * radius;
  const Point end{-to.y, to.x};  // a quarter turn on
  const auto at = [centre, to, end](double out, double on) {
    return Point{centre.x + out * to.x + on * end.x, centre.y + out * to.y + on * end.y};
  };
  return {{Verb::move, at(0, radius), {}, {}},
          {Verb::curve, at(radius, 0), at(arm, radius), at(radius, arm)},
          {Verb::curve, at(0, -radius), at(radius, -arm), at(arm, -radius)},
          {Verb::move, centre, {}, {}},
          {Verb::line, at(reach, 0), {}, {}}};
}

/// From the line into the page.
Point inwards(const Join& join, Side side) {
  const double sign = side == Side::before ? -1 : 1;
  return join.across == Across::page ? Point{sign, 0} : Point{0, sign};
}

}  // namespace

double mark_reach(double overlap) {
  return is_whole(overlap) ? std::min(kReach, overlap / 2 - 0.2) : kReach;
}

std::vector<MarkCentres> mark_centres(const Plan& plan, const std::vector<InkGrid>& grids) {
  std::vector<MarkChooser> choosers;
  choosers.reserve(grids.size());
  for (const InkGrid& grid : grids) choosers.emplace_back(grid, plan.sheet.overlap);
  std::vector<MarkCentres> result;
  for (const Join& join : plan.joins) {
    const std::size_t drawing = plan.windows[join.before].placement.drawing;
    result.push_back(choosers[drawing].centres(join));
  }
  return result;
}

std::vector<Item> mark(Point centre, const Join& join, Side side, double overlap) {
  const double reach = mark_reach(overlap);
  const double radius = kRoundness * reach;
  const auto shape = [](Path path, const char* name) {
    return Shape{
        .group = Group::registration, .path = std::move(path), .stroke = kMarkStroke, .name = name};
  };
  if (!is_whole(overlap)) {
    return {shape(half_mark(centre, radius, reach, inwards(join, side)), "mark-half")};
  }
  Path cross = ink::line({centre.x - reach, centre.y}, {centre.x + reach, centre.y});
  const Path upright = ink::line({centre.x, centre.y - reach}, {centre.x, centre.y + reach});
  cross.insert(cross.end(), upright.begin(), upright.end());
  return {shape(ink::circle(centre, radius), "mark"), shape(std::move(cross), "mark-cross")};
}

Box line_on_paper(const Join& join, const Placement& placement, Point scale) {
  const Point a = on_paper(placement, scale, join.from);
  const Point b = on_paper(placement, scale, join.to);
  return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

std::vector<Item> trim_line(const Box& line, const Box& printable) {
  const double half = kTrimStroke.width / 2;
  const bool upright = line.width() < line.height();
  const double x = std::min(line.x0, printable.x1 - half);
  const double y = std::min(line.y0, printable.y1 - half);
  // Towards what is cut off, where that is on the paper.
  const bool beyond =
      upright ? x + kTooth + half <= printable.x1 : y + kTooth + half <= printable.y1;
  const double tip = beyond ? kTooth : -kTooth;
  const double from = (upright ? line.y0 : line.x0) + half;
  const double to = (upright ? line.y1 : line.x1) - half;
  const auto at = [&](double along, double off) {
    return upright ? Point{x + off, along} : Point{along, y + off};
  };
  Path teeth;
  for (double along = from + kToothEvery / 2; along < to; along += kToothEvery) {
    ink::append(teeth, ink::line(at(along, 0), at(along, tip)));
  }
  const auto shape = [](Path path, const char* name) {
    return Shape{
        .group = Group::registration, .path = std::move(path), .stroke = kTrimStroke, .name = name};
  };
  return {shape(ink::line(at(from, 0), at(to, 0)), "trim-line"),
          shape(std::move(teeth), "trim-teeth")};
}

}  // namespace pouchwright::paper
