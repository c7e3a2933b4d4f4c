/// A row of a cut plan's picture: the cloth unrolled to the right, with its selvedges, the end to
/// be squared, pieces, waste, trial strips, numbered cuts and running measures.
///
///     for (const Row& row : rows_of(lay, room)) strips.push_back(row_picture(drawn, row, ...));
///
/// For cut_plan.cc only.
#pragma once

#include "draw/sheets/cut_plan_rows.h"

namespace pouchwright::draw::cut_plan {

struct RowPicture {
  Frame frame;
  int unnumbered = 0;  ///< pieces and cuts that it has no room to number
};

/// `scale` is paper mm for a mm of cloth, `width` the paper's.
[[nodiscard]] RowPicture row_picture(const LayToDraw& drawn, const Row& row, double scale,
                                     double width, const base::Voice& words,
                                     const TextMeasure& measure);

}  // namespace pouchwright::draw::cut_plan
