/// The test page: one sheet that shows how a printer scales and how near to the edges it prints.
///
///     Pages page = test_page(setup, words, measure);
#pragma once

#include "base/voice.h"
#include "ink/scene.h"
#include "paper/pages.h"

namespace pouchwright::paper {

/// One page without a drawing: the check squares, a ruler along both axes, and frames every
/// millimetre from kNearestFrame to kFarthestFrame from the paper's edges, numbered, so that the
/// outermost whole one tells the printable area. Never corrected, and frames ignore the margins:
/// they are what is measured.
[[nodiscard]] Pages test_page(const PageSetup& setup, const base::Voice& words,
                              const ink::TextMeasure& measure);

inline constexpr int kNearestFrame = 2;    ///< mm from the paper's edge
inline constexpr int kFarthestFrame = 10;  ///< mm

}  // namespace pouchwright::paper
