#include "paper/plan.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Drawing;
using ink::Point;

/// Sizes are whole nanometres turned to doubles: what is off by less than this fits.
constexpr double kSlack = 1e-6;
/// How many grid offsets are tried each way.
constexpr int kOffsets = 24;
/// Joins keep this far from what should stay whole.
constexpr double kClear = 2;

struct Span {
  double from = 0;
  double to = 0;
};
using Spans = std::vector<Span>;

/// The room for a window in the drawing's own directions.
struct Room {
  double width = 0;
  double height = 0;
};

Room room_of(const Sheet& sheet, int turn_deg) {
  const double across = (sheet.printable.width() - sheet.spare.x) / sheet.scale.x;
  const double down = (sheet.printable.height() - sheet.spare.y) / sheet.scale.y;
  return turn_deg == 0 ? Room{across, down} : Room{down, across};
}

std::size_t count_of(double length, double room, double overlap) {
  if (length <= room + kSlack) return 1;
  const double step = room - overlap;
  return static_cast<std::size_t>(std::ceil((length - overlap - kSlack) / step));
}

/// `count` spans of `pitch` + overlap, the first one of `first` only, cut off at the ends.
Spans laid(double from, double to, std::size_t count, double first, double pitch, double overlap) {
  Spans spans;
  for (std::size_t k = 0; k < count; ++k) {
    const double end = k + 1 == count ? to : from + first + static_cast<double>(k) * pitch;
    const double begin = k == 0 ? from : spans.back().to - overlap;
    spans.push_back({begin, std::min(end, to)});
  }
  return spans;
}

/// A narrower window leaves no place for two registration marks along its short edges.
double least_window(double overlap) { return 2 * overlap + 30; }

/// The ways to cut from..to: the plain one, equal windows, and the plain grid pushed back.
std::vector<Spans> layouts(double from, double to, double room, double overlap) {
  const std::size_t count = count_of(to - from, room, overlap);
  if (count == 1) return {{{from, to}}};
  const double pitch = room - overlap;
  std::vector<Spans> result = {laid(from, to, count, room, pitch, overlap)};
  const auto n = static_cast<double>(count);
  const double even = (to - from + (n - 1) * overlap) / n;
  result.push_back(laid(from, to, count, even, even - overlap, overlap));
  const double slack = n * pitch + overlap - (to - from);
  const double least = std::min(least_window(overlap), even);
  for (int k = 1; k <= kOffsets; ++k) {
    const double first = room - slack * k / kOffsets;
    if (first >= least) result.push_back(laid(from, to, count, first, pitch, overlap));
  }
  // The plain one may end in a sliver; equal windows never do.
  const Span last = result.front().back();
  if (last.to - last.from < least) result.erase(result.begin());
  return result;
}

/// The middle of what a span shares with the next one.
double join_after(const Spans& spans, std::size_t k) {
  return (spans[k].to + spans[k + 1].from) / 2;
}

int crossings_of(const Spans& columns, const Spans& rows, const std::vector<Box>& keep_whole) {
  int count = 0;
  for (const Box& box : keep_whole) {
    const Box wide = ink::grown(box, kClear);
    for (std::size_t k = 0; k + 1 < columns.size(); ++k) {
      const double x = join_after(columns, k);
      count += x > wide.x0 && x < wide.x1 ? 1 : 0;
    }
    for (std::size_t k = 0; k + 1 < rows.size(); ++k) {
      const double y = join_after(rows, k);
      count += y > wide.y0 && y < wide.y1 ? 1 : 0;
    }
  }
  return count;
}

/// How often what two windows share reaches into something that should stay whole.
int scraps_of(const Spans& columns, const Spans& rows, const std::vector<Box>& keep_whole) {
  int count = 0;
  for (const Box& box : keep_whole) {
    for (std::size_t k = 0; k + 1 < columns.size(); ++k) {
      count += columns[k].to > box.x0 && columns[k + 1].from < box.x1 ? 1 : 0;
    }
    for (std::size_t k = 0; k + 1 < rows.size(); ++k) {
      count += rows[k].to > box.y0 && rows[k + 1].from < box.y1 ? 1 : 0;
    }
  }
  return count;
}

/// What makes one way of cutting better than another; smaller is better.
struct Cost {
  std::size_t pages = 0;
  std::size_t joins = 0;
  int crossings = 0;
  int scraps = 0;          ///< of what should stay whole, printed again beyond a join
  std::size_t turned = 0;  ///< words are best read from where one stands

  auto operator<=>(const Cost&) const = default;
};

