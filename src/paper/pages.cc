#include "paper/pages.h"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <optional>

#include "paper/furniture.h"
#include "paper/ink.h"
#include "paper/plan.h"
#include "paper/squares.h"

namespace pouchwright::paper {
namespace {

using base::Diagnostics;
using base::Length;
using ink::Box;
using ink::Point;

constexpr Length kTrueSquare = Length::whole_mm(50);
/// From 1 % on a correction is worth a warning; over 3 % it is a wrong print setting. Both of the
/// square's own 50 mm.
constexpr Length kWarnedError = Length::nm(kTrueSquare.in_nm() / 100);
constexpr Length kMostError = Length::nm(kTrueSquare.in_nm() * 3 / 100);
/// Beyond so many windows not even blank ones can bring a document below kMostPages.
constexpr std::size_t kMostCells = std::size_t{4} * kMostPages;
/// Words this far, mm, on the strip about a join only touch it.
constexpr double kTouching = 0.01;
/// More pages than instructions take on the smallest paper.
constexpr int kGuidePages = 100;

/// A sheet in one of its two orientations, exact.
struct Held {
  Length width;
  Length height;
};

Length across_inside(const Held& held, const Margins& margins) {
  return held.width - margins.left - margins.right;
}

Length down_inside(const Held& held, const Margins& margins) {
  return held.height - margins.top - margins.bottom;
}

Length shorter_inside(const Held& held, const Margins& margins) {
  return std::min(across_inside(held, margins), down_inside(held, margins));
}

/// The checks of one setup.
class SetupCheck {
 public:
  SetupCheck(const PageSetup& setup, Diagnostics& diagnostics)
      : setup_(setup), diagnostics_(diagnostics) {}

  /// The orientations with room; none, with an error reported, where there is none.
  [[nodiscard]] std::vector<Held> usable() const {
    if (!is_within_pdf()) return {};
    std::vector<Held> result;
    for (const Held& held :
         {Held{setup_.width, setup_.height}, Held{setup_.height, setup_.width}}) {
      if (shorter_inside(held, setup_.margins) - setup_.overlap >= kLeastRoom) {
        result.push_back(held);
      }
    }
    if (result.empty()) report_no_room();
    return result;
  }

  [[nodiscard]] bool correction_is_small() const {
    const Length across = error_of(setup_.printed_across);
    const Length down = error_of(setup_.printed_down);
    const Length worst = std::max(across, down);
    if (worst < kWarnedError) return true;
    const base::Message::Values values = {{"across", exact(setup_.printed_across)},
                                          {"down", exact(setup_.printed_down)},
                                          {"least", exact(kTrueSquare - kMostError)},
                                          {"most", exact(kTrueSquare + kMostError)}};
    if (worst > kMostError) {
      diagnostics_.error(setup_.printed_square_place, {"correction-too-large", values},
                         {{"correction-too-large-hint", values}});
      return false;
    }
    diagnostics_.warning(setup_.printed_square_place, {"correction-large", values},
                         {"correction-large-hint"});
    return true;
  }

  void report_too_many_pages(std::size_t pages) const {
    diagnostics_.error(
        setup_.place,
        {"too-many-pages", {{"pages", pages}, {"most", kMostPages}, {"paper", setup_.name}}},
        {"too-many-pages-hint"});
  }

 private:
  static Length error_of(Length printed) {
    return std::max(printed - kTrueSquare, kTrueSquare - printed);
  }

  [[nodiscard]] bool is_within_pdf() const {
    const Length longest = std::max(setup_.width, setup_.height);
    if (longest <= kLongestSide) return true;
    diagnostics_.error(
        setup_.place, {"paper-too-long", {{"side", exact(longest)}, {"most", exact(kLongestSide)}}},
        {{"paper-too-long-hint", {{"most", exact(kLongestSide)}}}});
    return false;
  }

  /// The largest margin all around that leaves kLeastRoom, down to the millimetre.
  [[nodiscard]] Length largest_margin() const {
    const Length room = std::min(setup_.width, setup_.height) - kLeastRoom - setup_.overlap;
    return base::rounded_down(Length::nm(room.in_nm() / 2), Length::whole_mm(1));
  }

