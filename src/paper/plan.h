/// The page planner: which windows of which drawings stand on which sheet, at the fewest sheets.
///
///     Plan plan = best_plan(drawings, inks, grids, {upright, sideways});
///
/// Not for what is printed around the windows (see furniture.h).
#pragma once

#include <cstddef>
#include <vector>

#include "ink/scene.h"
#include "paper/ink.h"
#include "paper/pages.h"

namespace pouchwright::paper {

/// The sheet as seen, all in mm.
struct Sheet {
  double width = 0;
  double height = 0;
  ink::Box printable;  ///< from the sheet's top left corner
  double overlap = 0;
  ink::Point scale{1, 1};
  /// What a window leaves of the printable area across and down; where it leaves anything, the lower
  /// right corner, `corner` wide and high, is kept free as well.
  ink::Point spare{};
  ink::Point corner{};
};

/// Two windows side by side in a drawing's grid. The join is a line of the drawing in the middle
/// of what both show; as the pages lie, `before` is to the left of or above `after`.
enum class Across {
  page,
  down
};  ///< `page`: the pages lie side by side; `down`: one above another
struct Join {
  std::size_t before = 0;  ///< index into Plan::windows
  std::size_t after = 0;
  Across across = Across::page;
  ink::Point from;  ///< the line's ends, in the drawing's mm
  ink::Point to;
};

/// A window with the sheet that it stands on.
struct Window {
  Placement placement;
  std::size_t sheet = 0;
};

struct Plan {
  Sheet sheet;
  std::vector<Window> windows;     ///< by drawing, then row, then column
  std::vector<Placement> dropped;  ///< windows without ink; their `at` means nothing
  std::vector<Join> joins;
  std::size_t sheets = 0;
  int crossings = 0;  ///< joins through what should stay whole
};

/// The least room between two drawings on one page.
inline constexpr double kApart = 5;

/// How many pages the drawings take one by one, not turned, each cut from its top left corner, on
/// `upright`. Counts blank pages too.
[[nodiscard]] std::size_t plain_grid(const std::vector<ink::Drawing>& drawings,
                                     const Sheet& upright);

/// How many windows the drawings take on `sheet` if each is turned the better way, the blank ones
/// too.
[[nodiscard]] std::size_t least_cells(const std::vector<ink::Drawing>& drawings,
                                      const Sheet& sheet);

/// The best plan on one of `sheets`: fewest pages, then fewest joins, then fewest crossings, then
/// fewest turned windows, then the earlier sheet. Never more pages than `plain_grid` takes on any
/// of them. Requires: one ink and one grid over its extent for each drawing; at least one sheet;
/// printable areas wider than the overlap. The first column of cells is the `first_column`th.
[[nodiscard]] Plan best_plan(const std::vector<ink::Drawing>& drawings,
                             const std::vector<Ink>& inks, const std::vector<InkGrid>& grids,
                             const std::vector<Sheet>& sheets, std::size_t first_column = 0);

}  // namespace pouchwright::paper
