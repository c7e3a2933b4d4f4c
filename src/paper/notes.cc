#include "paper/notes.h"

#include <algorithm>
#include <array>

#include "ink/labels.h"
#include "paper/squares.h"

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Point;
using ink::Text;

/// Lines of a note that is broken are as long as this part of the page's width.
constexpr std::array kLineParts = {1.0, 0.5, 0.34, 0.25};

Text label(std::string words) {
  return {.group = ink::Group::label, .words = std::move(words), .size = ink::kSmallestSize};
}

/// What of a line along an axis lies in the window; others are left as they are.
Streak cut_to(Streak streak, const Box& window) {
  const auto clamp = [&window](Point& p) {
    p = {std::clamp(p.x, window.x0, window.x1), std::clamp(p.y, window.y0, window.y1)};
  };
  if (streak.from.x == streak.to.x || streak.from.y == streak.to.y) {
    clamp(streak.from);
    clamp(streak.to);
  }
  return streak;
}

/// Ink of the page's windows on the board.
void add_ink(Board& board, const Page& page, const std::vector<Ink>& inks, Point scale,
             Beyond beyond) {
  for (const Placement& placement : page.placements) {
    const Ink& ink = inks[placement.drawing];
    const auto box_on_paper = [&](const Box& box) {
      const Point a = on_paper(placement, scale, {box.x0, box.y0});
      const Point b = on_paper(placement, scale, {box.x1, box.y1});
      return Box{std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
    };
    const Box window = box_on_paper(placement.window);
    const auto add = [&](const Box& box, int weight) {
      const Box shown{std::max(box.x0, window.x0), std::max(box.y0, window.y0),
                      std::min(box.x1, window.x1), std::min(box.y1, window.y1)};
      if (shown.x0 <= shown.x1 && shown.y0 <= shown.y1) board.add(shown, weight);
    };
    for (const Streak& whole : ink.streaks) {
      if (!touches(whole, placement.window)) continue;
      const Streak streak = beyond == Beyond::cut ? cut_to(whole, placement.window) : whole;
      // Line widths are not corrected, and a slanting streak cut at the window's edge may be
      // counted whole beyond it: that only loses a place.
      board.add(Streak{on_paper(placement, scale, streak.from),
                       on_paper(placement, scale, streak.to), streak.half});
    }
    for (const Box& box : ink.solids) add(box_on_paper(box), 1);
    // Letters keep their size under a correction: 3 % of a long line is a few millimetres.
    for (const Box& box : ink.texts)
      add(box_on_paper(ink::grown(box, 0.02 * box.width())), kTextWeight);
  }
}

/// What of a page's furniture other words keep off: its letters, and a strip around every line.
void take_furniture(Board& board, const Page& page, const ink::TextMeasure& measure) {
  const Ink ink = ink_of(page.furniture, measure);
  // The check squares' lines are furniture as well, and what stands clear of them does of all.
  for (const Streak& streak : ink.streaks) board.take(ink::grown(bounds(streak), kStandOff));
  for (const Box& box : ink.solids) board.take(ink::grown(box, kMarkApart));
  for (const Box& box : ink.texts) board.take(ink::grown(box, kMarkApart));
  for (const Box& gap : page.gaps) board.take(gap);
}

}  // namespace

Board board_of(const Page& page, const std::vector<Ink>& inks, Point scale, const Box& printable,
               const ink::TextMeasure& measure, Beyond beyond) {
  Board board(printable, measure);
  add_ink(board, page, inks, scale, beyond);
  board.settle();
  return board;
}

Notes::Notes(Pages& pages, const Box& printable, const ink::TextMeasure& measure)
    : pages_(&pages), printable_(printable), measure_(&measure), boards_(pages.pages.size()) {
  for (const ink::Drawing& drawing : pages.drawings) {
    inks_.push_back(ink_of(drawing.items, measure));
  }
}

Board& Notes::board_for(std::size_t page) {
  std::optional<Board>& board = boards_[page];
  if (!board) {
    const Page& written = pages_->pages[page];
    board.emplace(board_of(written, inks_, pages_->scale, printable_, *measure_, Beyond::cut));
    take_furniture(*board, written, *measure_);
  }
  return *board;
}

void Notes::add(std::size_t page, const std::string& words, Point near) {
  Board& board = board_for(page);
  std::vector<std::string> lines;
  Point size;
  std::optional<Spot> spot;
  for (const double part : kLineParts) {
    lines = ink::broken_into_lines(words, part * printable_.width(), ink::kSmallestSize,
                                   ink::Weight::regular, *measure_);
    // Lines of one note stay together: they are placed as one box.
    size = {};
    for (const std::string& line : lines) {
      const Point own = board.size_of(label(line));
      size = {std::max(size.x, own.x), size.y + own.y};
    }
    spot = board.best_spot(size, {.within = printable_, .step = 1, .near = near});
    if (spot) break;
  }
  const Point corner = spot ? Point{spot->box.x0, spot->box.y0}
                            : Point{std::clamp(near.x, printable_.x0, printable_.x1 - size.x),
                                    std::clamp(near.y, printable_.y0, printable_.y1 - size.y)};
  board.take(ink::grown({corner.x, corner.y, corner.x + size.x, corner.y + size.y}, kMarkApart));
  double y = corner.y;
  for (const std::string& line : lines) {
    pages_->pages[page].furniture.emplace_back(
        with_top_left(label(line), {corner.x, y}, *measure_));
    y += board.size_of(label(line)).y;
  }
}

}  // namespace pouchwright::paper
