/// What a page shows besides its part of the drawing: check squares, registration marks, trim
/// lines, names, and on the first page how to print and join.
///
///     furnish(pages, plan, setup, {inks, grids, PageNumbers::own, Outlines::cut_out}, {words, measure});
///
/// Not for choosing the windows (see plan.h).
#pragma once

#include <cstddef>
#include <vector>

#include "base/length.h"
#include "base/voice.h"
#include "paper/ink.h"
#include "paper/pages.h"
#include "paper/plan.h"

namespace pouchwright::paper {

/// How a page speaks. All must outlive the call they are passed to.
struct Voice {
  base::Voice words;
  const ink::TextMeasure& measure;
};

/// What the furniture has to know of the drawings, one ink and one grid each.
struct Furnished {
  const std::vector<Ink>& inks;
  const std::vector<InkGrid>& grids;
  PageNumbers numbers = PageNumbers::own;
  Outlines outlines = Outlines::cut_out;
};

/// Puts all furniture on the pages of `pages`, which hold the placements of `plan`, sheet by sheet.
/// Adds pages in front where the first has no room for the instructions; how many.
std::size_t furnish(Pages& pages, const Plan& plan, const PageSetup& setup, const Furnished& drawn,
                    const Voice& voice);

/// What the page shows of what closed cut lines enclose, on the paper.
[[nodiscard]] std::vector<ink::Box> enclosed_on(const Page& page, const std::vector<Ink>& inks,
                                                ink::Point scale);

}  // namespace pouchwright::paper
