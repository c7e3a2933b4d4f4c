#include "paper/furniture.h"

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "ink/labels.h"
#include "paper/board.h"
#include "paper/guide.h"
#include "paper/joins.h"
#include "paper/notes.h"
#include "paper/squares.h"

namespace pouchwright::paper {
namespace {

using ink::Box;
using ink::Group;
using ink::Item;
using ink::Point;
using ink::Text;
using ink::Weight;

constexpr double kTwoInches = 50.8;
constexpr double kCellSize = 9;       ///< mm, the em of a page's cell name
constexpr double kSmallCellSize = 5;  ///< mm, where there is no room for that
constexpr double kLeastColumn = 34;   ///< mm: a narrower column breaks every line
constexpr double kColumnGap = 1.5;    ///< mm between the drawings and what stands beside them
constexpr double kRounding = 1e-6;    ///< mm: a place just as large as its words has room for them
constexpr double kTextClear = 0.4;    ///< mm around a block
constexpr double kBesideLine = 3;     ///< mm of white between a line and its word, at most
constexpr double kEdge = 30;          ///< mm from an edge in which its neighbour is named
constexpr std::array kBlockWidths = {60.0, 80.0, 110.0, 45.0, 150.0};
/// How much line, in mm, a block of instructions may cross before a page of its own is better; and
/// how much where that page would make the document longer than the plain grid.
constexpr double kTolerable = 60;
constexpr double kTolerableToSave = 250;

Text label(std::string words, double size = ink::kSmallestSize, Weight weight = Weight::regular) {
  return {.group = Group::label, .words = std::move(words), .size = size, .weight = weight};
}

/// The part of the page beside the join.
Box edge_of(const Join& join, Side side, const Box& line, const Box& printable) {
  Box box = printable;
  const bool before = side == Side::before;
  if (join.across == Across::page) {
    (before ? box.x0 : box.x1) = before ? line.x0 - kEdge : line.x0 + kEdge;
    (before ? box.x1 : box.x0) = before ? line.x0 : box.x0;
  } else {
    (before ? box.y0 : box.y1) = before ? line.y0 - kEdge : line.y0 + kEdge;
    (before ? box.y1 : box.y0) = before ? line.y0 : box.y0;
  }
  return box;
}

/// One page under construction.
class PageMaker {
 public:
  /// With the ink of the page's windows on its board.
  PageMaker(Page page, const Sheet& sheet, const std::vector<Ink>& inks, Outlines outlines,
            const Voice& voice)
      : page_(std::move(page)),
        sheet_(sheet),
        voice_(voice),
        board_(
            board_of(page_, inks, sheet.scale, sheet.printable, voice.measure, Beyond::counted)) {
    if (outlines == Outlines::traced) traced_ = enclosed_on(page_, inks, sheet.scale);
  }

  [[nodiscard]] Page finished() && { return std::move(page_); }
  [[nodiscard]] bool is_guide() const { return page_.placements.empty(); }

  /// The trim line is only on the page before the join.
  void add_trim_line(const Join& join, const Placement& placement) {
    const Box line = line_on_paper(join, placement, sheet_.scale);
    for (Item& item : trim_line(line, sheet_.printable)) {
      board_.take(ink::grown(ink::bounds(item, voice_.measure), kMarkApart));
      page_.furniture.push_back(std::move(item));
    }
  }

  void add_marks(const Join& join, Side side, const MarkCentres& centres,
                 const Placement& placement) {
    for (const Point& centre : centres) {
      const Point at = on_paper(placement, sheet_.scale, centre);
      for (Item& item : mark(at, join, side, sheet_.overlap)) {
        board_.take(ink::grown(ink::bounds(item, voice_.measure), kMarkApart));
        page_.furniture.push_back(std::move(item));
      }
    }
  }

  void add_square() {
    const Check square = placed_square(board_, scaled(kCheckSquare), traced_);
    page_.check_square = {square.box.x0, square.box.y0, square.box.x0 + kCheckSquare,
                          square.box.y0 + kCheckSquare};
    add_check(square, "check-square", in_inches() ? "check-square-in" : "check-square-mm");
  }

