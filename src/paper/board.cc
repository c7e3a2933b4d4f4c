#include "paper/board.h"

#include <algorithm>
#include <cmath>

#include "ink/labels.h"

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Point;
using ink::Text;

/// Between a text and any other furniture.
constexpr double kTextApart = 0.8;

/// `count` places from `from` on, the last one at `to` at the latest.
int places(double from, double to, double step) {
  return to < from ? 0 : static_cast<int>(std::floor((to - from) / step + 1e-9)) + 1;
}

double distance_to(const Box& box, Point p) {
  return std::hypot((box.x0 + box.x1) / 2 - p.x, (box.y0 + box.y1) / 2 - p.y);
}

}  // namespace

bool Board::is_taken(const Box& box) const {
  return std::any_of(taken_.begin(), taken_.end(),
                     [&box](const Box& other) { return ink::overlap(other, box); });
}

std::optional<Spot> Board::best_spot(Point size, const Search& search) const {
  const Box& within = search.within;
  const double step = std::max(search.step, grid_.cell());
  const int columns = places(within.x0, within.x1 - size.x, step);
  const int rows = places(within.y0, within.y1 - size.y, step);
  const bool forward = search.from == Corner::top_left;
  std::optional<Spot> best;
  double best_distance = 0;
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const double x = forward ? within.x0 + column * step : within.x1 - size.x - column * step;
      const double y = forward ? within.y0 + row * step : within.y1 - size.y - row * step;
      const Box box{x, y, x + size.x, y + size.y};
      const std::int64_t ink = grid_.under(box);
      const double distance = search.near ? distance_to(box, *search.near) : 0;
      if (best && (ink > best->ink || (ink == best->ink && distance >= best_distance))) continue;
      if (is_taken(box) || (search.off && ink::overlap(*search.off, box))) continue;
      best = Spot{box, ink};
      best_distance = distance;
      if (ink == 0 && !search.near) return best;
    }
  }
  return best;
}

Point Board::size_of(const Text& text) const {
  const Box box = ink::bounds(text, *measure_);
  return {box.width(), box.height()};
}

std::optional<Text> Board::placed(const Text& text, const Search& search) {
  const auto spot = best_spot(size_of(text), search);
  if (!spot) return std::nullopt;
  take(ink::grown(spot->box, kTextApart));
  return with_top_left(text, {spot->box.x0, spot->box.y0}, *measure_);
}

}  // namespace pouchwright::paper