/// One way of cutting one drawing.
struct Cut {
  int turn_deg = 0;
  Spans columns;
  Spans rows;
  std::vector<bool> inked;  ///< row by row
  Cost cost;
};

Box window_of(const Cut& cut, std::size_t column, std::size_t row) {
  return {cut.columns[column].from, cut.rows[row].from, cut.columns[column].to, cut.rows[row].to};
}

bool is_inked(const Cut& cut, std::size_t column, std::size_t row) {
  return column < cut.columns.size() && row < cut.rows.size() &&
         cut.inked[row * cut.columns.size() + column];
}

void count_pages_and_joins(Cut& cut) {
  cut.cost.pages = 0;
  cut.cost.joins = 0;
  for (std::size_t row = 0; row < cut.rows.size(); ++row) {
    for (std::size_t column = 0; column < cut.columns.size(); ++column) {
      if (!is_inked(cut, column, row)) continue;
      ++cut.cost.pages;
      cut.cost.joins += is_inked(cut, column + 1, row) ? 1U : 0U;
      cut.cost.joins += is_inked(cut, column, row + 1) ? 1U : 0U;
    }
  }
}

/// `has_ink` says of a window whether anything is drawn in it.
template <class HasInk>
void find_inked(Cut& cut, const HasInk& has_ink) {
  cut.inked.clear();
  for (std::size_t row = 0; row < cut.rows.size(); ++row) {
    for (std::size_t column = 0; column < cut.columns.size(); ++column) {
      cut.inked.push_back(has_ink(window_of(cut, column, row)));
    }
  }
  // A drawing without any ink still gets a page.
  if (std::find(cut.inked.begin(), cut.inked.end(), true) == cut.inked.end()) cut.inked[0] = true;
  count_pages_and_joins(cut);
}

/// The best way to cut one drawing that is held at `turn_deg`.
Cut best_cut_at(int turn_deg, const Box& extent, const Ink& ink, const InkGrid& grid,
                const Sheet& sheet) {
  const Room room = room_of(sheet, turn_deg);
  const auto has_ink = [&grid](const Box& window) { return grid.under(window) > 0; };
  std::optional<Cut> best;
  for (const Spans& columns : layouts(extent.x0, extent.x1, room.width, sheet.overlap)) {
    for (const Spans& rows : layouts(extent.y0, extent.y1, room.height, sheet.overlap)) {
      Cut cut{turn_deg, columns, rows, {}, {}};
      find_inked(cut, has_ink);
      if (best &&
          std::tie(best->cost.pages, best->cost.joins) < std::tie(cut.cost.pages, cut.cost.joins)) {
        continue;
      }
      cut.cost.crossings = crossings_of(columns, rows, ink.keep_whole);
      cut.cost.scraps = scraps_of(columns, rows, ink.keep_whole);
      if (!best || cut.cost < best->cost) best = std::move(cut);
    }
  }
  // The grid errs on the side of ink; now look closely.
  find_inked(*best, [&ink](const Box& window) { return touches(ink, window); });
  return *best;
}

/// Windows put on sheets, several on one where they fit.
class Packer {
 public:
  enum class Onto { last_sheet, any_sheet };

  explicit Packer(const Sheet& sheet) : sheet_(sheet) {}

  /// On the first of these sheets that has room at `top` or below, turned one of `turns`, or on a
  /// new one as it is.
  void add(Placement placement, const std::vector<int>& turns, Onto onto, double top = 0) {
    const bool is_last = onto == Onto::last_sheet && !taken_.empty();
    for (std::size_t sheet = is_last ? taken_.size() - 1 : 0; sheet < taken_.size(); ++sheet) {
      for (const int turn_deg : turns) {
        const auto at = free_corner(sheet, size_on_paper(placement.window, turn_deg), top);
        if (!at) continue;
        placement.turn_deg = turn_deg;
        placement.at = *at;
        put(sheet, std::move(placement));
        return;
      }
    }
    placement.at = {sheet_.printable.x0, sheet_.printable.y0};
    taken_.push_back(kept_free());
    put(taken_.size() - 1, std::move(placement));
  }

  [[nodiscard]] std::size_t sheets() const { return taken_.size(); }
  [[nodiscard]] const std::vector<Window>& windows() const& { return windows_; }
  [[nodiscard]] std::vector<Window> windows() && { return std::move(windows_); }

