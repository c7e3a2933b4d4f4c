/// The picture of the leak test: the pouch as it stands when it is filled, how high, and where to
/// look first.
///
///     const Frame picture = leak_picture(*pouch, {80, 60}, words, measure);
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

/// filled_view() in `room`, each of its lines named beside it, and a line below it that says what the
/// rings mean. Its own shapes are called `fused band`, `corner` and `name line`. Requires:
/// tell::fill_read's level is over 0.
[[nodiscard]] Frame leak_picture(const pouch::Pouch& pouch, Point room, const base::Voice& words,
                                 const TextMeasure& measure);

}  // namespace pouchwright::draw
