/// The picture of the leak test: the pouch as it lies when it is filled, how high, and where to
/// look first.
///
///     const Frame picture = leak_picture(*pouch, level, words, measure);
///
/// Inside `draw/sheets` only; the sheet is leak_test.h's.
#pragma once

#include <cstddef>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/flow.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

/// Where water that stands up to `level` gets out first, as folded heights at which corners lie on
/// both sides: the bottom, then every corner to test that water reaches. Sorted, each once.
[[nodiscard]] std::vector<base::Length> corner_heights(const pouch::Pouch& pouch,
                                                       base::Length level);

/// Shapes are called `fill level`, `fused band` and `corner`; the rest is draw_plan's.
[[nodiscard]] Frame leak_picture(const pouch::Pouch& pouch, base::Length level,
                                 const base::Voice& words, const TextMeasure& measure);

}  // namespace pouchwright::draw
