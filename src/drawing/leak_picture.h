/// The picture of the leak test: the pouch as it lies when it is filled, how high, and where to
/// look first.
///
///     const Picture picture = leak_picture(*pouch, fill.test_level, words, measure);
///
/// Inside `drawing` only; the sheet is leak_sheet.h's.
#pragma once

#include <cstddef>
#include <vector>

#include "diag/words.h"
#include "drawing/scene.h"
#include "drawing/text_page.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// The stage that tests the pouch; the last where the construction tests none.
[[nodiscard]] std::size_t tested_at(const pouch::Pouch& pouch);

/// Where water that stands up to `level` gets out first, as folded heights at which corners lie on
/// both sides: the bottom, then every corner to test that water reaches. Sorted, each once.
[[nodiscard]] std::vector<units::Length> corner_heights(const pouch::Pouch& pouch,
                                                        units::Length level);

/// Shapes are called `fill level`, `fused band` and `corner`; the rest is draw_plan's.
[[nodiscard]] Picture leak_picture(const pouch::Pouch& pouch, units::Length level,
                                   const diag::Words& words, const TextMeasure& measure);

}  // namespace pouchwright::drawing