 private:
  [[nodiscard]] Point size_on_paper(const Box& window, int turn_deg) const {
    const double across = turn_deg == 0 ? window.width() : window.height();
    const double down = turn_deg == 0 ? window.height() : window.width();
    return {across * sheet_.scale.x, down * sheet_.scale.y};
  }

  [[nodiscard]] std::vector<Box> kept_free() const {
    const Box& all = sheet_.printable;
    if (sheet_.spare == Point{}) return {};
    return {{all.x1 - sheet_.corner.x, all.y1 - sheet_.corner.y, all.x1, all.y1}};
  }

  void put(std::size_t sheet, Placement placement) {
    const Point size = size_on_paper(placement.window, placement.turn_deg);
    const Point at = placement.at;
    taken_[sheet].push_back({at.x, at.y, at.x + size.x, at.y + size.y});
    windows_.push_back({std::move(placement), sheet});
  }

  /// The highest place from `top` on, then the leftmost, beside or below what is there already.
  [[nodiscard]] std::optional<Point> free_corner(std::size_t sheet, Point size, double top) const {
    std::vector<double> xs = {sheet_.printable.x0};
    std::vector<double> ys = {sheet_.printable.y0};
    for (const Box& box : taken_[sheet]) {
      xs.push_back(box.x1 + kApart);
      ys.push_back(box.y1 + kApart);
    }
    std::sort(xs.begin(), xs.end());
    std::sort(ys.begin(), ys.end());
    for (const double y : ys) {
      if (y < top) continue;
      for (const double x : xs) {
        if (is_free(sheet, {x, y, x + size.x, y + size.y})) return Point{x, y};
      }
    }
    return std::nullopt;
  }

  [[nodiscard]] bool is_free(std::size_t sheet, const Box& box) const {
    const Box& printable = sheet_.printable;
    if (box.x1 > printable.x1 + kSlack || box.y1 > printable.y1 + kSlack) return false;
    const auto near = [&box](const Box& other) {
      return ink::overlap(ink::grown(other, kApart - kSlack), box);
    };
    const auto& taken = taken_[sheet];
    return std::none_of(taken.begin(), taken.end(), near);
  }

  Sheet sheet_;
  std::vector<std::vector<Box>> taken_;
  std::vector<Window> windows_;
};

/// "A" … "Z", "AA" … for 0 …
std::string letters(std::size_t column) {
  std::string name;
  for (std::size_t rest = column + 1; rest > 0; rest = (rest - 1) / 26) {
    name.insert(name.begin(), static_cast<char>('A' + (rest - 1) % 26));
  }
  return name;
}

std::string cell_name(std::size_t first_column, const Placement& placement) {
  return letters(first_column + static_cast<std::size_t>(placement.column)) +
         std::to_string(placement.row + 1);
}

/// The joins of one drawing whose windows are `plan.windows[first...]`.
void add_joins(Plan& plan, std::size_t first, const Cut& cut) {
  std::vector<std::optional<std::size_t>> at(cut.inked.size());
  for (std::size_t k = 0, next = first; k < at.size(); ++k) {
    if (cut.inked[k]) at[k] = next++;
  }
  const std::size_t columns = cut.columns.size();
  // Turned clockwise, a drawing's right side lies down on the page and its bottom to the left.
  const bool turned = cut.turn_deg != 0;
  for (std::size_t row = 0; row < cut.rows.size(); ++row) {
    for (std::size_t column = 0; column < columns; ++column) {
      const auto here = at[row * columns + column];
      if (!here) continue;
      if (is_inked(cut, column + 1, row)) {
        const double x = join_after(cut.columns, column);
        plan.joins.push_back({*here,
                              *at[row * columns + column + 1],
                              turned ? Across::down : Across::page,
                              {x, cut.rows[row].from},
                              {x, cut.rows[row].to}});
      }
      if (is_inked(cut, column, row + 1)) {
        const double y = join_after(cut.rows, row);
        const std::size_t below = *at[(row + 1) * columns + column];
        plan.joins.push_back({turned ? below : *here,
                              turned ? *here : below,
                              turned ? Across::page : Across::down,
                              {cut.columns[column].from, y},
                              {cut.columns[column].to, y}});
      }
    }
  }
}

bool is_before(const Window& a, const Window& b) {
  return std::tie(a.placement.drawing, a.placement.row, a.placement.column) <
         std::tie(b.placement.drawing, b.placement.row, b.placement.column);
}

bool is_same_cell(const Placement& a, const Placement& b) {
  return a.drawing == b.drawing && a.row == b.row && a.column == b.column;
}