  /// For whoever has a ruler in inches.
  void add_inch_bar() {
    if (!in_inches()) return;
    const Check bar = placed_line(board_, scaled(kTwoInches), traced_);
    if (bar.box.width() + bar.box.height() == 0) return;
    add_check(bar, "check-inch", "check-bar-in");
  }

  /// The neighbour's name near the middle of the shared edge, and a word at the trim line.
  void add_join_names(const Join& join, Side side, const Placement& placement,
                      const std::string& neighbour) {
    const Box line = line_on_paper(join, placement, sheet_.scale);
    if (side == Side::before) add_trim_word(join, line);
    add(label(voice_.words.say({"page-to", {{"cell", neighbour}}}), ink::kSmallestSize,
              Weight::bold),
        {.within = edge_of(join, side, line, sheet_.printable),
         .step = 1,
         .near = ink::middle(line)});
  }

  /// Large, one for each part of a drawing on the page: beside it, where nothing can be taken for a
  /// part of the name, else on it.
  void add_cell_names() {
    for (const Placement& placement : page_.placements) {
      const Box window = window_on_paper(placement);
      const Text large = label(placement.cell, kCellSize, Weight::bold);
      Box beside = right_of(window);
      beside.y0 = window.y0;
      beside.y1 = window.y1;
      const std::vector<Box> others = other_windows(placement);
      if (add_blank(large, beside, others) || add_blank(large, below(window), others)) continue;
      // A name in the check square would look like the square's.
      if (!add_cell_name(placement, page_.check_square)) add_cell_name(placement, std::nullopt);
    }
  }

  void add_title(const std::string& title) {
    const Box beside = right_of(all_windows());
    const bool has_column = beside.width() >= kLeastColumn;
    const double width = has_column ? beside.width() : 0.6 * sheet_.printable.width();
    const auto lines =
        ink::broken_into_lines(title, width, ink::kSmallestSize, Weight::regular, voice_.measure);
    if (has_column && lines.size() > 1 && add_lines(title, beside)) return;
    for (const std::string& words : lines) {
      if (has_column && add_blank(label(words), beside)) continue;
      add(label(words), {.within = sheet_.printable, .step = 1});
    }
  }

  /// As one block, so that its lines stay in their order. False where nothing is blank for it.
  bool add_lines(const std::string& words, const Box& room) {
    const ink::Frame block = ink::laid_out({{.words = words, .size = ink::kSmallestSize}},
                                           room.width(), 1, voice_.measure);
    const auto spot = blank_spot({block.box.width(), block.box.height()}, room);
    if (spot) put(block, *spot);
    return spot.has_value();
  }

  void add_number(std::size_t page, std::size_t pages) {
    const std::string words = voice_.words.say({"page-of", {{"page", page}, {"pages", pages}}});
    add(label(words), {.within = sheet_.printable, .from = Corner::bottom_right, .step = 1});
  }

  /// True if all of `blocks` found places where they cross no more than `tolerable` mm of line
  /// each; else nothing is added.
  template <class BlockAt>
  bool add_block(const BlockAt& block_at, double tolerable) {
    for (const Box& room : {right_of(all_windows()), below(all_windows())}) {
      if (room.width() < kLeastColumn) continue;
      ink::Frame block = block_at(std::min(room.width(), kBlockWidths.back()));
      const auto spot = blank_spot({block.box.width(), block.box.height()}, room);
      if (!spot) continue;
      put(block, *spot);
      return true;
    }
    std::optional<Spot> best;
    ink::Frame chosen;
    for (const double width : kBlockWidths) {
      ink::Frame block = block_at(std::min(width, sheet_.printable.width()));
      const auto spot = board_.best_spot({block.box.width(), block.box.height()},
                                         {.within = sheet_.printable, .step = 3});
      if (!spot || (best && spot->ink >= best->ink)) continue;
      best = spot;
      chosen = std::move(block);
      if (best->ink == 0) break;
    }
    if (!best || board_.line_length(best->ink) > tolerable) return false;
    put(chosen, best->box);
    return true;
  }

  struct State {
    std::size_t board;
    std::size_t items;
  };
  [[nodiscard]] State state() const { return {board_.mark(), page_.furniture.size()}; }
  void back_to(const State& state) {
    board_.back_to(state.board);
    page_.furniture.resize(state.items);
  }

