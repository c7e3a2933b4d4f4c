#include "paper/squares.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Group;
using ink::Point;
using ink::Shape;
using ink::Stroke;

constexpr Stroke kStroke{ink::LinePattern::continuous, kCheckStroke};
constexpr double kTick = 1.5;  ///< half the length of a line's end ticks

/// What it counts, as ink, if a square is drawn around other furniture.
constexpr std::int64_t kAround = std::int64_t{1} << 40;

/// Strips of kStandOff to either side of the four lines.
std::array<Box, 4> strips_of(const Box& square) {
  const Box out = ink::grown(square, kStandOff);
  const Box in = ink::grown(square, -kStandOff);
  return {Box{out.x0, out.y0, out.x1, in.y0}, Box{out.x0, in.y1, out.x1, out.y1},
          Box{out.x0, in.y0, in.x0, in.y1}, Box{in.x1, in.y0, out.x1, in.y1}};
}

/// A line's strip reaches around its ticks.
Box strip_of(const Box& line) {
  const bool across = line.width() > line.height();
  const double x = across ? kStandOff : kStandOff + kTick;
  const double y = across ? kStandOff + kTick : kStandOff;
  return {line.x0 - x, line.y0 - y, line.x1 + x, line.y1 + y};
}

struct Found {
  Box box;
  std::int64_t on_lines = 0;  ///< ink in the strips
  std::int64_t in_all = 0;    ///< the same for the square as a whole
};

bool is_better(const Found& a, const std::optional<Found>& b) {
  return !b || a.on_lines < b->on_lines || (a.on_lines == b->on_lines && a.in_all < b->in_all);
}

/// Of all places, from the bottom right corner on, `step` apart, the one that is_better.
std::optional<Found> search(const Board& board, Point size, double step) {
  // The line's outer half lies in the printable area too.
  const Box room = ink::grown(board.printable(), -kCheckStroke / 2);
  std::optional<Found> best;
  for (double y = room.y1 - size.y; y >= room.y0; y -= step) {
    for (double x = room.x1 - size.x; x >= room.x0; x -= step) {
      Found found{{x, y, x + size.x, y + size.y}};
      const Box whole = ink::grown(found.box, kStandOff);
      found.in_all = board.ink_under(whole) + (board.is_taken(whole) ? kAround : 0);
      const auto strips = strips_of(found.box);
      if (found.in_all > 0) {
        for (const Box& strip : strips) found.on_lines += board.ink_under(strip);
      }
      if (!is_better(found, best)) continue;
      const auto taken = [&board](const Box& strip) { return board.is_taken(strip); };
      if (std::any_of(strips.begin(), strips.end(), taken)) continue;
      best = found;
      if (best->in_all == 0) return best;
    }
  }
  return best;
}

std::optional<Found> best_square(const Board& board, Point size) {
  std::optional<Found> found = search(board, size, 2);
  if (!found || found->on_lines == 0) return found;
  const std::optional<Found> closer = search(board, size, 0.5);
  return closer ? closer : found;
}

/// Takes the strips; those with ink are to be left out of the drawing.
Check settled(Board& board, const Box& box, const std::vector<Box>& strips) {
  Check check{box, {}};
  for (const Box& strip : strips) {
    if (board.ink_under(strip) > 0) check.gaps.push_back(strip);
    board.take(strip);
  }
  return check;
}

/// The place for a line with the least ink.
std::optional<Box> best_line(const Board& board, Point size) {
  const double reach = kStandOff + kTick;
  const Box room = ink::grown(board.printable(), kStandOff - kCheckStroke);
  const Search everywhere{.within = room, .from = Corner::bottom_right, .step = 1, .near = {}};
  const auto across = board.best_spot({size.x + 2 * kStandOff, 2 * reach}, everywhere);
  const auto down = board.best_spot({2 * reach, size.y + 2 * kStandOff}, everywhere);
  const bool flat = across && (!down || across->ink <= down->ink);
  if (!across && !down) return std::nullopt;
  const Box strip = flat ? across->box : down->box;
  return flat ? Box{strip.x0 + kStandOff, strip.y0 + reach, strip.x1 - kStandOff, strip.y0 + reach}
              : Box{strip.x0 + reach, strip.y0 + kStandOff, strip.x0 + reach, strip.y1 - kStandOff};
}

/// What is found while `avoided` is taken; these are free again afterwards.
template <class Find>
auto outside(Board& board, const std::vector<Box>& avoided, const Find& find) {
  const std::size_t before = board.mark();
  for (const Box& box : avoided) board.take(box);
  auto found = find();
  board.back_to(before);
  return found;
}

Check settled_square(Board& board, const Box& box) {
  const auto strips = strips_of(box);
  return settled(board, box, {strips.begin(), strips.end()});
}

Shape shape(ink::Path path, const std::string& name) {
  return {.group = Group::scale_check, .path = std::move(path), .stroke = kStroke, .name = name};
}

}  // namespace

Check placed_square(Board& board, Point size, const std::vector<Box>& avoided) {
  auto found = outside(board, avoided, [&] { return best_square(board, size); });
  if (!found) found = best_square(board, size);
  if (!found) found = search(board, size, 0.5);
  // Marks and trim lines lie along the edges; kLeastRoom leaves a place inside them.
  return found ? settled_square(board, found->box) : Check{};
}

Check placed_line(Board& board, Point size, const std::vector<Box>& avoided) {
  auto found = outside(board, avoided, [&] { return best_line(board, size); });
  if (!found) found = best_line(board, size);
  return found ? settled(board, *found, {strip_of(*found)}) : Check{};
}

std::vector<ink::Item> drawn(const Check& check, const std::string& name) {
  const Box& box = check.box;
  if (box.width() > 0 && box.height() > 0) return {shape(ink::rectangle(box), name)};
  if (box.width() == 0 && box.height() == 0) return {};
  const Point a{box.x0, box.y0};
  const Point b{box.x1, box.y1};
  const double x = box.width() > 0 ? 0 : kTick;
  const double y = box.width() > 0 ? kTick : 0;
  ink::Path path = ink::line(a, b);
  for (const Point& end : {a, b}) {
    const ink::Path tick = ink::line({end.x - x, end.y - y}, {end.x + x, end.y + y});
    path.insert(path.end(), tick.begin(), tick.end());
  }
  return {shape(std::move(path), name)};
}

}  // namespace pouchwright::paper