/// Sheets numbered in the order of the first name on each.
void number_sheets(Plan& plan) {
  std::vector<Window*> by_name;
  for (Window& window : plan.windows) by_name.push_back(&window);
  std::stable_sort(by_name.begin(), by_name.end(), [](const Window* a, const Window* b) {
    return std::tie(a->placement.drawing, a->placement.column, a->placement.row) <
           std::tie(b->placement.drawing, b->placement.column, b->placement.row);
  });
  std::vector<std::optional<std::size_t>> number(plan.sheets);
  std::size_t next = 0;
  for (Window* window : by_name) {
    if (!number[window->sheet]) number[window->sheet] = next++;
    window->sheet = *number[window->sheet];
  }
}

void add_dropped(Plan& plan, std::size_t drawing, const Cut& cut) {
  for (std::size_t row = 0; row < cut.rows.size(); ++row) {
    for (std::size_t column = 0; column < cut.columns.size(); ++column) {
      if (is_inked(cut, column, row)) continue;
      plan.dropped.push_back({drawing,
                              window_of(cut, column, row),
                              cut.turn_deg,
                              {},
                              {},
                              static_cast<int>(column),
                              static_cast<int>(row)});
    }
  }
}

/// Names all windows, the dropped ones too: what the map shows must have a name.
void name_cells(Plan& plan, const std::vector<Cut>& cuts, std::size_t first_column) {
  std::vector<std::size_t> first(cuts.size(), first_column);
  for (std::size_t k = 1; k < cuts.size(); ++k)
    first[k] = first[k - 1] + cuts[k - 1].columns.size();
  for (Window& window : plan.windows) {
    window.placement.cell = cell_name(first[window.placement.drawing], window.placement);
  }
  for (Placement& dropped : plan.dropped) {
    dropped.cell = cell_name(first[dropped.drawing], dropped);
  }
}

void add_joins(Plan& plan, const std::vector<Cut>& cuts) {
  std::size_t first = 0;
  for (const Cut& cut : cuts) {
    add_joins(plan, first, cut);
    first += cut.cost.pages;
  }
}

/// A window that is to be put on a sheet.
struct Loose {
  Placement placement;
  std::vector<int> turns;
};

/// The windows of all cuts, in the order of their names. Those of a drawing in several windows are all turned
/// alike, so that its pages lie beside each other as they come from the printer.
std::vector<Loose> loose_windows(const std::vector<Cut>& cuts) {
  std::vector<Loose> result;
  for (std::size_t k = 0; k < cuts.size(); ++k) {
    const Cut& cut = cuts[k];
    const std::vector<int> turns = cut.inked.size() == 1
                                       ? std::vector{cut.turn_deg, 90 - cut.turn_deg}
                                       : std::vector{cut.turn_deg};
    for (std::size_t column = 0; column < cut.columns.size(); ++column) {
      for (std::size_t row = 0; row < cut.rows.size(); ++row) {
        if (!is_inked(cut, column, row)) continue;
        result.push_back({{k,
                           window_of(cut, column, row),
                           cut.turn_deg,
                           {},
                           {},
                           static_cast<int>(column),
                           static_cast<int>(row)},
                          turns});
      }
    }
  }
  return result;
}

std::vector<Loose> largest_first(std::vector<Loose> windows) {
  const auto area = [](const Loose& it) {
    return it.placement.window.width() * it.placement.window.height();
  };
  std::stable_sort(windows.begin(), windows.end(),
                   [&area](const Loose& a, const Loose& b) { return area(a) > area(b); });
  return windows;
}

/// On as few sheets as they take; of two ways that take as few, the one that keeps the order of the
/// names: all on the last sheet so far, else on any.
Packer packed(const Sheet& sheet, const std::vector<Loose>& windows) {
  Packer best(sheet);
  for (const Loose& one : windows) best.add(one.placement, one.turns, Packer::Onto::last_sheet);
  for (const std::vector<Loose>& order : {windows, largest_first(windows)}) {
    Packer other(sheet);
    for (const Loose& one : order) other.add(one.placement, one.turns, Packer::Onto::any_sheet);
    if (other.sheets() < best.sheets()) best = std::move(other);
  }
  return best;
}

enum class Rows { descending, any };

/// These on one sheet, in this order; with Rows::descending none stands higher than the one before.
/// Empty where they take more.
std::vector<Window> on_one_sheet(const std::vector<Loose>& windows, const Sheet& sheet, Rows rows) {
  Packer packer(sheet);
  double top = 0;
  for (const Loose& one : windows) {
    packer.add(one.placement, one.turns, Packer::Onto::any_sheet, top);
    if (rows == Rows::descending) top = packer.windows().back().placement.at.y;
  }
  if (packer.sheets() != 1) return {};
  return std::move(packer).windows();
}