 private:
  [[nodiscard]] bool in_inches() const { return voice_.words.unit() == base::Unit::inch; }

  [[nodiscard]] Point scaled(double side) const {
    return {side * sheet_.scale.x, side * sheet_.scale.y};
  }

  [[nodiscard]] Box window_on_paper(const Placement& placement) const {
    const Point a = on_paper(placement, sheet_.scale, {placement.window.x0, placement.window.y0});
    const Point b = on_paper(placement, sheet_.scale, {placement.window.x1, placement.window.y1});
    return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
  }

  [[nodiscard]] Box all_windows() const {
    if (page_.placements.empty()) return {};
    Box all = window_on_paper(page_.placements.front());
    for (const Placement& one : page_.placements) all = ink::united(all, window_on_paper(one));
    return all;
  }

  /// What the page has beside a window, and under it.
  [[nodiscard]] Box right_of(const Box& window) const {
    const Box& all = sheet_.printable;
    return {std::clamp(window.x1 + kColumnGap, all.x0, all.x1), all.y0, all.x1, all.y1};
  }
  [[nodiscard]] Box below(const Box& window) const {
    const Box& all = sheet_.printable;
    return {all.x0, std::clamp(window.y1 + kColumnGap, all.y0, all.y1), all.x1, all.y1};
  }

  /// Where a name would be taken for that of another part.
  [[nodiscard]] std::vector<Box> other_windows(const Placement& placement) const {
    std::vector<Box> windows;
    for (const Placement& one : page_.placements) {
      if (one.cell != placement.cell) windows.push_back(window_on_paper(one));
    }
    return windows;
  }

  /// A place without any ink, and not in the check square.
  [[nodiscard]] std::optional<Box> blank_spot(Point size, const Box& within) const {
    const auto spot = board_.best_spot(
        size, {.within = within, .step = 1, .near = {}, .off = page_.check_square});
    if (!spot || spot->ink > 0) return std::nullopt;
    return spot->box;
  }

  /// As large as it finds room, but not in `off`.
  bool add_cell_name(const Placement& placement, const std::optional<Box>& off) {
    const Search inside{.within = window_on_paper(placement), .near = {}, .off = off};
    const Search anywhere{
        .within = sheet_.printable, .near = ink::middle(inside.within), .off = off};
    for (const double size : {kCellSize, kSmallCellSize, ink::kSmallestSize}) {
      const Text name = label(placement.cell, size, Weight::bold);
      if (add(name, inside) || add(name, anywhere)) return true;
    }
    return false;
  }

  bool add_blank(const Text& text, const Box& within, const std::vector<Box>& avoided = {}) {
    const std::size_t before = board_.mark();
    for (const Box& box : avoided) board_.take(box);
    const auto spot = blank_spot(board_.size_of(text), within);
    board_.back_to(before);
    return spot && add(text, {.within = ink::grown(*spot, kRounding)});
  }

  void put(const ink::Frame& block, const Box& spot) {
    board_.take(ink::grown(spot, kTextClear));
    for (const Item& item : block.items) {
      page_.furniture.push_back(moved(item, {spot.x0, spot.y0}));
    }
  }

  bool add(const Text& text, const Search& search) {
    auto placed = board_.placed(text, search);
    if (!placed) return false;
    page_.furniture.emplace_back(std::move(*placed));
    return true;
  }

  void add_check(const Check& check, const std::string& name, const char* caption) {
    for (Item& item : drawn(check, name)) page_.furniture.push_back(std::move(item));
    page_.gaps.insert(page_.gaps.end(), check.gaps.begin(), check.gaps.end());
    const Search near{.within = sheet_.printable, .step = 1, .near = ink::middle(check.box)};
    const Search inside{.within = ink::grown(check.box, -kStandOff), .step = 1};
    const Text words = label(voice_.words.say(caption));
    if (!add(words, inside)) add(words, near);
  }