  void report_no_room() const {
    const Held upright{setup_.width, setup_.height};
    const Length across = across_inside(upright, setup_.margins);
    const Length down = down_inside(upright, setup_.margins);
    const base::Message::Values values = {
        {"paper",
         base::Message{"size-by-size",
                       {{"width", exact(setup_.width)}, {"length", exact(setup_.height)}}}},
        {"overlap", exact(setup_.overlap)},
        {"across", exact(std::max(across, Length{}))},
        {"down", exact(std::max(down, Length{}))},
        {"least", exact(kLeastRoom)},
        {"margin", exact(std::max(largest_margin(), Length{}))},
        {"most", exact(std::max(std::min(across, down) - kLeastRoom, Length{}))}};
    if (std::min(setup_.width, setup_.height) < kLeastRoom) {
      diagnostics_.error(setup_.place, {"paper-too-small", values},
                         {{"paper-too-small-hint", values}});
    } else if (std::min(across, down) < kLeastRoom) {
      diagnostics_.error(
          setup_.margin_place, {"margins-leave-no-room", values},
          {{largest_margin() > Length{} ? "margins-leave-no-room-hint" : "paper-too-small-hint",
            values}});
    } else {
      diagnostics_.error(setup_.overlap_place, {"overlap-leaves-no-room", values},
                         {{"overlap-leaves-no-room-hint", values}});
    }
  }