/// Each sheet's windows once more in the order of their names, where they still fit so, best from
/// the top down.
void put_in_order(std::vector<Window>& windows, const Sheet& sheet, const std::vector<Loose>& all,
                  std::size_t sheets) {
  for (std::size_t number = 0; number < sheets; ++number) {
    std::vector<Window*> own;
    std::vector<Loose> loose;
    for (const Loose& one : all) {
      const auto there = std::find_if(windows.begin(), windows.end(), [&](const Window& window) {
        return window.sheet == number && is_same_cell(window.placement, one.placement);
      });
      if (there == windows.end()) continue;
      own.push_back(&*there);
      loose.push_back(one);
    }
    std::vector<Window> placed = on_one_sheet(loose, sheet, Rows::descending);
    if (placed.empty()) placed = on_one_sheet(loose, sheet, Rows::any);
    for (std::size_t k = 0; k < placed.size(); ++k) own[k]->placement = placed[k].placement;
  }
}

void place_all(Plan& plan, const std::vector<Cut>& cuts) {
  const std::vector<Loose> loose = loose_windows(cuts);
  Packer packer = packed(plan.sheet, loose);
  plan.sheets = packer.sheets();
  plan.windows = std::move(packer).windows();
  put_in_order(plan.windows, plan.sheet, loose, plan.sheets);
  std::stable_sort(plan.windows.begin(), plan.windows.end(), is_before);
  number_sheets(plan);
}

Cut best_cut(const Box& extent, const Ink& ink, const InkGrid& grid, const Sheet& sheet) {
  Cut upright = best_cut_at(0, extent, ink, grid, sheet);
  Cut turned = best_cut_at(90, extent, ink, grid, sheet);
  return turned.cost < upright.cost ? turned : upright;
}

Plan plan_on(const Sheet& sheet, const std::vector<Drawing>& drawings, const std::vector<Ink>& inks,
             const std::vector<InkGrid>& grids, std::size_t first_column) {
  Plan plan;
  plan.sheet = sheet;
  std::vector<Cut> cuts;
  for (std::size_t k = 0; k < drawings.size(); ++k) {
    cuts.push_back(best_cut(drawings[k].extent, inks[k], grids[k], sheet));
    plan.crossings += cuts.back().cost.crossings;
    add_dropped(plan, k, cuts.back());
  }
  place_all(plan, cuts);
  name_cells(plan, cuts, first_column);
  add_joins(plan, cuts);
  return plan;
}

}  // namespace

std::size_t least_cells(const std::vector<Drawing>& drawings, const Sheet& sheet) {
  std::size_t cells = 0;
  for (const Drawing& drawing : drawings) {
    const auto cells_at = [&](int turn_deg) {
      const Room room = room_of(sheet, turn_deg);
      return count_of(drawing.extent.width(), room.width, sheet.overlap) *
             count_of(drawing.extent.height(), room.height, sheet.overlap);
    };
    cells += std::min(cells_at(0), cells_at(90));
  }
  return cells;
}

std::size_t plain_grid(const std::vector<Drawing>& drawings, const Sheet& upright) {
  const Room room = room_of(upright, 0);
  std::size_t pages = 0;
  for (const Drawing& drawing : drawings) {
    pages += count_of(drawing.extent.width(), room.width, upright.overlap) *
             count_of(drawing.extent.height(), room.height, upright.overlap);
  }
  return pages;
}

Plan best_plan(const std::vector<Drawing>& drawings, const std::vector<Ink>& inks,
               const std::vector<InkGrid>& grids, const std::vector<Sheet>& sheets,
               std::size_t first_column) {
  const auto cost = [](const Plan& plan) {
    const auto turned =
        std::count_if(plan.windows.begin(), plan.windows.end(),
                      [](const Window& window) { return window.placement.turn_deg != 0; });
    return Cost{plan.sheets, plan.joins.size(), plan.crossings, 0,
                static_cast<std::size_t>(turned)};
  };
  Plan best = plan_on(sheets.front(), drawings, inks, grids, first_column);
  for (std::size_t k = 1; k < sheets.size(); ++k) {
    Plan other = plan_on(sheets[k], drawings, inks, grids, first_column);
    if (cost(other) < cost(best)) best = std::move(other);
  }
  return best;
}

}  // namespace pouchwright::paper