  /// In the strip that is cut off where it is wide enough, else beside the line.
  void add_trim_word(const Join& join, const Box& line) {
    Text word = label(voice_.words.say("page-trim"));
    if (join.across == Across::page) word.turn_deg = 90;
    Box beyond = line;
    const double strip = sheet_.overlap / 2;
    if (join.across == Across::page) {
      beyond.x0 = line.x0 + kMarkApart;
      beyond.x1 = std::min(line.x0 + strip * sheet_.scale.x, sheet_.printable.x1);
    } else {
      beyond.y0 = line.y0 + kMarkApart;
      beyond.y1 = std::min(line.y0 + strip * sheet_.scale.y, sheet_.printable.y1);
    }
    const Search in_strip{.within = beyond, .step = 0.5, .near = ink::middle(line)};
    const auto add_where_blank = [&](const Search& search) {
      const auto spot = board_.best_spot(board_.size_of(word), search);
      return spot && spot->ink == 0 && add(word, {.within = ink::grown(spot->box, kRounding)});
    };
    if (add_where_blank(in_strip)) return;
    // Beside the line, beyond it or before it, where nothing is drawn.
    Box about = line;
    const Point size = board_.size_of(word);
    if (join.across == Across::page) {
      about.x0 = std::max(sheet_.printable.x0, line.x0 - size.x - kBesideLine);
      about.x1 = std::min(sheet_.printable.x1, line.x0 + size.x + kBesideLine);
    } else {
      about.y0 = std::max(sheet_.printable.y0, line.y0 - size.y - kBesideLine);
      about.y1 = std::min(sheet_.printable.y1, line.y0 + size.y + kBesideLine);
    }
    if (add_where_blank({.within = about, .step = 0.5, .near = ink::middle(line)})) return;
    if (add(word, in_strip)) return;
    add(word, {.within = edge_of(join, Side::before, line, sheet_.printable),
               .step = 1,
               .near = ink::middle(line)});
  }

  Page page_;
  const Sheet& sheet_;
  const Voice& voice_;
  Board board_;
  std::vector<Box> traced_;  ///< no check figure stands inside
};

/// What is to be said on the first page: the notes, then the map.
class GuideMaker {
 public:
  GuideMaker(const Pages& pages, const Plan& plan, const PageSetup& setup, const Voice& voice)
      : pages_(pages),
        plan_(plan),
        voice_(voice),
        notes_(notes_of(setup, edges_to_join(plan), voice.words)) {}

  [[nodiscard]] std::size_t count() const { return notes_.size() + 1; }

  [[nodiscard]] ink::Frame block(std::size_t k, double width) const {
    return k < notes_.size() ? block_of(notes_[k], width, voice_.measure)
                             : map_of(pages_, plan_, width, voice_.words, voice_.measure);
  }

  /// Adds the blocks from `first` on, as long as they fit; the first that did not.
  [[nodiscard]] std::size_t add(PageMaker& maker, std::size_t first, double tolerable) const {
    for (std::size_t k = first; k < count(); ++k) {
      const auto block_at = [this, k](double width) { return block(k, width); };
      if (!maker.add_block(block_at, tolerable)) return k;
    }
    return count();
  }