  const PageSetup& setup_;
  Diagnostics& diagnostics_;
};

Sheet sheet_of(const Held& held, const PageSetup& setup, Point scale) {
  const double width = held.width.in_mm();
  const double height = held.height.in_mm();
  return {
      width,
      height,
      {setup.margins.left.in_mm(), setup.margins.top.in_mm(),
       (held.width - setup.margins.right).in_mm(), (held.height - setup.margins.bottom).in_mm()},
      setup.overlap.in_mm(),
      scale};
}

std::vector<Sheet> sheets_of(const std::vector<Held>& usable, const PageSetup& setup, Point scale) {
  std::vector<Sheet> sheets;
  for (const Held& held : usable) {
    sheets.push_back(sheet_of(held, setup, scale));
    if (held.width == held.height) break;
  }
  return sheets;
}

/// `pages` with the windows of `plan` on them, and nothing else yet.
void put_windows(Pages& pages, const Plan& plan) {
  pages.width = plan.sheet.width;
  pages.height = plan.sheet.height;
  pages.dropped = plan.dropped;
  pages.pages.resize(plan.sheets);
  for (const Window& window : plan.windows) {
    Page& page = pages.pages[window.sheet];
    if (page.placements.empty()) page.label = window.placement.cell;
    page.placements.push_back(window.placement);
  }
}

/// What the pages of a document stand on.
struct Ground {
  Point scale;
  std::vector<Sheet> sheets;  ///< the first as the paper is usually held
};

/// Nothing after an error.
std::optional<Ground> ground_of(const Document& document, const PageSetup& setup,
                                const SetupCheck& check) {
  const bool correctable = check.correction_is_small();
  const std::vector<Held> usable = check.usable();
  if (!correctable || usable.empty()) return std::nullopt;
  const Point scale{kCheckSquare / setup.printed_across.in_mm(),
                    kCheckSquare / setup.printed_down.in_mm()};
  Ground ground{scale, sheets_of(usable, setup, scale)};
  const std::size_t cells = std::min(least_cells(document.drawings, ground.sheets.front()),
                                     least_cells(document.drawings, ground.sheets.back()));
  if (cells > kMostCells) {
    check.report_too_many_pages(cells);
    return std::nullopt;
  }
  return ground;
}

/// What is drawn, one of each a drawing.
struct Inks {
  std::vector<Ink> inks;
  std::vector<InkGrid> grids;
};

Inks inks_of(const Document& document, const ink::TextMeasure& measure) {
  Inks all;
  for (const ink::Drawing& drawing : document.drawings) {
    all.inks.push_back(ink_of(drawing.items, measure));
    all.grids.push_back(grid_of(all.inks.back(), drawing.extent, 1));
  }
  return all;
}

/// Nothing after an error.
std::optional<Plan> planned(const Document& document, const Inks& inks,
                            const std::vector<Sheet>& sheets, const SetupCheck& check) {
  Plan plan = best_plan(document.drawings, inks.inks, inks.grids, sheets, document.first_column);
  if (plan.sheets <= kMostPages) return plan;
  check.report_too_many_pages(plan.sheets);
  return std::nullopt;
}

// ---- Room for the check square beside what is traced -------------------------------------------

/// The sheets with a strip below or at the right that no large window reaches, wide enough for a
/// check square. None where that leaves too little for the windows.
std::vector<Sheet> with_free_strip(const std::vector<Sheet>& sheets) {
  constexpr double kStrip = kCheckSquare + 2 * kStandOff + 1;
  std::vector<Sheet> result;
  for (const Sheet& sheet : sheets) {
    const Point corner{kStrip * sheet.scale.x, kStrip * sheet.scale.y};
    for (const Point& spare : {Point{0, corner.y}, Point{corner.x, 0}}) {
      const double least =
          std::min(sheet.printable.width() - spare.x, sheet.printable.height() - spare.y);
      if (least < kLeastRoom.in_mm() + sheet.overlap) continue;
      result.push_back(sheet);
      result.back().spare = spare;
      result.back().corner = corner;
    }
  }
  return result;
}

bool squares_are_outside(const Pages& pages, const std::vector<Ink>& inks) {
  return std::all_of(pages.pages.begin(), pages.pages.end(), [&](const Page& page) {
    const Box& square = page.check_square;
    const Box scaled{square.x0, square.y0, square.x0 + kCheckSquare * pages.scale.x,
                     square.y0 + kCheckSquare * pages.scale.y};
    const std::vector<Box> traced = enclosed_on(page, inks, pages.scale);
    return std::none_of(traced.begin(), traced.end(),
                        [&](const Box& box) { return ink::overlap(box, scaled); });
  });
}

/// `pages`, which hold the drawings, with the windows of `plan`.
Pages with_windows(Pages pages, const Plan& plan) {
  put_windows(pages, plan);
  return pages;
}

/// `pages`, which hold the windows of `plan`, with all furniture.
Pages furnished(Pages pages, const Plan& plan, const Document& document, const PageSetup& setup,
                const Inks& inks, const Voice& voice) {
  // A plain grid would need the pages of instructions as well.
  pages.plain_grid_pages += static_cast<int>(furnish(
      pages, plan, setup, {inks.inks, inks.grids, document.numbers, document.outlines}, voice));
  return pages;
}

}  // namespace

bool is_corrected(const PageSetup& setup) {
  constexpr base::Length kTrueSquare = base::Length::whole_mm(50);
  return setup.printed_across != kTrueSquare || setup.printed_down != kTrueSquare;
}

Point on_paper(const Placement& placement, Point scale, Point canvas) {
  const Box& window = placement.window;
  // Turned clockwise, the window's bottom left corner comes to the top left.
  const Point from_corner = placement.turn_deg == 0
                                ? Point{canvas.x - window.x0, canvas.y - window.y0}
                                : Point{window.y1 - canvas.y, canvas.x - window.x0};
  return {placement.at.x + scale.x * from_corner.x, placement.at.y + scale.y * from_corner.y};
}

Pages paged(const Document& document, const PageSetup& setup, const base::Voice& words,
            const ink::TextMeasure& measure, Diagnostics& diagnostics) {
  return paged(document, setup, words, measure, diagnostics, [](const Pages&) { return true; });
}

Pages paged(const Document& document, const PageSetup& setup, const base::Voice& words,
            const ink::TextMeasure& measure, Diagnostics& diagnostics,
            const std::function<bool(const Pages&)>& are_settled) {
  Pages pages{.name = document.name, .title = document.title, .drawings = document.drawings};
  const SetupCheck check(setup, diagnostics);
  const std::optional<Ground> ground = ground_of(document, setup, check);
  if (!ground || document.drawings.empty()) return pages;
  const Inks inks = inks_of(document, measure);
  const std::optional<Plan> plan = planned(document, inks, ground->sheets, check);
  if (!plan) return pages;
  pages.scale = ground->scale;
  const auto plain = [&](const std::vector<Sheet>& sheets) {
    return static_cast<int>(plain_grid(document.drawings, sheets.front()));
  };
  pages.plain_grid_pages = plain(ground->sheets);
  const Voice voice{words, measure};
  Pages bare = with_windows(pages, *plan);
  if (!are_settled(bare)) return bare;
  Pages made = furnished(std::move(bare), *plan, document, setup, inks, voice);
  if (made.pages.size() > std::size_t{kMostPages}) {
    check.report_too_many_pages(made.pages.size());
    return {.name = document.name, .title = document.title, .drawings = document.drawings};
  }
  if (document.outlines == Outlines::cut_out || squares_are_outside(made, inks.inks)) return made;
  const std::vector<Sheet> parts = with_free_strip(ground->sheets);
  if (parts.empty() || plain(parts) > kMostPages) return made;
  const Plan narrower =
      best_plan(document.drawings, inks.inks, inks.grids, parts, document.first_column);
  pages.plain_grid_pages = plain(parts);
  bare = with_windows(std::move(pages), narrower);
  if (!are_settled(bare)) return bare;
  Pages apart = furnished(std::move(bare), narrower, document, setup, inks, voice);
  return apart.pages.size() > std::size_t{kMostPages} ? made : apart;
}

bool can_be_paged(const Document& document, const PageSetup& setup, const base::Voice& words,
                  const ink::TextMeasure& measure, Diagnostics& diagnostics) {
  Diagnostics unheard;
  const std::optional<Ground> ground = ground_of(document, setup, SetupCheck(setup, unheard));
  // No plan takes more pages than a plain grid.
  const bool is_small =
      ground && (document.drawings.empty() ||
                 plain_grid(document.drawings, ground->sheets.front()) + kGuidePages <= kMostPages);
  if (!is_small) return !paged(document, setup, words, measure, diagnostics).pages.empty();
  return ground_of(document, setup, SetupCheck(setup, diagnostics)).has_value();
}

std::vector<Box> joins_of(const Pages& pages, std::size_t drawing) {
  // Half of what is kept free of words about a join.
  constexpr double kBeside = 1;
  std::vector<Placement> own;
  for (const Page& page : pages.pages) {
    for (const Placement& one : page.placements) {
      if (one.drawing == drawing) own.push_back(one);
    }
  }
  std::vector<Box> joins;
  for (const Placement& one : own) {
    for (const Placement& next : own) {
      if (next.row == one.row && next.column == one.column + 1) {
        const double x = (one.window.x1 + next.window.x0) / 2;
        joins.push_back({x - kBeside, one.window.y0, x + kBeside, one.window.y1});
      }
      if (next.column == one.column && next.row == one.row + 1) {
        const double y = (one.window.y1 + next.window.y0) / 2;
        joins.push_back({one.window.x0, y - kBeside, one.window.x1, y + kBeside});
      }
    }
  }
  return joins;
}

int words_cut(const Pages& pages, const ink::TextMeasure& measure) {
  int count = 0;
  for (std::size_t k = 0; k < pages.drawings.size(); ++k) {
    const std::vector<Box> joins = joins_of(pages, k);
    for (const ink::Item& item : pages.drawings[k].items) {
      if (!std::holds_alternative<ink::Text>(item)) continue;
      // The strips' edges may touch words: their middles are the joins.
      const Box box = ink::grown(ink::bounds(item, measure), -kTouching);
      count += std::any_of(joins.begin(), joins.end(),
                           [&box](const Box& join) { return ink::overlap(join, box); })
                   ? 1
                   : 0;
    }
  }
  return count;
}

int arrows_cut(const Pages& pages) {
  // Within what two pages share a head would be printed twice.
  constexpr double kApartFromJoin = 4;
  // A centre line, of the same group, runs over all pages.
  const auto is_of_arrow = [](const ink::Shape& shape) {
    const bool is_shaft = shape.stroke && shape.stroke->pattern == ink::LinePattern::continuous;
    return shape.group == ink::Group::grain && (is_shaft || shape.fill == ink::Fill::solid);
  };
  int count = 0;
  for (std::size_t k = 0; k < pages.drawings.size(); ++k) {
    const std::vector<Box> joins = joins_of(pages, k);
    for (const ink::Item& item : pages.drawings[k].items) {
      const auto* shape = std::get_if<ink::Shape>(&item);
      if (shape == nullptr || !is_of_arrow(*shape)) continue;
      const Box box = ink::grown(ink::bounds(shape->path), kApartFromJoin);
      count += std::any_of(joins.begin(), joins.end(),
                           [&box](const Box& join) { return ink::overlap(join, box); })
                   ? 1
                   : 0;
    }
  }
  return count;
}

std::size_t columns_of(const Pages& pages) {
  std::vector<int> columns(pages.drawings.size());
  const auto see = [&](const Placement& placement) {
    int& most = columns[placement.drawing];
    most = std::max(most, placement.column + 1);
  };
  for (const Page& page : pages.pages) {
    std::for_each(page.placements.begin(), page.placements.end(), see);
  }
  std::for_each(pages.dropped.begin(), pages.dropped.end(), see);
  return static_cast<std::size_t>(std::accumulate(columns.begin(), columns.end(), 0));
}

}  // namespace pouchwright::paper
