/// Registration marks and trim lines: what lets two pages be laid together at the right place.
///
/// A page is trimmed along the middle of what it shares with its right and lower neighbours; the
/// cut runs through the marks' centres, so that half a mark on the upper page meets the whole one
/// below it. Where the pages only just meet, each shows half a mark.
///
///         page A1        : page B1
///              ---(+)--- :
///                  |     : trim line, on A1 only
///
/// Not for where the joins lie (see plan.h).
#pragma once

#include <vector>

#include "ink/scene.h"
#include "paper/ink.h"
#include "paper/plan.h"

namespace pouchwright::paper {

/// The marks of a join: their centres, in the drawing's mm, on the join's line, in order along it.
using MarkCentres = std::vector<ink::Point>;

/// At least two places for marks on each join, where they cross the least ink of the drawing; one
/// list a join, as in `plan.joins`. Marks of different joins of a drawing do not touch.
[[nodiscard]] std::vector<MarkCentres> mark_centres(const Plan& plan,
                                                    const std::vector<InkGrid>& grids);

/// The mark with its centre at `centre` on the paper of the page to the left of or above the join
/// (`Side::before`), or on its neighbour's.
enum class Side { before, after };
[[nodiscard]] std::vector<ink::Item> mark(ink::Point centre, const Join& join, Side side,
                                          double overlap);
/// How far a mark reaches from its centre.
[[nodiscard]] double mark_reach(double overlap);

/// The join's line on one of its two pages.
[[nodiscard]] ink::Box line_on_paper(const Join& join, const Placement& placement,
                                     ink::Point scale);
/// The trim line along `line`, moved into the printable area where half its width would stand out,
/// and its teeth.
[[nodiscard]] std::vector<ink::Item> trim_line(const ink::Box& line, const ink::Box& printable);

}  // namespace pouchwright::paper