 private:
  const Pages& pages_;
  const Plan& plan_;
  const Voice& voice_;
  std::vector<Note> notes_;
};

/// A join as seen from one of its pages.
struct Seam {
  const Join* join = nullptr;
  const MarkCentres* centres = nullptr;
  Side side = Side::before;
};

const Placement& here(const Plan& plan, const Seam& seam) {
  return plan.windows[seam.side == Side::before ? seam.join->before : seam.join->after].placement;
}

const Placement& there(const Plan& plan, const Seam& seam) {
  return plan.windows[seam.side == Side::before ? seam.join->after : seam.join->before].placement;
}

/// The seams of each page.
std::vector<std::vector<Seam>> seams_by_page(const Plan& plan,
                                             const std::vector<MarkCentres>& centres) {
  std::vector<std::vector<Seam>> result(plan.sheets);
  for (std::size_t k = 0; k < plan.joins.size(); ++k) {
    const Join& join = plan.joins[k];
    result[plan.windows[join.before].sheet].push_back({&join, &centres[k], Side::before});
    result[plan.windows[join.after].sheet].push_back({&join, &centres[k], Side::after});
  }
  return result;
}

void add_seams(PageMaker& maker, const Plan& plan, const std::vector<Seam>& seams) {
  for (const Seam& seam : seams) {
    const Placement& placement = here(plan, seam);
    if (seam.side == Side::before) maker.add_trim_line(*seam.join, placement);
    maker.add_marks(*seam.join, seam.side, *seam.centres, placement);
  }
}

void add_names(PageMaker& maker, const Plan& plan, const std::vector<Seam>& seams) {
  for (const Seam& seam : seams) {
    maker.add_join_names(*seam.join, seam.side, here(plan, seam), there(plan, seam).cell);
  }
}

/// Pages of instructions only, as many as it takes.
std::vector<PageMaker> guide_pages(const GuideMaker& guide, const Sheet& sheet,
                                   const Voice& voice) {
  std::vector<PageMaker> makers;
  std::size_t next = 0;
  while (next < guide.count()) {
    Page page;
    page.label = voice.words.say("page-guide");
    if (!makers.empty()) page.label += '-' + std::to_string(makers.size() + 1);
    PageMaker& maker =
        makers.emplace_back(std::move(page), sheet, std::vector<Ink>{}, Outlines::cut_out, voice);
    maker.add_square();
    maker.add_inch_bar();
    const std::size_t after = guide.add(maker, next, 0);
    // A block that finds no room on an empty page never will.
    next = after == next ? next + 1 : after;
  }
  return makers;
}

/// The pages with drawings, with all that keeps to its place: seams, the 50 mm square, the names of
/// the page.
std::vector<PageMaker> drawing_pages(Pages& pages, const Plan& plan,
                                     const std::vector<std::vector<Seam>>& seams,
                                     const Furnished& drawn, const Voice& voice) {
  std::vector<PageMaker> makers;
  for (std::size_t k = 0; k < plan.sheets; ++k) {
    PageMaker& maker = makers.emplace_back(std::move(pages.pages[k]), plan.sheet, drawn.inks,
                                           drawn.outlines, voice);
    add_seams(maker, plan, seams[k]);
    maker.add_square();
    maker.add_cell_names();
    maker.add_title(pages.title);
  }
  return makers;
}

/// True if the instructions stand on the first page with a drawing now.
bool guide_fits(PageMaker& first, const GuideMaker& guide, double tolerable) {
  const PageMaker::State before = first.state();
  if (guide.add(first, 0, tolerable) == guide.count()) return true;
  first.back_to(before);
  return false;
}

}  // namespace

std::size_t furnish(Pages& pages, const Plan& plan, const PageSetup& setup, const Furnished& drawn,
                    const Voice& voice) {
  const std::vector<MarkCentres> centres = mark_centres(plan, drawn.grids);
  const std::vector<std::vector<Seam>> seams = seams_by_page(plan, centres);
  const GuideMaker guide(pages, plan, setup, voice);
  std::vector<PageMaker> makers = drawing_pages(pages, plan, seams, drawn, voice);

  const bool saves = static_cast<int>(plan.sheets) < pages.plain_grid_pages;
  const bool on_first = guide_fits(makers.front(), guide, saves ? kTolerable : kTolerableToSave);
  std::vector<PageMaker> all;
  if (!on_first) all = guide_pages(guide, plan.sheet, voice);
  for (std::size_t k = 0; k < makers.size(); ++k) {
    add_names(makers[k], plan, seams[k]);
    makers[k].add_inch_bar();
    all.push_back(std::move(makers[k]));
  }
  pages.pages.clear();
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (all[k].is_guide()) all[k].add_title(pages.title);
    if (drawn.numbers == PageNumbers::own) all[k].add_number(k + 1, all.size());
    pages.pages.push_back(std::move(all[k]).finished());
  }
  return all.size() - makers.size();
}

std::vector<Box> enclosed_on(const Page& page, const std::vector<Ink>& inks, Point scale) {
  std::vector<Box> all;
  for (const Placement& placement : page.placements) {
    for (const Box& box : inks[placement.drawing].enclosed) {
      const Box& window = placement.window;
      const Box shown{std::max(box.x0, window.x0), std::max(box.y0, window.y0),
                      std::min(box.x1, window.x1), std::min(box.y1, window.y1)};
      if (shown.x0 >= shown.x1 || shown.y0 >= shown.y1) continue;
      const Point a = on_paper(placement, scale, {shown.x0, shown.y0});
      const Point b = on_paper(placement, scale, {shown.x1, shown.y1});
      all.push_back(
          {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)});
    }
  }
  return all;
}

}  // namespace pouchwright::paper
